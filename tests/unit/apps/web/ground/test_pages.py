from __future__ import annotations

import gzip
import json
from collections.abc import Callable
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.store.season import season_json
from tests.plans import demo_plan

SignIn = Callable[[User | None], Client]


@pytest.fixture
def client(garden: Garden, leader: User, sign_in: SignIn) -> Client:
    return sign_in(leader)


def post(client: Client, garden: Garden, name: str, body: object) -> Any:
    return client.post(
        reverse(f"ground:{name}", args=[garden.pk]), json.dumps(body), content_type="application/json"
    )


def state(client: Client, garden: Garden) -> dict[str, Any]:
    found: dict[str, Any] = client.get(reverse("ground:now", args=[garden.pk])).json()
    return found


def changed(now: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {"base": now["revision"], "beds": now["beds"], "features": now["features"], **more}


def test_the_page_carries_the_whole_ground(client: Client, garden: Garden) -> None:
    answer = client.get(reverse("ground:plan", args=[garden.pk]))

    assert answer.status_code == 200
    data = answer.context["data"]
    assert [bed["code"] for bed in data["state"]["beds"]][:3] == ["A", "B", "C"]
    assert data["may_edit"] is True
    assert " style=" not in answer.content.decode()


def test_a_reader_gets_the_plan_without_the_tools(garden: Garden, reader: User, sign_in: SignIn) -> None:
    answer = sign_in(reader).get(reverse("ground:plan", args=[garden.pk]))

    assert answer.context["data"]["may_edit"] is False
    assert b'data-part="save"' not in answer.content


def test_a_garden_without_a_book_says_what_comes_first(coordinator: User, sign_in: SignIn) -> None:
    empty = Garden.objects.create(name="New")
    Membership.objects.create(garden=empty, user=coordinator, role=Role.COORDINATOR)

    answer = sign_in(coordinator).get(reverse("ground:plan", args=[empty.pk]))

    assert answer.status_code == 200
    assert reverse("garden:home", args=[empty.pk]).encode() in answer.content


def test_ground_sent_back_unchanged_makes_no_revision(client: Client, garden: Garden) -> None:
    answer = post(client, garden, "save", changed(state(client, garden)))

    assert answer.status_code == 200
    assert answer.json()["changed"] is False
    assert garden.revisions.count() == 1


def test_a_moved_bed_is_a_revision_and_nothing_else_of_the_book_changes(
    client: Client, garden: Garden
) -> None:
    before = head_book(garden)
    now = state(client, garden)
    now["beds"][0]["rectangle"]["east_m"] = 1.8

    answer = post(client, garden, "save", changed(now, note="moved bed A"))

    garden.refresh_from_db()
    after = head_book(garden)
    assert answer.json()["revision"] == 2
    assert answer.json()["note"] == "moved bed A"
    assert before is not None
    assert after is not None
    assert after.beds[0].frame.peg_m == (1.8, 14.0)
    assert (after.beds[1:], after.wishes, after.history) == (before.beds[1:], before.wishes, before.history)


def test_problems_name_their_entry_as_the_command_line_does(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    now["beds"][2]["rectangle"]["width_m"] = "wide"
    now["features"][1]["height_m"] = 99

    answer = post(client, garden, "save", changed(now))

    assert answer.status_code == 422
    assert [problem["where"] for problem in answer.json()["problems"]] == [
        "site.features[2].height_m",
        "beds[3].rectangle.width_m",
    ]
    assert garden.revisions.count() == 1


def test_two_people_who_moved_different_beds_are_put_together(
    client: Client, garden: Garden, coordinator: User, sign_in: SignIn
) -> None:
    mine, theirs = state(client, garden), state(client, garden)
    theirs["beds"][1]["rectangle"]["length_m"] = 7.5
    post(sign_in(coordinator), garden, "save", changed(theirs))
    mine["beds"][0]["rectangle"]["length_m"] = 7

    answer = post(client, garden, "save", changed(mine))

    assert answer.status_code == 200
    assert answer.json()["merged"] is True
    assert answer.json()["others"] == "Corin"
    assert [bed["rectangle"]["length_m"] for bed in answer.json()["beds"][:2]] == [7, 7.5]


def test_two_people_who_moved_the_same_bed_are_told(
    client: Client, garden: Garden, coordinator: User, sign_in: SignIn
) -> None:
    mine, theirs = state(client, garden), state(client, garden)
    theirs["beds"][0]["rectangle"]["length_m"] = 7.5
    post(sign_in(coordinator), garden, "save", changed(theirs))
    mine["beds"][0]["rectangle"]["length_m"] = 7

    answer = post(client, garden, "save", changed(mine))

    assert answer.status_code == 409
    assert answer.json()["parts"] == ["beds A"]
    assert answer.json()["author"] == "Corin"
    assert garden.revisions.count() == 2


def test_a_bed_called_otherwise_keeps_its_history_and_wishes(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    now["beds"][0]["code"] = "Q"

    answer = post(client, garden, "save", changed(now, new_codes={"A": "Q"}))

    garden.refresh_from_db()
    book = head_book(garden)
    assert answer.status_code == 200
    assert book is not None
    assert any(entry.bed_code == "Q" for entry in book.history)


def test_a_bed_removed_is_forgotten_only_when_asked(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    without = [bed for bed in now["beds"] if bed["code"] != "E"]

    refused = post(client, garden, "save", {**changed(now), "beds": without})
    kept = post(client, garden, "save", {**changed(now), "beds": without, "forget": ["E"]})

    assert refused.status_code == 422
    assert all(problem["where"].startswith(("history", "wishes")) for problem in refused.json()["problems"])
    assert kept.status_code == 200
    assert "E" not in [bed["code"] for bed in kept.json()["beds"]]


def test_revisions_are_undone_and_redone(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    now["beds"][0]["rectangle"]["length_m"] = 7
    saved = post(client, garden, "save", changed(now)).json()

    undone = post(client, garden, "step", {"base": saved["revision"], "direction": "undo"}).json()
    redone = post(client, garden, "step", {"base": undone["revision"], "direction": "redo"}).json()

    assert saved["back"] == 1
    assert undone["beds"][0]["rectangle"]["length_m"] == 8
    assert undone["forth"] == 2
    assert redone["beds"][0]["rectangle"]["length_m"] == 7


def test_undo_is_refused_when_somebody_saved_meanwhile(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    now["beds"][0]["rectangle"]["length_m"] = 7
    post(client, garden, "save", changed(now))

    answer = post(client, garden, "step", {"base": 1, "direction": "undo"})

    assert answer.status_code == 409


@pytest.mark.parametrize("body", [[], {}, {"base": "x"}, {"base": 77, "beds": [], "features": []}])
def test_what_no_page_of_ours_sends_is_refused(client: Client, garden: Garden, body: object) -> None:
    assert post(client, garden, "save", body).status_code == 400
    assert post(client, garden, "step", body).status_code == 400


def test_sun_follows_a_tree_that_is_not_saved(client: Client, garden: Garden) -> None:
    now = state(client, garden)
    before = post(client, garden, "sun", {**changed(now), "month": 6}).json()
    tree = next(feature for feature in now["features"] if feature["code"] == "T2")
    tree["at_m"] = [19.0, 5.0]

    after = post(client, garden, "sun", {**changed(now), "month": 6}).json()

    assert len(after["tenths_h"]) == after["n_east"] * after["n_north"]
    assert after["bed_sun_h"]["L"] < before["bed_sun_h"]["L"]
    assert garden.revisions.count() == 1


@pytest.mark.parametrize("month", [0, 13, "June", None])
def test_sun_of_no_month_is_refused(client: Client, garden: Garden, month: object) -> None:
    answer = post(client, garden, "sun", {**changed(state(client, garden)), "month": month})

    assert answer.status_code == 422


def test_numbers_that_are_none_are_refused(client: Client, garden: Garden) -> None:
    address = reverse("ground:sun", args=[garden.pk])

    answer = client.post(address, '{"month": NaN}', content_type="application/json")

    assert answer.status_code == 422


def test_plants_of_the_newest_plan_are_told_bed_by_bed(client: Client, garden: Garden) -> None:
    assert client.get(reverse("ground:plants", args=[garden.pk])).json() == {"plan": None, "plantings": []}
    plan = demo_plan()
    assert garden.head is not None
    SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        today=plan.made_on,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        packed=gzip.compress(season_json(plan).encode()),
    )

    told = client.get(reverse("ground:plants", args=[garden.pk])).json()

    assert sum(row[4] for each in told["plantings"] for row in each["rows"]) == sum(
        planting.n_plants for planting in plan.plantings
    )
