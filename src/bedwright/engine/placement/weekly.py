"""Weeks of the season: what each has only so much of, and how evenly a crop is picked."""

from __future__ import annotations

import calendar
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

import numpy as np

from bedwright.engine.placement.layout import IntArray
from bedwright.model.book import GardenBook, HelpingHands, Period, WaterLimit, Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice, MonthClimate
from bedwright.model.supplies import TrayUse
from bedwright.model.weather import FloatArray

STEADY, SCANT = 1.5, 0.5
"""A week may bring half as much again as the even share before it counts as a glut, and half of it
before it counts as a gap. Common practice, no source."""

DAYS_A_WEEK = 7
MIDDLE_OF_WEEK = 3
"""Days from Monday to the Thursday that says in which month or period a week lies."""

HOURS, RAISING, WATER = "hours of work", "room for raising", "water"
"""Terms of `terms.TERMS` that keep to what a week has."""

COMMON_KC = 1.0
"""Mid-season crop coefficient where a crop has none: FAO-56 Table 12 gives small vegetables 0.95
to 1.15."""
REACHING_ROOTS_SHARE = 0.85
"""Of the water put on by hand, what reaches the roots. Common practice, no source."""

Per = Literal["m2", "tray"]


@dataclass(frozen=True, slots=True)
class BedHours:
    """Hours of work that ground under a crop takes, and the hours that people promise.

    The hours are common practice, without a source: a first measure, to be replaced by a
    garden's own records.
    """

    people: tuple[HelpingHands, ...]
    plant_h_m2: float = 0.20
    """To prepare the ground and sow or set out, in the week it goes in. [h/m²]"""
    tend_h_m2: float = 0.015
    """Weeding, watering and looking after, each week it stands. [h/m² a week]"""
    pick_h_m2: float = 0.05
    """Each week of picking. [h/m² a week]"""
    clear_h_m2: float = 0.10
    """In the week the ground is cleared. [h/m²]"""
    volunteer_factor: float = 1.0
    """Time of volunteers on that of practised people, if the hours above are those of practised people;
    hours promised unpaid count by what practised people would do in them."""


@dataclass(frozen=True, slots=True)
class WeekMeasures:
    """What is known of the season's weeks beside the book."""

    tray_use: Mapping[tuple[str, str], TrayUse] = field(default_factory=dict)
    """By crop and variety: trays that plants raised here take."""
    most_trays: int | None = None
    """Trays there is room for; None where nothing limits them."""
    months: tuple[MonthClimate, ...] = ()
    """Climate of the site; empty where there is no record, and water is not weighed."""


NOTHING_KNOWN = WeekMeasures()


@dataclass(frozen=True, slots=True, eq=False)
class WeekLimit:
    """Something of which a week has only so much, and what each date of each request asks of it."""

    term: str
    per: Per
    """What `needs` are for one of: square metres of ground, or trays."""
    most: FloatArray
    """(n_weeks,): what there is; inf in weeks without a limit."""
    start: tuple[IntArray, ...]
    """By request, (n_dates,): first week in which something is needed."""
    needs: tuple[tuple[FloatArray, ...], ...]
    """By request and date: need in each week from the first; empty where there is none."""


@dataclass(frozen=True, slots=True, eq=False)
class WeekTables:
    """What each date of each request asks of the weeks; weeks count from `first_day`."""

    first_day: int
    """Ordinal of the Monday that week 0 begins on."""
    n_weeks: int
    limits: tuple[WeekLimit, ...]
    """What weeks have only so much of; empty where the book names no limit."""
    tray_use: tuple[TrayUse | None, ...]
    """By request: trays it takes; None where it is not raised here."""
    pick_from: tuple[IntArray, ...]
    pick_to: tuple[IntArray, ...]
    """By request, (n_dates,): first and last week of picking."""
    group: IntArray
    """By request: number of its picking curve; -1 where a wish is one planting."""
    steady_plants: FloatArray
    """By curve: plants picked in one week that still count as steady."""
    least_plants: FloatArray
    """(n_curves, n_weeks): plants picked in a week below which it counts as a gap; 0 in weeks in which
    nothing is wanted, or no date would bring anything."""
    plant_worth: FloatArray
    """By curve: points of one plant."""

    def limit(self, term: str) -> WeekLimit | None:
        """The limit of a term; None where there is none."""
        return next((one for one in self.limits if one.term == term), None)

    def taken(self, limit: WeekLimit, request: int, n_plants: int, area_m2: float) -> float:
        """Square metres or trays of a spot: what the needs of a limit are multiplied by."""
        if limit.per == "m2":
            return area_m2
        use = self.tray_use[request]
        return 0.0 if use is None else float(use.n_trays(n_plants))

    def monday(self, week: int) -> date:
        """First day of a week."""
        return date.fromordinal(self.first_day + week * DAYS_A_WEEK)

    @property
    def promised_h(self) -> FloatArray | None:
        """(n_weeks,): hours promised; None where no people are named."""
        hours = self.limit(HOURS)
        return None if hours is None else hours.most

    @property
    def work_from(self) -> tuple[IntArray, ...]:
        """By request, (n_dates,): first week of work."""
        hours = self.limit(HOURS)
        return () if hours is None else hours.start

    @property
    def work_h_m2(self) -> tuple[tuple[FloatArray, ...], ...]:
        """By request and date: hours of work per m² in each week from the first."""
        hours = self.limit(HOURS)
        return () if hours is None else hours.needs


@dataclass(frozen=True, slots=True)
class Wanted:
    """What the tables need to know of one request."""

    wish_code: str
    crop: Crop
    variety: str
    way: Way
    n_plants: int
    worth: float
    choices: tuple[DateChoice, ...]
    best: int


class _Weeks:
    """Weeks from the first day that anything is begun to the last that anything stands."""

    def __init__(self, wanted: Sequence[Wanted]) -> None:
        days = [choice for one in wanted for choice in one.choices]
        begun = [(choice.sow_under_cover or choice.in_ground).toordinal() for choice in days]
        first = max(1, min(begun, default=1 + DAYS_A_WEEK) - DAYS_A_WEEK)
        self.first = first - date.fromordinal(first).weekday()
        last = max((choice.clear_by.toordinal() for choice in days), default=first)
        self.n_weeks = (last - self.first) // DAYS_A_WEEK + 2

    def of(self, day: date) -> int:
        """Number of a day's week."""
        return (day.toordinal() - self.first) // DAYS_A_WEEK

    def numbers(self, days: Sequence[date]) -> IntArray:
        """Numbers of several days' weeks."""
        return np.array([self.of(day) for day in days], dtype=np.int64)

    def middle(self, week: int) -> date:
        """Thursday of a week."""
        return date.fromordinal(max(1, self.first + week * DAYS_A_WEEK + MIDDLE_OF_WEEK))


def week_tables(
    wanted: Sequence[Wanted],
    hours: BedHours | None,
    *,
    water: Sequence[WaterLimit] = (),
    measures: WeekMeasures = NOTHING_KNOWN,
    quiet: Sequence[Period] = (),
) -> WeekTables:
    """Tables for requests in order.

    Parameters
    ----------
    hours
        None: work is not weighed.
    water
        Limits on water; weighed only where the climate is known.
    measures
        Trays that plants take and room for them, and the climate.
    quiet
        Weeks in which nothing need be picked.
    """
    weeks = _Weeks(wanted)
    curves = _Curves(wanted, weeks, quiet)
    limits = []
    if hours is not None:
        limits.append(_hours_limit(wanted, hours, weeks))
    if measures.most_trays is not None and any(_tray_use(one, measures) for one in wanted):
        limits.append(_raising_limit(wanted, measures.most_trays, weeks))
    if water and measures.months:
        limits.append(_water_limit(wanted, water, measures.months, weeks))
    return WeekTables(
        first_day=weeks.first,
        n_weeks=weeks.n_weeks,
        limits=tuple(limits),
        tray_use=tuple(_tray_use(one, measures) for one in wanted),
        pick_from=tuple(weeks.numbers([choice.first_pick for choice in one.choices]) for one in wanted),
        pick_to=tuple(
            weeks.numbers([max(choice.first_pick, choice.last_pick) for choice in one.choices])
            for one in wanted
        ),
        group=curves.group,
        steady_plants=np.array(curves.steady, dtype=np.float64),
        least_plants=np.array(curves.least, dtype=np.float64).reshape(-1, weeks.n_weeks),
        plant_worth=np.array(curves.worth, dtype=np.float64),
    )


def _hours_limit(wanted: Sequence[Wanted], hours: BedHours, weeks: _Weeks) -> WeekLimit:
    return WeekLimit(
        HOURS,
        "m2",
        _promised(hours, weeks.first, weeks.n_weeks),
        tuple(weeks.numbers([choice.in_ground for choice in one.choices]) for one in wanted),
        tuple(tuple(_work(choice, hours, weeks.of) for choice in one.choices) for one in wanted),
    )


def _tray_use(one: Wanted, measures: WeekMeasures) -> TrayUse | None:
    return measures.tray_use.get((one.crop.name, one.variety)) if one.way == "raise" else None


def _raising_limit(wanted: Sequence[Wanted], most_trays: int, weeks: _Weeks) -> WeekLimit:
    """Trays under cover: each takes its place in every week that it is there on any day."""
    needs = tuple(tuple(_under_cover(choice, one.way, weeks) for choice in one.choices) for one in wanted)
    begun = [[choice.sow_under_cover or choice.in_ground for choice in one.choices] for one in wanted]
    most = np.full(weeks.n_weeks, float(most_trays))
    return WeekLimit(RAISING, "tray", most, tuple(weeks.numbers(days) for days in begun), needs)


def _under_cover(choice: DateChoice, way: Way, weeks: _Weeks) -> FloatArray:
    sown = choice.sow_under_cover
    if way != "raise" or sown is None or sown >= choice.in_ground:
        return np.zeros(0)
    # The bench is free again from the day of setting out.
    last = date.fromordinal(choice.in_ground.toordinal() - 1)
    return np.ones(weeks.of(last) - weeks.of(sown) + 1)


def _water_limit(
    wanted: Sequence[Wanted], water: Sequence[WaterLimit], months: Sequence[MonthClimate], weeks: _Weeks
) -> WeekLimit:
    most = np.full(weeks.n_weeks, np.inf)
    for number in range(weeks.n_weeks):
        day = weeks.middle(number)
        most[number] = min((one.week_l for one in water if one.start <= day <= one.end), default=np.inf)
    by_kc: dict[float, FloatArray] = {}
    needs = []
    for one in wanted:
        kc = one.crop.water.kc_mid if one.crop.water is not None else COMMON_KC
        if kc not in by_kc:
            days = [weeks.middle(number) for number in range(weeks.n_weeks)]
            by_kc[kc] = np.array([water_need_l_m2(kc, day, months) for day in days])
        needs.append(tuple(_while_it_stands(choice, by_kc[kc], weeks) for choice in one.choices))
    start = tuple(weeks.numbers([choice.in_ground for choice in one.choices]) for one in wanted)
    return WeekLimit(WATER, "m2", most, start, tuple(needs))


def _while_it_stands(choice: DateChoice, need: FloatArray, weeks: _Weeks) -> FloatArray:
    return need[weeks.of(choice.in_ground) : weeks.of(max(choice.in_ground, choice.last_pick)) + 1]


def water_need_l_m2(kc_mid: float, day: date, months: Sequence[MonthClimate]) -> float:
    """Water a square metre of a crop wants in the week of a day: a first measure [L/m²].

    Reference evapotranspiration of the month times the crop coefficient of mid-season, less
    the part of the month's mean rain that helps, losses in putting it on included. The water
    stage works the need out day by day once places are known.

    Parameters
    ----------
    kc_mid
        FAO-56 Table 12.
    day
        Its month counts.
    months
        Climate of the site; a month that is not among them asks for nothing.

    Source
    ------
    Kc times ET0: FAO-56 Eq. 58. Rain that helps: `helpful_rain_mm`.

    Limits
    ------
    Mid-season for the whole time a crop stands, and the mean of the month: it asks for too
    much of young and ripening crops, and of soil that is still wet from winter.
    """
    for month in months:
        if month.month == day.month:
            n_days = calendar.monthrange(day.year, day.month)[1]
            lacking_mm = kc_mid * month.reference_et_mm - helpful_rain_mm(month.rain_mm)
            return max(0.0, lacking_mm) * DAYS_A_WEEK / n_days / REACHING_ROOTS_SHARE
    return 0.0


def helpful_rain_mm(rain_mm: float) -> float:
    """Part of a month's mean rain that is of use to crops [mm].

    Source
    ------
    Brouwer and Heibloem (1986), FAO Irrigation Water Management Training Manual 3: 0.8 P - 25
    above 75 mm a month, else 0.6 P - 10 (second hand, from public programs that quote it).
    """
    return 0.8 * rain_mm - 25 if rain_mm > 75 else max(0.0, 0.6 * rain_mm - 10)


def _promised(table: BedHours, first: int, n_weeks: int) -> FloatArray:
    hours = np.zeros(n_weeks)
    for hands in table.people:
        factor = 1.0 if hands.paid else table.volunteer_factor
        for number in range(n_weeks):
            start = first + number * DAYS_A_WEEK
            days = min(hands.end.toordinal(), start + 6) - max(hands.start.toordinal(), start) + 1
            hours[number] += hands.hours_per_week / factor * max(0, days) / DAYS_A_WEEK
    return hours


def _work(choice: DateChoice, table: BedHours, week: Callable[[date], int]) -> FloatArray:
    start, clear = week(choice.in_ground), week(choice.clear_by)
    hours = np.full(clear - start + 1, table.tend_h_m2)
    hours[0] += table.plant_h_m2
    hours[-1] += table.clear_h_m2
    first, last = week(choice.first_pick), week(max(choice.first_pick, choice.last_pick))
    hours[max(0, first - start) : last - start + 1] += table.pick_h_m2
    return hours


class _Curves:
    """Picking curve of each request with sisters of the same wish: what of it is even, and its worth."""

    def __init__(self, wanted: Sequence[Wanted], weeks: _Weeks, quiet: Sequence[Period]) -> None:
        self.group: IntArray = np.full(len(wanted), -1, dtype=np.int64)
        self.steady: list[float] = []
        self.least: list[FloatArray] = []
        self.worth: list[float] = []
        self._weeks, self._quiet = weeks, quiet
        sisters: dict[str, list[int]] = {}
        for number, one in enumerate(wanted):
            if one.choices and one.n_plants:
                sisters.setdefault(one.wish_code, []).append(number)
        for numbers in sisters.values():
            if len(numbers) > 1:
                self.group[numbers] = len(self.steady)
                self._add([wanted[number] for number in numbers])

    def _add(self, alike: Sequence[Wanted]) -> None:
        best = [self._span(one.choices[one.best]) for one in alike]
        span = range(min(first for first, _ in best), max(last for _, last in best) + 1)
        picked = [week for week in span if not self._is_quiet(week)] or list(span)
        total = sum(one.n_plants for one in alike)
        even = total / len(picked)
        # One planting picked at its own pace is never a glut by itself.
        alone = max(one.n_plants / (last - first + 1) for one, (first, last) in zip(alike, best, strict=True))
        self.steady.append(max(STEADY * even, alone))
        least = np.zeros(self._weeks.n_weeks)
        for choice in (choice for one in alike for choice in one.choices):
            first, last = self._span(choice)
            for week in range(max(first, span.start), min(last + 1, span.stop)):
                least[week] = 0.0 if self._is_quiet(week) else SCANT * even
        self.least.append(least)
        self.worth.append(sum(one.worth for one in alike) / total)

    def _span(self, choice: DateChoice) -> tuple[int, int]:
        """First and last week of picking."""
        return self._weeks.of(choice.first_pick), self._weeks.of(max(choice.first_pick, choice.last_pick))

    def _is_quiet(self, week: int) -> bool:
        day = self._weeks.middle(week)
        return any(period.start <= day <= period.end for period in self._quiet)


def hours_of(book: GardenBook) -> BedHours | None:
    """The common table with the people of a book; None where it names none."""
    return BedHours(book.people) if book.people else None


def quiet_share(choice: DateChoice, quiet: Sequence[Period]) -> float:
    """Share of the days of picking that fall in quiet weeks."""
    first, last = choice.first_pick, max(choice.first_pick, choice.last_pick)
    is_quiet = np.zeros((last - first).days + 1, dtype=np.bool_)
    for period in quiet:
        start, end = (period.start - first).days, (period.end - first).days
        is_quiet[max(0, start) : max(0, end + 1)] = True
    return int(is_quiet.sum()) / len(is_quiet)
