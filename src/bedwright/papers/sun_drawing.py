"""Hours of sun on each bed, month by month: small plans in steps of grey."""

from __future__ import annotations

from collections.abc import Sequence

from shapely import Polygon

from bedwright.model.book import Bed
from bedwright.model.ground import outline_vertices_m
from bedwright.model.season import SeasonPlan
from bedwright.papers.callouts import roomiest_point
from bedwright.papers.drawing import FINE_MM, HAIR_MM, THIN_MM, Drawing, Fill
from bedwright.papers.furniture import north_point
from bedwright.papers.ground_drawing import View
from bedwright.papers.letters import SMALLEST_PT, text_width_mm
from bedwright.papers.measures import month_words
from bedwright.papers.scale import Scale
from bedwright.papers.site_parts import beds_bounds_m

_ACROSS = 2
_GAP_MM, _HEAD_MM, _KEY_MM = 4.0, 5.5, 19.0
_TWO_LINES_MM = 9.0
"""A bed this high on paper has room for its code above its number."""
_LINE_MM = 3.2
STEPS: tuple[tuple[float, Fill, str], ...] = (
    (2.0, "grey 30", "below 2 h"),
    (4.0, "grey 50", "2 to 4 h"),
    (6.0, "grey 68", "4 to 6 h"),
    (8.0, "grey 84", "6 to 8 h"),
    (24.1, "grey 96", "8 h or more"),
)
"""Upper end of each step in hours a day, its grey and its words; the darker, the less sun."""


def sun_step(hours_h: float) -> Fill:
    """Grey of a number of hours a day."""
    return next(fill for end, fill, _ in STEPS if hours_h < end)


def sun_drawing(plan: SeasonPlan, months: Sequence[int], room_mm: tuple[float, float]) -> Drawing:
    """A plan of the beds for each of some months, 1 to 12, as large as the room allows.

    Code and number stand on each bed on which they have room beside its neighbours'; the
    table has them all.
    """
    beds = {bed.code: bed for bed in plan.book.beds}
    shown = [(beds[sun.bed_code], sun.month_h) for sun in plan.sun if sun.bed_code in beds]
    west, south, east, north = beds_bounds_m([bed for bed, _ in shown])
    width = (room_mm[0] - (_ACROSS - 1) * _GAP_MM) / _ACROSS
    n_down = -(-len(months) // _ACROSS)
    height = (room_mm[1] - _KEY_MM - n_down * (_HEAD_MM + _GAP_MM)) / n_down
    ratio = max((east - west) * 1000 / width, (north - south) * 1000 / height, 1.0)
    tall = (north - south) * 1000 / ratio
    drawing = Drawing(room_mm[0], n_down * (tall + _HEAD_MM + _GAP_MM) + _KEY_MM)
    for k, month in enumerate(months):
        left = (k % _ACROSS) * (width + _GAP_MM)
        top = (k // _ACROSS) * (tall + _HEAD_MM + _GAP_MM)
        drawing.text(left, top + 2.0, month_words(month), bold=True, size_pt=9)
        view = _view(ratio, west, north, left, top + _HEAD_MM)
        _draw_month(drawing, [(bed, hours[month - 1]) for bed, hours in shown], view)
    _draw_key(drawing)
    return drawing


def _view(ratio: float, west_m: float, north_m: float, left_mm: float, top_mm: float) -> View:
    per_m = 1000 / ratio

    def place(point: tuple[float, float]) -> tuple[float, float]:
        return left_mm + (point[0] - west_m) * per_m, top_mm + (north_m - point[1]) * per_m

    return View(Scale(round(ratio), "not to scale"), place)


def _draw_month(drawing: Drawing, beds: Sequence[tuple[Bed, float]], view: View) -> None:
    taken: list[tuple[float, float, float, float]] = []
    spots = []
    for bed, hours in beds:
        corners = view.all(outline_vertices_m(bed.outline))
        drawing.path(corners, THIN_MM, closed=True, fill=sun_step(hours))
        spot = roomiest_point(Polygon(corners))
        tall = max(y for _, y in corners) - min(y for _, y in corners)
        spots.append((spot.x, spot.y, bed.code, f"{hours:.1f}", tall >= _TWO_LINES_MM))
    for x, y, code, number, two_lines in spots:
        lines = (code, number) if two_lines else (f"{code} {number}",)
        wide = max(text_width_mm(words, SMALLEST_PT) for words in lines) / 2 + 0.45
        high = len(lines) * _LINE_MM / 2 + 0.1
        if all(abs(x - ox) >= wide + ow or abs(y - oy) >= high + oh for ox, oy, ow, oh in taken):
            for k, words in enumerate(lines):
                up = y + (k - (len(lines) - 1) / 2) * _LINE_MM
                drawing.text(x, up, words, align="centre", halo=True, bold=two_lines and k == 0)
            taken.append((x, y, wide, high))


def _draw_key(drawing: Drawing) -> None:
    y = drawing.height_mm - 4.0
    drawing.add(north_point(0.0), drawing.width_mm - 17.0, drawing.height_mm - 17.0)
    x = 0.0
    for _, fill, words in STEPS:
        drawing.path(
            [(x, y - 1.7), (x + 6, y - 1.7), (x + 6, y + 1.7), (x, y + 1.7)], HAIR_MM, closed=True, fill=fill
        )
        drawing.text(x + 7.5, y, words)
        x += 7.5 + text_width_mm(words, SMALLEST_PT) + 6.0
    drawing.path([(0.0, y - 4.2), (drawing.width_mm - 20.0, y - 4.2)], FINE_MM, grey=70)
