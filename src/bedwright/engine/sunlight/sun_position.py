"""Where the sun stands."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

import numpy as np

from bedwright.model.weather import FloatArray

J2000 = datetime(2000, 1, 1, 12, tzinfo=UTC)
RISE_SET_ELEVATION_DEG = -0.8333
"""Geometric elevation of the sun's centre when its upper limb meets the horizon:
34' of refraction and 16' of radius, the convention of almanacs."""


def days_since_j2000(moment: datetime) -> float:
    """Days [d] from 1 January 2000, 12:00 UTC; the moment must carry its zone."""
    if moment.tzinfo is None:
        raise ValueError(f"{moment} has no time zone: the sun's place would be ambiguous")
    return (moment - J2000) / timedelta(days=1)


def sun_position(
    days: FloatArray | float, latitude_deg: float, longitude_deg: float
) -> tuple[FloatArray, FloatArray]:
    """Geometric elevation and azimuth of the sun, without refraction.

    Parameters
    ----------
    days : (...)
        Time since 1 January 2000, 12:00 UTC. [d]
    latitude_deg, longitude_deg
        Place, north and east positive. [°]

    Returns
    -------
    elevation_deg, azimuth_deg : (...)
        Elevation above the horizon; azimuth clockwise from north, 0 to 360. [°]

    Source
    ------
    Michalsky 1988, the Astronomical Almanac's low-precision algorithm.

    Limits
    ------
    Within about 0.02° for 1950 to 2050. Parallax (0.002°) and refraction left out.
    """
    days = np.asarray(days, dtype=np.float64)
    mean_longitude_rad = np.radians((280.460 + 0.9856474 * days) % 360)
    mean_anomaly_rad = np.radians((357.528 + 0.9856003 * days) % 360)
    ecliptic_longitude_rad = mean_longitude_rad + np.radians(
        1.915 * np.sin(mean_anomaly_rad) + 0.020 * np.sin(2 * mean_anomaly_rad)
    )
    obliquity_rad = np.radians(23.439 - 0.0000004 * days)
    right_ascension_rad = np.arctan2(
        np.cos(obliquity_rad) * np.sin(ecliptic_longitude_rad), np.cos(ecliptic_longitude_rad)
    )
    declination_rad = np.arcsin(np.sin(obliquity_rad) * np.sin(ecliptic_longitude_rad))
    hour_utc = ((days + 0.5) % 1) * 24
    greenwich_sidereal_h = 6.697375 + 0.0657098242 * days + hour_utc
    hour_angle_rad = np.radians(15 * greenwich_sidereal_h + longitude_deg) - right_ascension_rad
    latitude_rad = np.radians(latitude_deg)
    sine_elevation = np.sin(declination_rad) * np.sin(latitude_rad) + np.cos(declination_rad) * np.cos(
        latitude_rad
    ) * np.cos(hour_angle_rad)
    azimuth_rad = np.arctan2(
        -np.cos(declination_rad) * np.sin(hour_angle_rad),
        np.sin(declination_rad) * np.cos(latitude_rad)
        - np.cos(declination_rad) * np.sin(latitude_rad) * np.cos(hour_angle_rad),
    )
    elevation_deg = np.degrees(np.arcsin(np.clip(sine_elevation, -1, 1)))
    return elevation_deg, np.degrees(azimuth_rad) % 360


@dataclass(frozen=True, slots=True, eq=False)
class SunDay:
    """The sun's path over one day, sampled evenly in time, above the horizon only."""

    elevation_deg: FloatArray
    azimuth_deg: FloatArray
    step_h: float


def sun_day(day: date, latitude_deg: float, longitude_deg: float, *, step_min: float = 5.0) -> SunDay:
    """The sun's path from one solar midnight to the next.

    Samples stand at the middle of steps of `step_min` minutes, from 12 hours before to
    12 hours after mean solar noon of the day, so that the whole daylight is one run.
    """
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    start = days_since_j2000(midnight) - longitude_deg / 360
    n_steps = round(24 * 60 / step_min)
    days = start + (np.arange(n_steps) + 0.5) / n_steps
    elevation_deg, azimuth_deg = sun_position(days, latitude_deg, longitude_deg)
    # The geometric horizon: refraction at rise and set adds minutes of light too weak to count.
    up = elevation_deg > 0
    return SunDay(elevation_deg[up], azimuth_deg[up], 24 / n_steps)


def rise_and_set(
    day: date, latitude_deg: float, longitude_deg: float, utc_offset_h: float
) -> tuple[float, float] | None:
    """Sunrise and sunset of a local day, in hours of its clock [h], or None without them.

    Parameters
    ----------
    day
        Day on the local clock.
    latitude_deg, longitude_deg
        Place. [°]
    utc_offset_h
        Local clock minus UTC. [h]

    Source
    ------
    Upper limb at the horizon with 34' of refraction (almanac convention); the crossing is
    found by linear interpolation between minutes.
    """
    midnight = datetime(day.year, day.month, day.day, tzinfo=UTC)
    start = days_since_j2000(midnight) - utc_offset_h / 24
    minutes = np.arange(24 * 60 + 1)
    elevation_deg, _ = sun_position(start + minutes / 1440, latitude_deg, longitude_deg)
    above = elevation_deg - RISE_SET_ELEVATION_DEG
    changes = np.flatnonzero(np.diff(np.sign(above)))
    if len(changes) < 2:
        return None
    hours = (changes + above[changes] / (above[changes] - above[changes + 1])) / 60
    rises = above[changes] < 0
    if not rises.any() or rises.all():
        return None
    return float(hours[rises][0]), float(hours[~rises][-1])
