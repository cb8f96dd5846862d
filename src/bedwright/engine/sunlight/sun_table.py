"""The sun's paths of many days as sums by direction and height.

A body that hides the sky in one direction from lo to hi takes from a place the time the sun
spends there. So the paths of all days are sampled once, sorted by direction and height, and
summed upwards; what a body takes is then one subtraction, however many days there are.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.sunlight.places import LEVEL, Slope
from bedwright.engine.sunlight.skylines import (
    DIRECTIONS_RAD,
    N_DIRECTIONS,
    N_STEPS,
    IntArray,
    even_directions_rad,
)
from bedwright.engine.sunlight.sun_position import SunDay, days_since_j2000, sun_position
from bedwright.model.weather import FloatArray

STEP_MIN = 3.0
"""Time between samples of the sun's path."""
N_WEEKS = 52
REFERENCE_YEAR = 2026
"""Any common year: the sun's path repeats within minutes."""

ALL_MONTHS = tuple(range(1, 13))

SumArray = NDArray[np.float32]

Weight = Callable[[FloatArray, FloatArray, FloatArray], FloatArray]
"""What an hour of sun counts, from day of the year, elevation [rad] and azimuth [rad]."""


@dataclass(frozen=True, slots=True)
class Period:
    """Days taken together, all with the leaves of one month."""

    month: int
    days: tuple[date, ...]


@dataclass(frozen=True, slots=True, eq=False)
class SunTable:
    """Sums of the sun's path for some periods, each a mean over its days."""

    months: tuple[int, ...]
    """Month of each period, for the leaves."""
    lowest: tuple[int, ...]
    """Step of the sky below which the sun never stands, for each direction."""
    cumulated: tuple[SumArray, ...]
    """For each direction (n_rows, n_periods): sum below step lowest + row; no rows without sun.

    Single precision is exact here, since samples are counted: a month has under 15,000 of them.
    """
    total: SumArray
    """(n_periods,): what an open place gets."""
    per_count: FloatArray
    """(n_periods,): turns a sum into the daily mean in the table's unit."""


def month_periods(
    months: Sequence[int] = tuple(range(1, 13)), year: int = REFERENCE_YEAR
) -> tuple[Period, ...]:
    """Whole months, with every day in them."""
    return tuple(
        Period(month, tuple(day for day in _days_of(year) if day.month == month)) for month in months
    )


def week_parts(year: int = REFERENCE_YEAR) -> tuple[tuple[Period, ...], FloatArray]:
    """The 52 weeks of a year from 1 January, cut where a month ends, since leaves go by the month.

    Returns
    -------
    parts
        In order of days; the last week has the odd day too, 29 February is left out.
    share : (52, n_parts)
        Share of each part in each week.
    """
    days = [day for day in _days_of(year) if (day.month, day.day) != (2, 29)]
    keyed: dict[tuple[int, int], list[date]] = {}
    for number, day in enumerate(days):
        keyed.setdefault((min(number // 7, N_WEEKS - 1), day.month), []).append(day)
    parts = tuple(Period(month, tuple(found)) for (_, month), found in keyed.items())
    share = np.zeros((N_WEEKS, len(parts)))
    for part, (week, _) in enumerate(keyed):
        share[week, part] = len(parts[part].days)
    return parts, share / share.sum(axis=1, keepdims=True)


def _days_of(year: int) -> list[date]:
    first = date(year, 1, 1)
    return [first + timedelta(days=k) for k in range((date(year + 1, 1, 1) - first).days)]


def sun_table(
    latitude_deg: float,
    longitude_deg: float,
    periods: Sequence[Period],
    *,
    slope: Slope = LEVEL,
    weight: Weight | None = None,
    step_min: float = STEP_MIN,
    n_directions: int = N_DIRECTIONS,
) -> SunTable:
    """Mean daily sums of the sun's path, sorted by direction and height.

    Parameters
    ----------
    latitude_deg, longitude_deg
        Place, north and east positive. [°]
    periods
        Each with at least one day.
    slope
        Ground; sun that stands lower than rising ground is left out.
    weight
        None: hours of sun. [h]
    step_min
        Time between samples. [min]
    n_directions
        Directions told apart.

    Limits
    ------
    Sun above the geometric horizon; refraction at rise and set adds minutes of light too
    weak to count. Days run from one mean solar midnight to the next.
    """
    n_steps = round(24 * 60 / step_min)
    starts = [_solar_midnight(day, longitude_deg) for period in periods for day in period.days]
    column = np.repeat(np.arange(len(periods)), [len(period.days) for period in periods])
    days = np.asarray(starts)[:, None] + (np.arange(n_steps) + 0.5) / n_steps
    elevation_deg, azimuth_deg = sun_position(days, latitude_deg, longitude_deg)
    elevation_rad, azimuth_rad = np.radians(elevation_deg), np.radians(azimuth_deg)
    direction = (azimuth_rad / (2 * np.pi / n_directions)).astype(np.int64) % n_directions
    tangent = np.tan(np.clip(elevation_rad, 0, np.pi / 2 - 1e-9))
    up = tangent > np.maximum(slope.rise(even_directions_rad(n_directions)), 0)[direction]
    columns = np.broadcast_to(column[:, None], up.shape)[up]
    n_days = np.array([len(period.days) for period in periods], dtype=np.float64)
    counts = np.ones(columns.size)
    if weight is not None:
        of_year = np.array([day.timetuple().tm_yday for period in periods for day in period.days], np.float64)
        day_of_year = np.broadcast_to(of_year[:, None], up.shape)[up]
        counts = counts * weight(day_of_year, elevation_rad[up], azimuth_rad[up])
    step = (N_STEPS * (tangent[up] / (1 + tangent[up]))).astype(np.int64)
    months = tuple(period.month for period in periods)
    return _cumulated(months, (direction[up], step, columns), counts, 24 / n_steps / n_days, n_directions)


def day_table(path: SunDay, month: int, slope: Slope = LEVEL) -> tuple[SunTable, FloatArray]:
    """The sun's path of one day, each sample a direction of its own, and those directions.

    Returns
    -------
    SunTable
        Hours, one period.
    directions_rad : (n_samples,)
        Bearings of the samples, ascending. [rad]
    """
    azimuth_rad = np.radians(path.azimuth_deg)
    tangent = np.tan(np.radians(np.minimum(path.elevation_deg, 90 - 1e-7)))
    up = np.flatnonzero(tangent > slope.rise(azimuth_rad))
    order = up[np.argsort(azimuth_rad[up], kind="stable")]
    step = (N_STEPS * (tangent[order] / (1 + tangent[order]))).astype(np.int64)
    once = np.array([[0.0], [1.0]], dtype=np.float32)
    return SunTable(
        (month,),
        tuple(int(each) for each in step),
        (once,) * len(step),
        np.array([len(step)], dtype=np.float32),
        np.array([path.step_h]),
    ), azimuth_rad[order]


def sky_table(months: Sequence[int], slope: Slope = LEVEL) -> SunTable:
    """The sky itself, equally bright everywhere, as a share of what lights level open ground.

    Source
    ------
    Geometry: of an even sky the part below elevation e lights level ground with the share sin² e;
    on a slope the cosine of the angle to the upright of the slope is summed instead, which over
    the whole of an open sky gives (1 + cos slope) / 2 (LIU_JORDAN63).
    """
    u = np.arange(N_STEPS + 1) / N_STEPS
    elevation_rad = np.arctan2(u, 1 - u)
    lowest_rad = np.arctan(np.maximum(slope.rise(DIRECTIONS_RAD), 0))
    columns = np.ones(len(months))
    cumulated = tuple(
        np.asarray(np.maximum(seen - behind_ground, 0)[:, None] * columns, dtype=np.float32)
        for seen, behind_ground in zip(
            _sky_below(elevation_rad[None, :], slope), _sky_below(lowest_rad[:, None], slope), strict=True
        )
    )
    total = np.sum([part[-1] for part in cumulated], axis=0)
    return SunTable(tuple(months), (0,) * N_DIRECTIONS, cumulated, total, columns / N_DIRECTIONS)


def _sky_below(elevation_rad: FloatArray, slope: Slope) -> FloatArray:
    """Light of an even sky below an elevation, of each direction: (n_directions, ...)."""
    tilt_rad = np.radians(slope.slope_deg)
    facing = np.cos(DIRECTIONS_RAD - np.radians(slope.bearing_deg))[:, None]
    sine, cosine = np.sin(elevation_rad), np.cos(elevation_rad)
    below: FloatArray = np.cos(tilt_rad) * sine**2 + np.sin(tilt_rad) * facing * (
        elevation_rad + sine * cosine
    )
    return below


def _solar_midnight(day: date, longitude_deg: float) -> float:
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    return days_since_j2000(midnight) - longitude_deg / 360


def _cumulated(
    months: tuple[int, ...],
    where: tuple[IntArray, IntArray, IntArray],
    count: FloatArray,
    per_count: FloatArray,
    n_directions: int,
) -> SunTable:
    """Sums of samples given by their direction, step of the sky and period."""
    n_periods = len(months)
    order = np.argsort(where[0], kind="stable")
    direction, step, column = (each[order] for each in where)
    count = count[order]
    bounds = np.searchsorted(direction, np.arange(n_directions + 1))
    lowest: list[int] = []
    cumulated: list[SumArray] = []
    for start, end in pairwise(bounds.tolist()):
        if start == end:
            lowest.append(N_STEPS)
            cumulated.append(np.empty((0, n_periods), np.float32))
            continue
        steps = step[start:end]
        low = int(steps.min())
        n_rows = int(steps.max()) - low + 1
        place = (steps - low) * n_periods + column[start:end]
        sums = np.bincount(place, count[start:end], n_rows * n_periods).reshape(n_rows, n_periods)
        lowest.append(low)
        cumulated.append(np.vstack((np.zeros(n_periods), np.cumsum(sums, axis=0))).astype(np.float32))
    total = np.zeros(n_periods, np.float32)
    for part in cumulated:
        if len(part):
            total += part[-1]
    return SunTable(months, tuple(lowest), tuple(cumulated), total, per_count)
