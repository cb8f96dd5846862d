"""The list of one week as text, page and calendar."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

from icalendar import Calendar

from bedwright.papers import calendar_bytes, week_calendar_bytes
from bedwright.service.week import week_of, week_text, write_week
from tests.demo import demo_plan
from tests.plans import demo_plan as bare_plan

DAY = date(2027, 6, 10)


def test_any_day_of_a_week_gives_the_same_list() -> None:
    monday = DAY - timedelta(days=DAY.weekday())
    lists = [week_of(demo_plan(), monday + timedelta(days=k)) for k in range(7)]
    assert len({id(week) for week in lists}) == 1
    assert lists[0].week == monday


def test_the_text_goes_from_bed_to_bed_as_one_walks() -> None:
    week = week_of(demo_plan(), DAY)
    words = week_text(demo_plan(), week, "metric")
    places = [words.index(f"\nBed {stop.bed_code}  ") for stop in week.stops if stop.bed_code]
    assert places == sorted(places)
    assert "Week of Monday 7 June 2027" in words
    assert "min" in words


def test_a_plan_that_stops_at_places_has_a_list_all_the_same() -> None:
    plan = bare_plan()
    words = week_text(plan, week_of(plan, plan.plantings[0].dates.in_ground), "us")
    assert plan.plantings[0].label_code in words


def test_a_week_far_from_the_season_says_that_nothing_is_due() -> None:
    assert "Nothing is due." in week_text(demo_plan(), week_of(demo_plan(), date(2031, 1, 1)), "metric")


def test_the_week_in_a_calendar_replaces_its_jobs_in_the_seasons_and_adds_care() -> None:
    plan, week = demo_plan(), week_of(demo_plan(), DAY)
    events = Calendar.from_ical(week_calendar_bytes(plan, week)).walk("VEVENT")
    season = {str(event["UID"]) for event in Calendar.from_ical(calendar_bytes(plan)).walk("VEVENT")}
    uids = [str(event["UID"]) for event in events]
    n_jobs = sum(len(stop.jobs) for stop in week.stops)
    assert len(uids) == len(set(uids)) == n_jobs
    care = [uid for uid in uids if uid not in season]
    assert care
    assert all("2027-06-07" in uid for uid in care)


def test_page_and_calendar_are_written_and_written_again(tmp_path: Path) -> None:
    plan, week = demo_plan(), week_of(demo_plan(), DAY)
    for _ in range(2):
        write_week(plan, week, tmp_path / "week", "a4", "metric")
        assert {path.name for path in (tmp_path / "week").iterdir()} == {"week.pdf", "week.ics"}
