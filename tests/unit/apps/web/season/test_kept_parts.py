"""Parts of a plan's pages are kept: each is written once, and again as soon as anything in it differs."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta
from threading import Barrier, Thread
from unittest.mock import patch

import pytest
from django.core.cache import caches
from django.db import connection
from django.test import Client
from django.urls import reverse

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.saving import save_text
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.log.reading import today_in
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season import reading
from bedwright.apps.web.season.models import SavedPlan
from bedwright.store.season import season_from_text
from tests.unit.apps.web.log.lines import line, sender

SignIn = Callable[[User | None], Client]
PAGES = ("plan", "drawing", "beds", "curves")
WORKED_OUT_BY = {
    "plan": "views.beds_of",
    "drawing": "drawing.views.plantings_data",
    "beds": "drawing.views.occupancy_of",
    "curves": "drawing.views.picking_curves",
}


@pytest.fixture(autouse=True)
def nothing_kept() -> None:
    caches["template_fragments"].clear()


def page(client: Client, name: str, saved: SavedPlan, **headers: str) -> str:
    address = reverse(f"season:{name}", args=[saved.garden_id, saved.pk])
    return client.get(address, headers=headers or None).content.decode()


def main_part(text: str) -> str:
    """Without the secrets of forms, which differ from page to page."""
    return "".join(each for each in text.splitlines(keepends=True) if "csrfmiddlewaretoken" not in each)


@pytest.mark.parametrize("name", PAGES)
def test_a_page_from_kept_parts_is_the_same_page(
    sign_in: SignIn, leader: User, saved_plan: SavedPlan, name: str
) -> None:
    client = sign_in(leader)
    first = main_part(page(client, name, saved_plan))
    with patch(f"bedwright.apps.web.season.{WORKED_OUT_BY[name]}", side_effect=AssertionError):
        assert main_part(page(client, name, saved_plan)) == first


@pytest.mark.parametrize("name", PAGES)
def test_each_language_has_its_own_parts(
    sign_in: SignIn, reader: User, saved_plan: SavedPlan, name: str
) -> None:
    client = sign_in(reader)
    english = page(client, name, saved_plan)
    assert page(client, name, saved_plan, accept_language="de") != english
    assert main_part(page(client, name, saved_plan)) == main_part(english)


def test_only_those_who_may_edit_get_the_parts_for_editing(
    sign_in: SignIn, leader: User, reader: User, saved_plan: SavedPlan
) -> None:
    for _ in range(2):
        assert '"may_edit": true' in page(sign_in(leader), "drawing", saved_plan)
        assert '"may_edit": false' in page(sign_in(reader), "drawing", saved_plan)


@pytest.mark.parametrize(("name", "mark"), [("drawing", '"pinned": true'), ("beds", " ●<")])
def test_a_pin_shows_at_once(
    sign_in: SignIn, leader: User, garden: Garden, saved_plan: SavedPlan, name: str, mark: str
) -> None:
    client = sign_in(leader)
    before = page(client, name, saved_plan)
    assert garden.head is not None
    text = garden.head.text.replace("\npins:\n", "\npins:\n  - {planting: carrot-1, bed: A}\n")
    save_text(garden, base_number=garden.head.number, text=text, author=leader, note="pinned")
    after = page(client, name, saved_plan)
    assert after.count(mark) > before.count(mark)


@pytest.mark.parametrize("name", ["plan", "drawing"])
def test_a_line_of_the_log_shows_at_once(
    sign_in: SignIn, leader: User, garden: Garden, saved_plan: SavedPlan, name: str
) -> None:
    client = sign_in(leader)
    assert "in the ground" not in page(client, name, saved_plan)
    sown = datetime.combine(today_in(garden), datetime.min.time()).astimezone() - timedelta(days=1)
    sent = line(sown, kind="sown", quantity=40, unit="plants", task="carrot-1:sow")
    accept(garden, sender(garden, leader), [sent])
    assert "in the ground" in page(client, name, saved_plan)


@pytest.mark.django_db(transaction=True)
def test_many_who_ask_for_a_new_plan_at_once_have_it_read_once(saved_plan: SavedPlan) -> None:
    reading._read.cache_clear()
    n_people = 6
    together = Barrier(n_people)
    found: list[str] = []

    def ask() -> None:
        together.wait(30)
        found.append(reading.plan_of(saved_plan).revision)
        connection.close()

    people = [Thread(target=ask) for _ in range(n_people)]
    with patch.object(reading, "season_from_text", wraps=season_from_text) as read:
        for person in people:
            person.start()
        for person in people:
            person.join()
    assert found == [saved_plan.digest] * n_people
    assert read.call_count == 1
