"""The morning's water: from plan, record and log to words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from typing import Any

import pytest

from bedwright.model.book import Feature, Period
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.model.water import ForecastDay, RainReading
from bedwright.service.water_text import NO_FLOW, forecast_of, water_text
from bedwright.service.water_today import WaterAnswer, WaterAsked, garden_today, known_codes, water_log
from bedwright.store.gauge import BedWatering, WaterLog
from tests.demo import demo_loaded, demo_plan

TODAY = date(2027, 7, 1)
WEEK = [TODAY - timedelta(days=k) for k in range(60, -1, -1)]


@cache
def plan_with(flow_l_min: float | None, can_l: float | None) -> SeasonPlan:
    """The example, its taps giving so much."""
    plan = demo_plan()
    features = tuple(
        replace(feature, flow_l_min=flow_l_min) if feature.kind == "tap" else feature
        for feature in plan.book.site.features
    )
    assert any(isinstance(feature, Feature) and feature.kind == "tap" for feature in features)
    site = replace(plan.book.site, features=features)
    return replace(plan, book=replace(plan.book, site=site, can_l=can_l))


NO_LOG = WaterLog()


def asked(log: WaterLog = NO_LOG, plan: SeasonPlan | None = None, **questions: Any) -> WaterAnswer:
    found = plan or plan_with(15.0, 10.0)
    return garden_today(found, demo_loaded().record, log, WaterAsked(**questions), today=TODAY)


def told(answer: WaterAnswer, plan: SeasonPlan | None = None, units: Any = "metric", **questions: Any) -> str:
    return water_text(plan or plan_with(15.0, 10.0), answer, WaterAsked(**questions), units)


def test_a_dry_spring_makes_every_bed_due_and_says_how_much() -> None:
    dry = WaterLog(readings=tuple(RainReading(day, 0.0) for day in WEEK))
    answer = asked(dry)
    due = [bed for bed in answer.answer.beds if bed.due]
    assert due
    words = told(answer)
    for bed in due:
        assert f"water bed {bed.bed_code} today: " in words
    assert "at 15 L/min or" in words
    assert "cans" in words


def test_a_soaking_makes_most_beds_wait() -> None:
    wet = WaterLog(readings=tuple(RainReading(day, 12.0) for day in WEEK))
    dry = WaterLog(readings=tuple(RainReading(day, 0.0) for day in WEEK))
    assert asked(wet).answer.total_l < asked(dry).answer.total_l / 4
    assert "Next watering" in told(asked(wet))


def test_water_given_to_a_bed_is_shared_among_what_stands_there() -> None:
    bed = next(bed for bed in asked().answer.beds if bed.due)
    logged = WaterLog(waterings=(BedWatering(TODAY, bed.bed_code, "", 5000.0),))
    after = next(each for each in asked(logged).answer.beds if each.bed_code == bed.bed_code)
    assert not after.due


def test_a_watering_where_nothing_stood_is_told_with_its_day() -> None:
    plan = plan_with(15.0, 10.0)
    late = max(plan.plantings, key=lambda planting: planting.dates.in_ground)
    logged = WaterLog(waterings=(BedWatering(date(2027, 1, 2), "", late.code, 10.0),))
    with pytest.raises(BadDocumentError, match="2027-01-02"):
        asked(logged)


def test_without_a_stated_flow_it_says_so_instead_of_minutes() -> None:
    plan = plan_with(None, None)
    words = told(asked(plan=plan), plan)
    assert NO_FLOW in words
    assert "L/min or" not in words
    assert "A can is taken to hold 10 L" in words


def test_the_log_may_state_what_the_hose_gives_now() -> None:
    plan = plan_with(None, None)
    words = told(asked(WaterLog(tap_flow_l_min=9.0, can_l=8.0), plan), plan)
    assert "at 9 L/min or" in words
    assert NO_FLOW not in words


def test_too_little_water_is_shared_by_need_and_tells_what_is_lost() -> None:
    dry = WaterLog(readings=tuple(RainReading(day, 0.0) for day in WEEK))
    answer = asked(dry, available_l=100.0)
    assert sum(share.given_l for share in answer.shares) == pytest.approx(100.0)
    words = told(answer, available_l=100.0)
    assert "100 L for " in words
    assert "nothing of " in words
    assert "are enough for everything" in told(asked(dry, available_l=1e6), available_l=1e6)


def test_a_duty_list_names_day_bed_and_amount() -> None:
    span = Period("duty", TODAY + timedelta(days=2), TODAY + timedelta(days=3))
    answer = asked(duty=span)
    assert {visit.day for visit in answer.duty} <= {span.start, span.end}
    words = told(answer, duty=span)
    assert "Duty list, Sat 3 July to Sun 4 July 2027" in words
    assert words.count("[ ]") == len(answer.duty) > 0


def test_rain_that_is_forecast_puts_watering_off() -> None:
    none = asked(duty=Period("duty", TODAY, TODAY + timedelta(days=6)))
    days = tuple(ForecastDay(TODAY + timedelta(days=k), 15.0) for k in range(7))
    wet = asked(WaterLog(forecast=days), duty=Period("duty", TODAY, TODAY + timedelta(days=6)))
    assert sum(visit.water_l for visit in wet.duty) < sum(visit.water_l for visit in none.duty)


def test_answers_are_told_in_us_units_too() -> None:
    words = told(asked(), units="us")
    assert "US gal" in words
    assert "if 0.4 in fall today" in words


def test_reasons_are_told_when_asked_for() -> None:
    assert "missing from the root zone" in told(asked(), why=True)
    assert "missing from the root zone" not in told(asked())


def test_a_garden_without_a_record_is_a_problem_with_a_way_out() -> None:
    with pytest.raises(BadDocumentError, match="--weather"):
        garden_today(plan_with(15.0, 10.0), None, WaterLog(), WaterAsked(), today=TODAY)


def test_in_midwinter_nothing_is_planted_yet() -> None:
    plan = plan_with(15.0, 10.0)
    early = date(2027, 1, 3)
    answer = garden_today(plan, demo_loaded().record, WaterLog(), WaterAsked(), today=early)
    assert "Nothing is planted yet." in told(answer)


def test_rows_name_their_plantings_in_a_log() -> None:
    plan = plan_with(15.0, 10.0)
    codes = known_codes(plan).plantings
    for planting in plan.plantings:
        assert all(codes[row.code] == planting.code for row in planting.rows)


def test_a_day_forecast_in_a_file_and_by_hand_is_a_problem(tmp_path: Any) -> None:
    log = tmp_path / "log.yaml"
    log.write_text("forecast:\n  - {date: 2027-07-02, rain_mm: 3}\n", encoding="utf-8")
    with pytest.raises(BadDocumentError, match="2027-07-02"):
        water_log(plan_with(15.0, 10.0), [log], [ForecastDay(date(2027, 7, 2), 1.0)], today=TODAY)


def test_a_forecast_can_be_typed_in_both_units() -> None:
    days = forecast_of(["2027-07-02=8mm", "2027-07-03=0", "2027-07-04=0.5in"])
    assert [day.rain_mm for day in days] == pytest.approx([8.0, 0.0, 12.7])


@pytest.mark.parametrize("words", ["2027-07-02", "2027-02-30=3", "2027-07-02=-1", "2027-07-02=900mm", "rain"])
def test_a_forecast_that_cannot_be_is_refused(words: str) -> None:
    with pytest.raises(BadDocumentError):
        forecast_of([words])
