"""Hours the plan needs week by week, against the hours promised."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.engine.supplies.trays import monday_of, tray_needs
from bedwright.engine.work.amounts import Effort, Portion, effort_of, ground_m2, portions_of, times
from bedwright.engine.work.rates import rates_in_use
from bedwright.engine.work.sources import WORK_PRACTICE
from bedwright.model.book import GardenBook, HelpingHands
from bedwright.model.season import Climate, Planting, SeasonPlan
from bedwright.model.source import Origin
from bedwright.model.water import BedWater
from bedwright.model.work import (
    NO_HOURS,
    Hours,
    LabourRate,
    OwnRate,
    SeasonHours,
    Sufficiency,
    WeekHours,
    WorkShare,
)

VOLUNTEER_FACTOR = (1.5, 1.75, 2.0)
"""Volunteers' time on practised rates: 1.5 to 2, common practice, no source."""
DRY_MONTH_MM = 60.0
"""Reference evapotranspiration of a month from which a dry spell wants watering in full:
2 mm a day; a rule of our own, since monthly means hide dry years."""
WEED_AFTER_DAYS = 7
"""Days after planting before the first weeding: common practice, no source."""


@dataclass(frozen=True, slots=True)
class _Work:
    """One kind of work of one planting in one week."""

    week: date
    kind: str
    bed_code: str | None
    planting_code: str | None
    effort: Effort
    task_code: str | None = None


def season_hours(
    plan: SeasonPlan,
    *,
    own_rates: Sequence[OwnRate] = (),
    bed_water: Sequence[BedWater] = (),
    volunteer_factor: tuple[float, float, float] = VOLUNTEER_FACTOR,
) -> SeasonHours:
    """Hours of a plan by week, bed and kind, low, likely and high, against those promised.

    Lows are added to lows and highs to highs: the range of a rate comes from the garden and
    its people, and so holds for all its beds together. Paid hours work at practised rates;
    what is beyond them is done by volunteers, at `volunteer_factor` times those.

    Parameters
    ----------
    plan
        The season plan; its tasks, plantings, climate and the people of its book are read.
    own_rates
        Rates from own records; they go before those stated in the book, these before the table.
    bed_water
        Water by bed and week; where a bed is among them its watering takes the minutes of
        tap worked out there: none at the low figure, median, and the safe one at the high.
    volunteer_factor
        Low, likely, high. [1], each at least 1

    Returns
    -------
    SeasonHours
        Weeks begin on Monday; every week from the first to the last with work is there.

    Limits
    ------
    Paths, grass, compost making, teaching and washing of the harvest are not counted.

    Raises
    ------
    ValueError
        If a factor is below 1 or falls, or an own rate names no rate.
    """
    low, likely, high = volunteer_factor
    if not 1 <= low <= likely <= high:
        raise ValueError(f"the volunteers' factor rises from at least 1; got {volunteer_factor}")
    rates = rates_in_use(plan.book.labour_rates, own_rates)
    works = list(_all_work(plan, rates, bed_water))
    if not works:
        return SeasonHours((), (), NO_HOURS, 0.0, volunteer_factor, ())
    by_week: dict[date, list[_Work]] = defaultdict(list)
    for work in works:
        by_week[work.week].append(work)
    weeks: list[WeekHours] = []
    shares: list[WorkShare] = []
    week = min(by_week)
    while week <= max(by_week):
        found = _shares(by_week.get(week, []), plan.book.people, week, volunteer_factor)
        weeks.append(_week(plan.book, week, found))
        shares += found
        week += timedelta(days=7)
    return SeasonHours(
        weeks=tuple(weeks),
        shares=tuple(shares),
        needed=_sum(each.needed for each in weeks),
        promised_h=sum(each.promised_h for each in weeks),
        volunteer_factor=volunteer_factor,
        origins=_origins(works, rates, volunteer_factor),
    )


def _all_work(
    plan: SeasonPlan, rates: Mapping[str, LabourRate], bed_water: Sequence[BedWater]
) -> Iterator[_Work]:
    plantings = {planting.code: planting for planting in plan.plantings}
    trays = {need.planting_code: need.n_trays for need in tray_needs(plan.plantings, plan.orders)}
    for task in plan.tasks:
        code = task.planting_code or ""
        effort = effort_of(portions_of(task, plantings.get(code), trays.get(code, 0)), rates)
        for week, share in _weeks(task.start, task.end):
            part = effort.part(share)
            yield _Work(week, task.kind, task.bed_code, task.planting_code, part, task.code)
    waters = {water.bed_code: water for water in bed_water}
    for planting in plan.plantings:
        yield from _raising(planting, trays.get(planting.code, 0), rates)
        yield from _weeding(planting, rates)
        if planting.bed_code not in waters:
            yield from _watering(planting, plan, rates)
    for water in bed_water:
        yield from _worked_out_watering(water)


def _weeks(start: date, end: date) -> Iterator[tuple[date, float]]:
    """Mondays from start to end, each with the share of the days that falls into its week."""
    n_days = (end - start).days + 1
    week = monday_of(start)
    while week <= end:
        first, last = max(start, week), min(end, week + timedelta(days=6))
        yield week, ((last - first).days + 1) / n_days
        week += timedelta(days=7)


def _weekly(
    planting: Planting, kind: str, portion: Portion, start: date, end: date, rates: Mapping[str, LabourRate]
) -> Iterator[_Work]:
    """Work that goes on week after week, both days included."""
    if end < start or not portion.quantity:
        return
    effort = effort_of((portion,), rates)
    n_days = (end - start).days + 1
    bed_code = None if kind == "raise" else planting.bed_code
    for week, share in _weeks(start, end):
        yield _Work(week, kind, bed_code, planting.code, effort.part(share * n_days / 7))


def _raising(planting: Planting, n_trays: int, rates: Mapping[str, LabourRate]) -> Iterator[_Work]:
    sown = planting.dates.sow_under_cover
    if sown is not None and planting.way == "raise":
        last = planting.dates.in_ground - timedelta(days=1)
        yield from _weekly(planting, "raise", Portion("raise", float(n_trays)), sown, last, rates)


def _weeding(planting: Planting, rates: Mapping[str, LabourRate]) -> Iterator[_Work]:
    if planting.crop.kind == "cover crop":
        return
    start = planting.dates.in_ground + timedelta(days=WEED_AFTER_DAYS)
    portion = Portion("weed", ground_m2(planting))
    yield from _weekly(planting, "weed", portion, start, planting.dates.last_pick, rates)


def _watering(planting: Planting, plan: SeasonPlan, rates: Mapping[str, LabourRate]) -> Iterator[_Work]:
    bed = next((bed for bed in plan.book.beds if bed.code == planting.bed_code), None)
    if bed is not None and bed.watering_reach == "none":
        return
    dates = planting.dates
    portion = Portion("water", ground_m2(planting))
    for work in _weekly(planting, "water", portion, dates.in_ground, dates.last_pick, rates):
        likely, high = dry_shares(plan.climate, (work.week + timedelta(days=3)).month)
        factor = (1.0, likely, max(likely, high))
        effort = Effort(times(work.effort.practised, factor), times(work.effort.as_measured, factor))
        yield _Work(work.week, work.kind, work.bed_code, work.planting_code, effort)


def dry_shares(climate: Climate | None, month: int) -> tuple[float, float]:
    """Share of a dry week's watering that a week of a month wants, likely and at the high figure.

    Likely is the share of mean reference evapotranspiration that mean rain does not cover; at
    the high figure all of it, in months that evaporate at least `DRY_MONTH_MM`. Without a
    climate both are 1.
    """
    found = [each for each in climate.months if each.month == month] if climate is not None else []
    if not found:
        return 1.0, 1.0
    need_mm = found[0].reference_et_mm
    if need_mm <= 0:
        return 0.0, 0.0
    likely = max(0.0, need_mm - found[0].rain_mm) / need_mm
    return likely, 1.0 if need_mm >= DRY_MONTH_MM else likely


def _worked_out_watering(water: BedWater) -> Iterator[_Work]:
    for week in water.weeks:
        min_per_l = week.safe_tap_min / week.safe_l if week.safe_l > 0 else 0.0
        hours = Hours(0.0, week.median_l * min_per_l / 60, week.safe_tap_min / 60)
        if hours.high_h > 0:
            effort = Effort(NO_HOURS, hours)
            yield _Work(monday_of(week.start), "water", water.bed_code, None, effort)


def _shares(
    works: Sequence[_Work], people: Sequence[HelpingHands], week: date, factor: tuple[float, float, float]
) -> list[WorkShare]:
    """Work of one week in hours of the people who do it: paid first, the rest by volunteers."""
    practised = _sum(work.effort.practised for work in works)
    paid_h = promised_in(people, week, paid=True)
    shown = (practised.low_h, practised.likely_h, practised.high_h)
    multiplier = tuple(_multiplier(hours, paid_h, each) for hours, each in zip(shown, factor, strict=True))
    totals: dict[tuple[str, str | None, str | None, str | None], Hours] = {}
    for work in works:
        key = (work.kind, work.bed_code, work.planting_code, work.task_code)
        hours = work.effort.total((multiplier[0], multiplier[1], multiplier[2]))
        totals[key] = totals.get(key, NO_HOURS) + hours
    ordered = sorted(totals.items(), key=lambda item: tuple(part or "" for part in item[0]))
    return [WorkShare(week, kind, bed, plant, hours, task) for (kind, bed, plant, task), hours in ordered]


def _multiplier(practised_h: float, paid_h: float, factor: float) -> float:
    if practised_h <= 0:
        return factor
    by_paid_h = min(practised_h, paid_h)
    return (by_paid_h + (practised_h - by_paid_h) * factor) / practised_h


def promised_in(people: Iterable[HelpingHands], week: date, *, paid: bool | None = None) -> float:
    """Hours promised in the week from a Monday, by days; `paid` None for all. [h]."""
    sunday = week + timedelta(days=6)
    total_h = 0.0
    for hands in people:
        if paid is None or hands.paid == paid:
            days = (min(hands.end, sunday) - max(hands.start, week)).days + 1
            total_h += hands.hours_per_week * max(0, days) / 7
    return total_h


def _week(book: GardenBook, week: date, shares: Sequence[WorkShare]) -> WeekHours:
    needed = _sum(share.hours for share in shares)
    promised_h = promised_in(book.people, week)
    return WeekHours(
        week=week,
        needed=needed,
        by_bed=_by_bed(shares),
        by_kind=_by_kind(shares),
        promised_h=promised_h,
        paid_h=promised_in(book.people, week, paid=True),
        short_h=max(0.0, needed.likely_h - promised_h),
        sufficiency=_sufficiency(needed, promised_h),
        quiet=_quiet(book, week),
    )


def _by_bed(shares: Sequence[WorkShare]) -> tuple[tuple[str | None, Hours], ...]:
    found: dict[str | None, Hours] = {}
    for share in shares:
        found[share.bed_code] = found.get(share.bed_code, NO_HOURS) + share.hours
    return tuple(sorted(found.items(), key=lambda item: item[0] or ""))


def _by_kind(shares: Sequence[WorkShare]) -> tuple[tuple[str, Hours], ...]:
    found: dict[str, Hours] = {}
    for share in shares:
        found[share.kind] = found.get(share.kind, NO_HOURS) + share.hours
    return tuple(sorted(found.items()))


def _sufficiency(needed: Hours, promised_h: float) -> Sufficiency:
    if promised_h >= needed.high_h:
        return "enough"
    return "short" if promised_h < needed.low_h else "may be short"


def _quiet(book: GardenBook, week: date) -> str:
    sunday = week + timedelta(days=6)
    names = [p.name for p in book.goals.quiet_weeks if p.start <= sunday and p.end >= week]
    return ", ".join(names)


def _sum(hours: Iterable[Hours]) -> Hours:
    total = NO_HOURS
    for each in hours:
        total += each
    return total


def _origins(
    works: Sequence[_Work], rates: Mapping[str, LabourRate], factor: tuple[float, float, float]
) -> tuple[Origin, ...]:
    kinds = {work.kind for work in works}
    found = [origin for rate in rates.values() if rate.kind in kinds for origin in rate.origins]
    rule = "volunteers' time on practised rates, 1.5 to 2: common practice, no source"
    shown = " to ".join(f"{each:g}" for each in (factor[0], factor[2]))
    found.append(Origin("volunteer_factor", shown, rule, (WORK_PRACTICE,), "practice"))
    return tuple(found)
