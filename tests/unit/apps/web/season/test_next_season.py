"""A new season on the pages: what still stands of the season before keeps its ground."""

from __future__ import annotations

from datetime import UTC, date, datetime
from typing import Any

import pytest
from django.utils import timezone

from bedwright.apps.web.field.season_data import season_data
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.log import reading
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.log.reading import newest_plan_in, plan_in, season_in
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.making import ask_for_plan, make_plan
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.season import SeasonPlan
from tests.unit.apps.web.conftest import SMALL_BOOK
from tests.unit.apps.web.log.lines import line, sender

WINTER = date(2026, 12, 1)
WITH_GARLIC = SMALL_BOOK.replace("wishes:\n", "wishes:\n  - {crop: garlic, plants: 10}\n")


def made(garden: Garden, coordinator: User, text: str, today: date) -> SeasonPlan:
    keep(garden, text, author=coordinator, follows=garden.head)
    garden.refresh_from_db()
    plan: SavedPlan = ask_for_plan(garden, coordinator, today=today, seed=1)
    make_plan.call(plan.pk)
    plan.refresh_from_db()
    assert plan.state == PlanState.DONE, plan.problems
    return plan_of(plan)


def test_garlic_of_the_season_before_keeps_its_ground(garden: Garden, coordinator: User) -> None:
    before = made(garden, coordinator, WITH_GARLIC, WINTER)
    garlic = next(each for each in before.plantings if each.crop.name == "garlic")
    again = made(garden, coordinator, WITH_GARLIC + "# the same season once more\n", WINTER)
    assert [each.code for each in again.plantings if each.crop.name == "garlic"] == [garlic.code]
    after = made(
        garden, coordinator, WITH_GARLIC.replace("2027-01-01", "2028-01-01"), WINTER.replace(year=2027)
    )
    stands = next(each for each in after.plantings if each.code == f"{garlic.code}-2027")
    assert stands.rows == next(each for each in again.plantings if each.code == garlic.code).rows


def lines_of(garden: Garden, author: User, plan: SeasonPlan, kind: str, code: str) -> None:
    one = next(each for each in plan.plantings if each.code == code)
    sent = line(kind=kind, planting=code, crop=one.crop.name, plan=plan.revision, quantity=None, unit="")
    (answer,) = accept(garden, sender(garden, author), [sent])
    assert answer.state == "kept", answer.problems


@pytest.fixture
def two_seasons(garden: Garden, coordinator: User) -> tuple[SeasonPlan, SeasonPlan]:
    """The first season with garlic that failed and carrots that were sown, and the one after it."""
    first = made(garden, coordinator, WITH_GARLIC, WINTER)
    lines_of(garden, coordinator, first, "sown", "carrot-1")
    lines_of(garden, coordinator, first, "failed", "garlic-1")
    second = made(
        garden, coordinator, WITH_GARLIC.replace("2027-01-01", "2028-01-01"), WINTER.replace(year=2027)
    )
    return first, second


def test_what_the_log_says_has_failed_does_not_stand_in_the_next_season(
    two_seasons: tuple[SeasonPlan, SeasonPlan],
) -> None:
    assert "garlic-1-2027" not in {each.code for each in two_seasons[1].plantings}


def test_lines_of_one_season_say_nothing_of_the_same_codes_in_the_next(
    garden: Garden, two_seasons: tuple[SeasonPlan, SeasonPlan]
) -> None:
    def sown(plan: SeasonPlan) -> date | None:
        return next(
            each.in_ground_on
            for each in season_in(garden, plan).plantings
            if each.planting.code == "carrot-1"
        )

    first, second = two_seasons
    assert sown(first) is not None
    assert sown(second) is None


@pytest.mark.parametrize(("today", "season"), [("2027-12-20", 2027), ("2028-01-01", 2028)])
def test_a_plan_for_the_season_to_come_is_followed_once_that_begins(
    garden: Garden,
    two_seasons: tuple[SeasonPlan, SeasonPlan],
    monkeypatch: pytest.MonkeyPatch,
    today: str,
    season: int,
) -> None:
    monkeypatch.setattr(reading, "today_in", lambda _: date.fromisoformat(today))
    found, newest = plan_in(garden), newest_plan_in(garden)
    assert found is not None
    assert newest is not None
    assert found[1].book.season_start.year == season
    assert newest[1] == two_seasons[1]


@pytest.mark.parametrize("wrong_start", ["2026-01-10", "2027-01-01"])
def test_a_plan_made_anew_with_another_start_is_followed_at_once(
    garden: Garden, coordinator: User, monkeypatch: pytest.MonkeyPatch, wrong_start: str
) -> None:
    wrong = made(garden, coordinator, WITH_GARLIC.replace("2027-01-01", wrong_start), WINTER)
    if wrong_start.startswith("2027"):
        # The same season, even with lines; in the other case nobody wrote any.
        lines_of(garden, coordinator, wrong, "sown", "carrot-1")
    right = made(garden, coordinator, WITH_GARLIC.replace("2027-01-01", "2027-03-01"), WINTER)
    monkeypatch.setattr(reading, "today_in", lambda _: date(2027, 1, 9))
    found = plan_in(garden)
    assert found is not None
    assert found[1] == right


MARCH_BOOK = SMALL_BOOK.replace("2027-01-01", "2027-03-15").replace(
    "wishes:\n", "wishes:\n  - {crop: leek, plants: 10}\n"
)


def test_first_jobs_of_the_season_to_come_are_among_those_of_the_one_that_ends(
    garden: Garden, coordinator: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    first = made(garden, coordinator, MARCH_BOOK, WINTER)
    lines_of(garden, coordinator, first, "sown", "carrot-1")
    second = made(
        garden, coordinator, MARCH_BOOK.replace("2027-03-15", "2028-03-15"), WINTER.replace(year=2027)
    )
    sowing = next(each for each in second.tasks if each.code == "leek-1:sow-under-cover")
    assert sowing.start < second.book.season_start
    noon = datetime.combine(sowing.start, datetime.min.time(), UTC).replace(hour=12)
    monkeypatch.setattr(timezone, "now", lambda: noon)

    def told() -> dict[str, Any]:
        return season_data(garden, may_record=True, author_id=coordinator.pk)

    data = told()
    assert data["plan"] == first.revision
    code = f"{second.revision}|leek-1:sow-under-cover"
    (job,) = (each for each in data["jobs"] if each["code"] == code)
    assert data["coming"][job["planting"]]["crop"] == "leek"
    assert job["planting"] not in data["plantings"]

    sent = line(
        noon,
        kind="sown under cover",
        planting=job["planting"],
        task=code,
        plan=first.revision,
        quantity=None,
        unit="",
    )
    (answer,) = accept(garden, sender(garden, coordinator), [sent])
    assert answer.state == "kept", answer.problems
    kept = LogEntry.objects.get(client_id=sent["id"])
    assert (kept.plan_digest, kept.planting_code, kept.task_code) == (
        second.revision, "leek-1", "leek-1:sow-under-cover",
    )  # fmt: skip
    (job,) = (each for each in told()["jobs"] if each["code"] == code)
    assert (job["state"], [each["id"] for each in job["lines"]]) == ("done", [sent["id"]])
    leek = {each.planting.code: each for each in season_in(garden, first).plantings}["leek-1"]
    assert leek.sown_under_cover_on is None
