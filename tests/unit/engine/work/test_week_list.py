"""The list of a week."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.work import SOURCES, season_hours, tasks_of, week_list
from bedwright.model.season import SeasonPlan
from tests.plans import demo_plan
from tests.plantings import planting, season_plan

MONDAY = date(2027, 5, 3)


def plan() -> SeasonPlan:
    sown, raised = planting(), planting("tomato-1", way="raise", bed_code="B", row_code="B1")
    return season_plan(sown, raised, tasks=tasks_of([sown, raised], []))


def test_the_week_of_any_day_begins_on_its_monday() -> None:
    assert week_list(plan(), MONDAY + timedelta(days=3)) == week_list(plan(), MONDAY)


def test_every_task_whose_days_touch_the_week_is_there_once() -> None:
    season = plan()
    found = [job.task_code for stop in week_list(season, MONDAY).stops for job in stop.jobs]
    sunday = MONDAY + timedelta(days=6)
    due = {task.code for task in season.tasks if task.start <= sunday and task.end >= MONDAY}
    assert due <= set(found)
    assert len(found) == len(set(found))


def test_weeding_and_watering_stand_with_their_bed() -> None:
    listed = week_list(plan(), MONDAY + timedelta(days=14))
    codes = {job.task_code for stop in listed.stops if stop.bed_code == "B" for job in stop.jobs}
    assert {"weed:B", "water:B"} <= codes


def test_work_that_belongs_to_no_bed_comes_before_the_walk() -> None:
    listed = week_list(plan(), MONDAY - timedelta(days=14))
    assert listed.stops[0].bed_code is None
    assert {job.task_code for job in listed.stops[0].jobs} >= {"raise:trays"}


def test_minutes_of_the_jobs_add_up_to_the_hours_of_the_week() -> None:
    season = replace(demo_plan(), tasks=tasks_of(demo_plan().plantings, demo_plan().orders))
    for week in season_hours(season).weeks:
        listed = week_list(season, week.week)
        minutes = sum(job.minutes[2] for stop in listed.stops for job in stop.jobs)
        # Care of less than a minute is left out of the list, at most five beds of two kinds.
        assert minutes == pytest.approx(60 * week.needed.high_h, abs=10)
        assert listed.needed == week.needed


def test_the_walk_goes_from_the_tap_past_every_bed_and_back() -> None:
    season = replace(demo_plan(), tasks=tasks_of(demo_plan().plantings, demo_plan().orders))
    listed = week_list(season, date(2026, 6, 22))
    beds = [stop.bed_code for stop in listed.stops if stop.bed_code]
    assert listed.starts_at == "Tap"
    assert len(beds) == len(set(beds)) > 3
    assert listed.walk_m > sum(stop.walk_m for stop in listed.stops)


def test_a_job_that_began_earlier_is_marked() -> None:
    jobs = {
        job.task_code: job.goes_on
        for stop in week_list(plan(), MONDAY).stops
        for job in stop.jobs
        if job.kind in {"sow", "harden off"}
    }
    assert jobs == {"carrot-1:sow": False}
    earlier = week_list(plan(), MONDAY - timedelta(days=7))
    assert {j.task_code: j.goes_on for s in earlier.stops for j in s.jobs}["tomato-1:harden-off"]


def test_a_week_without_work_is_an_empty_list() -> None:
    listed = week_list(plan(), date(2028, 1, 3))
    assert listed.stops == ()
    assert listed.walk_m == 0


def test_every_source_of_the_list_is_known() -> None:
    for origin in week_list(plan(), MONDAY).origins:
        assert set(origin.source_ids) <= SOURCES.keys()
