"""Reference evapotranspiration of short grass, by the best method a record allows."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.engine.climate import air
from bedwright.engine.climate.dates import day_of_year
from bedwright.engine.climate.radiation import (
    SunDay,
    clear_sky_radiation_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    radiation_from_sunshine_mj_m2,
    radiation_from_temperature_mj_m2,
    sun_day,
)
from bedwright.model.weather import FloatArray, WeatherRecord

_MM_PER_MJ_M2 = 0.408
"""1 / 2.45 MJ/kg, FAO-56 Eq. 20."""

DEFAULT_WIND_2M_M_S = 2.0
"""Where no wind is known: the mean of many stations, FAO-56 chapter 3 on missing wind data."""


@dataclass(frozen=True, slots=True, eq=False)
class ReferenceEt:
    """Reference evapotranspiration of each day and how far to trust it."""

    et_mm: FloatArray
    """(n_days,) [mm/day], never negative."""
    method: str
    bias: str
    """What the method is known to over- or understate, measured where everything is known."""


def penman_monteith_mm(
    tmin_c: FloatArray,
    tmax_c: FloatArray,
    *,
    net_radiation_mj_m2: FloatArray,
    vapour_pressure_kpa: FloatArray,
    wind_2m_m_s: FloatArray | float,
    elevation_m: float,
    soil_heat_flux_mj_m2: float = 0.0,
    tmean_c: FloatArray | None = None,
) -> FloatArray:
    """Reference evapotranspiration by Penman-Monteith, FAO-56 Eq. 6.

    Parameters
    ----------
    tmin_c, tmax_c : (n_days,)
        Minimum and maximum of the day. [°C]
    net_radiation_mj_m2 : (n_days,)
        Net radiation at the grass. [MJ/m²/day]
    vapour_pressure_kpa : (n_days,)
        Actual vapour pressure. [kPa]
    wind_2m_m_s : (n_days,) or float
        Wind speed at 2 m. [m/s]
    elevation_m : float
        Above sea level. [m]
    soil_heat_flux_mj_m2 : float
        0 for days (Eq. 42); Eq. 43 for months. [MJ/m²/day]
    tmean_c : (n_days,) or None
        None: the mean of minimum and maximum (Eq. 9). [°C]

    Returns
    -------
    (n_days,)
        Reference evapotranspiration, not limited at 0. [mm/day]

    Source
    ------
    FAO56 Eq. 6; for days ASCE-EWRI 2005 (ASCE_EWRI_05) gives the same for short grass.
    """
    mean_c = (tmin_c + tmax_c) / 2 if tmean_c is None else tmean_c
    slope = air.vapour_pressure_slope_kpa_c(mean_c)
    gamma = air.psychrometric_constant_kpa_c(air.air_pressure_kpa(elevation_m))
    deficit_kpa = air.mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c) - vapour_pressure_kpa
    radiation_term = _MM_PER_MJ_M2 * slope * (net_radiation_mj_m2 - soil_heat_flux_mj_m2)
    wind_term = gamma * 900 / (mean_c + 273) * wind_2m_m_s * deficit_kpa
    return (radiation_term + wind_term) / (slope + gamma * (1 + 0.34 * wind_2m_m_s))


def hargreaves_mm(tmin_c: FloatArray, tmax_c: FloatArray, extraterrestrial_mj_m2: FloatArray) -> FloatArray:
    """Reference evapotranspiration from temperature alone, FAO-56 Eq. 52.

    Parameters
    ----------
    tmin_c, tmax_c : (n_days,)
        Minimum and maximum of the day. [°C]
    extraterrestrial_mj_m2 : (n_days,)
        Radiation above the air. [MJ/m²/day]

    Returns
    -------
    (n_days,)
        Reference evapotranspiration, not limited at 0. [mm/day]

    Source
    ------
    FAO56 Eq. 52 (Hargreaves).

    Limits
    ------
    FAO-56: too low in strong wind (above 3 m/s), too high where the air is humid.
    """
    mean_c = (tmin_c + tmax_c) / 2
    span_c = np.maximum(tmax_c - tmin_c, 0)
    return 0.0023 * (mean_c + 17.8) * np.sqrt(span_c) * _MM_PER_MJ_M2 * extraterrestrial_mj_m2


def monthly_soil_heat_flux_mj_m2(previous_month_c: float, next_month_c: float) -> float:
    """Soil heat flux of a month from the mean temperatures of its neighbours, FAO-56 Eq. 43.

    Parameters
    ----------
    previous_month_c, next_month_c : float
        Mean air temperature of the month before and after. [°C]

    Returns
    -------
    float
        Mean flux into the soil. [MJ/m²/day]

    Source
    ------
    FAO56 Eq. 43.
    """
    return 0.07 * (next_month_c - previous_month_c)


def reference_et(record: WeatherRecord, latitude_deg: float, elevation_m: float) -> ReferenceEt:
    """Reference evapotranspiration of every day of a record.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in the quantities it has; a gap gives nan on that day.
    latitude_deg : float
        North positive. [degrees], -90 to 90.
    elevation_m : float
        Above sea level. [m]

    Returns
    -------
    ReferenceEt
        Penman-Monteith (Eq. 6) with each quantity the record lacks estimated as FAO-56 says:
        radiation from sunshine or from the range of temperature, humidity from the minimum, wind
        as 2 m/s. Negative days are set to 0.

    Source
    ------
    FAO56 chapters 3 and 4. FAO-56 prefers this to Hargreaves (Eq. 52); the biases of both are measured
    in docs/validation/reference_et.md.

    Limits
    ------
    From temperature alone the result leans to the moist: in a dry place, where nights stay above
    the dew point, it is too low. How far Hargreaves would differ is said beside it.
    """
    # the sun of a day of the year is the same every year: worked once, then looked up
    sun = sun_day(latitude_deg, np.arange(1.0, 367.0)).at(day_of_year(record.dates) - 1)
    radiation_mj_m2, radiation_words = _radiation(record, sun)
    vapour_kpa, humidity_words = _vapour_pressure(record)
    wind, wind_words = _wind(record)
    clear_sky = clear_sky_radiation_mj_m2(sun.extraterrestrial_mj_m2, elevation_m)
    net = net_shortwave_mj_m2(radiation_mj_m2) - net_longwave_mj_m2(
        record.tmin_c, record.tmax_c, vapour_kpa, radiation_mj_m2, clear_sky
    )
    et_mm = np.maximum(
        penman_monteith_mm(
            record.tmin_c,
            record.tmax_c,
            net_radiation_mj_m2=net,
            vapour_pressure_kpa=vapour_kpa,
            wind_2m_m_s=wind,
            elevation_m=elevation_m,
        ),
        0,
    )
    words = f"Penman-Monteith (FAO-56 Eq. 6) with {radiation_words}, {humidity_words} and {wind_words}"
    return ReferenceEt(et_mm, words, _bias(record, sun, et_mm))


def _bias(record: WeatherRecord, sun: SunDay, et_mm: FloatArray) -> str:
    """What is known of the bias, measured at De Bilt by leaving out what this record lacks."""
    has_humidity = record.rh_mean_pct is not None or record.rh_max_pct is not None
    has_radiation = record.radiation_mj_m2 is not None or record.sunshine_h is not None
    if not (has_humidity or has_radiation):
        hargreaves = np.maximum(hargreaves_mm(record.tmin_c, record.tmax_c, sun.extraterrestrial_mj_m2), 0)
        total_mm = float(np.nansum(et_mm))
        return BIAS_TEMPERATURE_ONLY + (
            f" On this record Hargreaves (Eq. 52) gives {float(np.nansum(hargreaves)) / total_mm - 1:+.0%}."
            if total_mm > 0
            else ""
        )
    has_extremes = record.rh_max_pct is not None and record.rh_min_pct is not None
    if not (has_extremes and has_radiation and record.wind_m_s is not None):
        return BIAS_PARTLY_ESTIMATED
    return BIAS_SUNSHINE if record.radiation_mj_m2 is None else BIAS_FULL


BIAS_FULL = "Every input measured: this is the reference method itself."
BIAS_SUNSHINE = "Radiation from sunshine made it 2 % too high at De Bilt 1980-2019."
BIAS_PARTLY_ESTIMATED = (
    "Part of the inputs estimated, or humidity known by one value a day: at De Bilt 1980-2019 that moved the"
    " sum of the years by -13 to +7 %."
)
BIAS_TEMPERATURE_ONLY = (
    "From temperature, with wind where there is any: at De Bilt 1980-2019 this was 4 to 6 % too high over"
    " all years and -2 to +16 % off in single ones; it is too low where the air is dry."
)
"""Figures of docs/validation/reference_et.md."""


def _radiation(record: WeatherRecord, sun: SunDay) -> tuple[FloatArray, str]:
    if record.radiation_mj_m2 is not None:
        return record.radiation_mj_m2, "measured radiation"
    if record.sunshine_h is not None:
        return radiation_from_sunshine_mj_m2(record.sunshine_h, sun), "radiation from sunshine (Eq. 35)"
    estimate = radiation_from_temperature_mj_m2(record.tmin_c, record.tmax_c, sun)
    return estimate, "radiation from the range of temperature (Eq. 50)"


def _vapour_pressure(record: WeatherRecord) -> tuple[FloatArray, str]:
    tmin_c, tmax_c = record.tmin_c, record.tmax_c
    if record.rh_max_pct is not None and record.rh_min_pct is not None:
        both = air.vapour_pressure_from_extremes_kpa(tmin_c, tmax_c, record.rh_max_pct, record.rh_min_pct)
        return both, "highest and lowest humidity (Eq. 17)"
    if record.rh_max_pct is not None:
        return air.vapour_pressure_from_highest_kpa(tmin_c, record.rh_max_pct), "highest humidity (Eq. 18)"
    if record.rh_mean_pct is not None:
        mean = air.vapour_pressure_from_mean_kpa(tmin_c, tmax_c, record.rh_mean_pct)
        return mean, "mean humidity (Eq. 19)"
    return air.vapour_pressure_from_minimum_kpa(tmin_c), "dew point taken as the minimum (Eq. 48)"


def _wind(record: WeatherRecord) -> tuple[FloatArray | float, str]:
    if record.wind_m_s is None:
        return DEFAULT_WIND_2M_M_S, "wind taken as 2 m/s"
    return air.wind_at_2m_m_s(record.wind_m_s, record.wind_height_m), "measured wind"
