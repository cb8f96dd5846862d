"""A new season on the pages: what still stands of the season before keeps its ground."""

from __future__ import annotations

from datetime import date

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.making import ask_for_plan, make_plan
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.season import SeasonPlan
from tests.unit.apps.web.conftest import SMALL_BOOK

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
