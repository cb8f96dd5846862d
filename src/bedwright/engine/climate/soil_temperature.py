"""Soil temperature at sowing depth from the temperature of the air."""

from __future__ import annotations

import math

import numpy as np

from bedwright.model.weather import FloatArray

SOIL_DIFFUSIVITY_M2_S = 5e-7
"""Thermal diffusivity of a moist mineral soil, the value of the worked example in Rain or Shine
(Oklahoma State Univ.), section 13.4 (RAIN_OR_SHINE)."""

YEAR_DAYS = 365.0
_SECONDS_PER_DAY = 86400.0

# Kätterer & Andrén 2009 (KATTERER_ANDREN_09), for bare soil: leaf area index 0.
_BARE_SOIL_FACTOR = 0.95 + 0.05 * math.exp(-0.4 * (0 - 3))
_FROZEN_FACTOR = 0.20
_RATE_AT_SURFACE_PER_DAY = 0.24
_RATE_DECAY_PER_CM = 0.017


def damping_depth_m(diffusivity_m2_s: float, period_days: float) -> float:
    """Depth at which a temperature wave has shrunk to 1/e of its size at the surface.

    Parameters
    ----------
    diffusivity_m2_s : float
        Thermal diffusivity. [m²/s], above 0; soils are near 2e-7 to 1e-6.
    period_days : float
        Period of the wave. [days], above 0.

    Returns
    -------
    float
        sqrt(2 D / w) with w = 2 pi / period. [m]

    Source
    ------
    Hillel 1982, as given by the soil physics toolkit of Oklahoma State University (HILLEL82).
    """
    return math.sqrt(diffusivity_m2_s * period_days * _SECONDS_PER_DAY / math.pi)


def annual_wave_c(
    day_of_year: FloatArray,
    depth_m: float,
    *,
    mean_c: float,
    surface_amplitude_c: float,
    day_of_minimum: float,
    diffusivity_m2_s: float = SOIL_DIFFUSIVITY_M2_S,
) -> FloatArray:
    """Soil temperature at a depth when the surface follows one sine wave a year.

    Parameters
    ----------
    day_of_year : any shape
        Day counted from 1 January. [days]
    depth_m : float
        Below the surface. [m], not negative.
    mean_c, surface_amplitude_c : float
        Mean of the year and half the range at the surface. [°C]
    day_of_minimum : float
        Day of the year on which the surface is coldest. [days]
    diffusivity_m2_s : float
        Thermal diffusivity. [m²/s]

    Returns
    -------
    same shape
        Daily mean soil temperature. [°C]

    Source
    ------
    Hillel 1982, T = Ta + A0 exp(-z/d) sin(2 pi (t - t0)/365 - z/d - pi/2), as given by the soil physics
    toolkit of Oklahoma State University (HILLEL82); van Wijk & de Vries 1963 have the same solution.

    Limits
    ------
    One average year in uniform soil: no warm or cold spells.
    """
    damped = depth_m / damping_depth_m(diffusivity_m2_s, YEAR_DAYS)
    phase_rad = 2 * np.pi * (np.asarray(day_of_year) - day_of_minimum) / YEAR_DAYS - damped - np.pi / 2
    wave: FloatArray = mean_c + surface_amplitude_c * math.exp(-damped) * np.sin(phase_rad)
    return wave


def bare_soil_surface_c(tmean_c: FloatArray) -> FloatArray:
    """Daily mean temperature at the surface of bare soil from that of the air.

    Parameters
    ----------
    tmean_c : any shape
        Daily mean air temperature. [°C]

    Returns
    -------
    same shape
        1.12 times the air's where that is above 0 °C, 0.2 times it below (snow and freezing
        water hold the soil near 0 °C). [°C]

    Source
    ------
    Kätterer & Andrén 2009, Acta Agric. Scand. B 59:77-86 (KATTERER_ANDREN_09), at leaf area index 0.
    """
    return np.where(tmean_c >= 0, _BARE_SOIL_FACTOR, _FROZEN_FACTOR) * tmean_c


def soil_temperature_c(tmean_c: FloatArray, depth_m: float, first_day_of_year: int) -> FloatArray:
    """Daily mean temperature of bare soil at a depth for every day of a record.

    Parameters
    ----------
    tmean_c : (n_days,)
        Daily mean air temperature on consecutive days, without gaps. [°C]
    depth_m : float
        Depth of the seed. [m], 0 to 0.3.
    first_day_of_year : int
        Day of the year of the first value, 1 to 366.

    Returns
    -------
    (n_days,)
        Daily mean soil temperature. [°C]

    Raises
    ------
    ValueError
        If the depth lies outside 0 to 0.3 m.

    Source
    ------
    Kätterer & Andrén 2009 (KATTERER_ANDREN_09): each day the soil moves towards the surface by the
    share 0.24 exp(-0.017 z), z in cm; coefficients as documented in the R package reclim. That is a
    lag of four to five days at 5 cm. The first day starts on the year's wave of Hillel 1982
    (HILLEL82) fitted to the record, so that no made-up start lingers.

    Limits
    ------
    Fitted to arable soils of cold temperate places. Blind to mulch, shade, slope, raised beds,
    irrigation and the swing from day to night; below 0 °C it supposes snow. Expect the soil of one
    day to be off by about 2 °C: Zheng, Hunt & Running 1993 (abstract read) report standard errors of 1.5 to
    2.9 °C at 10 cm for a like method at US stations. See docs/validation/soil_temperature.md.
    """
    if not 0 <= depth_m <= 0.3:
        raise ValueError(f"soil depth {depth_m} m is outside 0 to 0.3 m")
    surface_c = bare_soil_surface_c(tmean_c)
    share = _RATE_AT_SURFACE_PER_DAY * math.exp(-_RATE_DECAY_PER_CM * depth_m * 100)
    soil_c = _first_day_c(surface_c, depth_m, first_day_of_year)
    series = np.empty(surface_c.size)
    for day, towards_c in enumerate(surface_c.tolist()):
        series[day] = soil_c
        soil_c += share * (towards_c - soil_c)
    return series


def _first_day_c(surface_c: FloatArray, depth_m: float, first_day_of_year: int) -> float:
    """Temperature on the first day by the yearly wave fitted to the record."""
    if surface_c.size < YEAR_DAYS:  # too short to fit a year: the nearest days are the best guess
        return float(surface_c[:15].mean())
    whole_years = int(surface_c.size // YEAR_DAYS)
    values = surface_c[: int(whole_years * YEAR_DAYS)]
    day = first_day_of_year + np.arange(values.size)
    angle_rad = 2 * np.pi * day / YEAR_DAYS
    mean_c = float(values.mean())
    cosine_c, sine_c = (
        2 * float(np.mean(values * np.cos(angle_rad))),
        2 * float(np.mean(values * np.sin(angle_rad))),
    )
    # mean + c cos(a) + s sin(a) = mean - A cos(a - a0), coldest at a0
    day_of_minimum = math.atan2(-sine_c, -cosine_c) * YEAR_DAYS / (2 * math.pi)
    wave = annual_wave_c(
        np.array([float(first_day_of_year)]),
        depth_m,
        mean_c=mean_c,
        surface_amplitude_c=math.hypot(cosine_c, sine_c),
        day_of_minimum=day_of_minimum,
    )
    return float(wave[0])
