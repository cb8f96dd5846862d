"""From the book to the plan: bench, water and hours are kept, and what they leave out is told."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from functools import cache

from bedwright.engine.pipeline import plan_season
from bedwright.model.book import GardenBook, Propagation, WaterLimit, Wish
from bedwright.model.season import SeasonPlan
from bedwright.papers.hours_sheet import hours_data
from bedwright.papers.water_sheet import water_data
from bedwright.service.demo_garden import DEMO_TODAY
from tests.demo import demo_loaded

ROOM = Propagation(bench_m2=0.5, lamp_m2=None, n_trays=None)
"""Room for three trays of 0.54 m by 0.28 m."""


def example() -> GardenBook:
    """The example with what is raised under cover, in four beds, without pins."""
    book = demo_loaded().book
    raised: list[Wish] = [wish for wish in book.wishes if wish.way == "raise" and not wish.only_beds]
    return replace(book, wishes=tuple(raised), beds=book.beds[:4], pins=())


def planned(book: GardenBook) -> SeasonPlan:
    loaded = demo_loaded()
    return plan_season(book, loaded.record, loaded.catalogue, seed=1, today=DEMO_TODAY)


@cache
def unlimited() -> SeasonPlan:
    return planned(example())


@cache
def little_room() -> SeasonPlan:
    return planned(replace(example(), propagation=ROOM))


@cache
def short_of_water_and_hours() -> SeasonPlan:
    people = tuple(replace(hands, hours_per_week=0.5) for hands in example().people if hands.paid)
    permit = WaterLimit("standpipe permit", 150.0, date(2027, 5, 1), date(2027, 9, 30))
    return planned(replace(example(), people=people, water_limits=(permit,)))


def test_no_week_has_more_trays_than_there_is_room_for() -> None:
    plan = little_room()
    assert plan.care is not None
    assert plan.care.supplies.over_limit == ()
    assert max(week.trays for week in plan.care.supplies.raising) == 3


def test_what_finds_no_room_on_the_bench_says_so_with_its_weeks() -> None:
    told = [short.why for short in little_room().shortfalls]
    assert any("not enough room on the bench in the week" in why for why in told)
    assert len(unlimited().shortfalls) < len(told)


def test_water_keeps_plantings_out_and_the_sheet_tells_the_limit() -> None:
    plan = short_of_water_and_hours()
    assert any("not enough water in the week" in short.why for short in plan.shortfalls)
    assert "Standpipe permit: 150 L a week" in str(water_data(plan, "a4", "metric"))
    assert plan.care is not None
    assert plan.care.water is not None
    free = unlimited().care
    assert free is not None
    assert free.water is not None
    july = [week.safe_l for week in plan.care.water.weeks if week.start.month == 7]
    assert max(july) < max(week.safe_l for week in free.water.weeks if week.start.month == 7) / 2


def test_where_hours_are_short_the_sheet_names_the_weeks_and_what_to_leave_out() -> None:
    plan = short_of_water_and_hours()
    assert plan.care is not None
    short = plan.care.hours.short_weeks
    assert short
    assert plan.care.relief
    sheet = str(hours_data(plan, "a4", "metric"))
    assert "short of hours; the worst, of" in sheet
    worst = plan.care.relief[0]
    assert worst.crop in sheet
    assert f"{worst.freed_h:.1f}" in sheet
    assert plan.made_on == DEMO_TODAY < min(planting.dates.in_ground for planting in plan.plantings)
