"""Pressure, water vapour and wind of the air by FAO-56."""

from __future__ import annotations

import math

import numpy as np

from bedwright.model.weather import FloatArray

_GRASS_HEIGHT_WIND_M = 2.0


def air_pressure_kpa(elevation_m: float) -> float:
    """Mean air pressure at an elevation, FAO-56 Eq. 7.

    Parameters
    ----------
    elevation_m : float
        Above sea level. [m]

    Returns
    -------
    float
        Pressure. [kPa]

    Source
    ------
    Allen et al. 1998, FAO Irrigation and Drainage Paper 56 (FAO56), Eq. 7.
    """
    return float(101.3 * ((293 - 0.0065 * elevation_m) / 293) ** 5.26)


def psychrometric_constant_kpa_c(pressure_kpa: float) -> float:
    """Psychrometric constant from the air pressure, FAO-56 Eq. 8.

    Parameters
    ----------
    pressure_kpa : float
        Air pressure. [kPa]

    Returns
    -------
    float
        Psychrometric constant. [kPa/°C]

    Source
    ------
    FAO56 Eq. 8, with latent heat 2.45 MJ/kg.
    """
    return 0.665e-3 * pressure_kpa


def saturation_vapour_pressure_kpa(temperature_c: FloatArray) -> FloatArray:
    """Vapour pressure of saturated air, FAO-56 Eq. 11.

    Parameters
    ----------
    temperature_c : any shape
        Air temperature, or dew point for the actual vapour pressure (Eq. 14). [°C]

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 11.
    """
    pressure: FloatArray = 0.6108 * np.exp(17.27 * temperature_c / (temperature_c + 237.3))
    return pressure


def vapour_pressure_slope_kpa_c(temperature_c: FloatArray) -> FloatArray:
    """Slope of the curve of saturation vapour pressure, FAO-56 Eq. 13.

    Parameters
    ----------
    temperature_c : any shape
        Air temperature. [°C]

    Returns
    -------
    same shape
        Slope. [kPa/°C]

    Source
    ------
    FAO56 Eq. 13.
    """
    return 4098 * saturation_vapour_pressure_kpa(temperature_c) / (temperature_c + 237.3) ** 2


def mean_saturation_vapour_pressure_kpa(tmin_c: FloatArray, tmax_c: FloatArray) -> FloatArray:
    """Saturation vapour pressure of a day, mean of that at its extremes, FAO-56 Eq. 12.

    Parameters
    ----------
    tmin_c, tmax_c : any equal shape
        Minimum and maximum of the day. [°C]

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 12; the saturation pressure of the mean temperature would be too low.
    """
    return (saturation_vapour_pressure_kpa(tmin_c) + saturation_vapour_pressure_kpa(tmax_c)) / 2


def vapour_pressure_from_extremes_kpa(
    tmin_c: FloatArray, tmax_c: FloatArray, rh_max_pct: FloatArray, rh_min_pct: FloatArray
) -> FloatArray:
    """Actual vapour pressure from highest and lowest humidity, FAO-56 Eq. 17.

    Parameters
    ----------
    tmin_c, tmax_c : any equal shape
        Minimum and maximum of the day. [°C]
    rh_max_pct, rh_min_pct : same shape
        Highest and lowest relative humidity of the day. [%], 0 to 100.

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 17.
    """
    at_night = saturation_vapour_pressure_kpa(tmin_c) * rh_max_pct
    by_day = saturation_vapour_pressure_kpa(tmax_c) * rh_min_pct
    return (at_night + by_day) / 200


def vapour_pressure_from_highest_kpa(tmin_c: FloatArray, rh_max_pct: FloatArray) -> FloatArray:
    """Actual vapour pressure from highest humidity alone, FAO-56 Eq. 18.

    Parameters
    ----------
    tmin_c : any shape
        Minimum of the day. [°C]
    rh_max_pct : same shape
        Highest relative humidity of the day. [%], 0 to 100.

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 18; for records whose lowest humidity is missing or in doubt.
    """
    return saturation_vapour_pressure_kpa(tmin_c) * rh_max_pct / 100


def vapour_pressure_from_mean_kpa(
    tmin_c: FloatArray, tmax_c: FloatArray, rh_mean_pct: FloatArray
) -> FloatArray:
    """Actual vapour pressure from mean humidity, FAO-56 Eq. 19.

    Parameters
    ----------
    tmin_c, tmax_c : any equal shape
        Minimum and maximum of the day. [°C]
    rh_mean_pct : same shape
        Mean relative humidity of the day. [%], 0 to 100.

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 19.
    """
    return mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c) * rh_mean_pct / 100


def vapour_pressure_from_minimum_kpa(tmin_c: FloatArray) -> FloatArray:
    """Actual vapour pressure when no humidity is known: dew point taken as the minimum, FAO-56 Eq. 48.

    Parameters
    ----------
    tmin_c : any shape
        Minimum of the day. [°C]

    Returns
    -------
    same shape
        Vapour pressure. [kPa]

    Source
    ------
    FAO56 Eq. 48.

    Limits
    ------
    Too moist for dry places, where air does not reach dew point at night.
    """
    return saturation_vapour_pressure_kpa(tmin_c)


def wind_at_2m_m_s(wind_m_s: FloatArray, height_m: float) -> FloatArray:
    """Wind speed brought from the height of its instrument to 2 m, FAO-56 Eq. 47.

    Parameters
    ----------
    wind_m_s : any shape
        Mean wind speed of the day. [m/s]
    height_m : float
        Height of the instrument above the ground. [m], 0.5 to 200.

    Returns
    -------
    same shape
        Wind speed at 2 m. [m/s]

    Raises
    ------
    ValueError
        If the height is outside 0.5 to 200 m, where the logarithm makes no sense.

    Source
    ------
    FAO56 Eq. 47, over short grass.
    """
    if not 0.5 <= height_m <= 200:
        raise ValueError(f"wind height {height_m} m is outside 0.5 to 200 m")
    if height_m == _GRASS_HEIGHT_WIND_M:  # the equation's rounded coefficients give 1.0002 here
        return wind_m_s
    return wind_m_s * (4.87 / math.log(67.8 * height_m - 5.42))
