"""What to leave out to fit the hours promised."""

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.work import relief, season_hours
from bedwright.model.book import Amount, HelpingHands, Wish
from bedwright.model.season import SeasonPlan, Task
from tests.builders import tiny_book
from tests.plantings import planting, season_plan

MONDAY = date(2027, 5, 3)


def plan_with(minutes: dict[str, float], priority: dict[str, int], promised_h: float) -> SeasonPlan:
    """One planting a name, each with so many likely minutes of sowing on Monday."""
    # A metre of row takes volunteers 3.5 likely minutes, and a plant has 10 cm of it.
    rows = {name: round(each / 0.35) for name, each in minutes.items()}
    plantings = [planting(name, n_plants=n, row_code=f"A{k}") for k, (name, n) in enumerate(rows.items(), 1)]
    tasks = tuple(Task(f"{n}:sow", "sow", MONDAY, MONDAY, "A", n, "sow", "") for n in minutes)
    wishes = tuple(Wish(n, "carrot", Amount(1.0, "plants"), priority=priority[n]) for n in minutes)
    people = (HelpingHands("Group", promised_h, date(2027, 1, 1), date(2027, 12, 31)),)
    return season_plan(*plantings, tasks=tasks, people=people, book=replace(tiny_book(), wishes=wishes))


def only_sowing(plan: SeasonPlan) -> SeasonPlan:
    beds = tuple(replace(bed, watering_reach="none") for bed in plan.book.beds)
    cover = tuple(replace(p, crop=replace(p.crop, kind="cover crop")) for p in plan.plantings)
    return replace(plan, plantings=cover, book=replace(plan.book, beds=beds))


def test_nothing_is_left_out_where_hours_are_enough() -> None:
    plan = only_sowing(plan_with({"a": 70, "b": 70}, {"a": 3, "b": 3}, 10))
    assert relief(plan, season_hours(plan)) == ()


def test_the_planting_that_frees_most_for_its_priority_goes_first() -> None:
    plan = only_sowing(plan_with({"a": 140, "b": 70, "c": 70}, {"a": 5, "b": 1, "c": 5}, 1.0))
    found = relief(plan, season_hours(plan))
    # 280 minutes against 60: b frees 70 a point, a 28, c 14; c is left with the last 10.
    assert [each.planting_code for each in found] == ["b", "a", "c"]
    assert [each.freed_h for each in found] == pytest.approx([70 / 60, 140 / 60, 10 / 60])


def test_it_stops_as_soon_as_no_week_is_short() -> None:
    plan = only_sowing(plan_with({"a": 70, "b": 70, "c": 70}, {"a": 1, "b": 3, "c": 5}, 2.5))
    found = relief(plan, season_hours(plan))
    assert [each.planting_code for each in found] == ["a"]
    assert found[0].left_short_h == 0
    assert "then the hours promised are enough" in found[0].text
    assert found[0].weeks == (MONDAY,)


def test_only_hours_of_short_weeks_are_freed_but_the_whole_saving_is_told() -> None:
    plan = only_sowing(plan_with({"a": 70}, {"a": 3}, 1.0))
    (found,) = relief(plan, season_hours(plan))
    assert found.freed_h == pytest.approx(10 / 60)
    assert found.saved_h == pytest.approx(70 / 60)


def test_leaving_out_what_is_listed_makes_it_fit() -> None:
    plan = only_sowing(plan_with({"a": 90, "b": 60, "c": 40}, {"a": 2, "b": 3, "c": 1}, 1.2))
    gone = {each.planting_code for each in relief(plan, season_hours(plan))}
    kept = replace(plan, tasks=tuple(task for task in plan.tasks if task.planting_code not in gone))
    assert season_hours(kept).short_weeks == ()
