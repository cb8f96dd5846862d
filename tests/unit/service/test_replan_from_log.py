"""The season planned again from today: what stands stays, what failed is free, the rest is sought anew."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from functools import cache

from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.engine.pipeline import plan_season
from bedwright.model.log import LogKind, LogRecord
from bedwright.model.season import Planting, SeasonPlan
from bedwright.service.replan_from_log import replan

BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: B, rectangle: {length_m: 4, width_m: 1.2, east_m: 3, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4}
  - {crop: radish, plants: 20}
  - {crop: lettuce, plants: 8}
"""


@cache
def planned() -> SeasonPlan:
    return plan_season(book_of(BOOK), None, catalogue(), seed=1, today=date(2026, 12, 1))


def of(plan: SeasonPlan, code: str) -> Planting:
    return next(each for each in plan.plantings if each.code == code)


def record(number: int, kind: LogKind, planting: Planting, day: date) -> LogRecord:
    at = datetime(day.year, day.month, day.day, 12, tzinfo=UTC)
    return LogRecord(str(number), day, kind, at, planting_code=planting.code, crop=planting.crop.name)


def again(*records: LogRecord, today: date, **changes: object) -> SeasonPlan:
    return replan(planned(), planned().book, None, catalogue(), records, today=today, **changes)  # type: ignore[arg-type]


def test_what_went_in_late_keeps_its_place_with_its_true_days() -> None:
    carrot = of(planned(), "carrot-1")
    day = carrot.dates.in_ground + timedelta(days=6)
    made = again(record(1, "sown", carrot, day), today=day + timedelta(days=2))
    now = of(made, "carrot-1")
    assert (now.rows, now.along_m, now.bed_code) == (carrot.rows, carrot.along_m, carrot.bed_code)
    assert now.dates.in_ground == day
    assert now.dates.first_pick == carrot.dates.first_pick + timedelta(days=6)


def test_what_failed_is_not_there_any_more_and_nothing_is_begun_before_today() -> None:
    carrot = of(planned(), "carrot-1")
    sown = carrot.dates.in_ground
    today = sown + timedelta(days=20)
    made = again(record(1, "sown", carrot, sown), record(2, "failed", carrot, today), today=today)
    for planting in made.plantings:
        if planting.crop.name == "carrot":
            assert planting.dates.in_ground >= today
    assert any("carrot" in line for line in made.happened)


def test_what_never_went_in_is_sought_anew_if_a_person_says_so() -> None:
    carrot = of(planned(), "carrot-1")
    today = carrot.dates.in_ground + timedelta(days=9)
    assert of(again(today=today), "carrot-1").dates == carrot.dates
    made = again(today=today, unlogged="not gone in")
    assert all(
        planting.dates.in_ground >= today for planting in made.plantings if planting.crop.name == "carrot"
    )
