"""The checker's own look at how far plants stand from where one can stand, measured on the drawing."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from bedwright.engine.placement.check_rows import ROUNDING_M, plants_m
from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.rules import PlantingRules
from bedwright.model.book import Bed
from bedwright.model.ground import LocalSide, local_vertices_m
from bedwright.model.season import Planting

OUT_OF: dict[LocalSide, tuple[float, float]] = {
    "left": (0.0, -1.0),
    "right": (0.0, 1.0),
    "start": (-1.0, 0.0),
    "end": (1.0, 0.0),
}
"""Out of a bed, along and across its baseline."""

FIRST_LINE_M = 0.05
"""No line of plants stands nearer to the beginning of a bed, where an odd outline may be a mere point."""

STOOD_AT_DEG = 60.0
"""An edge that faces a side by no more than this is stood at from that side. Our own."""


def within_reach(planting: Planting, bed: Bed, rules: PlantingRules, *, settled: bool) -> Iterator[Violation]:
    """Every plant is within an arm's length of where one can stand.

    Parameters
    ----------
    settled
        True if the planting is pinned to its place: where nothing is in reach there, it stays.
    """
    if settled and nothing_in_reach(bed, planting.along_m[0], rules.arms_length_m):
        return
    away_m = farthest_m(bed, plants_m(planting)) if planting.rows else 0.0
    if away_m > rules.arms_length_m + ROUNDING_M:
        yield Violation(
            "out of reach",
            bed.code,
            (planting.code,),
            away_m,
            rules.arms_length_m,
            "m or less from where one can stand",
        )


def nothing_in_reach(bed: Bed, start_m: float, arm_m: float) -> bool:
    """True if no arm reaches any of the line square to the baseline at which ground starts.

    Parameters
    ----------
    start_m
        From the peg along the baseline [m].
    arm_m
        How far one reaches [m].
    """
    if bed.stepping_boards:
        return False
    along_m = max(start_m, FIRST_LINE_M)
    outline = shapely.Polygon(local_vertices_m(bed.outline))
    low_m, high_m = outline.bounds[1], outline.bounds[3]
    line = outline.intersection(shapely.LineString([(along_m, low_m - 1), (along_m, high_m + 1)]))
    edges = _stood_at(bed)
    if line.is_empty or edges.is_empty:
        return not line.is_empty
    return float(line.distance(edges)) >= arm_m - ROUNDING_M


def farthest_m(bed: Bed, stations_m: NDArray[np.float64]) -> float:
    """Distance of the farthest plant from the nearest edge one can stand at [m].

    Parameters
    ----------
    bed
        Its outline, the sides it is reached from, and whether one can stand inside it.
    stations_m
        (n_plants, 2), in the bed's frame.

    Returns
    -------
    float
        0 where one can stand inside the bed, inf where one can stand nowhere.
    """
    if bed.stepping_boards:
        return 0.0
    edges = _stood_at(bed)
    if edges.is_empty:
        return float("inf")
    return float(shapely.distance(shapely.points(stations_m), edges).max())


def _stood_at(bed: Bed) -> shapely.MultiLineString:
    """Edges of the outline that one can stand at."""
    sides = {bed.frame.local_side(side) for side in bed.reach}
    outline = shapely.geometry.polygon.orient(shapely.Polygon(local_vertices_m(bed.outline)))
    corners = list(outline.exterior.coords)
    found = []
    for start, end in pairwise(corners):
        run_along, run_across = end[0] - start[0], end[1] - start[1]
        # Round a polygon counterclockwise the outside lies to the right.
        outward = np.array([run_across, -run_along]) / max(np.hypot(run_along, run_across), 1e-12)
        turned_deg = [
            float(np.degrees(np.arccos(np.clip(outward @ np.array(OUT_OF[side]), -1, 1)))) for side in sides
        ]
        if len(sides) == len(OUT_OF) or any(angle <= STOOD_AT_DEG + 1e-3 for angle in turned_deg):
            found.append((start, end))
    return shapely.MultiLineString(found)
