"""Beds, plants and features on paper: shared by plan, details and bed sheets."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from shapely import Polygon

from bedwright.model.book import Bed, Feature
from bedwright.model.ground import Point, Rectangle, Side, local_vertices_m, outline_vertices_m
from bedwright.model.season import Planting, Row
from bedwright.papers.callouts import Callout
from bedwright.papers.drawing import FINE_MM, HAIR_MM, HEAVY_MM, MEDIUM_MM, THIN_MM, Drawing, PaperPoint
from bedwright.papers.hatching import Hatch, hatch_area
from bedwright.papers.measures import code_runs
from bedwright.papers.scale import Scale

SYMBOL_SHARE_OF_SPREAD = 2 / 3
"""Plants are drawn at two thirds of mature spread (Blue Island, Illinois, zoning code 162.07)."""
SMALLEST_SYMBOL_MM = 2.2
"""Below this diameter a row is a line, as ground cover is (eXtension, Preparing a Planting Plan)."""


@dataclass(frozen=True, slots=True)
class View:
    """Where ground comes to lie on paper."""

    scale: Scale
    place: Callable[[Point], PaperPoint]
    """From ground coordinates [m] to paper [mm]."""

    def all(self, points_m: Sequence[Point]) -> list[PaperPoint]:
        """Many points at once."""
        return [self.place(point) for point in points_m]


def site_view(scale: Scale, west_m: float, north_m: float, left_mm: float, top_mm: float) -> View:
    """North up: the point (west_m, north_m) lies at (left_mm, top_mm)."""

    def place(point: Point) -> PaperPoint:
        return left_mm + scale.paper_mm(point[0] - west_m), top_mm + scale.paper_mm(north_m - point[1])

    return View(scale, place)


def bed_view(scale: Scale, left_mm: float, top_mm: float) -> View:
    """As seen from the peg: along runs to the right, across runs down the sheet."""

    def place(point: Point) -> PaperPoint:
        return left_mm + scale.paper_mm(point[0]), top_mm + scale.paper_mm(point[1])

    return View(scale, place)


def from_bed(view: View, bed: Bed, *, local: bool) -> View:
    """A view that takes points of a bed's own frame."""
    if local:
        return view
    frame = bed.frame
    return View(view.scale, lambda point: view.place(frame.to_site(point)))


def bed_words(bed: Bed) -> str:
    """Code and name of a bed: `Bed A, Long bed`."""
    plain = f"Bed {bed.code}"
    return plain if not bed.name or bed.name.lower() == plain.lower() else f"{plain}, {bed.name}"


def bed_corners(bed: Bed, view: View, *, local: bool) -> list[PaperPoint]:
    """Outline of a bed on paper."""
    return view.all(local_vertices_m(bed.outline) if local else outline_vertices_m(bed.outline))


def draw_bed(drawing: Drawing, bed: Bed, view: View, *, local: bool) -> list[PaperPoint]:
    """Edge, lasting supports, peg and string line; returns the outline."""
    corners = bed_corners(bed, view, local=local)
    drawing.path(corners, HEAVY_MM, closed=True, fill="white")
    own = from_bed(view, bed, local=local)
    for support in bed.supports:
        _draw_support(drawing, own, bed, support.side)
    draw_peg(drawing, own, bed)
    return corners


def _draw_support(drawing: Drawing, own: View, bed: Bed, side: Side) -> None:
    frame = bed.frame
    inset = 0.05
    ends = {
        "start": ((inset, 0.0), (inset, frame.width_m)),
        "end": ((frame.length_m - inset, 0.0), (frame.length_m - inset, frame.width_m)),
        "left": ((0.0, inset), (frame.length_m, inset)),
        "right": ((0.0, frame.width_m - inset), (frame.length_m, frame.width_m - inset)),
    }[frame.local_side(side)]
    one, other = own.all(ends)
    drawing.path((one, other), MEDIUM_MM)
    length = math.dist(one, other)
    n = max(1, int(length / 4))
    marks = []
    across = ((other[1] - one[1]) / length * 0.8, -(other[0] - one[0]) / length * 0.8)
    for k in range(n + 1):
        x, y = (one[i] + (other[i] - one[i]) * k / n for i in (0, 1))
        marks.append([(x - across[0], y - across[1]), (x + across[0], y + across[1])])
    drawing.paths(marks, MEDIUM_MM)


def draw_peg(drawing: Drawing, own: View, bed: Bed) -> None:
    """Peg as a filled square, string line with an arrow at a third of its length."""
    peg, end = own.all(((0.0, 0.0), (bed.frame.length_m, 0.0)))
    if not isinstance(bed.outline, Rectangle):
        drawing.path((peg, end), HAIR_MM, dash="dashed")
    size = 0.8
    drawing.path(
        [(peg[0] + dx * size, peg[1] + dy * size) for dx, dy in ((-1, -1), (1, -1), (1, 1), (-1, 1))],
        HAIR_MM,
        closed=True,
        fill="black",
    )
    length = math.dist(peg, end)
    run = ((end[0] - peg[0]) / length, (end[1] - peg[1]) / length)
    tip = (peg[0] + run[0] * 4.2, peg[1] + run[1] * 4.2)
    wings = [
        (tip[0] - run[0] * 1.6 - sign * run[1] * 0.6, tip[1] - run[1] * 1.6 + sign * run[0] * 0.6)
        for sign in (1, -1)
    ]
    drawing.path([tip, *wings], HAIR_MM, closed=True, fill="black")


def planting_corners(planting: Planting, own: View, edge: Sequence[PaperPoint]) -> list[PaperPoint]:
    """The ground of a planting on paper, cut at the edge of its bed."""
    (a0, a1), (c0, c1) = planting.along_m, planting.across_m
    box = Polygon(own.all(((a0, c0), (a1, c0), (a1, c1), (a0, c1))))
    cut = box.intersection(Polygon(edge).buffer(0.01, join_style="mitre"))
    if not isinstance(cut, Polygon) or cut.is_empty:
        cut = box
    return [(x, y) for x, y in cut.exterior.coords[:-1]]


def row_points_m(row: Row) -> list[Point]:
    """Places of a row's plants in the bed's frame [m]."""
    if row.n_plants == 1:
        return [row.start_m]
    steps = row.n_plants - 1
    (a0, c0), (a1, c1) = row.start_m, row.end_m
    return [(a0 + (a1 - a0) * k / steps, c0 + (c1 - c0) * k / steps) for k in range(row.n_plants)]


def draw_planting(
    drawing: Drawing,
    planting: Planting,
    own: View,
    edge: Sequence[PaperPoint],
    hatch: Hatch,
    *,
    new: bool,
) -> None:
    """Hatched ground, plants at their spread, like plants joined by one line.

    New plants have a plus at the centre, plants that stand from earlier a small ring.
    """
    corners = planting_corners(planting, own, edge)
    hatch_area(drawing, corners, hatch)
    drawing.path(corners, FINE_MM, closed=True, dash="dashed")
    diameter_mm = own.scale.paper_mm(planting.crop.spread_m * SYMBOL_SHARE_OF_SPREAD)
    if diameter_mm < SMALLEST_SYMBOL_MM:
        _draw_drills(drawing, planting, own)
        return
    radius = diameter_mm / 2
    centres = [own.all(row_points_m(row)) for row in planting.rows]
    everyone = [centre for row in centres for centre in row]
    drawing.circles(everyone, radius, FINE_MM, fill="white")
    drawing.paths([row for row in centres if len(row) > 1], HAIR_MM, grey=35)
    arm = min(0.8, radius * 0.5)
    if new:
        drawing.paths(
            [[(x - arm, y), (x + arm, y)] for x, y in everyone]
            + [[(x, y - arm), (x, y + arm)] for x, y in everyone],
            HAIR_MM,
        )
    else:
        drawing.circles(everyone, min(0.5, radius * 0.4), FINE_MM, fill="white")


def _draw_drills(drawing: Drawing, planting: Planting, own: View) -> None:
    """Close rows as lines with a stop at each end."""
    lines, stops = [], []
    for row in planting.rows:
        one, other = own.all((row.start_m, row.end_m))
        length = math.dist(one, other)
        run = ((other[0] - one[0]) / length, (other[1] - one[1]) / length) if length else (1.0, 0.0)
        lines.append([one, other] if length else [(one[0] - 0.5, one[1]), (one[0] + 0.5, one[1])])
        stops += [
            [(x - run[1] * 0.6, y + run[0] * 0.6), (x + run[1] * 0.6, y - run[0] * 0.6)]
            for x, y in (one, other)
        ]
    drawing.paths(lines, THIN_MM)
    drawing.paths(stops, THIN_MM)


def planting_callout(planting: Planting, own: View, edge: Sequence[PaperPoint]) -> Callout:
    """Quantity and plan code, then the row codes."""
    return Callout(
        planting.code,
        (f"{planting.n_plants} {planting.crop.plan_code}", code_runs(row.code for row in planting.rows)),
        tuple(planting_corners(planting, own, edge)),
    )


def draw_feature(drawing: Drawing, feature: Feature, view: View) -> None:
    """A feature with its line type; see `LEGEND` for what each means."""
    points = view.all(feature.vertices_m)
    _FEATURES.get(feature.kind, _draw_area)(drawing, feature, points, view)


def _draw_area(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    if len(points) == 1:
        drawing.circles(points, 1.2, THIN_MM, fill="white")
        return
    closed = len(points) > 2
    drawing.path(points, MEDIUM_MM, closed=closed, fill="pale" if closed else "none")


def _draw_wall(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    drawing.path(points, 0.9)


def _draw_fence(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    drawing.path(points, THIN_MM)
    drawing.circles(_every(points, 4.0), 0.4, 0.0, fill="black")


def _draw_hedge(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    radius = max(0.9, view.scale.paper_mm(feature.radius_m))
    drawing.circles(_every(points, radius * 1.3), radius, FINE_MM)


def _draw_tree(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    radius = view.scale.paper_mm(feature.radius_m) if feature.radius_m else 2.0
    drawing.circles(points, radius, THIN_MM, dash="dashed")
    drawing.circles(points, 0.6, THIN_MM, fill="white")


def _draw_path(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    if len(points) > 2 and not feature.radius_m:
        drawing.path(points, HAIR_MM, closed=True, grey=30)
        return
    half = view.scale.paper_mm(feature.radius_m)
    for side in (-half, half):
        drawing.path(_beside(points, side), HAIR_MM, grey=30)


def _draw_tap(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    x, y = points[0]
    drawing.circles(points, 1.3, THIN_MM, fill="white")
    drawing.paths(
        [[(x - 0.9, y - 0.9), (x + 0.9, y + 0.9)], [(x - 0.9, y + 0.9), (x + 0.9, y - 0.9)]], THIN_MM
    )


def _draw_utility(drawing: Drawing, feature: Feature, points: list[PaperPoint], view: View) -> None:
    if len(points) == 1:
        x, y = points[0]
        drawing.path([(x, y - 1.4), (x + 1.3, y + 0.9), (x - 1.3, y + 0.9)], THIN_MM, closed=True)
        return
    drawing.path(points, MEDIUM_MM, dash="dash-dotted")


_FEATURES: Mapping[str, Callable[[Drawing, Feature, list[PaperPoint], View], None]] = {
    "wall": _draw_wall,
    "fence": _draw_fence,
    "hedge": _draw_hedge,
    "tree": _draw_tree,
    "path": _draw_path,
    "tap": _draw_tap,
    "utility": _draw_utility,
}


def _every(points: list[PaperPoint], step_mm: float) -> list[PaperPoint]:
    """Points along a line at about equal steps, both ends included."""
    made: list[PaperPoint] = [points[0]]
    for one, other in pairwise(points):
        n = max(1, round(math.dist(one, other) / step_mm))
        made += [
            (one[0] + (other[0] - one[0]) * k / n, one[1] + (other[1] - one[1]) * k / n)
            for k in range(1, n + 1)
        ]
    return made


def _beside(points: list[PaperPoint], offset_mm: float) -> list[PaperPoint]:
    """A line beside another; corners are cut where the offset ends meet."""
    made: list[PaperPoint] = []
    for one, other in pairwise(points):
        length = math.dist(one, other) or 1.0
        aside = (-(other[1] - one[1]) / length * offset_mm, (other[0] - one[0]) / length * offset_mm)
        made += [(one[0] + aside[0], one[1] + aside[1]), (other[0] + aside[0], other[1] + aside[1])]
    return made
