r"""Which directions of the sky are hidden from a place on the ground.

For one place and one compass direction, a body between `base` and `top` hides the
elevations from lo to hi, where the ray leaves and enters its outline:

             top ┌────────┐
        hi .-´   │        │        tan hi = (top - eye) / d_in
       .-´       │        │
    o--- lo -----│--------└base    tan lo = (base - eye) / d_out
    eye          d_in     d_out

So each body becomes two heights of the sky for each place and direction, worked out once;
the sun's path is then compared with them. What stands on the ground has lo = 0, and of all
its crossings only the nearest counts, whatever its outline: a house round a yard needs no
more than a box. A raised body that is not convex is cut into convex pieces.

Heights of the sky are kept as steps of u = tan e / (1 + tan e), which needs no arc tangent
and grows evenly enough: a step of 1/2048 is 0.03° at the horizon and 0.06° at 45°.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.polygon import orient

from bedwright.engine.sunlight.obstacles import Obstacle
from bedwright.engine.sunlight.places import Places
from bedwright.model.weather import FloatArray

StepArray = NDArray[np.uint16]
IntArray = NDArray[np.int64]

N_DIRECTIONS = 480
"""Compass directions looked into: 0.75° apart, 3 minutes of the sun's path."""
DIRECTION_STEP_RAD = 2 * np.pi / N_DIRECTIONS
N_STEPS = 2048
"""Steps from the horizon to the zenith."""
DIRECTIONS_RAD: FloatArray = (np.arange(N_DIRECTIONS, dtype=np.float64) + 0.5) * DIRECTION_STEP_RAD


def even_directions_rad(n_directions: int) -> FloatArray:
    """Middles of so many directions of equal width, from north through east. [rad]."""
    if n_directions == N_DIRECTIONS:
        return DIRECTIONS_RAD
    middles: FloatArray = (np.arange(n_directions, dtype=np.float64) + 0.5) * (2 * np.pi / n_directions)
    return middles


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """Part of the sky hidden by a body that is raised or lets sun through: one convex piece of it.

    Only rays that meet it are listed, direction by direction.
    """

    starts: IntArray
    """(n_directions + 1,): where the rays of each direction begin in the lists."""
    place: IntArray
    low: StepArray
    high: StepArray


@dataclass(frozen=True, slots=True, eq=False)
class Skyline:
    """All that one body hides from each place."""

    shade: tuple[float, ...]
    """Share of the direct sun stopped, January to December."""
    high: StepArray | None
    """(n_directions, n_places): step up to which a body on the ground that stops all sun hides."""
    bands: tuple[Band, ...] = ()
    """What any other body hides."""


@dataclass(frozen=True, slots=True, eq=False)
class Skylines:
    """What every body of a site hides from the same places; edits make a new one."""

    places: Places
    by_obstacle: Mapping[Obstacle, Skyline] = field(default_factory=dict)

    def with_obstacles(self, obstacles: Sequence[Obstacle]) -> Skylines:
        """The skylines of other bodies from the same places; equal bodies are not worked out again."""
        known = self.by_obstacle
        return Skylines(
            self.places, {body: known.get(body) or skyline(body, self.places) for body in obstacles}
        )


def skyline(obstacle: Obstacle, places: Places, directions_rad: FloatArray = DIRECTIONS_RAD) -> Skyline:
    """What one body hides from each place.

    Parameters
    ----------
    obstacle
        The body, its heights above the ground it stands on.
    places
        Where to look from.
    directions_rad : (n_directions,)
        Bearings looked into, ascending within 0 to 2π. [rad]

    Limits
    ------
    Exact for upright bodies in the directions looked into, but for the steps of height. A
    place inside the outline sees nothing beneath a body on the ground, and beneath a raised
    one only what lies lower than its far edge.
    """
    outline = shapely.Polygon(obstacle.outline_m, obstacle.holes_m)
    view = _View(places, directions_rad)
    top = _heights(obstacle, view, obstacle.top_m)
    if obstacle.base_m <= 0:
        high = _standing(outline, view, top)
        if all(share == 1 for share in obstacle.shade):
            return Skyline(obstacle.shade, high)
        return Skyline(obstacle.shade, None, (_band(high, np.zeros_like(high)),))
    base = _heights(obstacle, view, obstacle.base_m)
    bands = [
        _band(_standing(piece, view, top), _underside(piece, view, base)) for piece in _convex_pieces(outline)
    ]
    return Skyline(obstacle.shade, None, tuple(bands))


@dataclass(frozen=True, slots=True, eq=False)
class _View:
    places: Places
    directions_rad: FloatArray

    @property
    def shape(self) -> tuple[int, int]:
        return len(self.directions_rad), len(self.places.places_m)


@dataclass(frozen=True, slots=True, eq=False)
class _Heights:
    """A level of a body seen from each place: tangent = over_eye_m / distance + rise."""

    over_eye_m: FloatArray
    rise: FloatArray | None


def _heights(obstacle: Obstacle, view: _View, height_m: float) -> _Heights:
    places, slope = view.places, view.places.slope
    if obstacle.follows_ground:
        over_eye_m = slope.ground_m(places.places_m) + height_m - places.eye_m
        return _Heights(over_eye_m, slope.rise(view.directions_rad) if slope.slope_deg else None)
    middle = shapely.Polygon(obstacle.outline_m).centroid
    ground_m = slope.ground_m(np.array([[middle.x, middle.y]]))[0]
    return _Heights(ground_m + height_m - places.eye_m, None)


def _convex_pieces(outline: shapely.Polygon) -> list[shapely.Polygon]:
    if outline.convex_hull.area - outline.area <= 1e-9 * outline.area:
        return [outline]
    triangles = shapely.constrained_delaunay_triangles(outline)
    return [piece for piece in triangles.geoms if isinstance(piece, shapely.Polygon)]


def _rings_m(outline: shapely.Polygon) -> list[FloatArray]:
    """Rings with the body to the left of their edges."""
    turned = orient(outline, 1.0)
    return [np.asarray(ring.coords, dtype=np.float64) for ring in (turned.exterior, *turned.interiors)]


def _standing(outline: shapely.Polygon, view: _View, top: _Heights) -> StepArray:
    high = np.zeros(view.shape, dtype=np.uint16)
    flat = high.reshape(-1)
    for index, steps in _edge_steps(outline, view, top, facing=True):
        # Of several edges in line the nearest counts, which stands highest.
        flat[index] = np.maximum(flat.take(index), steps)
    east_m, north_m = view.places.places_m.T
    within = np.asarray(shapely.contains_xy(outline, east_m, north_m)) & (top.over_eye_m > 0)
    high[:, within] = N_STEPS
    return high


def _underside(outline: shapely.Polygon, view: _View, base: _Heights) -> StepArray:
    low = np.full(view.shape, N_STEPS, dtype=np.uint16)
    flat = low.reshape(-1)
    for index, steps in _edge_steps(outline, view, base, facing=False):
        flat[index] = steps
    return low


def _band(high: StepArray, low: StepArray) -> Band:
    n_directions, n_places = high.shape
    index = np.flatnonzero(high > low)
    starts = np.searchsorted(index, np.arange(n_directions + 1) * n_places).astype(np.int64)
    return Band(starts, index % n_places, low.take(index), high.take(index))


def _edge_steps(
    outline: shapely.Polygon, view: _View, heights: _Heights, *, facing: bool
) -> Iterator[tuple[IntArray, StepArray]]:
    """For each edge that faces a place, or is seen from behind, the rays that meet it.

    Yields the rays' flat index (direction, place) and the step of the sky at which the
    level stands there.
    """
    for ring_m in _rings_m(outline):
        yield from _ring_steps(ring_m, view, heights, facing=facing)


def _ring_steps(
    ring_m: FloatArray, view: _View, heights: _Heights, *, facing: bool
) -> Iterator[tuple[IntArray, StepArray]]:
    offset = ring_m[None, :, :] - view.places.places_m[:, None, :]
    bearing_rad = np.arctan2(offset[..., 0], offset[..., 1]) % (2 * np.pi)
    # The first ray at or past each corner: neighbouring edges share it, so no ray is lost or doubled.
    first = _first_ray(bearing_rad, view.directions_rad)
    n_directions, n_places = view.shape
    sine, cosine = np.sin(view.directions_rad), np.cos(view.directions_rad)
    for number in range(len(ring_m) - 1):
        start, end = offset[:, number], offset[:, number + 1]
        cross_m2 = start[:, 0] * end[:, 1] - start[:, 1] * end[:, 0]
        shown = np.flatnonzero(cross_m2 < 0 if facing else cross_m2 > 0)
        one, other = (number, number + 1) if facing else (number + 1, number)
        from_ray = first[shown, one]
        n_rays = first[shown, other] - from_ray
        n_rays[n_rays < 0] += n_directions
        lag = from_ray - (np.cumsum(n_rays) - n_rays)
        direction = np.repeat(lag, n_rays)
        direction += np.arange(direction.size)
        direction[direction >= n_directions] -= n_directions
        edge_m = ring_m[number + 1] - ring_m[number]
        # distance = cross / (ray across the edge), so tangent = over_eye * across / cross
        per_across = heights.over_eye_m[shown] / cross_m2[shown]
        tangent = np.repeat(per_across, n_rays) * (sine * edge_m[1] - cosine * edge_m[0]).take(direction)
        if heights.rise is not None:
            tangent += heights.rise.take(direction)
        direction *= n_places
        direction += np.repeat(shown, n_rays)
        yield direction, _steps(tangent)


def _first_ray(bearing_rad: FloatArray, directions_rad: FloatArray) -> IntArray:
    if directions_rad is DIRECTIONS_RAD:
        # Even directions need no search.
        return np.ceil(bearing_rad / DIRECTION_STEP_RAD - 0.5).astype(np.int64)
    return np.searchsorted(directions_rad, bearing_rad).astype(np.int64)


def _steps(tangent: FloatArray) -> StepArray:
    np.maximum(tangent, 0, out=tangent)
    tangent /= 1 + tangent
    tangent *= N_STEPS
    tangent += 0.5
    return tangent.astype(np.uint16)
