"""How far the plants of a row stand from where one can stand, measured on the drawing."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray

from bedwright.model.book import Bed
from bedwright.model.ground import LocalSide, local_vertices_m

OUT_OF: dict[LocalSide, tuple[float, float]] = {
    "left": (0.0, -1.0),
    "right": (0.0, 1.0),
    "start": (-1.0, 0.0),
    "end": (1.0, 0.0),
}
"""Out of a bed, along and across its baseline."""

STOOD_AT_DEG = 60.0
"""An edge that faces a side by no more than this is stood at from that side. Our own."""


def farthest_m(bed: Bed, plants_m: NDArray[np.float64]) -> float:
    """Distance of the farthest plant from the nearest edge one can stand at [m].

    Parameters
    ----------
    bed
        Its outline, the sides it is reached from, and whether one can stand inside it.
    plants_m
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
    return float(shapely.distance(shapely.points(plants_m), edges).max())


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
