"""Picking, hours and water of a plan, week by week, as plots and as tables."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

from bedwright.apps.web.gardens.promised_weeks import ShortWeeks, short_weeks
from bedwright.apps.web.season.drawing.measures import PageMeasures
from bedwright.apps.web.season.drawing.week_plot import Column, WeekPlot
from bedwright.model.book import WaterLimit
from bedwright.model.care import Care, PickingWeek
from bedwright.model.season import SeasonPlan
from bedwright.model.work import WeekHours
from bedwright.papers.water_sheet import least_limits

_ROW_PX, _ROWS_HEAD_PX = 27.0, 20.0
_NAMES_PX, _BEST_PX = 124.0, 150.0


@dataclass(frozen=True, slots=True)
class CropPicking:
    """What one crop gives, week by week."""

    crop: str
    total: str
    best: str
    """In its best week."""
    best_week: date
    area: str
    foot_px: float
    """Foot of its row."""
    weeks: tuple[tuple[date, str], ...]


@dataclass(frozen=True, slots=True)
class PickingCurves:
    """Harvest of all crops together, then crop by crop in the order of their first pick."""

    unit: str
    total: str
    plot: WeekPlot
    columns: tuple[Column, ...]
    weeks: tuple[tuple[date, str], ...]
    rows: WeekPlot
    """The frame of the rows, one for each crop."""
    crops: tuple[CropPicking, ...]
    unknown: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class HourMark:
    """Hours needed in one week: low to high as a column, likely as a heavy stroke."""

    week: WeekHours
    column: Column
    likely_y_px: float


@dataclass(frozen=True, slots=True)
class HoursCurves:
    """Hours needed against hours promised."""

    plot: WeekPlot
    marks: tuple[HourMark, ...]
    promised: str
    short: ShortWeeks[WeekHours]


@dataclass(frozen=True, slots=True)
class WaterMark:
    """Water of one week at two chances."""

    start: date
    median: float
    safe: float
    most: float | None
    """What may be drawn in this week; None where there is no limit."""
    tap_min: float | None
    median_column: Column
    safe_column: Column

    @property
    def lacking(self) -> float:
        """What dry years want beyond the limit."""
        return 0.0 if self.most is None else max(0.0, self.safe - self.most)


@dataclass(frozen=True, slots=True)
class LimitLabel:
    """The name of a limit where its line begins."""

    name: str
    x_px: float
    y_px: float


@dataclass(frozen=True, slots=True)
class WaterCurves:
    """Water the whole garden needs, and what there is where the book states a limit."""

    unit: str
    plot: WeekPlot
    marks: tuple[WaterMark, ...]
    limit: str
    """Path of the least limit of each week; empty where there is none."""
    labels: tuple[LimitLabel, ...]

    @property
    def n_lacking(self) -> int:
        """Weeks in which dry years want more than there is."""
        return sum(mark.lacking > 0 for mark in self.marks)


def picking_curves(care: Care, measures: PageMeasures) -> PickingCurves | None:
    """Harvest by week; None where nothing is known to be picked."""
    if not care.picking:
        return None
    weeks = _every_week(care.picking)
    sums = _sums(care.picking, measures)
    totals = tuple((week, sums.get(week, 0.0)) for week in weeks)
    plot = WeekPlot(weeks[0], len(weeks), max(sums.values()))
    height = _ROWS_HEAD_PX + _ROW_PX * len({each.crop for each in care.picking}) + 2
    rows = WeekPlot(weeks[0], len(weeks), 1.0, height_px=height, left_px=_NAMES_PX, room_right_px=_BEST_PX)
    names = sorted({each.crop for each in care.picking}, key=lambda crop: (_first(care.picking, crop), crop))
    return PickingCurves(
        unit=measures.harvest_unit,
        total=measures.amount(sum(sums.values())),
        plot=plot,
        columns=tuple(plot.column(week, 0.0, value) for week, value in totals if value > 0),
        weeks=tuple((week, measures.amount(value)) for week, value in totals),
        rows=rows,
        crops=tuple(
            _crop_curve(care.picking, name, _ROWS_HEAD_PX + _ROW_PX * (k + 1), rows, measures)
            for k, name in enumerate(names)
        ),
        unknown=care.picking_unknown,
    )


def _every_week(picking: Sequence[PickingWeek]) -> list[date]:
    first, last = min(each.week for each in picking), max(each.week for each in picking)
    return [first + timedelta(weeks=k) for k in range((last - first).days // 7 + 1)]


def _sums(picking: Sequence[PickingWeek], measures: PageMeasures) -> dict[date, float]:
    found: dict[date, float] = {}
    for each in picking:
        found[each.week] = found.get(each.week, 0.0) + measures.harvest(each.kg)
    return found


def _first(picking: Sequence[PickingWeek], crop: str) -> date:
    return min(each.week for each in picking if each.crop == crop)


def _crop_curve(
    picking: Sequence[PickingWeek], crop: str, foot_px: float, rows: WeekPlot, measures: PageMeasures
) -> CropPicking:
    """One row, drawn to the crop's own best week."""
    sums = _sums([each for each in picking if each.crop == crop], measures)
    best_week = max(sums, key=lambda week: (sums[week], -week.toordinal()))
    row = replace(rows, largest=sums[best_week], top_px=foot_px - _ROW_PX + 4, foot_px=foot_px, fitted=True)
    n_weeks = (max(sums) - min(sums)).days // 7 + 1
    picked = [min(sums) + timedelta(weeks=k) for k in range(n_weeks)]
    return CropPicking(
        crop=crop,
        total=measures.amount(sum(sums.values())),
        best=measures.amount(sums[best_week]),
        best_week=best_week,
        area=row.area(picked, [sums.get(week, 0.0) for week in picked]),
        foot_px=foot_px,
        weeks=tuple((week, measures.amount(value)) for week, value in sorted(sums.items())),
    )


def hours_curves(care: Care) -> HoursCurves | None:
    """Hours by week; None where no work is planned."""
    weeks = care.hours.weeks
    if not weeks:
        return None
    n_weeks = (weeks[-1].week - weeks[0].week).days // 7 + 1
    largest = max(max(each.needed.high_h, each.promised_h) for each in weeks)
    plot = WeekPlot(weeks[0].week, n_weeks, largest)
    return HoursCurves(
        plot=plot,
        marks=tuple(
            HourMark(
                each,
                plot.column(each.week, each.needed.low_h, each.needed.high_h),
                plot.y(each.needed.likely_h),
            )
            for each in weeks
        ),
        promised=plot.steps([each.week for each in weeks], [each.promised_h for each in weeks]),
        short=short_weeks(weeks, care.hours.short_weeks),
    )


def water_curves(care: Care, limits: Sequence[WaterLimit], measures: PageMeasures) -> WaterCurves | None:
    """Water by week; None where there is no weather record or nothing to water."""
    if care.water is None or not care.water.weeks:
        return None
    weeks = care.water.weeks
    n_weeks = (weeks[-1].start - weeks[0].start).days // 7 + 1
    least = least_limits(weeks, limits)
    most = {start: measures.water(limit.week_l) for start, limit in least.items()}
    largest = max(*(measures.water(each.safe_l) for each in weeks), *most.values(), 0.0)
    plot = WeekPlot(weeks[0].start, n_weeks, largest)
    tap_known = care.water.tap_flow_l_min is not None
    marks = []
    for each in weeks:
        median, safe = measures.water(each.median_l), measures.water(each.safe_l)
        marks.append(
            WaterMark(
                start=each.start,
                median=median,
                safe=safe,
                most=most.get(each.start),
                tap_min=each.safe_tap_min if tap_known else None,
                median_column=plot.column(each.start, 0.0, median),
                safe_column=plot.column(each.start, median, safe),
            )
        )
    labels = {limit: start for start, limit in reversed(least.items())}
    return WaterCurves(
        measures.water_unit,
        plot,
        tuple(marks),
        limit=plot.steps(list(most), list(most.values())),
        labels=tuple(
            LimitLabel(limit.name, plot.x(start), plot.y(most[start])) for limit, start in labels.items()
        ),
    )


def measures_of(plan: SeasonPlan) -> PageMeasures:
    """The units of a plan's garden."""
    return PageMeasures(plan.book.site.units)
