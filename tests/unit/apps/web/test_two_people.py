"""Two people at one garden book: a change is put together with the other's or refused, never lost unseen."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from django.test import Client

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import User

SignIn = Callable[[User | None], Client]


@pytest.fixture
def two(garden: Garden, coordinator: User, leader: User, sign_in: SignIn) -> tuple[Client, Client]:
    return sign_in(coordinator), sign_in(leader)


def renamed(garden: Garden, name: str) -> str:
    garden.refresh_from_db()
    assert garden.head is not None
    return garden.head.text.replace("Lantern Field learning garden", name)


def head(garden: Garden) -> int:
    garden.refresh_from_db()
    assert garden.head is not None
    return garden.head.number


def test_whole_texts_that_touch_the_same_lines_are_refused_to_the_second(
    garden: Garden, two: tuple[Client, Client]
) -> None:
    first, second = two
    address = f"/garden/{garden.pk}/book/text/"
    one, other = renamed(garden, "Garden one"), renamed(garden, "Garden two")
    assert first.post(address, {"base": "1", "text": one}).status_code == 302
    answer = second.post(address, {"base": "1", "text": other})
    assert answer.status_code == 409
    page = answer.content.decode()
    assert "Somebody changed the same entries meanwhile" in page
    assert "Garden two" in page
    assert (head(garden), garden.name) == (2, "Garden one")


@pytest.mark.parametrize("step", ["undo", "redo"])
def test_undoing_from_a_page_that_is_old_takes_back_nothing_of_the_other(
    garden: Garden, two: tuple[Client, Client], step: str
) -> None:
    first, second = two
    book = f"/garden/{garden.pk}/book"
    first.post(f"{book}/text/", {"base": "1", "text": renamed(garden, "Garden one")})
    answer = second.post(f"{book}/{step}/", {"base": "1"}, follow=True)
    assert "Somebody changed the book a moment ago" in answer.content.decode()
    assert (head(garden), garden.name) == (2, "Garden one")


def test_an_old_revision_is_not_taken_again_over_a_change_that_its_page_did_not_show(
    garden: Garden, two: tuple[Client, Client]
) -> None:
    first, second = two
    book = f"/garden/{garden.pk}/book"
    first.post(f"{book}/text/", {"base": "1", "text": renamed(garden, "Garden one")})
    shown = second.get(f"{book}/revisions/1/").content.decode()
    assert 'name="base" value="2"' in shown
    first.post(
        f"{book}/text/",
        {"base": "2", "text": renamed(garden, "Garden one").replace("Garden one", "Garden 2")},
    )
    answer = second.post(f"{book}/revisions/1/", {"base": "2"}, follow=True)
    assert "Somebody changed the book a moment ago" in answer.content.decode()
    assert head(garden) == 3
    second.post(f"{book}/revisions/1/", {"base": "3"})
    assert (head(garden), garden.name) == (4, "Lantern Field learning garden")


def test_what_one_person_changed_another_undoes_days_later(
    garden: Garden, coordinator: User, leader: User, sign_in: SignIn
) -> None:
    book = f"/garden/{garden.pk}/book"
    session = sign_in(coordinator)
    session.post(f"{book}/text/", {"base": "1", "text": renamed(garden, "Garden one")})
    session.post("/sign-out/")
    later = sign_in(leader)
    assert "Undone" in later.post(f"{book}/undo/", {"base": "2"}, follow=True).content.decode()
    assert (head(garden), garden.name) == (3, "Lantern Field learning garden")
    again = sign_in(coordinator)
    assert "Redone" in again.post(f"{book}/redo/", {"base": "3"}, follow=True).content.decode()
    assert (head(garden), garden.name) == (4, "Garden one")
