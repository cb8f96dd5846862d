"""Solar and net radiation of a day by FAO-56."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.engine.climate.dates import IntArray
from bedwright.model.weather import FloatArray

_SOLAR_CONSTANT_MJ_M2_MIN = 0.0820
_STEFAN_BOLTZMANN_MJ_K4_M2_DAY = 4.903e-9
_GRASS_ALBEDO = 0.23

KRS_INTERIOR = 0.16
"""Coefficient of Eq. 50 where land dominates; FAO-56 gives 0.19 for a coast."""


@dataclass(frozen=True, slots=True, eq=False)
class SunDay:
    """What the sun would give above the air on each day, shape of the days asked for."""

    inverse_relative_distance: FloatArray
    """Eq. 23. [1]"""
    declination_rad: FloatArray
    """Eq. 24. [rad]"""
    sunset_hour_angle_rad: FloatArray
    """Eq. 25; 0 in polar night, pi in polar day. [rad]"""
    extraterrestrial_mj_m2: FloatArray
    """Eq. 21. [MJ/m²/day]"""
    daylight_h: FloatArray
    """Eq. 34. [h]"""

    def at(self, index: IntArray) -> SunDay:
        """The entries at some places, in the order asked for."""
        return SunDay(
            self.inverse_relative_distance[index],
            self.declination_rad[index],
            self.sunset_hour_angle_rad[index],
            self.extraterrestrial_mj_m2[index],
            self.daylight_h[index],
        )


def sun_day(latitude_deg: float, day_of_year: FloatArray) -> SunDay:
    """Radiation above the air and length of daylight, FAO-56 Eq. 21 to 25 and 34.

    Parameters
    ----------
    latitude_deg : float
        North positive. [degrees], -90 to 90.
    day_of_year : any shape
        Day of the year, 1 to 366.

    Returns
    -------
    SunDay
        Arrays of the shape of day_of_year.

    Source
    ------
    FAO56 Eq. 21, 23, 24, 25, 34.

    Limits
    ------
    Daylight leaves out refraction and the size of the sun's disc: 10 to 13 minutes shorter than
    sunrise to sunset at 40 degrees.
    """
    latitude_rad = np.radians(latitude_deg)
    year_angle_rad = 2 * np.pi / 365 * np.asarray(day_of_year, dtype=np.float64)
    distance = 1 + 0.033 * np.cos(year_angle_rad)
    declination_rad = 0.409 * np.sin(year_angle_rad - 1.39)
    sunset_rad = np.arccos(np.clip(-np.tan(latitude_rad) * np.tan(declination_rad), -1, 1))
    geometry = sunset_rad * np.sin(latitude_rad) * np.sin(declination_rad) + np.cos(latitude_rad) * np.cos(
        declination_rad
    ) * np.sin(sunset_rad)
    extraterrestrial = 24 * 60 / np.pi * _SOLAR_CONSTANT_MJ_M2_MIN * distance * geometry
    return SunDay(
        inverse_relative_distance=distance,
        declination_rad=declination_rad,
        sunset_hour_angle_rad=sunset_rad,
        extraterrestrial_mj_m2=np.maximum(extraterrestrial, 0),
        daylight_h=24 / np.pi * sunset_rad,
    )


def radiation_from_sunshine_mj_m2(sunshine_h: FloatArray, sun: SunDay) -> FloatArray:
    """Solar radiation from hours of sunshine, FAO-56 Eq. 35.

    Parameters
    ----------
    sunshine_h : shape of the days of `sun`
        Hours of bright sunshine. [h]
    sun : SunDay
        The same days.

    Returns
    -------
    same shape
        Solar radiation. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 35 with a = 0.25 and b = 0.50, FAO-56's values where none are calibrated.
    """
    share = np.divide(sunshine_h, sun.daylight_h, out=np.zeros_like(sun.daylight_h), where=sun.daylight_h > 0)
    return (0.25 + 0.50 * np.clip(share, 0, 1)) * sun.extraterrestrial_mj_m2


def radiation_from_temperature_mj_m2(
    tmin_c: FloatArray, tmax_c: FloatArray, sun: SunDay, krs: float = KRS_INTERIOR
) -> FloatArray:
    """Solar radiation from the range of temperature, FAO-56 Eq. 50.

    Parameters
    ----------
    tmin_c, tmax_c : shape of the days of `sun`
        Minimum and maximum of the day. [°C]
    sun : SunDay
        The same days.
    krs : float
        0.16 inland, 0.19 on a coast. [°C^-0.5]

    Returns
    -------
    same shape
        Solar radiation, at most that of a clear sky at sea level. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 50, after Hargreaves.
    """
    estimate = krs * np.sqrt(np.maximum(tmax_c - tmin_c, 0)) * sun.extraterrestrial_mj_m2
    return np.minimum(estimate, 0.75 * sun.extraterrestrial_mj_m2)


def clear_sky_radiation_mj_m2(extraterrestrial_mj_m2: FloatArray, elevation_m: float) -> FloatArray:
    """Solar radiation under a clear sky, FAO-56 Eq. 37.

    Parameters
    ----------
    extraterrestrial_mj_m2 : any shape
        Radiation above the air. [MJ/m²/day]
    elevation_m : float
        Above sea level. [m]

    Returns
    -------
    same shape
        Clear-sky radiation. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 37.
    """
    return (0.75 + 2e-5 * elevation_m) * extraterrestrial_mj_m2


def net_shortwave_mj_m2(radiation_mj_m2: FloatArray) -> FloatArray:
    """Solar radiation kept by the grass, FAO-56 Eq. 38 with albedo 0.23.

    Parameters
    ----------
    radiation_mj_m2 : any shape
        Solar radiation. [MJ/m²/day]

    Returns
    -------
    same shape
        Net shortwave radiation. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 38.
    """
    return (1 - _GRASS_ALBEDO) * radiation_mj_m2


def net_longwave_mj_m2(
    tmin_c: FloatArray,
    tmax_c: FloatArray,
    vapour_pressure_kpa: FloatArray,
    radiation_mj_m2: FloatArray,
    clear_sky_mj_m2: FloatArray,
) -> FloatArray:
    """Heat radiation lost by the grass, FAO-56 Eq. 39.

    Parameters
    ----------
    tmin_c, tmax_c : (n_days,)
        Minimum and maximum of the day. [°C]
    vapour_pressure_kpa : (n_days,)
        Actual vapour pressure. [kPa]
    radiation_mj_m2, clear_sky_mj_m2 : (n_days,)
        Solar radiation as it was and under a clear sky. [MJ/m²/day]

    Returns
    -------
    (n_days,)
        Net outgoing longwave radiation. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 39. The share of clear sky is kept within 0.3 and 1.0, the limits of ASCE-EWRI 2005
    (ASCE_EWRI_05); FAO-56 itself states only the upper one, and without the lower a dark winter
    day would gain heat from its clouds.
    """
    # in polar night there is no clear sky to compare with; the darkest limit stands in
    share = np.divide(
        radiation_mj_m2, clear_sky_mj_m2, out=np.zeros_like(clear_sky_mj_m2), where=clear_sky_mj_m2 > 0
    )
    cloudiness = 1.35 * np.clip(share, 0.3, 1.0) - 0.35
    # a square of a square is several times faster than a fourth power
    kelvin4 = (np.square(np.square(tmax_c + 273.16)) + np.square(np.square(tmin_c + 273.16))) / 2
    dryness = 0.34 - 0.14 * np.sqrt(vapour_pressure_kpa)
    return _STEFAN_BOLTZMANN_MJ_K4_M2_DAY * kelvin4 * dryness * cloudiness
