"""A sheet per bed: where each row lies, measured from the peg, in the order crops follow."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise
from typing import Any

from bedwright.model.book import Bed, PaperSize, UnitSystem
from bedwright.model.season import Planting, Row, SeasonPlan
from bedwright.papers.callouts import Callout, Placed, draw_callouts, place_callouts
from bedwright.papers.drawing import FINE_MM, HAIR_MM, Drawing, PaperPoint
from bedwright.papers.furniture import north_point
from bedwright.papers.ground_drawing import (
    View,
    bed_view,
    bed_words,
    draw_bed,
    draw_planting,
    planting_corners,
)
from bedwright.papers.hatching import Hatch
from bedwright.papers.letters import SMALLEST_PT, line_height_mm, text_width_mm
from bedwright.papers.measures import Measures, code_runs, later_day, short_day, span_words
from bedwright.papers.planting_plan import plan_hatches
from bedwright.papers.scale import Scale, fitting_scale
from bedwright.papers.schedule import bought_as, plant_distance_m, way_words
from bedwright.papers.sheet import frame, room_mm

_SIDE_MM = 24.0
"""Room left of the bed for offsets from the string."""
_DRAWING_HEIGHT_MM = 95.0
"""Least room for the drawing of a layer; more where the tables leave it."""
_HEAD_MM, _LAYER_HEAD_MM, _ROW_MM = 16.0, 14.0, 5.0
"""Height of the head of a sheet, of heading and table head of a layer, and of a row of its table."""
_BANDS_MM = (13.0, 18.0, 25.0, 34.0)
_DIMENSION_MM = 8.0
_ROW_TEXT_GAP_MM = 3.4
"""Rows closer than this on paper are named together, not one by one."""


def crop_layers(plantings: Sequence[Planting]) -> tuple[tuple[Planting, ...], ...]:
    """Plantings of one bed in layers that share no ground: first crops, then what follows."""
    layers: list[list[Planting]] = []
    home: dict[str, int] = {}
    for planting in sorted(plantings, key=lambda p: (p.dates.in_ground, p.along_m, p.across_m, p.code)):
        below = [home[other.code] for layer in layers for other in layer if _share_ground(planting, other)]
        level = max(below, default=-1) + 1
        if level == len(layers):
            layers.append([])
        layers[level].append(planting)
        home[planting.code] = level
    return tuple(tuple(layer) for layer in layers)


def _share_ground(one: Planting, other: Planting) -> bool:
    def overlap(a: tuple[float, float], b: tuple[float, float]) -> bool:
        return min(a[1], b[1]) - max(a[0], b[0]) > 1e-6

    return overlap(one.along_m, other.along_m) and overlap(one.across_m, other.across_m)


def bed_sheets_data(
    plan: SeasonPlan, paper: PaperSize, units: UnitSystem, only: str | None = None
) -> dict[str, Any]:
    """Everything the template `bed-sheets.typ` sets; beds without plantings get no sheet.

    `only` is the code of the one bed wanted; its sheet keeps its number. None: all beds.
    """
    hatches = plan_hatches(plan)
    planted = [bed for bed in plan.book.beds if plan.in_bed(bed.code)]
    return {
        "frame": frame(plan, paper, "Bed sheets", "B", wide=True),
        "beds": [
            _bed(plan, bed, hatches, paper, units, k + 1)
            for k, bed in enumerate(planted)
            if only in {None, bed.code}
        ],
    }


def _bed(
    plan: SeasonPlan, bed: Bed, hatches: Mapping[str, Hatch], paper: PaperSize, units: UnitSystem, number: int
) -> dict[str, Any]:
    measures = Measures(units)
    layers = crop_layers(plan.in_bed(bed.code))
    height_mm = _drawing_height_mm(layers, paper)
    drawn = [_layer_drawing(bed, layer, hatches, (paper, height_mm), units) for layer in layers]
    scale = drawn[0].scale.words
    frame_m = bed.frame
    return {
        "frame": frame(plan, paper, f"Bed sheet, {bed_words(bed)}", f"B{number}", wide=True, scale=scale),
        "heading": bed_words(bed)
        + (f" ({bed.use})" if bed.use and bed.use.lower() != bed.name.lower() else ""),
        "size": f"{measures.extent(frame_m.length_m)} along the string, "
        f"{measures.extent(frame_m.width_m)} across; "
        f"the string runs at {frame_m.bearing_deg:.0f}° from north",
        "layers": [
            {
                "heading": _layer_words(k, layer, bed),
                "drawing": one.drawing.data(),
                "unlabelled": "; ".join(one.unlabelled),
                "rows": [_row(p, row, measures, plan.book.season_start) for p in layer for row in p.rows],
            }
            for k, (layer, one) in enumerate(zip(layers, drawn, strict=True))
        ],
    }


def _worth_saying(bed: Bed) -> bool:
    """True where the use says more than the name."""
    return bool(bed.use) and bed.use.lower() != bed.name.lower()


def _layer_words(k: int, layer: Sequence[Planting], bed: Bed) -> str:
    start = min(p.dates.in_ground for p in layer)
    end = max(p.dates.clear_by for p in layer)
    # What follows may stand on a page of its own, without the heading of the sheet.
    name = "First crops" if k == 0 else f"Bed {bed.code}, following on" + (f", {k}" if k > 1 else "")
    return f"{name}: {span_words(start, end)}"


def _row(planting: Planting, row: Row, measures: Measures, season_start: date) -> list[str]:
    """Cells of the row table."""
    along, across = row.start_m
    if planting.direction == "along":
        lies = f"{measures.place(across)} from the string"
        first, last = measures.place(along), measures.place(row.end_m[0])
        sense = "along"
    else:
        lies = f"square to the string, {measures.place(along)} along it"
        first, last = measures.place(across), measures.place(row.end_m[1])
        sense = "across"
    way = planting.way
    by_depth = way == "sow" or planting.crop.set_underground
    depth = measures.depth(planting.crop.sow_depth_mm) if by_depth else planting.crop.stem_depth
    name = planting.crop.name + (f", {planting.variety}" if planting.variety else "")
    single = row.n_plants == 1
    return [
        row.code,
        name,
        lies,
        f"{first} {sense}",
        "single plant" if single else f"{last} {sense}",
        str(row.n_plants),
        "" if single else measures.spacing(plant_distance_m(planting)),
        depth,
        way_words(way, bought_as(planting.crop)),
        _put_in(planting.dates.in_ground, season_start),
        later_day(planting.dates.clear_by, planting.dates.in_ground),
    ]


def _put_in(day: date, season_start: date) -> str:
    """With its year where it stands from the season before."""
    return short_day(day) if day >= season_start else f"{short_day(day)} {day.year}"


@dataclass(frozen=True, slots=True)
class _LayerDrawing:
    """Crops that stand side by side in one bed."""

    drawing: Drawing
    scale: Scale
    unlabelled: tuple[str, ...]
    """Plantings whose label found no place."""


def _drawing_height_mm(layers: Sequence[Sequence[Planting]], paper: PaperSize) -> float:
    """Height that each drawing of a bed may take: what one page leaves beside the tables."""
    rows = sum(len(planting.rows) for layer in layers for planting in layer)
    tables = _HEAD_MM + len(layers) * _LAYER_HEAD_MM + rows * _ROW_MM
    return max(_DRAWING_HEIGHT_MM, (room_mm(paper, wide=True)[1] - tables) / len(layers))


def _layer_drawing(
    bed: Bed,
    layer: Sequence[Planting],
    hatches: Mapping[str, Hatch],
    room_of: tuple[PaperSize, float],
    units: UnitSystem,
) -> _LayerDrawing:
    """`room_of`: the paper, and the height that the drawing may take [mm]."""
    paper, height_mm = room_of
    width, _ = room_mm(paper, wide=True)
    frame_m = bed.frame
    room = (width - _SIDE_MM - 24.0, height_mm - 2 * _BANDS_MM[0])
    scale = fitting_scale((frame_m.length_m, frame_m.width_m), room, units)
    measures = Measures(units)
    drawing, placed = Drawing(width, 0.0), dict[str, Placed]()
    for band in _BANDS_MM:
        drawing = Drawing(width, scale.paper_mm(frame_m.width_m) + _DIMENSION_MM + 1 + band)
        view = bed_view(scale, _SIDE_MM, _DIMENSION_MM + 1)
        placed = dict(_draw_layer(drawing, bed, layer, view, hatches, measures))
        if len(placed) == len(layer):
            break
    draw_callouts(drawing, placed)
    lowest = max((place.box.bounds[3] for place in placed.values()), default=0.0)
    bed_foot = scale.paper_mm(frame_m.width_m) + _DIMENSION_MM + 1
    drawing.height_mm = max(lowest, bed_foot + line_height_mm(SMALLEST_PT)) + 1.0
    drawing.add(north_point(frame_m.bearing_deg - 90.0), width - 17.0, 0.0)
    missing = [_callout_words(p) for p in layer if p.code not in placed]
    return _LayerDrawing(drawing, scale, tuple(f"{count}, {rows}" for count, rows in missing))


def _callout_words(planting: Planting) -> tuple[str, str]:
    return f"{planting.n_plants} {planting.crop.name}", code_runs(row.code for row in planting.rows)


def _draw_layer(
    drawing: Drawing,
    bed: Bed,
    layer: Sequence[Planting],
    view: View,
    hatches: Mapping[str, Hatch],
    measures: Measures,
) -> Mapping[str, Placed]:
    outline = draw_bed(drawing, bed, view, local=True)
    for planting in layer:
        hatch = hatches[planting.crop.rotation_group]
        draw_planting(drawing, planting, view, outline, hatch, new=True)
    drawing.path(outline, 0.5, closed=True)
    _along_dimensions(drawing, bed, layer, view, measures)
    _across_dimensions(drawing, bed, layer, view, measures)
    callouts = []
    for planting in layer:
        if _rows_apart_mm(planting, view) >= _ROW_TEXT_GAP_MM:
            _write_row_codes(drawing, planting, view)
        callouts.append(
            Callout(
                planting.code,
                _callout_words(planting),
                tuple(planting_corners(planting, view, outline)),
                inside_cost_mm=60.0,
            )
        )
    whole = view.all(
        ((0, 0), (bed.frame.length_m, 0), (bed.frame.length_m, bed.frame.width_m), (0, bed.frame.width_m))
    )
    (left, top), bottom = whole[0], whole[2][1]
    offsets = [(0.0, top), (left, top), (left, bottom + 2.0), (0.0, bottom + 2.0)]
    bounds = (0.5, top, drawing.width_mm - 20.0, drawing.height_mm - 0.3)
    return place_callouts(callouts, [whole, offsets], bounds)


def _rows_apart_mm(planting: Planting, view: View) -> float:
    axis = 1 if planting.direction == "along" else 0
    offsets = sorted(row.start_m[axis] for row in planting.rows)
    gaps = [view.scale.paper_mm(b - a) for a, b in pairwise(offsets)]
    return min(gaps, default=100.0)


def _write_row_codes(drawing: Drawing, planting: Planting, view: View) -> None:
    """Each row's code on its line, a little in from the first plant."""
    for row in planting.rows:
        x, y = view.place(row.start_m)
        width = text_width_mm(row.code, SMALLEST_PT, bold=True)
        if planting.direction == "along":
            drawing.text(x + 1.0, y, row.code, bold=True, tag=True)
        elif width + 1.2 < _rows_apart_mm(planting, view):
            drawing.text(x, y + 2.0, row.code, bold=True, align="centre", tag=True)


def spread(
    places_mm: Sequence[float], sizes_mm: Sequence[float], low_mm: float, high_mm: float
) -> list[float]:
    """Centres as near to their places as lets none overlap; both sequences in order.

    Limits
    ------
    Where the sizes do not fit between low and high they are packed from low on.
    """
    centres: list[float] = []
    edge = low_mm
    for place, size in zip(places_mm, sizes_mm, strict=True):
        centre = max(place, edge + size / 2)
        centres.append(centre)
        edge = centre + size / 2
    edge = high_mm
    for k in range(len(centres) - 1, -1, -1):
        centre = min(centres[k], edge - sizes_mm[k] / 2)
        if centre >= centres[k]:
            break
        centres[k] = max(centre, low_mm + sizes_mm[k] / 2)
        edge = centres[k] - sizes_mm[k] / 2
    return centres


def _marks_m(bed_extent_m: float, spans: Sequence[tuple[float, float]]) -> list[float]:
    """Distances worth writing: the ends and every edge of a block, to the centimetre."""
    found = {0.0, round(bed_extent_m, 2)}
    found |= {round(min(max(edge, 0.0), bed_extent_m), 2) for span in spans for edge in span}
    return sorted(found)


def _along_dimensions(
    drawing: Drawing, bed: Bed, layer: Sequence[Planting], view: View, measures: Measures
) -> None:
    """Running dimensions along the string, all from the peg."""
    marks = _marks_m(bed.frame.length_m, [p.along_m for p in layer])
    words = ["peg 0" if mark == 0 else measures.place(mark) for mark in marks]
    places: list[PaperPoint] = [view.place((mark, 0.0)) for mark in marks]
    sizes = [text_width_mm(word, SMALLEST_PT) + 2.0 for word in words]
    centres = spread([x for x, _ in places], sizes, 1.0, drawing.width_mm - 20.0)
    for (x, y), centre, word in zip(places, centres, words, strict=True):
        drawing.text(centre, y - 6.3, word, align="centre")
        drawing.path([(centre, y - 4.9), (x, y - 2.6), (x, y - 0.9)], HAIR_MM)


def _across_dimensions(
    drawing: Drawing, bed: Bed, layer: Sequence[Planting], view: View, measures: Measures
) -> None:
    """Offsets from the string of block edges, down the left side."""
    marks = _marks_m(bed.frame.width_m, [p.across_m for p in layer])[1:]
    places: list[PaperPoint] = [view.place((0.0, mark)) for mark in marks]
    height = line_height_mm(SMALLEST_PT)
    low = view.place((0.0, 0.0))[1] + 1.0
    centres = spread([y for _, y in places], [height] * len(places), low, drawing.height_mm)
    for mark, (x, y), centre in zip(marks, places, centres, strict=True):
        drawing.text(x - 5.6, centre, measures.place(mark), align="right")
        drawing.path(
            [(x - 5.0, centre), (x - 2.4, y), (x - 0.9, y)], FINE_MM if mark == marks[-1] else HAIR_MM
        )
