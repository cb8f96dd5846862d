"""Things that cast shade, as upright bodies on the site."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from shapely.geometry import LinearRing, LineString
from shapely.geometry import MultiPolygon as ShapelyMultiPolygon
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon as ShapelyPolygon
from shapely.geometry.base import BaseGeometry
from shapely.validation import make_valid

from bedwright.model.book import Bed, Feature
from bedwright.model.ground import Point, outline_vertices_m

BARE_CROWN_SHADE = 0.4
"""Share of the direct sun a leafless crown stops.

HEISLER86: in the shade of a mid-sized leafless sugar maple a south wall got nearly 40 % less
sun under clear sky, behind a London plane a little less. Light from the sky is part of that
measurement, so the share of the direct sun alone is rather higher.
"""
DEFAULT_HALF_WIDTH_M = 0.1
"""Half the thickness of a wall or fence drawn as a line; common practice, no source."""
CROWN_SIDES = 16
LEAST_AREA_M2 = 1e-6
OPAQUE = (1.0,) * 12
AREAS = frozenset({"building", "shed", "compost bay", "water butt"})
LINES = frozenset({"wall", "fence", "hedge"})


@dataclass(frozen=True, slots=True)
class Obstacle:
    """An upright body: an outline between two heights.

    Compared by value, so that what was worked out for a body holds as long as it stays equal.
    """

    name: str
    outline_m: tuple[Point, ...]
    """East and north of its corners, closed (last = first)."""
    base_m: float
    """Height of its lower side above the ground; 0 for what stands on the ground."""
    top_m: float
    shade: tuple[float, ...] = OPAQUE
    """Share of the direct sun it stops, January to December."""
    follows_ground: bool = False
    """True for walls and hedges, whose top runs with a slope; False for level tops."""
    holes_m: tuple[tuple[Point, ...], ...] = ()
    """Rings of open ground inside, such as that of a hedge planted all round."""


def obstacles_of(features: Sequence[Feature]) -> tuple[Obstacle, ...]:
    """Bodies that cast shade among the features of a site; flat ones are left out.

    Buildings and walls stop all sun. A tree is its crown, from `crown_base_m` to
    `height_m`, as an upright 16-sided body with the area of the crown; the trunk is left
    out. A crown in leaf stops all direct sun, a bare one the share `BARE_CROWN_SHADE`.

    Source
    ------
    HEISLER86 for bare crowns. In leaf the same tree took about 80 % of all light from the
    wall; what was left is taken as light from the sky.

    Limits
    ------
    Outlines that cross themselves are mended; those without area (a building drawn as a
    line, a fence of one point) cast no shade.
    """
    return tuple(obstacle for feature in features if feature.height_m > 0 for obstacle in _bodies_of(feature))


def bed_obstacles(beds: Sequence[Bed]) -> tuple[Obstacle, ...]:
    """The sides of raised beds, which shade the ground beside them."""
    return tuple(
        body
        for bed in beds
        if bed.raised_m > 0
        for body in solid(bed.code, ShapelyPolygon(outline_vertices_m(bed.outline)), 0.0, bed.raised_m)
    )


def solid(
    name: str,
    shape: BaseGeometry,
    base_m: float,
    top_m: float,
    shade: tuple[float, ...] = OPAQUE,
    *,
    follows_ground: bool = False,
) -> tuple[Obstacle, ...]:
    """Upright bodies over a shape; one for each of its separate parts, none without area."""
    if top_m <= base_m:
        return ()
    valid = shape if shape.is_valid else make_valid(shape)
    return tuple(
        Obstacle(
            name,
            _ring(part.exterior),
            max(0.0, base_m),
            top_m,
            shade,
            follows_ground,
            tuple(_ring(hole) for hole in part.interiors),
        )
        for part in _polygons(valid)
        if part.area > LEAST_AREA_M2
    )


def _ring(ring: LinearRing) -> tuple[Point, ...]:
    return tuple((float(east_m), float(north_m)) for east_m, north_m in ring.coords)


def _polygons(shape: BaseGeometry) -> list[ShapelyPolygon]:
    if isinstance(shape, ShapelyPolygon):
        return [] if shape.is_empty else [shape]
    parts: Sequence[BaseGeometry] = getattr(shape, "geoms", ())
    return [polygon for part in parts for polygon in _polygons(part)]


def _bodies_of(feature: Feature) -> tuple[Obstacle, ...]:
    shape = _shape_of(feature)
    if shape is None:
        return ()
    shade = tuple(BARE_CROWN_SHADE if month in feature.leafless_months else 1.0 for month in range(1, 13))
    follows = feature.kind in LINES
    return solid(feature.code, shape, feature.crown_base_m, feature.height_m, shade, follows_ground=follows)


def _shape_of(feature: Feature) -> ShapelyPolygon | ShapelyMultiPolygon | None:
    n_points = len(set(feature.vertices_m))
    if feature.kind == "tree":
        return ShapelyPolygon(_crown(feature)) if feature.radius_m > 0 else None
    if feature.kind in AREAS and n_points >= 3:
        return ShapelyPolygon(feature.vertices_m)
    if feature.kind in AREAS and n_points == 1 and feature.radius_m > 0:
        return ShapelyPoint(feature.vertices_m[0]).buffer(feature.radius_m, quad_segs=4)
    if feature.kind in LINES and n_points >= 2:
        half_width_m = feature.radius_m or DEFAULT_HALF_WIDTH_M
        widened = LineString(feature.vertices_m).buffer(half_width_m, cap_style="flat", join_style="mitre")
        return widened if isinstance(widened, ShapelyPolygon | ShapelyMultiPolygon) else None
    return None


def _crown(feature: Feature) -> list[Point]:
    east_m, north_m = feature.vertices_m[0]
    # Corners a little outside the circle, so that the body has the circle's area.
    angle_rad = 2 * math.pi / CROWN_SIDES
    reach_m = feature.radius_m * math.sqrt(angle_rad / math.sin(angle_rad))
    return [
        (east_m + reach_m * math.sin(k * angle_rad), north_m + reach_m * math.cos(k * angle_rad))
        for k in range(CROWN_SIDES)
    ]
