"""Every address against every part a person can have."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from django.db import transaction
from django.test import Client

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.access import ABILITIES, ANYONE, PERSON
from bedwright.apps.web.people.models import Role, User
from bedwright.apps.web.season.models import SavedPlan
from tests.unit.apps.web.access_table import ACCESS, LATER
from tests.unit.apps.web.addresses import ALL, Address, address_of, objects_of


def test_every_address_has_a_line_in_the_table() -> None:
    assert {each.name for each in ALL} - LATER - set(ACCESS) == set()


def test_no_line_of_the_table_is_without_an_address() -> None:
    assert set(ACCESS) - {each.name for each in ALL} == set()


def test_every_view_has_one_of_the_three_doors() -> None:
    assert [each.name for each in ALL if not hasattr(each.view, "access")] == []


@pytest.fixture
def objects(garden: Garden, coordinator: User, reader: User, saved_plan: SavedPlan) -> dict[str, Any]:
    return objects_of(garden, coordinator, reader, saved_plan)


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
            got = outcome(client, method, address_of(each, objects))
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
        url = address_of(each, {**objects, "garden_id": own.pk})
        for method, who in zip(("GET", "POST"), ACCESS[each.name], strict=True):
            if who is not None:
                assert outcome(client, method, url) == "no such page", f"{method} {each.name}"
    assert len(looked_at) > 20
