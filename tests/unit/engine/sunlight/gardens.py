"""Small gardens for tests of light, and a ray cast that shares no code with the light model."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from bedwright.engine.sunlight import Obstacle, Places, sun_day
from bedwright.model.book import Bed, Feature, Site
from bedwright.model.ground import Rectangle

SITE = Site("Test ground", 52.0, 0.0, 20.0, "UTC")
FAR_M = 400.0


def bed(code: str = "A", **changes: object) -> Bed:
    """A level bed of 2 by 1 m with its peg at the datum, its line running north."""
    settings: dict[str, object] = {
        "code": code,
        "name": "",
        "outline": Rectangle(2.0, 1.0, 0.0, 0.0, 0.0),
        "texture": "loam",
    }
    return Bed(**(settings | changes))  # type: ignore[arg-type]


def site_with(*features: Feature, latitude_deg: float = 52.0) -> Site:
    """A site on the Greenwich meridian."""
    return Site("Test ground", latitude_deg, 0.0, 20.0, "UTC", features=features)


def wall(*points_m: tuple[float, float], height_m: float = 3.0) -> Feature:
    """A brick wall along some points."""
    return Feature("W", "wall", "wall", points_m, height_m=height_m)


def tree(
    place_m: tuple[float, float], *, base_m: float = 0.0, leafless: tuple[int, ...] = (), code: str = "T"
) -> Feature:
    """A tree of 8 m with a crown 6 m wide."""
    return Feature(
        code,
        "tree",
        "tree",
        (place_m,),
        height_m=8.0,
        radius_m=3.0,
        crown_base_m=base_m,
        leafless_months=leafless,
    )


def at(*points_m: tuple[float, float], eye_m: float = 0.0) -> Places:
    """Places on level ground."""
    return Places(np.array(points_m, dtype=np.float64), np.full(len(points_m), eye_m))


def naive_day_h(
    bodies: Sequence[Obstacle], place_m: tuple[float, float], day: date, latitude_deg: float, step_min: float
) -> float:
    """Hours of sun at a place on the ground: each body is cut by each ray."""
    path = sun_day(day, latitude_deg, 0.0, step_min=step_min)
    passed = 0.0
    for elevation_deg, azimuth_deg in zip(path.elevation_deg, path.azimuth_deg, strict=True):
        east, north = np.sin(np.radians(azimuth_deg)), np.cos(np.radians(azimuth_deg))
        ray = LineString([place_m, (place_m[0] + FAR_M * east, place_m[1] + FAR_M * north)])
        rise = float(np.tan(np.radians(elevation_deg)))
        share = 1.0
        for body in bodies:
            if _hides(ray.intersection(Polygon(body.outline_m, body.holes_m)), place_m, rise, body):
                share *= 1 - body.shade[day.month - 1]
        passed += share
    return passed * path.step_h


def _hides(cut: BaseGeometry, place_m: tuple[float, float], rise: float, body: Obstacle) -> bool:
    pieces = getattr(cut, "geoms", [cut])
    for piece in pieces:
        if piece.is_empty:
            continue
        away_m = [np.hypot(x - place_m[0], y - place_m[1]) for x, y in piece.coords]
        over_base = body.base_m <= 0 or max(away_m) * rise > body.base_m
        if min(away_m) * rise < body.top_m and over_base:
            return True
    return False
