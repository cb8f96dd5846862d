"""Places labels with leaders so that no label covers another, a bed or a leader.

Each label tries the ring of places round its target, nearest first; a place is refused if
the label would leave the sheet or touch a bed, another label or a leader, or if its leader
would cross another leader or label. A label that finds none is left out and reported, so
that the caller draws that part larger instead of printing a muddle.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from bedwright.papers.drawing import FINE_MM, Drawing, PaperPoint
from bedwright.papers.letters import SMALLEST_PT, line_height_mm, text_width_mm

DISTANCES_MM = (2.5, 4.5, 7.0, 10.0, 13.5, 18.0, 23.0, 29.0, 36.0, 45.0)
N_DIRECTIONS = 32
CLEARANCE_MM = (1.6, 0.7)
"""Free space beside and above every label."""
INSIDE_COST_MM = 16.0
"""A label inside its target hides plants: worth a leader of this length to avoid."""
_CROSSING_COST = 2.5
"""Cost of each millimetre of leader over somebody else's ground."""
_SLANT_COST = 0.25
_N_ROUNDS = 3
_LEADER_GAP_MM = 0.6

FloatArray = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Callout:
    """A label wanting a place."""

    key: str
    lines: tuple[str, ...]
    """First line bold: quantity and code; then row codes."""
    target: tuple[PaperPoint, ...]
    """Corners of what is labelled."""
    size_pt: float = SMALLEST_PT
    inside_cost_mm: float = INSIDE_COST_MM
    """What it costs to stand inside the target; 0 for a building, which hides nothing."""

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height of the words [mm]."""
        width = max(text_width_mm(line, self.size_pt, bold=k == 0) for k, line in enumerate(self.lines))
        return width, line_height_mm(self.size_pt) * len(self.lines)


@dataclass(frozen=True, slots=True)
class Placed:
    """A label in its place."""

    callout: Callout
    corner_mm: PaperPoint
    leader: tuple[PaperPoint, PaperPoint] | None
    """From the label to a point of the target; None where the label stands inside it."""
    cost: float

    @property
    def box(self) -> Polygon:
        """The ground the label takes."""
        (x, y), (w, h) = self.corner_mm, self.callout.size_mm
        return shapely.box(x, y, x + w, y + h)


@dataclass
class _Board:
    """What is already on the sheet."""

    blocked: BaseGeometry
    bounds_mm: tuple[float, float, float, float]
    placed: dict[str, Placed] = field(default_factory=dict)

    def others(self, key: str) -> tuple[BaseGeometry, BaseGeometry]:
        """Boxes and leaders of all labels but one."""
        rest = [p for k, p in self.placed.items() if k != key]
        lines = [shapely.LineString(p.leader) for p in rest if p.leader]
        return shapely.MultiPolygon([p.box for p in rest]), shapely.MultiLineString(lines)


@dataclass(frozen=True, slots=True)
class _Candidates:
    """Places of one label that keep clear of sheet edge and beds, with their costs."""

    callout: Callout
    target: Polygon
    low: FloatArray
    """(n, 2): upper left corners."""
    leaders: FloatArray
    """(n, 2, 2): from the label to the target."""
    costs: FloatArray


def place_callouts(
    callouts: Sequence[Callout],
    beds: Sequence[Sequence[PaperPoint]],
    bounds_mm: tuple[float, float, float, float],
) -> Mapping[str, Placed]:
    """Places for labels; keys that found none are missing.

    Parameters
    ----------
    callouts
        Labels wanted; `key` unique.
    beds
        Shapes no label may cover.
    bounds_mm
        Left, top, right and bottom of the room for labels. [mm]
    """
    shapes = [_shape(corners) for corners in beds]
    board = _Board(shapely.union_all(shapes) if shapes else Polygon(), bounds_mm)
    shapely.prepare(board.blocked)
    targets = {c.key: _shape(c.target) for c in callouts}
    everything = shapely.union_all(list(targets.values())) if targets else Polygon()
    order = sorted(callouts, key=lambda c: (-_depth_in(targets[c.key], board.blocked), c.key))
    candidates = [_candidates(c, targets[c.key], everything, board) for c in order]
    for _ in range(_N_ROUNDS):
        before = dict(board.placed)
        for each in candidates:
            found = _best(each, board)
            if found is not None:
                board.placed[each.callout.key] = found
        if before == board.placed:
            break
    return board.placed


def _shape(corners: Sequence[PaperPoint]) -> Polygon:
    """A valid shape, also for a point or a line."""
    if len(corners) == 1:
        return shapely.Point(corners[0]).buffer(0.4)
    if len(corners) == 2:
        return shapely.LineString(corners).buffer(0.2)
    shape = Polygon(corners)
    hull = shape if shape.is_valid else shape.convex_hull
    return hull if isinstance(hull, Polygon) else hull.buffer(0.2)


def _depth_in(target: Polygon, beds: BaseGeometry) -> float:
    """How deep a target lies within the beds: the deepest are placed first."""
    return round(float(target.centroid.distance(beds.boundary)), 6) if not beds.is_empty else 0.0


def _candidates(callout: Callout, target: Polygon, everything: BaseGeometry, board: _Board) -> _Candidates:
    """Ring of places round a target, thinned to those that the beds and the sheet permit."""
    centres = _ring(callout, target)
    half = np.array(callout.size_mm) / 2
    low, high = centres - half, centres + half
    x0, y0, x1, y1 = board.bounds_mm
    fits = (low[:, 0] >= x0) & (low[:, 1] >= y0) & (high[:, 0] <= x1) & (high[:, 1] <= y1)
    fits &= ~shapely.intersects(_roomy(low, high), board.blocked)
    low, high, centres = low[fits], high[fits], centres[fits]
    anchors = _anchors(target, centres)
    starts = np.clip(anchors, low - _LEADER_GAP_MM, high + _LEADER_GAP_MM)
    leaders = np.stack([starts, anchors], axis=1)
    lines = shapely.linestrings(leaders)
    foreign = shapely.difference(everything, target.buffer(0.05))
    over = shapely.length(shapely.intersection(lines, foreign))
    slant = np.abs(starts - anchors).min(axis=1, initial=np.inf) if len(low) else np.zeros(0)
    costs = shapely.length(lines) + _CROSSING_COST * over + _SLANT_COST * slant
    return _Candidates(callout, target, low, leaders, np.round(costs, 6))


def _roomy(low: FloatArray, high: FloatArray) -> NDArray[np.object_]:
    """Boxes with the free space they need."""
    free_low, free_high = low - CLEARANCE_MM, high + CLEARANCE_MM
    return np.asarray(shapely.box(free_low[:, 0], free_low[:, 1], free_high[:, 0], free_high[:, 1]))


def _best(each: _Candidates, board: _Board) -> Placed | None:
    """Cheapest place of one label beside all others as they stand."""
    other_boxes, other_leaders = board.others(each.callout.key)
    inside = _inside(each.callout, each.target, other_boxes, other_leaders)
    if len(each.low):
        roomy = _roomy(each.low, each.low + np.array(each.callout.size_mm))
        lines = shapely.linestrings(each.leaders)
        clash = shapely.intersects(roomy, other_boxes) | shapely.intersects(roomy, other_leaders)
        clash |= shapely.intersects(lines, shapely.buffer(other_boxes, 0.3)) | shapely.intersects(
            lines, other_leaders
        )
        costs = np.where(clash, np.inf, each.costs)
        best = int(np.argmin(costs))
        if np.isfinite(costs[best]) and (inside is None or costs[best] < inside.cost):
            (sx, sy), (ax, ay) = each.leaders[best].tolist()
            x, y = each.low[best].tolist()
            return Placed(each.callout, (x, y), ((sx, sy), (ax, ay)), float(costs[best]))
    return inside


def _directions() -> FloatArray:
    """Steps from a centre to the rim of the square round it."""
    angles = 2 * np.pi * np.arange(N_DIRECTIONS) / N_DIRECTIONS
    aims = np.column_stack([np.cos(angles), np.sin(angles)])
    return np.asarray(aims / np.abs(aims).max(axis=1, keepdims=True))


_DIRECTIONS = _directions()


def _ring(callout: Callout, target: Polygon) -> FloatArray:
    """Centres of candidate places round a target, nearest first."""
    x0, y0, x1, y1 = target.bounds
    middle = np.array([(x0 + x1) / 2, (y0 + y1) / 2])
    extent = (np.array([x1 - x0, y1 - y0]) + np.array(callout.size_mm)) / 2
    reach = extent + np.array(DISTANCES_MM)[:, None]
    return np.asarray((middle + reach[:, None, :] * _DIRECTIONS[None, :, :]).reshape(-1, 2))


def _anchors(target: Polygon, centres: FloatArray) -> FloatArray:
    """Where the leader of each candidate ends: in the inner half of the target, nearest to the label."""
    core = shapely.affinity.scale(target, 0.5, 0.5, origin="centroid")
    shortest = shapely.shortest_line(shapely.points(centres), core)
    return np.asarray(shapely.get_coordinates(shortest).reshape(-1, 2, 2)[:, 1, :])


def _inside(
    callout: Callout, target: Polygon, other_boxes: BaseGeometry, other_leaders: BaseGeometry
) -> Placed | None:
    """The place within the target, if it is free and large enough."""
    width, height = callout.size_mm
    centre = roomiest_point(target)
    corner = (centre.x - width / 2, centre.y - height / 2)
    placed = Placed(callout, corner, None, callout.inside_cost_mm)
    box = placed.box
    free = not box.intersects(other_boxes) and not box.intersects(other_leaders)
    return placed if free and target.contains(box.buffer(0.5)) else None


def roomiest_point(shape: Polygon) -> shapely.Point:
    """Centre of the largest circle inside a shape; its centroid where that is as good."""
    inscribed = shapely.maximum_inscribed_circle(shape, tolerance=0.05)
    centre = shape.centroid
    roomy = shape.contains(centre) and shape.exterior.distance(centre) >= 0.95 * inscribed.length
    return centre if roomy else shapely.Point(inscribed.coords[0])


def draw_callouts(drawing: Drawing, placed: Mapping[str, Placed]) -> None:
    """Leaders first, then the words."""
    for place in placed.values():
        if place.leader is not None:
            drawing.path(place.leader, FINE_MM)
            drawing.circles((place.leader[1],), 0.35, 0.0, fill="black")
    for place in placed.values():
        step = line_height_mm(place.callout.size_pt)
        x, y = place.corner_mm
        for k, line in enumerate(place.callout.lines):
            drawing.text(x, y + step * (k + 0.5), line, size_pt=place.callout.size_pt, bold=k == 0, halo=True)
