"""Hours by week against hours promised."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.work import season_hours, tasks_of
from bedwright.engine.work.hours import dry_shares, promised_in
from bedwright.model.book import Goals, HelpingHands, Period
from bedwright.model.season import SeasonPlan, Task
from bedwright.model.source import Origin
from bedwright.model.water import BedWater, WaterWeek
from bedwright.model.work import OwnRate, SeasonHours
from tests.builders import tiny_book, tiny_crop
from tests.plans import demo_plan
from tests.plantings import planting, season_plan

MONDAY = date(2027, 5, 3)
SOWN = planting()
"""Forty carrots, 4 m of row, 1.2 m2, sown on Monday 3 May."""


def job(kind: str, start: date, end: date) -> Task:
    return Task(f"carrot-1:{kind}", kind, start, end, "A", "carrot-1", kind, "")


def with_tasks(*tasks: Task, people: tuple[HelpingHands, ...] = ()) -> SeasonPlan:
    # A cover crop is not weeded, and bed A is not watered, so only the tasks are counted.
    crop = replace(tiny_crop(), kind="cover crop")
    book = tiny_book()
    dry = replace(book, beds=tuple(replace(bed, watering_reach="none") for bed in book.beds))
    return season_plan(planting(crop=crop), tasks=tasks, people=people, book=dry)


def hands(hours: float, *, paid: bool = False) -> HelpingHands:
    return HelpingHands("Group", hours, date(2027, 1, 1), date(2027, 12, 31), paid)


def kind_h(hours: SeasonHours, kind: str) -> float:
    return sum(share.hours.likely_h for share in hours.shares if share.kind == kind)


def test_sowing_four_metres_takes_volunteers_fourteen_minutes() -> None:
    hours = season_hours(with_tasks(job("sow", MONDAY, MONDAY)))
    (week,) = hours.weeks
    # 4 m at 1, 2, 4 min for practised people (first guess), times 1.5, 1.75, 2 for volunteers.
    assert week.needed.low_h == pytest.approx(4 * 1 * 1.5 / 60)
    assert week.needed.likely_h == pytest.approx(4 * 2 * 1.75 / 60)
    assert week.needed.high_h == pytest.approx(4 * 4 * 2 / 60)
    assert week.by_bed == (("A", week.needed),)
    assert week.by_kind == (("sow", week.needed),)


def test_work_is_spread_over_its_days() -> None:
    hours = season_hours(with_tasks(job("sow", MONDAY - timedelta(days=2), MONDAY + timedelta(days=1))))
    assert [week.week for week in hours.weeks] == [MONDAY - timedelta(days=7), MONDAY]
    first, second = (week.needed.likely_h for week in hours.weeks)
    assert first == pytest.approx(second)


def test_weeks_without_work_between_others_are_there() -> None:
    hours = season_hours(
        with_tasks(
            job("sow", MONDAY, MONDAY), job("clear", MONDAY + timedelta(days=21), MONDAY + timedelta(days=21))
        )
    )
    assert [week.needed.likely_h > 0 for week in hours.weeks] == [True, False, False, True]


def test_paid_hours_work_at_practised_rates() -> None:
    hours = season_hours(with_tasks(job("sow", MONDAY, MONDAY), people=(hands(10, paid=True),)))
    assert hours.needed.likely_h == pytest.approx(8 / 60)


def test_volunteers_do_what_paid_hours_leave() -> None:
    paid = hands(4 / 60, paid=True)
    hours = season_hours(with_tasks(job("sow", MONDAY, MONDAY), people=(paid,)))
    # 8 practised minutes likely: 4 are paid, the other 4 take volunteers 7.
    assert hours.needed.likely_h == pytest.approx((4 + 4 * 1.75) / 60)


def test_own_rates_are_used_and_not_multiplied() -> None:
    own = (OwnRate("sow", 5.0, 6.0, 7.0, 3),)
    hours = season_hours(with_tasks(job("sow", MONDAY, MONDAY)), own_rates=own)
    assert hours.needed.likely_h == pytest.approx(4 * 6 / 60)


def test_a_week_is_short_only_below_the_low_figure() -> None:
    work = job("sow", MONDAY, MONDAY)
    found = [
        season_hours(with_tasks(work, people=(hands(h / 60),))).weeks[0].sufficiency for h in (5, 10, 40)
    ]
    assert found == ["short", "may be short", "enough"]


def test_missing_hours_are_told_at_the_likely_figure() -> None:
    hours = season_hours(with_tasks(job("sow", MONDAY, MONDAY), people=(hands(10 / 60),)))
    assert hours.weeks[0].short_h == pytest.approx(4 / 60)
    assert hours.short_weeks == hours.weeks


def test_hours_promised_for_part_of_a_week_count_by_days() -> None:
    two_days = HelpingHands("Group", 7.0, MONDAY + timedelta(days=5), MONDAY + timedelta(days=30))
    assert promised_in([two_days], MONDAY) == pytest.approx(2.0)
    assert promised_in([two_days], MONDAY - timedelta(days=7)) == 0


def test_a_quiet_period_is_named_in_its_weeks() -> None:
    plan = with_tasks(job("sow", MONDAY, MONDAY))
    fair = Period("County fair", MONDAY + timedelta(days=6), MONDAY + timedelta(days=9))
    plan = replace(plan, book=replace(plan.book, goals=Goals(quiet_weeks=(fair,))))
    assert season_hours(plan).weeks[0].quiet == "County fair"


def test_weeding_begins_a_week_after_planting_and_watering_at_once() -> None:
    shares = season_hours(season_plan(SOWN)).shares
    assert min(share.week for share in shares if share.kind == "water") == MONDAY
    assert min(share.week for share in shares if share.kind == "weed") == MONDAY + timedelta(days=7)


def test_trays_under_cover_are_looked_after_until_planting_out() -> None:
    raised = planting(way="raise")
    shares = [share for share in season_hours(season_plan(raised)).shares if share.kind == "raise"]
    assert {share.bed_code for share in shares} == {None}
    # Sown on 29 March, set out on 3 May: five weeks at 7 min a tray and week, one tray of 128.
    assert sum(s.hours.likely_h for s in shares) == pytest.approx(5 * 7 * 1.75 / 60)


def test_watering_worked_out_elsewhere_takes_its_minutes_of_tap() -> None:
    water = BedWater("A", 1.2, (WaterWeek(MONDAY, 5.0, 10.0, 6.0, 12.0, 30.0),), 6.0, 12.0, 30,
                     (Origin("safe_l", 12.0, "", (), "own"),))  # fmt: skip
    hours = season_hours(season_plan(SOWN), bed_water=(water,))
    shares = [share for share in hours.shares if share.kind == "water"]
    assert [(s.hours.low_h, s.hours.likely_h, s.hours.high_h) for s in shares] == [(0.0, 0.25, 0.5)]


def test_a_month_with_rain_enough_wants_no_watering_at_the_likely_figure() -> None:
    climate = demo_plan().climate
    assert climate is not None
    june = next(month for month in climate.months if month.month == 6)
    wet = replace(june, rain_mm=100.0, reference_et_mm=90.0)
    half = replace(june, rain_mm=45.0, reference_et_mm=90.0)
    cool = replace(june, rain_mm=10.0, reference_et_mm=40.0)
    assert dry_shares(replace(climate, months=(wet,)), 6) == (0.0, 1.0)
    assert dry_shares(replace(climate, months=(half,)), 6) == (0.5, 1.0)
    assert dry_shares(replace(climate, months=(cool,)), 6) == (0.75, 0.75)
    assert dry_shares(None, 6) == (1.0, 1.0)


def test_a_plan_without_work_needs_no_hours() -> None:
    hours = season_hours(season_plan())
    assert hours.weeks == ()
    assert hours.needed.high_h == 0


@pytest.mark.parametrize("factor", [(0.5, 1.0, 2.0), (2.0, 1.5, 2.0)])
def test_a_factor_below_one_or_falling_is_refused(factor: tuple[float, float, float]) -> None:
    with pytest.raises(ValueError, match="rises from at least 1"):
        season_hours(season_plan(SOWN), volunteer_factor=factor)


def test_a_whole_garden_lies_within_published_totals() -> None:
    plan = demo_plan()
    hours = season_hours(replace(plan, tasks=tasks_of(plan.plantings, plan.orders)))
    m2_weeks = sum(
        (p.along_m[1] - p.along_m[0]) * (p.across_m[1] - p.across_m[0])
        * ((p.dates.clear_by - p.dates.in_ground).days / 7)
        for p in plan.plantings
    )  # fmt: skip
    low, high = (60 * each / m2_weeks for each in (hours.needed.low_h, hours.needed.high_h))
    # 5.4: National Gardening Association as quoted, 5 h a week for 600 ft2 = 55.7 m2.
    # 12: harmonioushomestead, 185 min in a week of August for 165 ft2 = 15.3 m2.
    assert low < 5.4
    assert high > 12.0
