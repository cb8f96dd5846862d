"""Drawn sheets of the planting plan: the site, the beds at each phase, enlarged details."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import shapely

from bedwright.model.book import Bed, Feature, PaperSize, UnitSystem
from bedwright.model.ground import Point, outline_vertices_m
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.callouts import Callout, Placed, draw_callouts, place_callouts, roomiest_point
from bedwright.papers.drawing import HAIR_MM, HEAVY_MM, Drawing, PaperPoint
from bedwright.papers.furniture import north_point, scale_bar_drawing
from bedwright.papers.ground_drawing import (
    View,
    bed_view,
    bed_words,
    draw_bed,
    draw_feature,
    draw_planting,
    from_bed,
    planting_callout,
    site_view,
)
from bedwright.papers.hatching import Hatch
from bedwright.papers.letters import line_height_mm, text_width_mm
from bedwright.papers.measures import day_words
from bedwright.papers.phases import Phase
from bedwright.papers.scale import Scale, fitting_scale
from bedwright.papers.sheet import room_mm
from bedwright.papers.site_parts import Bounds, SitePart, beds_bounds_m, bounds_m, site_parts

PANEL_MM = 60.0
"""Width of the panel with legend, north point and scale bar."""
_GUTTER_MM = 4.0
_SITE_PAD_MM = 14.0
_LABEL_PAD_MM = (16.0, 11.0)
_KEY_PLAN_MM = (50.0, 30.0)
_BED_CODE_PT = 10.0
_DETAIL_BANDS_MM = (9.0, 14.0, 20.0, 28.0, 40.0)


@dataclass(frozen=True, slots=True)
class DrawnSheet:
    """One drawing with the scale it is drawn at."""

    drawing: Drawing
    scale: Scale
    crowded: tuple[str, ...] = ()
    """Codes of beds whose labels do not all fit: to be drawn as details."""


def drawing_room_mm(paper: PaperSize) -> tuple[float, float]:
    """Room for a drawing beside its panel [mm]."""
    width, height = room_mm(paper, wide=True)
    return width - PANEL_MM - _GUTTER_MM, height - 2.0


def _feature_points(feature: Feature) -> list[Point]:
    r = feature.radius_m
    return [(x + dx, y + dy) for x, y in feature.vertices_m for dx in (-r, r) for dy in (-r, r)]


def _centred_view(
    bounds: Bounds,
    room: tuple[float, float],
    pad: tuple[float, float],
    units: UnitSystem,
    scale: Scale | None = None,
) -> View:
    west, south, east, north = bounds
    extent = (east - west, north - south)
    if scale is None:
        scale = fitting_scale(extent, (room[0] - 2 * pad[0], room[1] - 2 * pad[1]), units)
    left = (room[0] - scale.paper_mm(extent[0])) / 2
    top = (room[1] - scale.paper_mm(extent[1])) / 2
    return site_view(scale, west, north, left, top)


def site_sheet(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> DrawnSheet:
    """Beds with codes and pegs, and everything else on the site."""
    room = drawing_room_mm(paper)
    site, beds = plan.book.site, plan.book.beds
    points = [p for bed in beds for p in outline_vertices_m(bed.outline)]
    points += [p for feature in site.features for p in _feature_points(feature)]
    view = _centred_view(bounds_m(points), room, (_SITE_PAD_MM, _SITE_PAD_MM), units)
    drawing = Drawing(*room)
    for feature in sorted(site.features, key=lambda f: f.kind != "path"):
        draw_feature(drawing, feature, view)
    outlines = [draw_bed(drawing, bed, view, local=False) for bed in beds]
    for feature in site.features:
        if feature.kind in ("tree", "utility"):
            draw_feature(drawing, feature, view)
    callouts = [
        Callout(bed.code, (bed.code,), tuple(outline), _BED_CODE_PT)
        for bed, outline in zip(beds, outlines, strict=True)
    ]
    labels = _bed_codes_inside(drawing, callouts)
    named = [
        Callout(f"feature {k}", (feature.name,), tuple(_label_target(feature, view)), inside_cost_mm=0.0)
        for k, feature in enumerate(site.features)
        if feature.name
    ]
    placed = place_callouts([*named, *labels], outlines, (0.5, 0.5, room[0] - 0.5, room[1] - 0.5))
    draw_callouts(drawing, placed)
    return DrawnSheet(drawing, view.scale)


def _bed_codes_inside(drawing: Drawing, callouts: Sequence[Callout]) -> list[Callout]:
    """Write each code inside its bed; those that do not fit are returned to be led out."""
    outside = []
    for callout in callouts:
        shape = shapely.Polygon(callout.target)
        centre = roomiest_point(shape)
        w, h = callout.size_mm
        box = shapely.box(centre.x - w / 2 - 0.6, centre.y - h / 2, centre.x + w / 2 + 0.6, centre.y + h / 2)
        if shape.contains(box):
            drawing.text(
                centre.x, centre.y, callout.lines[0], size_pt=callout.size_pt, bold=True, align="centre"
            )
        else:
            outside.append(callout)
    return outside


def _label_target(feature: Feature, view: View) -> list[PaperPoint]:
    """Where the leader of a feature's name may end: the middle piece of a line, else the shape."""
    points = view.all(feature.vertices_m)
    if feature.kind in ("building", "shed", "compost bay") and len(points) > 2:
        return points
    if len(points) < 2:
        return points
    middle = (len(points) - 1) // 2
    (x0, y0), (x1, y1) = points[middle], points[middle + 1]
    return [((3 * x0 + x1) / 4, (3 * y0 + y1) / 4), ((x0 + 3 * x1) / 4, (y0 + 3 * y1) / 4)]


def phase_parts(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> tuple[SitePart, ...]:
    """How the beds are shared out over the sheets of one phase."""
    room = drawing_room_mm(paper)
    inner = (room[0] - 2 * _LABEL_PAD_MM[0], room[1] - 2 * _LABEL_PAD_MM[1])
    return site_parts(plan.book.beds, inner, units)


def phase_sheet(
    part: SitePart, phase: Phase, hatches: Mapping[str, Hatch], paper: PaperSize, units: UnitSystem
) -> DrawnSheet:
    """Beds of one part of the site in their places, as they stand on one day."""
    room = drawing_room_mm(paper)
    beds = part.beds
    view = _centred_view(beds_bounds_m(beds), room, _LABEL_PAD_MM, units, part.scale)
    drawing = Drawing(*room)
    outlines = [draw_bed(drawing, bed, view, local=False) for bed in beds]
    own = {bed.code: from_bed(view, bed, local=False) for bed in beds}
    edges = {bed.code: outline for bed, outline in zip(beds, outlines, strict=True)}
    shown = [p for p in phase.standing if p.bed_code in own]
    for planting in shown:
        draw_planting(
            drawing, planting, own[planting.bed_code], edges[planting.bed_code],
            hatches[planting.crop.rotation_group], new=planting.code in phase.new_codes,
        )  # fmt: skip
    for outline in outlines:
        drawing.path(outline, HEAVY_MM, closed=True)
    blocked = [*outlines, *_write_bed_codes(drawing, beds, own, outlines)]
    callouts = [planting_callout(p, own[p.bed_code], edges[p.bed_code]) for p in shown]
    placed = place_callouts(callouts, blocked, (0.5, 0.5, room[0] - 0.5, room[1] - 0.5))
    crowded = {p.bed_code for p in shown if p.code not in placed}
    draw_callouts(drawing, {p.code: placed[p.code] for p in shown if p.bed_code not in crowded})
    return DrawnSheet(drawing, view.scale, tuple(bed.code for bed in beds if bed.code in crowded))


def key_plan(plan: SeasonPlan, part: SitePart) -> Drawing:
    """All beds very small, those of one sheet filled."""
    west, south, east, north = beds_bounds_m(plan.book.beds)
    per_m = min(_KEY_PLAN_MM[0] / (east - west), _KEY_PLAN_MM[1] / (north - south))
    drawing = Drawing(_KEY_PLAN_MM[0] + 1, (north - south) * per_m + 1)
    for bed in plan.book.beds:
        corners = [
            (0.5 + (x - west) * per_m, 0.5 + (north - y) * per_m) for x, y in outline_vertices_m(bed.outline)
        ]
        drawing.path(corners, HAIR_MM, closed=True, fill="black" if bed in part.beds else "white")
    return drawing


def _write_bed_codes(
    drawing: Drawing, beds: Sequence[Bed], own: Mapping[str, View], outlines: Sequence[Sequence[PaperPoint]]
) -> list[list[PaperPoint]]:
    """Code of each bed just behind its peg, or on its edge where a neighbour is too near."""
    shapes = [shapely.Polygon(outline) for outline in outlines]
    boxes = []
    for k, bed in enumerate(beds):
        view = own[bed.code]
        peg, ahead = view.all(((0.0, 0.0), (1.0, 0.0)))
        length = view.scale.paper_mm(1.0)
        run = ((ahead[0] - peg[0]) / length, (ahead[1] - peg[1]) / length)
        width, height = text_width_mm(bed.code, _BED_CODE_PT, bold=True), line_height_mm(_BED_CODE_PT)
        away = 2.2 + abs(run[0]) * width / 2 + abs(run[1]) * height / 2
        centre = (peg[0] - run[0] * away, peg[1] - run[1] * away)
        box = shapely.box(
            centre[0] - width / 2, centre[1] - height / 2, centre[0] + width / 2, centre[1] + height / 2
        )
        others = shapely.union_all([shape for j, shape in enumerate(shapes) if j != k] or [shapely.Polygon()])
        if box.intersects(others):
            centre = (
                peg[0] + run[0] * (away + 4) - run[1] * 2.2,
                peg[1] + run[1] * (away + 4) + run[0] * 2.2,
            )
        drawing.text(*centre, bed.code, size_pt=_BED_CODE_PT, bold=True, align="centre", halo=True)
        boxes.append([(x, y) for x, y in box.exterior.coords[:4]])
    return boxes


@dataclass(frozen=True, slots=True)
class Detail:
    """One bed drawn larger in its own frame."""

    heading: str
    sheet: DrawnSheet


def bed_detail(
    bed: Bed, phase: Phase, hatches: Mapping[str, Hatch], paper: PaperSize, units: UnitSystem
) -> Detail:
    """A bed as seen from its peg, every planting labelled."""
    width, height = room_mm(paper, wide=True)
    plantings = [p for p in phase.standing if p.bed_code == bed.code]
    room = (width - 22.0, height - 14.0)
    frame = bed.frame
    scale = fitting_scale((frame.length_m, frame.width_m), (room[0] - 40, room[1] - 40), units)
    drawing, placed = Drawing(*room), dict[str, Placed]()
    for band in _DETAIL_BANDS_MM:
        size = (width, min(room[1], scale.paper_mm(frame.width_m) + 2 * band))
        top = (size[1] - scale.paper_mm(frame.width_m)) / 2
        view = bed_view(scale, (room[0] - scale.paper_mm(frame.length_m)) / 2, top)
        drawing = Drawing(*size)
        placed = dict(_draw_detail(drawing, bed, plantings, view, phase, hatches))
        if len(placed) == len(plantings):
            break
    draw_callouts(drawing, placed)
    drawing.add(north_point(frame.bearing_deg - 90.0), width - 17.0, 0.0)
    heading = f"{bed_words(bed)}, on {day_words(phase.day)}"
    return Detail(heading, DrawnSheet(drawing, scale))


def _draw_detail(
    drawing: Drawing,
    bed: Bed,
    plantings: Sequence[Planting],
    view: View,
    phase: Phase,
    hatches: Mapping[str, Hatch],
) -> Mapping[str, Placed]:
    outline = draw_bed(drawing, bed, view, local=True)
    for planting in plantings:
        hatch = hatches[planting.crop.rotation_group]
        draw_planting(drawing, planting, view, outline, hatch, new=planting.code in phase.new_codes)
    drawing.path(outline, HEAVY_MM, closed=True)
    callouts = [planting_callout(p, view, outline) for p in plantings]
    bounds = (0.5, 0.5, drawing.width_mm - 20.0, drawing.height_mm - 0.5)
    return place_callouts(callouts, [outline], bounds)


def north_and_scale(scale: Scale, units: UnitSystem) -> tuple[Drawing, Drawing]:
    """For the panel of a sheet with north up."""
    return north_point(), scale_bar_drawing(scale, units)
