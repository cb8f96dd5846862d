"""Bar chart of the ground taken: beds down the sheet, weeks across it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from itertools import pairwise

from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.drawing import FINE_MM, HAIR_MM, THIN_MM, Drawing
from bedwright.papers.hatching import Hatch, hatch_area
from bedwright.papers.letters import text_width_mm
from bedwright.papers.measures import code_runs, month_words

SMALLEST_LANE_MM, LARGEST_LANE_MM = 5.4, 8.0
_GAP_MM = 1.2
_LEFT_MM = 24.0
_TOP_MM = 11.0
_TEXT_PT = 7.0
_MONTH_PT = 8.0
PICKING_MM = 0.9


class _Calendar:
    """Days on paper."""

    def __init__(self, first: date, last: date, width_mm: float) -> None:
        self.first = first - timedelta(days=first.weekday())
        self.n_weeks = (last - self.first).days // 7 + 1
        self.per_day_mm = (width_mm - _LEFT_MM) / (7 * self.n_weeks)

    def x_mm(self, day: date) -> float:
        return _LEFT_MM + (day - self.first).days * self.per_day_mm


def bar_words(planting: Planting) -> str:
    """What stands on a bar."""
    return f"{planting.crop.plan_code} {code_runs(row.code for row in planting.rows)}"


def occupancy_charts(
    plan: SeasonPlan, hatches: Mapping[str, Hatch], room_mm: tuple[float, float]
) -> tuple[Drawing, ...]:
    """One drawing per page; beds are not split unless one alone is taller than a page."""
    if not plan.plantings:
        return ()
    calendar = _Calendar(
        min(p.dates.in_ground for p in plan.plantings),
        max(p.dates.clear_by for p in plan.plantings) + timedelta(days=1),
        room_mm[0],
    )
    most_lanes = int((room_mm[1] - _TOP_MM - 4) / SMALLEST_LANE_MM)
    pages: list[list[tuple[str, list[Planting]]]] = [[]]
    for bed in plan.book.beds:
        lanes = _lanes(plan.in_bed(bed.code), calendar) or [[]]
        for k, lane in enumerate(lanes):
            keep = len(lanes) if k == 0 and len(lanes) <= most_lanes else 1
            if len(pages[-1]) + keep > most_lanes:
                pages.append([])
            pages[-1].append((bed.code if k == 0 or not pages[-1] else "", lane))
    return tuple(_page(page, calendar, hatches, room_mm) for page in pages)


def _lanes(plantings: Sequence[Planting], calendar: _Calendar) -> list[list[Planting]]:
    """Bars that do not touch, nor their words, share a lane."""
    lanes: list[list[Planting]] = []
    ends: list[float] = []
    for planting in plantings:
        start, end = calendar.x_mm(planting.dates.in_ground), _end_mm(planting, calendar)
        home = next((k for k, taken in enumerate(ends) if taken <= start), None)
        if home is None:
            lanes.append([])
            ends.append(0.0)
            home = len(lanes) - 1
        lanes[home].append(planting)
        ends[home] = end
    return lanes


def _end_mm(planting: Planting, calendar: _Calendar) -> float:
    start = calendar.x_mm(planting.dates.in_ground)
    end = calendar.x_mm(planting.dates.clear_by + timedelta(days=1))
    words = text_width_mm(bar_words(planting), _TEXT_PT, bold=True)
    return end if words + 3 <= end - start else end + words + 2.5


def _page(
    lanes: Sequence[tuple[str, list[Planting]]],
    calendar: _Calendar,
    hatches: Mapping[str, Hatch],
    room_mm: tuple[float, float],
) -> Drawing:
    lane_mm = min(LARGEST_LANE_MM, (room_mm[1] - _TOP_MM - 4) / len(lanes))
    drawing = Drawing(room_mm[0], _TOP_MM + lane_mm * len(lanes) + 1)
    _rule_weeks(drawing, calendar, room_mm[0])
    for k, (code, lane) in enumerate(lanes):
        y = _TOP_MM + k * lane_mm
        if code:
            drawing.path([(0, y), (room_mm[0], y)], FINE_MM)
            drawing.text(1.0, y + lane_mm / 2, f"Bed {code}", size_pt=8.5, bold=True)
        for planting in lane:
            hatch = hatches[planting.crop.rotation_group]
            _bar(drawing, planting, calendar, (y + _GAP_MM / 2, y + lane_mm - _GAP_MM / 2), hatch)
    drawing.path([(0, drawing.height_mm - 1), (room_mm[0], drawing.height_mm - 1)], FINE_MM)
    return drawing


def _rule_weeks(drawing: Drawing, calendar: _Calendar, width_mm: float) -> None:
    """Hair lines at each Monday, finer words for its day, months above."""
    bottom = drawing.height_mm - 1
    every = next((n for n in (1, 2, 4) if calendar.per_day_mm * 7 * n >= 5.0), 4)
    lines, months = [], []
    for week in range(calendar.n_weeks + 1):
        day = calendar.first + timedelta(weeks=week)
        x = calendar.x_mm(day)
        lines.append([(x, _TOP_MM - 1), (x, bottom)])
        if week % every == 0 and week < calendar.n_weeks:
            drawing.text(x + 0.4, _TOP_MM - 3, str(day.day))
        if week == 0 or day.day <= 7:
            months.append((x, day))
    for (x, day), (end, _) in pairwise([*months, (width_mm, calendar.first)]):
        drawing.path([(x, 1.0), (x, _TOP_MM - 1)], FINE_MM)
        if words := _month_in(day, end - x - 1.2):
            drawing.text(x + 0.4, 3.0, words, size_pt=_MONTH_PT, bold=True)
    drawing.paths(lines, HAIR_MM, grey=75)
    drawing.text(1.0, _TOP_MM - 3, "week from Monday")


def _month_in(day: date, room_mm: float) -> str:
    """The month of a day, with its year where there is room for it; empty where there is none."""
    name = month_words(day.month)
    told = (f"{name} {day.year}", name)
    return next((words for words in told if text_width_mm(words, _MONTH_PT, bold=True) <= room_mm), "")


def _bar(
    drawing: Drawing, planting: Planting, calendar: _Calendar, y_mm: tuple[float, float], hatch: Hatch
) -> None:
    """Ground taken; the heavy line below marks the weeks of picking."""
    dates = planting.dates
    x0, x1 = calendar.x_mm(dates.in_ground), calendar.x_mm(dates.clear_by + timedelta(days=1))
    top, bottom = y_mm
    corners = [(x0, top), (x1, top), (x1, bottom), (x0, bottom)]
    drawing.path(corners, 0, closed=True, fill="white")
    hatch_area(drawing, corners, hatch)
    drawing.path(corners, THIN_MM, closed=True)
    pick = calendar.x_mm(dates.first_pick), min(x1, calendar.x_mm(dates.last_pick + timedelta(days=1)))
    if pick[1] > pick[0]:
        drawing.path([(pick[0], bottom), (pick[1], bottom)], PICKING_MM)
    words = bar_words(planting)
    fits = text_width_mm(words, _TEXT_PT, bold=True) + 3 <= x1 - x0
    drawing.text(
        x0 + 1.5 if fits else x1 + 1.0, (top + bottom) / 2, words, size_pt=_TEXT_PT, bold=True, halo=True
    )
