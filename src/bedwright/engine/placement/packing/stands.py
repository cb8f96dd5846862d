"""Exact places of plants of one crop in an outline: rows of any angle, or without rows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.packing.relaxing import least_apart_m, moved_apart
from bedwright.engine.placement.packing.rows import MOST_PIECES, best_rows, points_of
from bedwright.model.ground import Point
from bedwright.model.weather import BoolArray, FloatArray

MOST_ROWS = 2000
N_TURNS = 12
"""Angles tried between 0 and 180 degrees, besides those of the outline's edges."""

N_OFFSETS = 4
"""Places of the first row tried, besides rows spread over the whole ground."""

N_HALVINGS = 16
EDGE_SHARE = 0.5
"""Half the distance between plants is kept to the edge, as by every planting."""

N_STARTS = 12
N_MORE = 4
MOST_LOOSE = 60
"""More plants than these are set out in rows by anybody, and take too long to try without."""

JITTER = 0.35
"""Share of the distance by which plants are moved before they are let apart."""


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """Where the plants of one crop stand."""

    points_m: FloatArray
    """(n_plants, 2): along and across in the frame of the outline, row by row."""
    apart_m: float
    """Least distance between two plants; infinite for one."""
    angle_deg: float | None
    """From the baseline to the rows, 0 to 180; None: no rows."""
    row_m: float | None
    """Between rows; None: no rows, or one."""
    in_row_m: float | None

    @property
    def n_plants(self) -> int:
        """Plants that stand."""
        return len(self.points_m)


def most_in_rows(
    vertices_m: Sequence[Point],
    apart_m: float,
    edge_m: float,
    *,
    angles_deg: Sequence[float] | None = None,
) -> Stand:
    """Most plants at least so far apart, in straight rows.

    Rows are square, offset by half a gap, or stretched; their angle, the place of the first
    and where along them plants begin are searched.

    Parameters
    ----------
    vertices_m
        Corners of a simple outline in order round it. [m]
    apart_m
        Least distance between any two plants. [m], above 0
    edge_m
        Least distance to the outline. [m], 0 or more
    angles_deg
        Angles of rows to try; None: along every edge, and `N_TURNS` others. [°]

    Returns
    -------
    Stand
        Without plants if none fits.

    Raises
    ------
    ValueError
        If the distance is not above 0, or so small that more than 2,000 rows would stand.

    Limits
    ------
    The best of what is tried, not proved to be the most; compared with the best packings
    known in docs/packing.md.
    """
    corners_m = _corners(vertices_m)
    extent_m = float(np.hypot(*(corners_m.max(axis=0) - corners_m.min(axis=0))))
    if not apart_m > 0 or extent_m / apart_m > MOST_ROWS / 2:
        raise ValueError(f"apart_m: got {apart_m}; expected at least {extent_m * 2 / MOST_ROWS:.3g} m here")
    return _in_rows(corners_m, _angles_rad(corners_m, angles_deg), apart_m, edge_m, N_OFFSETS, 2**31)


def widest_in_rows(
    vertices_m: Sequence[Point],
    n_plants: int,
    *,
    edge_cap_m: float = math.inf,
    angles_deg: Sequence[float] | None = None,
    n_offsets: int = N_OFFSETS,
) -> Stand:
    """At least so many plants in straight rows, as far from each other as can be.

    Parameters
    ----------
    vertices_m, angles_deg
        As in `most_in_rows`.
    n_plants
        1 or more.
    edge_cap_m
        Half the distance is kept to the edge, but never more than this. [m]
    n_offsets
        Places of the first row tried.

    Raises
    ------
    ValueError
        If no plant is asked for.
    """
    if n_plants < 1:
        raise ValueError(f"n_plants: got {n_plants}; expected 1 or more")
    corners_m = _corners(vertices_m)
    angles_rad = _angles_rad(corners_m, angles_deg)
    high_m = _upper_m(corners_m, n_plants, edge_cap_m)
    found = None
    low_m = high_m / 2
    while found is None:
        edge_m = min(EDGE_SHARE * low_m, edge_cap_m)
        stand = _in_rows(corners_m, angles_rad, low_m, edge_m, n_offsets, n_plants)
        if stand.n_plants >= n_plants:
            found = stand
        else:
            high_m, low_m = low_m, low_m / 2
    for _ in range(N_HALVINGS):
        middle_m = (low_m + high_m) / 2
        edge_m = min(EDGE_SHARE * middle_m, edge_cap_m)
        stand = _in_rows(corners_m, angles_rad, middle_m, edge_m, n_offsets, n_plants)
        if stand.n_plants >= n_plants:
            low_m, found = middle_m, stand
        else:
            high_m = middle_m
    return found


def widest_of_all(
    vertices_m: Sequence[Point],
    n_plants: int,
    *,
    seed: int,
    edge_cap_m: float = math.inf,
    enough_m: float = math.inf,
) -> Stand:
    """At least so many plants as far from each other as can be found, in rows or not.

    Starts from the best rows and from rows with more plants, thinned and shaken, and lets the
    plants move apart.

    Parameters
    ----------
    vertices_m, n_plants, edge_cap_m
        As in `widest_in_rows`.
    seed
        Of the shaking; the same seed gives the same places.
    enough_m
        The search ends once plants stand so far apart. [m]

    Limits
    ------
    The best of what is tried, not proved. Takes one or two seconds at 30 plants.
    """
    corners_m = _corners(vertices_m)
    best = widest_in_rows(vertices_m, n_plants, edge_cap_m=edge_cap_m)
    best_m = least_apart_m(best.points_m, corners_m, EDGE_SHARE, edge_cap_m)
    rng = np.random.default_rng(seed)
    # Rows with a few plants too many give other patterns than those with just enough.
    patterns = [widest_in_rows(vertices_m, n_plants + more, edge_cap_m=edge_cap_m) for more in range(N_MORE)]
    for start in range(N_STARTS):
        if best_m >= enough_m:
            break
        rows = patterns[start % N_MORE]
        chosen = np.sort(rng.permutation(rows.n_plants)[:n_plants])
        points_m = rows.points_m[chosen]
        if start:
            points_m = _shaken(points_m, corners_m, rows.apart_m, rng)
        moved_m, apart_m = moved_apart(points_m, corners_m, EDGE_SHARE, edge_cap_m)
        if apart_m > best_m * (1 + 1e-9):
            best_m, best = apart_m, Stand(_in_order(moved_m), apart_m, None, None, None)
    return best


def most_of_all(vertices_m: Sequence[Point], apart_m: float, edge_m: float, *, seed: int) -> Stand:
    """Most plants at least so far apart that can be found, in rows or, up to 60 plants, without.

    Parameters
    ----------
    vertices_m, apart_m
        As in `most_in_rows`.
    edge_m
        Least distance to the outline. [m], above 0, at most half of `apart_m`
    seed
        As in `widest_of_all`.

    Raises
    ------
    ValueError
        If the distance to the outline is out of range.
    """
    if not 0 < edge_m <= EDGE_SHARE * apart_m * (1 + 1e-9):
        raise ValueError(f"edge_m: got {edge_m}; expected above 0 and at most {EDGE_SHARE * apart_m:.3g}")
    best = most_in_rows(vertices_m, apart_m, edge_m)
    enough_m = apart_m * (1 - 1e-9)
    while best.n_plants < MOST_LOOSE:
        more = widest_of_all(vertices_m, best.n_plants + 1, seed=seed, edge_cap_m=edge_m, enough_m=enough_m)
        if more.apart_m < enough_m:
            break
        best = more
    return best


def _in_rows(
    corners_m: FloatArray, angles_rad: FloatArray, apart_m: float, edge_m: float, n_offsets: int, enough: int
) -> Stand:
    extent_m = float(np.hypot(*(corners_m.max(axis=0) - corners_m.min(axis=0))))
    n_rows = max(2, min(MOST_ROWS, int(extent_m / apart_m * 2) + 3))
    pieces, n_pieces = np.zeros((2, n_rows, MOST_PIECES)), np.zeros(n_rows, dtype=np.int64)
    scratch = np.zeros(len(corners_m))
    rows = best_rows(corners_m, angles_rad, apart_m, edge_m, n_offsets, enough, pieces, n_pieces, scratch)
    if rows[0] == 0:
        return Stand(np.zeros((0, 2)), math.inf, None, None, None)
    points_m = points_of(corners_m, apart_m, edge_m, rows, pieces, n_pieces, scratch)
    return Stand(
        points_m,
        apart_m if len(points_m) > 1 else math.inf,
        math.degrees(rows[1]),
        float(rows[3]) if rows[7] > 1 else None,
        float(rows[4]),
    )


def _corners(vertices_m: Sequence[Point]) -> FloatArray:
    return np.array(vertices_m, dtype=np.float64)


def _angles_rad(corners_m: FloatArray, angles_deg: Sequence[float] | None) -> FloatArray:
    if angles_deg is not None:
        return np.asarray(np.radians(angles_deg), dtype=np.float64)
    run_m: FloatArray = np.roll(corners_m, -1, axis=0) - corners_m
    edges_deg = np.round(np.degrees(np.arctan2(run_m[:, 1], run_m[:, 0])), 6) % 180
    turns_deg = np.round(edges_deg[0] + np.arange(N_TURNS) * 180 / N_TURNS, 6) % 180
    # The string line comes first, so that a turned pattern is taken only where it holds more.
    ordered = dict.fromkeys((0.0, 90.0, *edges_deg.tolist(), *turns_deg.tolist()))
    return np.asarray(np.radians(list(ordered)), dtype=np.float64)


def _upper_m(corners_m: FloatArray, n_plants: int, edge_cap_m: float) -> float:
    """A distance that so many plants cannot keep in a convex outline.

    Source
    ------
    Groemer (1960) and Oler (1961): of points at least 1 apart, a convex outline of area A and
    perimeter P holds at most 2 A / √3 + P / 2 + 1. From memory.
    """
    following_m = np.roll(corners_m, -1, axis=0)
    crossed_m2 = corners_m[:, 0] * following_m[:, 1] - corners_m[:, 1] * following_m[:, 0]
    area_m2 = abs(float(np.sum(crossed_m2))) / 2
    round_m = float(np.hypot(*(following_m - corners_m).T).sum())
    box_m = corners_m.max(axis=0) - corners_m.min(axis=0)
    longest_m = float(np.hypot(*box_m)) * 1.001
    if math.isinf(edge_cap_m):
        longest_m = float(box_m.min()) * 1.001
    if n_plants == 1:
        return longest_m
    half, whole = round_m / 4, 2 * area_m2 / math.sqrt(3)
    bound_m = (half + math.sqrt(half**2 + (n_plants - 1) * whole)) / (n_plants - 1)
    return min(longest_m, bound_m)


def _shaken(
    points_m: FloatArray, corners_m: FloatArray, apart_m: float, rng: np.random.Generator
) -> FloatArray:
    """Points moved a little at random, those that would leave the outline left where they were."""
    reach_m = JITTER * min(apart_m, 1e6)
    moved_m = points_m + rng.uniform(-reach_m, reach_m, points_m.shape)
    kept = _inside(moved_m, corners_m)
    shaken: FloatArray = np.where(kept[:, None], moved_m, points_m)
    return shaken


def _inside(points_m: FloatArray, corners_m: FloatArray) -> BoolArray:
    following_m = np.roll(corners_m, -1, axis=0)
    y = points_m[:, 1][:, None]
    crosses = (corners_m[:, 1] <= y) != (following_m[:, 1] <= y)
    with np.errstate(divide="ignore", invalid="ignore"):
        x = corners_m[:, 0] + (y - corners_m[:, 1]) / (following_m[:, 1] - corners_m[:, 1]) * (
            following_m[:, 0] - corners_m[:, 0]
        )
    odd: BoolArray = np.sum(crosses & (x > points_m[:, 0][:, None]), axis=1) % 2 == 1
    return odd


def _in_order(points_m: FloatArray) -> FloatArray:
    """Along the baseline, then across it."""
    order = np.lexsort((points_m[:, 1], np.round(points_m[:, 0], 3)))
    return np.asarray(points_m[order])
