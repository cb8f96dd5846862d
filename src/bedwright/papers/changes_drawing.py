"""A changed plan drawn: for each bed, metres from the peg upward and weeks to the right.

Ground as it was is dashed and empty, ground as it is now hatched and in a heavy line, with an
arrow from one to the other; what did not change is a fine grey outline. Places and weeks show
in one drawing, and it reads without colour.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.model.book import UnitSystem
from bedwright.model.changes import Change, Place
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.units import metres_to_feet
from bedwright.papers.drawing import FINE_MM, HAIR_MM, HEAVY_MM, MEDIUM_MM, THIN_MM, Drawing, PaperPoint
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.hatching import Hatch, hatch_area
from bedwright.papers.letters import text_width_mm
from bedwright.papers.measures import code_runs
from bedwright.papers.week_axis import WeekAxis, week_axis

MM_PER_M = 6.5
LEAST_MM, MOST_MM = 30.0, 95.0
_FRAME_MM = 18.0
"""Height of a chart beside its ground: ticks, months and the name of the bed."""
_TEXT_PT = 7.0
_LETTER_MM = 3.4


@dataclass(frozen=True, slots=True)
class BedChange:
    """One bed in which something changed."""

    bed_code: str
    words: str
    drawing: Drawing


def change_drawings(
    plan: SeasonPlan,
    changes: Sequence[Change],
    hatches: Mapping[str, Hatch],
    width_mm: float,
    units: UnitSystem = "metric",
) -> tuple[BedChange, ...]:
    """A drawing for each bed in which something changed, in the order of the book.

    Parameters
    ----------
    plan
        The plan as it is now.
    changes
        What it does differently from the one before.
    hatches
        Hatch of each rotation group.
    width_mm
        Width of a drawing.
    units
        Metres or feet from the peg.
    """
    found = []
    for bed in plan.book.beds:
        here = [one for one in changes if bed.code in _beds(one)]
        if here:
            drawing = _bed_drawing(plan, bed.code, here, hatches, width_mm, units)
            found.append(BedChange(bed.code, bed_words(bed), drawing))
    return tuple(found)


def _beds(change: Change) -> set[str]:
    return {place.bed_code for place in (change.before, change.after) if place is not None}


def _bed_drawing(
    plan: SeasonPlan,
    bed_code: str,
    changes: Sequence[Change],
    hatches: Mapping[str, Hatch],
    width_mm: float,
    units: UnitSystem,
) -> Drawing:
    length_m = plan.book.bed(bed_code).frame.length_m
    height_mm = _FRAME_MM + min(MOST_MM, max(LEAST_MM, length_m * MM_PER_M))
    unit, to_unit = ("ft", metres_to_feet(1.0)) if units == "us" else ("m", 1.0)
    weeks = week_axis(_weeks(plan, changes), length_m * to_unit, unit, (width_mm, height_mm))
    axis = _Axis(weeks, to_unit)
    changed = {one.planting_code for one in changes}
    for planting in plan.in_bed(bed_code):
        if planting.code not in changed:
            _as_it_was(axis, planting)
    words = _Words(width_mm)
    for one in changes:
        if one.before is not None and one.before.bed_code == bed_code:
            _before(axis, one, one.before, words, stays=one.after is not None)
    groups = {one.code: one.crop.rotation_group for one in plan.plantings}
    for one in changes:
        if one.after is not None and one.after.bed_code == bed_code:
            _now(axis, one, one.after, hatches[groups[one.planting_code]], words)
    for one in changes:
        if one.before is not None and one.after is not None and _beds(one) == {bed_code}:
            _arrow(axis, one.before, one.after)
    words.draw(axis.drawing)
    return axis.drawing


def _weeks(plan: SeasonPlan, changes: Sequence[Change]) -> list[date]:
    """Mondays from the first to the last week of the season, the same for every bed."""
    places = [place for one in changes for place in (one.before, one.after) if place is not None]
    first = min([*(one.in_ground for one in places), *(one.dates.in_ground for one in plan.plantings)])
    last = max([*(one.clear_by for one in places), *(one.dates.clear_by for one in plan.plantings)])
    monday = first - timedelta(days=first.weekday())
    return [monday + timedelta(weeks=k) for k in range((last - monday).days // 7 + 1)]


def _corners(
    axis: _Axis, along_m: tuple[float, float], first: date, last: date
) -> tuple[float, float, float, float]:
    """Left, right, top and bottom of ground for a time [mm]."""
    return (
        axis.x_mm(first),
        axis.x_mm(last + timedelta(days=1)),
        axis.y_mm(along_m[1]),
        axis.y_mm(along_m[0]),
    )


def _box(axis: _Axis, place: Place) -> tuple[float, float, float, float]:
    return _corners(axis, place.along_m, place.in_ground, place.clear_by)


def _outline(box: tuple[float, float, float, float]) -> list[PaperPoint]:
    left, right, top, bottom = box
    return [(left, top), (right, top), (right, bottom), (left, bottom)]


def _as_it_was(axis: _Axis, planting: Planting) -> None:
    dates = planting.dates
    box = _corners(axis, planting.along_m, dates.in_ground, dates.clear_by)
    axis.drawing.path(_outline(box), HAIR_MM, closed=True, grey=55)


def _before(axis: _Axis, change: Change, place: Place, words: _Words, *, stays: bool) -> None:
    box = _box(axis, place)
    left, right, top, bottom = box
    axis.drawing.path(_outline(box), MEDIUM_MM, closed=True, dash="dashed")
    if not stays:
        axis.drawing.paths([[(left, top), (right, bottom)], [(left, bottom), (right, top)]], FINE_MM)
    gone = change.after is not None and change.after.bed_code != place.bed_code
    to = f", now bed {change.after.bed_code}" if gone and change.after is not None else ""
    words.add(box, f"was {_named(change, place)}{to}", bold=False)


def _now(axis: _Axis, change: Change, place: Place, hatch: Hatch, words: _Words) -> None:
    box = _box(axis, place)
    corners = _outline(box)
    hatch_area(axis.drawing, corners, hatch)
    axis.drawing.path(corners, HEAVY_MM, closed=True)
    came = change.before is not None and change.before.bed_code != place.bed_code
    since = f", from bed {change.before.bed_code}" if came and change.before is not None else ""
    words.add(box, f"{_named(change, place)}{since}", bold=True)


def _named(change: Change, place: Place) -> str:
    rows = code_runs(place.row_codes).replace(" to ", "–")
    return f"{change.crop} {rows}".strip()


def _arrow(axis: _Axis, before: Place, after: Place) -> None:
    """From the middle of the ground as it was to the middle as it is now, where they lie apart."""
    one, other = (_middle(_box(axis, place)) for place in (before, after))
    length = math.dist(one, other)
    if length < 4.0:
        return
    run = ((other[0] - one[0]) / length, (other[1] - one[1]) / length)
    aside = (-run[1], run[0])
    neck = (other[0] - run[0] * 2.2, other[1] - run[1] * 2.2)
    axis.drawing.path([one, neck], THIN_MM)
    wings = [(neck[0] + sign * aside[0] * 0.8, neck[1] + sign * aside[1] * 0.8) for sign in (1, -1)]
    axis.drawing.path([other, *wings], THIN_MM, closed=True, fill="black")


def _middle(box: tuple[float, float, float, float]) -> PaperPoint:
    left, right, top, bottom = box
    return (left + right) / 2, (top + bottom) / 2


@dataclass(frozen=True, slots=True)
class _Axis:
    """Weeks to the right, distance from the peg upward, in the unit of the reader."""

    weeks: WeekAxis
    to_unit: float
    """What turns metres into it."""

    @property
    def drawing(self) -> Drawing:
        return self.weeks.drawing

    def x_mm(self, day: date) -> float:
        return self.weeks.x_mm(day)

    def y_mm(self, along_m: float) -> float:
        return self.weeks.y_mm(along_m * self.to_unit)


class _Words:
    """Words on blocks, none over another: inside where they fit, else beside, above or below."""

    def __init__(self, width_mm: float) -> None:
        self._width_mm = width_mm
        self._taken: list[tuple[float, float, float, float]] = []
        self._placed: list[tuple[float, float, str, bool]] = []

    def add(self, box: tuple[float, float, float, float], words: str, *, bold: bool) -> None:
        width = text_width_mm(words, _TEXT_PT, bold=bold)
        for x, y in self._places(box, width):
            area = (x - 0.5, x + width + 0.5, y - _LETTER_MM / 2, y + _LETTER_MM / 2)
            if x + width < self._width_mm and not any(_meet(area, other) for other in self._taken):
                break
        self._taken.append(area)
        self._placed.append((x, y, words, bold))

    @staticmethod
    def _places(box: tuple[float, float, float, float], width: float) -> Iterable[PaperPoint]:
        """Starts of the words, best first."""
        left, right, top, bottom = box
        middle = (top + bottom) / 2
        if bottom - top >= _LETTER_MM and right - left >= width + 2.0:
            n_lines = int((bottom - top) / _LETTER_MM)
            for k in range(n_lines):
                yield left + 1.0, middle + (k + 1) // 2 * _LETTER_MM * (1 if k % 2 else -1)
        yield right + 1.0, middle
        yield left - 1.0 - width, middle
        for k in range(1, 8):
            for y in (top - (k - 0.45) * _LETTER_MM, bottom + (k - 0.45) * _LETTER_MM):
                yield left + 1.0, y
                yield right + 1.0, y

    def draw(self, drawing: Drawing) -> None:
        for x, y, words, bold in self._placed:
            shown = min(x, drawing.width_mm - 1.0 - text_width_mm(words, _TEXT_PT, bold=bold))
            drawing.text(shown, y, words, size_pt=_TEXT_PT, bold=bold, italic=not bold, halo=True)


def _meet(one: tuple[float, float, float, float], other: tuple[float, float, float, float]) -> bool:
    return one[0] < other[1] and other[0] < one[1] and one[2] < other[3] and other[2] < one[3]


def change_key() -> Drawing:
    """What the lines of the drawings mean."""
    drawing = Drawing(150.0, 6.0)
    x = 0.5
    for words, weight, dash, grey in (
        ("as it was planned", MEDIUM_MM, "dashed", 0),
        ("as it is planned now", HEAVY_MM, "solid", 0),
        ("not changed", HAIR_MM, "solid", 55),
    ):
        corners = [(x, 1.0), (x + 7, 1.0), (x + 7, 5.0), (x, 5.0)]
        if weight == HEAVY_MM:
            hatch_area(drawing, corners, Hatch((45,), 1.5))
        drawing.path(corners, weight, closed=True, dash="dashed" if dash == "dashed" else "solid", grey=grey)
        drawing.text(x + 8.5, 3.0, words)
        x += 8.5 + text_width_mm(words, 7) + 7.0
    drawing.path([(x, 1.0), (x + 7, 1.0), (x + 7, 5.0), (x, 5.0)], MEDIUM_MM, closed=True, dash="dashed")
    drawing.paths([[(x, 1.0), (x + 7, 5.0)], [(x, 5.0), (x + 7, 1.0)]], FINE_MM)
    drawing.text(x + 8.5, 3.0, "left out")
    return drawing
