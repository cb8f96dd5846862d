"""Direct sun that a lower crop loses to a taller one in the same bed, from the sun's own path."""

from __future__ import annotations

import math
from datetime import date

import numpy as np

from bedwright.engine.sunlight import sun_day
from bedwright.model.weather import FloatArray

RAY_MIN = 90.0
"""Minutes of sun that one ray stands for."""

LOWEST_SUN_DEG = 10.0
"""Lower sun throws shadows so long that no order of crops in a bed avoids them."""

NINE_POINTS = np.array([(one, other) for one in (1 / 6, 1 / 2, 5 / 6) for other in (1 / 6, 1 / 2, 5 / 6)])
"""Points of a block, as shares of its length and depth."""

MIDDLE_DAY = 15

Box = tuple[FloatArray, FloatArray, FloatArray, FloatArray]
"""Along from, along to, across from, across to; arrays that broadcast."""


def site_rays(latitude_deg: float, year: int, noon_sun_bearing_deg: float | None = None) -> FloatArray:
    """Rays to the sun on the middle day of each month.

    Parameters
    ----------
    latitude_deg
        North positive, -90 to 90.
    year
        Of the season.
    noon_sun_bearing_deg
        Bearing of the sun at noon [degrees clockwise from north], where the whole sky is to be
        turned; None: as it is, south (180) in the northern half of the world.

    Returns
    -------
    array, shape (12, n_rays, 4)
        Unit vector (east, north), metres of shadow for each metre of height, hours a day the ray
        stands for; rows of zeros where a month has fewer rays.

    Source
    ------
    `bedwright.engine.sunlight.sun_position`; clear sky.
    """
    turn_deg = 0.0
    if noon_sun_bearing_deg is not None:
        turn_deg = noon_sun_bearing_deg - (0.0 if latitude_deg < 0 else 180.0)
    months = []
    for month in range(1, 13):
        path = sun_day(date(year, month, MIDDLE_DAY), latitude_deg, 0.0, step_min=RAY_MIN)
        months.append(
            [
                (
                    math.sin(math.radians(azimuth + turn_deg)),
                    math.cos(math.radians(azimuth + turn_deg)),
                    1 / math.tan(math.radians(elevation)),
                    RAY_MIN / 60,
                )
                for elevation, azimuth in zip(
                    path.elevation_deg.tolist(), path.azimuth_deg.tolist(), strict=True
                )
                if elevation >= LOWEST_SUN_DEG
            ]
        )
    n_rays = max(1, *(len(rays) for rays in months))
    table = np.zeros((12, n_rays, 4))
    for month, rays in enumerate(months):
        for number, ray in enumerate(rays):
            table[month, number] = ray
    return table


def bed_rays(rays: FloatArray, bearing_deg: float) -> FloatArray:
    """Rays of a site in the frame of a bed whose baseline has a bearing; same shape."""
    angle_rad = math.radians(bearing_deg)
    sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
    turned = rays.copy()
    turned[..., 0] = np.round(rays[..., 0] * sine + rays[..., 1] * cosine, 9) + 0.0
    turned[..., 1] = np.round(rays[..., 0] * cosine - rays[..., 1] * sine, 9) + 0.0
    return turned


def lost_h(low: Box, tall: Box, rays: FloatArray, taller_by_m: float) -> FloatArray:
    """Hours of direct sun a day that a low block loses to a tall one.

    Nine points of the low block look along each ray; a ray is lost to a point if it meets the
    tall block within the length of its shadow. The tall crop is taken as solid and at full
    height.

    Parameters
    ----------
    rays
        (n_rays, 4), of one month, in the frame of the bed.
    taller_by_m
        Height of the tall crop over the top of the low one [m], above 0.

    Returns
    -------
    array, shape (n_blocks,)
    """
    along = low[0] + (low[1] - low[0]) * NINE_POINTS[:, :1]
    across = low[2] + (low[3] - low[2]) * NINE_POINTS[:, 1:]
    return points_lost_h(along, across, tall, rays, taller_by_m)


def points_lost_h(
    along: FloatArray, across: FloatArray, tall: Box, rays: FloatArray, taller_by_m: float
) -> FloatArray:
    """Hours of direct sun a day that points lose to a tall block, the mean of the points.

    Parameters
    ----------
    along, across
        (n_points, n_blocks or 1), in the frame of the bed in which the tall block stands [m].
    tall, rays, taller_by_m
        As for `lost_h`.

    Returns
    -------
    array, shape (n_blocks,)
    """
    lost = np.zeros(np.broadcast(along, across, tall[0]).shape[1:])
    for toward_along, toward_across, run, hours in rays.tolist():
        if hours <= 0:
            continue
        near_a, far_a = _crossing(tall[0] - along, tall[1] - along, toward_along)
        near_c, far_c = _crossing(tall[2] - across, tall[3] - across, toward_across)
        near = np.maximum(np.maximum(near_a, near_c), 0.0)
        far = np.minimum(np.minimum(far_a, far_c), run * taller_by_m)
        lost = lost + hours * (near < far).mean(axis=0)
    return np.asarray(lost, dtype=np.float64)


def _crossing(low: FloatArray, high: FloatArray, slope: float) -> tuple[FloatArray, FloatArray]:
    """Distances at which a line enters and leaves a strip; the whole line if it runs inside."""
    if abs(slope) < 1e-6:
        inside = (low < 0) & (high > 0)
        return np.where(inside, -np.inf, np.inf), np.where(inside, np.inf, -np.inf)
    one, other = low / slope, high / slope
    return np.minimum(one, other), np.maximum(one, other)
