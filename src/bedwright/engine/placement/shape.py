"""The outline of a bed in its own frame and the free stretches of a line across it."""

from __future__ import annotations

import math
from collections.abc import Hashable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

import numpy as np

from bedwright.model.book import Bed
from bedwright.model.ground import LocalSide, Point, Rectangle, local_vertices_m
from bedwright.model.season import RowDirection
from bedwright.model.weather import FloatArray

Piece = tuple[float, float]
"""From and to on a line [m]."""

N_DIGITS_M = 6
"""Positions are rounded to a micrometre, so that a turned site gives the same bed."""

OUTWARD: dict[LocalSide, Point] = {
    "left": (0.0, -1.0),
    "right": (0.0, 1.0),
    "start": (-1.0, 0.0),
    "end": (1.0, 0.0),
}
"""Direction out of a bed on each side, along and across its baseline."""

FACING = 0.5 - 1e-6
"""Cosine of 60 degrees: an edge of an odd outline that faces a side by less is stood at from that side."""

Beyond = tuple[Piece, Piece]
"""Ground of a rectangle that no arm reaches: from and to along the baseline, then across it."""


@dataclass(frozen=True, slots=True, eq=False)
class BedShape:
    """Outline of one bed in its frame, rounded, and what has been measured on it so far."""

    length_m: float
    width_m: float
    vertices_m: tuple[Point, ...]
    rectangular: bool
    area_m2: float
    measured: dict[Hashable, Any] = field(default_factory=dict)
    """Answers to questions asked before; holds nothing that could not be worked out again."""
    arm_m: float = math.inf
    """How far into the bed one reaches; inf where one can stand inside it, or it does not matter."""
    stood_at: tuple[bool, ...] = ()
    """By edge of the outline from each corner to the next: whether one can stand there."""
    beyond: Beyond | None = None
    """What of a rectangle is out of reach, infinite where it goes to the edge; None if nothing is."""

    def extent_m(self, direction: RowDirection) -> tuple[float, float]:
        """(along a row, square to it): how far the bed reaches, seen by rows of a direction."""
        if direction == "along":
            return self.length_m, self.width_m
        return self.width_m, self.length_m


def bed_shape(bed: Bed, arm_m: float = math.inf) -> BedShape:
    """Outline of a bed in its own frame.

    Parameters
    ----------
    arm_m
        How far into it one reaches from its sides; it does not matter where one can stand inside it.
    """
    frame = bed.frame
    vertices = tuple(
        (round(along, N_DIGITS_M) + 0.0, round(across, N_DIGITS_M) + 0.0)
        for along, across in local_vertices_m(bed.outline)
    )
    length_m, width_m = round(frame.length_m, N_DIGITS_M), round(frame.width_m, N_DIGITS_M)
    corners = {(0.0, 0.0), (length_m, 0.0), (length_m, width_m), (0.0, width_m)}
    rectangular = isinstance(bed.outline, Rectangle) or (len(vertices) == 4 and set(vertices) == corners)
    sides = tuple(dict.fromkeys(frame.local_side(side) for side in bed.reach))
    arm_m = math.inf if bed.stepping_boards else arm_m
    return _shape_of(length_m, width_m, vertices, rectangular, sides, arm_m)


@lru_cache(maxsize=64)
def _shape_of(
    length_m: float,
    width_m: float,
    vertices: tuple[Point, ...],
    rectangular: bool,
    sides: tuple[LocalSide, ...],
    arm_m: float,
) -> BedShape:
    """Kept with what was measured on it: a garden is planned again with the same beds."""
    return BedShape(
        length_m,
        width_m,
        vertices,
        rectangular,
        _area_m2(vertices),
        arm_m=arm_m,
        stood_at=_stood_at(vertices, sides),
        beyond=_beyond(length_m, width_m, sides, arm_m) if rectangular else None,
    )


def _beyond(length_m: float, width_m: float, sides: Sequence[LocalSide], arm_m: float) -> Beyond | None:
    """What of a rectangle is farther from every side one can stand at than an arm reaches."""
    low_a, high_a = (
        arm_m if "start" in sides else -math.inf,
        length_m - arm_m if "end" in sides else math.inf,
    )
    low_c, high_c = (
        arm_m if "left" in sides else -math.inf,
        width_m - arm_m if "right" in sides else math.inf,
    )
    in_bed = max(low_a, 0.0) < min(high_a, length_m) and max(low_c, 0.0) < min(high_c, width_m)
    return ((low_a, high_a), (low_c, high_c)) if in_bed else None


def _stood_at(vertices_m: tuple[Point, ...], sides: Sequence[LocalSide]) -> tuple[bool, ...]:
    """Edges that face a side one can stand at by at most 60 degrees; all where one can stand all round."""
    if len(sides) == len(OUTWARD):
        return (True,) * len(vertices_m)
    points = np.array(vertices_m)
    run = np.roll(points, -1, axis=0) - points
    following = np.roll(points, -1, axis=0)
    turn = np.sign(np.sum(points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1]))
    length = np.hypot(run[:, 0], run[:, 1])
    outward = np.stack([run[:, 1], -run[:, 0]], axis=1) * turn / np.where(length > 0, length, 1)[:, None]
    ways = np.array([OUTWARD[side] for side in sides]).reshape(-1, 2)
    return tuple((outward @ ways.T >= FACING).any(axis=1).tolist())


def _area_m2(vertices_m: tuple[Point, ...]) -> float:
    """Area inside an outline (shoelace formula)."""
    points = np.array(vertices_m)
    following = np.roll(points, -1, axis=0)
    doubled = np.sum(points[:, 0] * following[:, 1] - following[:, 0] * points[:, 1])
    return round(float(abs(doubled) / 2), N_DIGITS_M)


def free_pieces(
    shape: BedShape, direction: RowDirection, positions_m: FloatArray, clearance_m: float
) -> list[list[Piece]]:
    """Stretches of straight lines that keep a clearance to the outline.

    Parameters
    ----------
    shape
        The bed.
    direction
        "along": lines run along the baseline, `positions_m` are measured across it;
        "across": the other way round.
    positions_m
        Shape (n_lines,) [m].
    clearance_m
        Least distance of every point to the outline [m], above 0.

    Returns
    -------
    list of list of (from, to)
        For each line, its stretches in order. Exact: the points of a line within the
        clearance of one edge form a single interval, which is taken away.
    """
    points = np.array(shape.vertices_m)
    if direction == "across":
        points = points[:, ::-1]
    starts, ends = points, np.roll(points, -1, axis=0)
    low, high = _intervals_near_edges(starts, ends, positions_m, clearance_m)
    inside = _inside(starts, ends, positions_m)
    result: list[list[Piece]] = []
    for line, stretches in enumerate(inside):
        near = np.flatnonzero(np.isfinite(low[line]))
        blocked = sorted((float(low[line, edge]), float(high[line, edge])) for edge in near)
        result.append(_subtract(stretches, blocked))
    return result


def near_pieces(
    shape: BedShape, direction: RowDirection, positions_m: FloatArray, pieces: Sequence[Sequence[Piece]]
) -> list[list[Piece]]:
    """What of stretches of straight lines is within an arm's length of where one can stand.

    Parameters
    ----------
    pieces
        Stretches of each line, in order, as from `free_pieces`.
    """
    points = np.array(shape.vertices_m)
    if direction == "across":
        points = points[:, ::-1]
    stood_at = np.array(shape.stood_at)
    starts, ends = points[stood_at], np.roll(points, -1, axis=0)[stood_at]
    low, high = _intervals_near_edges(starts, ends, positions_m, shape.arm_m)
    found: list[list[Piece]] = []
    for line, stretches in enumerate(pieces):
        near = np.flatnonzero(np.isfinite(low[line]))
        reached = _joined(sorted((float(low[line, edge]), float(high[line, edge])) for edge in near))
        found.append(
            [
                (max(start, begin), min(end, stop))
                for start, end in stretches
                for begin, stop in reached
                if max(start, begin) <= min(end, stop)
            ]
        )
    return found


def _joined(pieces: Sequence[Piece]) -> list[Piece]:
    """Sorted stretches, those that touch put together."""
    found: list[Piece] = []
    for low, high in pieces:
        if found and low <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], high))
        else:
            found.append((low, high))
    return found


def _inside(starts: FloatArray, ends: FloatArray, positions_m: FloatArray) -> list[list[Piece]]:
    """Stretches inside the outline, by even and odd crossings."""
    y1, y2 = starts[:, 1][None, :], ends[:, 1][None, :]
    y = positions_m[:, None]
    crosses = (y1 <= y) != (y2 <= y)
    with np.errstate(divide="ignore", invalid="ignore"):
        x = starts[:, 0] + (y - y1) / (y2 - y1) * (ends[:, 0] - starts[:, 0])
    found: list[list[Piece]] = []
    for line in range(len(positions_m)):
        crossings = sorted(float(value) for value in x[line, crosses[line]])
        found.append(list(zip(crossings[::2], crossings[1::2], strict=False)))
    return found


def _intervals_near_edges(
    starts: FloatArray, ends: FloatArray, positions_m: FloatArray, clearance_m: float
) -> tuple[FloatArray, FloatArray]:
    """Interval of each line closer to each edge than the clearance, (n_lines, n_edges); inf if none."""
    y = positions_m[:, None]
    low = np.full((len(positions_m), len(starts)), np.inf)
    high = -low
    for corner in (starts, ends):
        square = clearance_m**2 - (y - corner[:, 1]) ** 2
        half = np.sqrt(np.clip(square, 0, None))
        hit = square > 0
        low = np.where(hit, np.minimum(low, corner[:, 0] - half), low)
        high = np.where(hit, np.maximum(high, corner[:, 0] + half), high)
    run = ends - starts
    length = np.hypot(run[:, 0], run[:, 1])
    unit = np.stack([-run[:, 1], run[:, 0]], axis=1) / np.where(length > 0, length, 1)[:, None]
    normal = unit * clearance_m
    # Corners of the strip on both sides of the edge, in order round it.
    strip = (starts + normal, ends + normal, ends - normal, starts - normal)
    for one, other in zip(strip, (*strip[1:], strip[0]), strict=True):
        rise = other[:, 1] - one[:, 1]
        hit = (np.minimum(one[:, 1], other[:, 1]) < y) & (y < np.maximum(one[:, 1], other[:, 1]))
        with np.errstate(divide="ignore", invalid="ignore"):
            x = one[:, 0] + (y - one[:, 1]) / rise * (other[:, 0] - one[:, 0])
        low = np.where(hit, np.minimum(low, x), low)
        high = np.where(hit, np.maximum(high, x), high)
    return low, high


def _subtract(stretches: list[Piece], blocked: list[Piece]) -> list[Piece]:
    """What is left of stretches after taking away sorted open intervals."""
    left: list[Piece] = []
    for start, end in stretches:
        at = start
        for low, high in blocked:
            if high <= at:
                continue
            if low >= end:
                break
            if low >= at:
                left.append((at, low))
            at = max(at, high)
        if at <= end:
            left.append((at, end))
    return left
