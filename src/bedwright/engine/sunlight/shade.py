r"""Which directions of the sky are hidden from a place on the ground.

For one place and one compass direction, a body between `base` and `top` hides the
elevations from lo to hi, where the ray leaves and enters its outline:

             top ┌────────┐
        hi .-´   │        │        tan hi = (top - eye) / d_in
       .-´       │        │
    o--- lo -----│--------└base    tan lo = (base - eye) / d_out
    eye          d_in     d_out

So each body becomes two angles a place and direction, worked out once; the sun's path of
any day is then compared with them. A wall stands on the ground and has lo = 0.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bedwright.engine.sunlight.obstacles import Obstacle
from bedwright.engine.sunlight.sun_position import SunDay
from bedwright.model.weather import BoolArray, FloatArray

N_DIRECTIONS = 480
"""Compass directions looked into: 0.75° apart, 3 minutes of the sun's path."""
DIRECTION_STEP_DEG = 360 / N_DIRECTIONS


@dataclass(frozen=True, slots=True, eq=False)
class Skyline:
    """Elevations one body hides from each place in each direction.

    `low_deg` and `high_deg` have shape (n_places, N_DIRECTIONS); where nothing is hidden
    high is below low.
    """

    low_deg: FloatArray
    high_deg: FloatArray
    shade: tuple[float, ...]


def skyline(obstacle: Obstacle, places_m: FloatArray, eye_m: FloatArray) -> Skyline:
    """What one body hides from each place.

    Parameters
    ----------
    obstacle
        The body.
    places_m : (n_places, 2)
        East and north of each place. [m]
    eye_m : (n_places,)
        Height of the ground there. [m]

    Limits
    ------
    An outline that is not convex is taken as filled from the first to the last crossing.
    A place inside the outline is hidden up to the zenith under a body on the ground.
    """
    directions_rad = np.radians((np.arange(N_DIRECTIONS) + 0.5) * DIRECTION_STEP_DEG)
    ray = np.stack((np.sin(directions_rad), np.cos(directions_rad)))
    near_m = np.full((len(places_m), N_DIRECTIONS), np.inf)
    far_m = np.full((len(places_m), N_DIRECTIONS), -np.inf)
    for start, end in pairwise(obstacle.outline_m):
        distance_m = _ray_distance_m(places_m, ray, start, end)
        np.fmin(near_m, distance_m, out=near_m)
        np.fmax(far_m, distance_m, out=far_m)
    inside = _inside(places_m, obstacle.outline_m)
    near_m[inside] = 0.0
    hit = np.isfinite(far_m)
    top_m = obstacle.top_m - eye_m[:, None]
    base_m = obstacle.base_m - eye_m[:, None]
    with np.errstate(divide="ignore", invalid="ignore"):
        high_deg = np.degrees(np.arctan2(top_m, near_m))
        low_deg = np.where(base_m > 0, np.degrees(np.arctan2(base_m, far_m)), 0.0)
    hidden = hit & (top_m > 0)
    return Skyline(np.where(hidden, low_deg, 90.0), np.where(hidden, high_deg, -1.0), obstacle.shade)


def _ray_distance_m(places_m: FloatArray, ray: FloatArray, start: FloatArray, end: FloatArray) -> FloatArray:
    """Distance along each ray to one edge, nan where it is missed: (n_places, n_directions)."""
    edge = end - start
    offset = start - places_m
    across_ray = ray[0] * edge[1] - ray[1] * edge[0]
    cross_edge = offset[:, 0] * edge[1] - offset[:, 1] * edge[0]
    cross_ray = np.outer(offset[:, 0], ray[1]) - np.outer(offset[:, 1], ray[0])
    with np.errstate(divide="ignore", invalid="ignore"):
        along_ray_m = cross_edge[:, None] / across_ray
        along_edge = cross_ray / across_ray
    met = (along_ray_m > 0) & (along_edge >= 0) & (along_edge <= 1)
    return np.where(met, along_ray_m, np.nan)


def _inside(places_m: FloatArray, outline_m: FloatArray) -> BoolArray:
    """True for places within an outline, by the number of its edges to the east of them."""
    crossings = np.zeros(len(places_m), dtype=np.int64)
    for start, end in pairwise(outline_m):
        spans = (start[1] > places_m[:, 1]) != (end[1] > places_m[:, 1])
        if start[1] == end[1]:
            continue
        east_m = start[0] + (places_m[:, 1] - start[1]) / (end[1] - start[1]) * (end[0] - start[0])
        crossings += spans & (east_m > places_m[:, 0])
    inside: BoolArray = crossings % 2 == 1
    return inside


def sun_hours(path: SunDay, month: int, skylines: Sequence[Skyline], n_places: int) -> FloatArray:
    """Hours of direct sun on one day at each place. [h], (n_places,).

    Bodies that let part of the sun through count with that part; of several in line the
    product is taken.
    """
    directions = np.floor(path.azimuth_deg / DIRECTION_STEP_DEG).astype(np.int64) % N_DIRECTIONS
    passed = np.ones((n_places, len(directions)))
    for body in skylines:
        high = body.high_deg[:, directions]
        low = body.low_deg[:, directions]
        hidden = (path.elevation_deg < high) & (path.elevation_deg >= low)
        passed *= np.where(hidden, 1 - body.shade[month - 1], 1.0)
    hours: FloatArray = passed.sum(axis=1) * path.step_h
    return hours
