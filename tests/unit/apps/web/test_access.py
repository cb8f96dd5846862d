"""Every address against every part a person can have."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from django.utils import timezone

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.models import LogEntry, LogPhoto
from bedwright.apps.web.papers.made import FILES
from bedwright.apps.web.papers.models import CalendarLink
from bedwright.apps.web.people.access import ABILITIES, ANYONE, PERSON
from bedwright.apps.web.people.models import Invitation, Membership, Role, User, digest_of
from bedwright.apps.web.season.models import SavedPlan
from tests.unit.apps.web.access_table import ACCESS, LATER


@dataclass(frozen=True)
class Address:
    name: str
    view: Callable[..., Any]
    keys: frozenset[str]


def addresses(
    patterns: list[Any], namespace: str = "", keys: frozenset[str] = frozenset()
) -> Iterator[Address]:
    for pattern in patterns:
        inner = keys | frozenset(pattern.pattern.converters)
        if isinstance(pattern, URLResolver):
            below = pattern.namespace or ""
            yield from addresses(pattern.url_patterns, ":".join(filter(None, (namespace, below))), inner)
        elif isinstance(pattern, URLPattern):
            yield Address(":".join(filter(None, (namespace, pattern.name))), pattern.callback, inner)


ALL = list(addresses(get_resolver().url_patterns))


def test_every_address_has_a_line_in_the_table() -> None:
    assert {each.name for each in ALL} - LATER - set(ACCESS) == set()


def test_no_line_of_the_table_is_without_an_address() -> None:
    assert set(ACCESS) - {each.name for each in ALL} == set()


def test_every_view_has_one_of_the_three_doors() -> None:
    assert [each.name for each in ALL if not hasattr(each.view, "access")] == []


@pytest.fixture
def objects(garden: Garden, coordinator: User, reader: User, saved_plan: SavedPlan) -> dict[str, Any]:
    """Something real for each part of an address."""
    invitation = Invitation.objects.create(
        garden=garden,
        role=Role.READER,
        digest=digest_of("invitation"),
        expires_at=timezone.now() + timedelta(days=1),
    )
    link = CalendarLink.objects.create(garden=garden, name="x", digest=digest_of("invitation"))
    weather = garden.weather_files.get()
    membership = Membership.objects.get(garden=garden, user=reader)
    assert garden.head is not None
    made = Path(settings.MADE_PAPERS) / str(saved_plan.pk) / "a4-metric"
    made.mkdir(parents=True)
    for file in FILES:
        # Setting papers takes long, and what is in them does not matter here.
        (made / file).write_bytes(b"made")
    line = LogEntry.objects.create(garden=garden, day=saved_plan.today, kind="seen", author=coordinator)
    photo = LogPhoto(garden=garden, client_id=line.client_id, entry_id_of_client=line.client_id)
    photo.n_bytes, photo.width_px, photo.height_px = 4, 1, 1
    photo.save()
    photo.path.parent.mkdir(parents=True)
    photo.path.write_bytes(b"made")
    peg = PegLink.objects.create(garden=garden, public=True)
    return {
        "client_id": line.client_id,
        "token": peg.token,
        "row_code": "A1",
        "garden_id": garden.pk,
        "invitation_id": invitation.pk,
        "membership_id": membership.pk,
        "link_id": link.pk,
        "file_id": weather.pk,
        "plan_id": saved_plan.pk,
        "number": garden.head.number,
        "slug": "beds",
        "secret": "invitation",
        "file": "plantings.csv",
    }


NAMES = {"book:crop": "carrot", "book:entry": "A"}


def address_of(each: Address, objects: dict[str, Any], saved_plan: SavedPlan) -> str:
    known = {**objects, "name": NAMES.get(each.name, ""), "code": "carrot-1"}
    return reverse(each.name, kwargs={key: known[key] for key in each.keys})


def outcome(client: Client, method: str, url: str) -> str:
    """Which door the answer came from."""
    answer = client.generic(method, url)
    if answer.status_code == 405:
        return "no such method"
    if answer.status_code == 302 and answer["Location"].startswith("/sign-in/?next="):
        return "sign in first"
    return {403: "not allowed", 404: "no such page"}.get(answer.status_code, "open")


def behind_the_door(door: Any, user: str) -> str:
    """What somebody meets at a door."""
    if door == ANYONE or (door == PERSON and user != "nobody"):
        return "open"
    if user == "nobody":
        return "sign in first"
    if user == "outsider":
        return "no such page"
    return "open" if door in ABILITIES[Role(user)] else "not allowed"


def expected(each: Address, method: str, user: str) -> str:
    """What the table says; that a method is not answered is told only to those past the door."""
    look, send = ACCESS[each.name]
    answered = {"GET": look, "POST": send}.get(method)
    if answered is not None:
        return behind_the_door(answered, user)
    door = each.view.access  # type: ignore[attr-defined]  # set by the door itself
    met = behind_the_door(door[0] if isinstance(door, tuple) else door, user)
    return "no such method" if met == "open" else met


BESIDE = {"people:start"}
"""Open to anyone, but there is nothing behind it once somebody has an account."""


@pytest.mark.parametrize("method", ["GET", "POST", "DELETE"])
@pytest.mark.parametrize("user", ["nobody", "outsider", "reader", "volunteer", "leader", "coordinator"])
def test_each_part_opens_exactly_what_the_table_says(
    request: pytest.FixtureRequest,
    sign_in: Callable[[User | None], Client],
    objects: dict[str, Any],
    saved_plan: SavedPlan,
    user: str,
    method: str,
) -> None:
    person = None if user == "nobody" else request.getfixturevalue(user)
    wrong: list[str] = []
    n_cells = 0
    for each in ALL:
        if each.name in LATER | BESIDE:
            continue
        client = sign_in(person)
        with transaction.atomic():
            got = outcome(client, method, address_of(each, objects, saved_plan))
            # What was sent here must not change what the next one meets.
            transaction.set_rollback(True)
        n_cells += 1
        if got != (wanted := expected(each, method, user)):
            wrong.append(f"{method} {each.name}: {got}, not {wanted}")
    assert wrong == []
    assert n_cells == len(ALL) - len(BESIDE) - len(LATER)


OF_A_GARDEN = {"plan_id", "link_id", "file_id", "invitation_id", "membership_id", "client_id"}
"""Numbers and ids in addresses that stand for something in a garden."""


def test_a_coordinator_of_one_garden_finds_nothing_of_another(
    sign_in: Callable[[User | None], Client],
    objects: dict[str, Any],
    saved_plan: SavedPlan,
    outsider: User,
) -> None:
    own = load_demo(outsider)
    client = sign_in(outsider)
    looked_at = [each for each in ALL if "garden_id" in each.keys and each.keys & OF_A_GARDEN]
    for each in looked_at:
        # The garden is one's own, the thing in it is another's.
        url = address_of(each, {**objects, "garden_id": own.pk}, saved_plan)
        for method, who in zip(("GET", "POST"), ACCESS[each.name], strict=True):
            if who is not None:
                assert outcome(client, method, url) == "no such page", f"{method} {each.name}"
    assert len(looked_at) > 20
