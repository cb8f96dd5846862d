"""Things that cast shade, as upright bodies on the site."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from shapely.geometry import LineString
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon as ShapelyPolygon

from bedwright.model.book import Feature
from bedwright.model.weather import FloatArray

BARE_CROWN_SHADE = 0.4
"""Share of the sun a leafless crown stops; a first guess from memory, no source looked up."""
DEFAULT_HALF_WIDTH_M = 0.1
"""Half the thickness of a wall or fence drawn as a line."""
CROWN_SIDES = 16
AREAS = frozenset({"building", "shed", "compost bay", "water butt"})
LINES = frozenset({"wall", "fence", "hedge"})


@dataclass(frozen=True, slots=True, eq=False)
class Obstacle:
    """An upright body: an outline between two heights.

    `outline_m` has shape (n, 2): east and north of its corners, closed (last = first).
    """

    name: str
    outline_m: FloatArray
    base_m: float
    top_m: float
    shade: tuple[float, ...]
    """Share of the direct sun it stops, January to December."""


def obstacles_of(features: Sequence[Feature]) -> tuple[Obstacle, ...]:
    """Bodies that cast shade among the features of a site; flat ones are left out.

    Buildings and walls stop all sun. A tree is its crown, from `crown_base_m` to
    `height_m`, as an upright 16-sided body; the trunk is left out. A crown in leaf stops
    all direct sun, a bare one the share `BARE_CROWN_SHADE`.
    """
    return tuple(obstacle for feature in features if feature.height_m > 0 for obstacle in _bodies_of(feature))


def _bodies_of(feature: Feature) -> list[Obstacle]:
    shape = _shape_of(feature)
    if shape is None or shape.is_empty:
        return []
    shade = tuple(BARE_CROWN_SHADE if month in feature.leafless_months else 1.0 for month in range(1, 13))
    outline_m = np.asarray(shape.exterior.coords, dtype=np.float64)[:, :2]
    return [Obstacle(feature.code, outline_m, feature.crown_base_m, feature.height_m, shade)]


def _shape_of(feature: Feature) -> ShapelyPolygon | None:
    n_points = len(feature.vertices_m)
    if feature.kind == "tree":
        return ShapelyPolygon(_crown(feature))
    if feature.kind in AREAS and n_points >= 3:
        return ShapelyPolygon(feature.vertices_m)
    if feature.kind in AREAS and n_points == 1 and feature.radius_m > 0:
        return ShapelyPoint(feature.vertices_m[0]).buffer(feature.radius_m, quad_segs=4)
    if feature.kind in LINES and n_points >= 2:
        half_width_m = feature.radius_m or DEFAULT_HALF_WIDTH_M
        widened = LineString(feature.vertices_m).buffer(half_width_m, cap_style="flat", join_style="mitre")
        return widened if isinstance(widened, ShapelyPolygon) else None
    return None


def _crown(feature: Feature) -> list[tuple[float, float]]:
    east_m, north_m = feature.vertices_m[0]
    # Corners a little outside the circle, so that the body has the circle's area.
    angle_rad = 2 * math.pi / CROWN_SIDES
    reach_m = feature.radius_m * math.sqrt(angle_rad / math.sin(angle_rad))
    return [
        (east_m + reach_m * math.sin(k * angle_rad), north_m + reach_m * math.cos(k * angle_rad))
        for k in range(CROWN_SIDES)
    ]
