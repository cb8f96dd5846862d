"""Light on open level ground: sun and sky, under a clear sky and on average."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from bedwright.engine.climate.air import air_pressure_kpa, vapour_pressure_from_minimum_kpa
from bedwright.engine.climate.dates import IntArray, day_of_year, month_of
from bedwright.engine.climate.radiation import (
    SunDay,
    clear_sky_radiation_mj_m2,
    radiation_from_sunshine_mj_m2,
    radiation_from_temperature_mj_m2,
    sun_day,
)
from bedwright.engine.sunlight.places import LEVEL, Slope
from bedwright.engine.sunlight.sun_table import Weight
from bedwright.model.light import OpenLight
from bedwright.model.weather import FloatArray, WeatherRecord

SOLAR_CONSTANT_MJ_M2_H = 0.0820 * 60
"""FAO56 Eq. 21."""
PLANT_LIGHT_MOL_MJ = 0.007265 * 1000 / 3.6
"""Photons of 400 to 700 nm in a megajoule of sunlight: FAUST_LOGAN18, 0.007265 mol/Wh."""
TYPICAL_VAPOUR_KPA = 1.0
"""Air for the weight of low against high sun where only shares are asked for; own choice.

Between 0.5 and 2.5 kPa the share of direct light in half shade moves by less than 0.01.
"""
SAMPLE_MIN = 10.0


def beam_share_of_sun(
    sine_elevation: FloatArray, pressure_kpa: float, vapour_kpa: FloatArray | float
) -> FloatArray:
    """Share of the sun's direct radiation that comes through a clear sky, ASCE-EWRI Eq. D.2.

    Parameters
    ----------
    sine_elevation : any shape
        Sine of the sun's elevation. [1], above 0.
    pressure_kpa
        Of the air. [kPa]
    vapour_kpa : broadcast shape
        Vapour pressure of the air. [kPa]

    Source
    ------
    ASCE_EWRI_05 Eqs. D.2 and D.3 with clean air (turbidity 1), as coded in the public package RefET.
    """
    water_mm = 0.14 * np.asarray(vapour_kpa) * pressure_kpa + 2.1
    sine = np.maximum(sine_elevation, 1e-3)
    return np.asarray(0.98 * np.exp(-0.00146 * pressure_kpa / sine - 0.075 * (water_mm / sine) ** 0.4))


def sky_share_of_sun(beam_share: FloatArray) -> FloatArray:
    """Share of the sun's radiation that a clear sky sends down, ASCE-EWRI Eq. D.4.

    Source
    ------
    ASCE_EWRI_05 Eq. D.4, as coded in the public package RefET.
    """
    return np.minimum(0.35 - 0.36 * beam_share, 0.18 + 0.82 * beam_share)


def direct_light_weight(
    elevation_m: float, vapour_kpa: float = TYPICAL_VAPOUR_KPA, slope: Slope = LEVEL
) -> Weight:
    """What an hour of clear sun brings to the ground, for `sun_table`. [MJ/m²/h].

    On sloping ground the light is that on the slope: cos θ = sin e cos β + cos e sin β cos (A − γ),
    from elevation e and azimuth A of the sun, slope β and aspect γ.

    Source
    ------
    DUFFIE_BECKMAN, angle of incidence on a tilted plane.
    """
    pressure_kpa = air_pressure_kpa(elevation_m)
    tilt_rad, faces_rad = np.radians(slope.slope_deg), np.radians(slope.bearing_deg)

    def weight(day: FloatArray, elevation_rad: FloatArray, azimuth_rad: FloatArray) -> FloatArray:
        distance = 1 + 0.033 * np.cos(2 * np.pi / 365 * day)
        sine = np.sin(elevation_rad)
        onto_ground = sine * np.cos(tilt_rad) + np.cos(elevation_rad) * np.sin(tilt_rad) * np.cos(
            azimuth_rad - faces_rad
        )
        beam = beam_share_of_sun(sine, pressure_kpa, vapour_kpa)
        per_hour: FloatArray = SOLAR_CONSTANT_MJ_M2_H * distance * beam * np.maximum(onto_ground, 0)
        return per_hour

    return weight


def clear_light(latitude_deg: float, elevation_m: float, vapour_kpa: Sequence[float]) -> OpenLight:
    """Light of a cloudless day of each month.

    Parameters
    ----------
    latitude_deg, elevation_m
        Place. [°], [m]
    vapour_kpa : (12,)
        Vapour pressure of each month. [kPa]

    Source
    ------
    Total: FAO56 Eq. 37. Its parts, sun and sky: ASCE_EWRI_05 Appendix D, through the day.
    """
    direct_share = np.array(
        [_direct_share(latitude_deg, elevation_m, month, vapour_kpa[month - 1]) for month in range(1, 13)]
    )
    total_mj_m2 = clear_sky_radiation_mj_m2(_monthly_extraterrestrial_mj_m2(latitude_deg), elevation_m)
    return OpenLight(
        _as_tuple(total_mj_m2 * direct_share),
        _as_tuple(total_mj_m2 * (1 - direct_share)),
        (1.0,) * 12,
        "clear sky (FAO-56 Eq. 37)",
    )


def diffuse_share(clearness: FloatArray, sunset_hour_angle_rad: FloatArray) -> FloatArray:
    """Share of the month's light that comes from the sky, Erbs, Klein & Duffie 1982.

    Parameters
    ----------
    clearness : any shape
        Radiation as a share of that above the air, monthly mean. [1]; held within 0.3 to 0.8.
    sunset_hour_angle_rad : same shape
        FAO-56 Eq. 25 in mid month. [rad]

    Source
    ------
    ERBS82, the correlation for monthly means.
    """
    k = np.clip(clearness, 0.3, 0.8)
    winter = 1.391 - 3.560 * k + 4.189 * k**2 - 2.137 * k**3
    rest = 1.311 - 3.022 * k + 3.427 * k**2 - 1.821 * k**3
    return np.where(np.degrees(sunset_hour_angle_rad) <= 81.4, winter, rest)


def average_light(record: WeatherRecord, latitude_deg: float, elevation_m: float) -> OpenLight:
    """Light of the average day of each month under the record's own sky.

    Parameters
    ----------
    record
        Daily weather.
    latitude_deg, elevation_m
        Place. [°], [m]

    Source
    ------
    Total: as measured, else FAO56 Eq. 35 (sunshine) or Eq. 50 (range of temperature). Its parts
    by ERBS82. Sunshine share: as measured, else direct light as a share of that of a clear day,
    an own rule, within 0.06 of 40 years of measured sunshine at De Bilt.

    Limits
    ------
    Months that the record lacks count as clear.
    """
    sun = sun_day(latitude_deg, np.arange(1.0, 367.0)).at(day_of_year(record.dates) - 1)
    if record.radiation_mj_m2 is not None:
        radiation_mj_m2, words = record.radiation_mj_m2, "measured radiation"
    elif record.sunshine_h is not None:
        radiation_mj_m2 = radiation_from_sunshine_mj_m2(record.sunshine_h, sun)
        words = "radiation from sunshine (FAO-56 Eq. 35)"
    else:
        radiation_mj_m2 = radiation_from_temperature_mj_m2(record.tmin_c, record.tmax_c, sun)
        words = "radiation from the range of temperature (FAO-56 Eq. 50)"
    month = month_of(record.dates)
    vapour_kpa = _monthly(vapour_pressure_from_minimum_kpa(record.tmin_c), month, TYPICAL_VAPOUR_KPA)
    clear = clear_light(latitude_deg, elevation_m, [float(kpa) for kpa in vapour_kpa])
    clear_direct, clear_diffuse = np.array(clear.direct_mj_m2), np.array(clear.diffuse_mj_m2)
    clearness = _ratio(_monthly_sum(radiation_mj_m2, sun.extraterrestrial_mj_m2, month), 0.75)
    total = np.minimum(
        clearness * _monthly_extraterrestrial_mj_m2(latitude_deg), clear_direct + clear_diffuse
    )
    sunset_rad = np.array([_mid_month_sun(latitude_deg, k).sunset_hour_angle_rad[0] for k in range(1, 13)])
    direct = np.minimum(total * (1 - diffuse_share(clearness, sunset_rad)), clear_direct)
    share = _ratio((direct, clear_direct), 0.0)
    if record.sunshine_h is not None:
        share = np.clip(_ratio(_monthly_sum(record.sunshine_h, sun.daylight_h, month), 1.0), 0, 1)
    return OpenLight(
        _as_tuple(direct),
        _as_tuple(total - direct),
        _as_tuple(share),
        f"average sky of {record.station}: {words}",
    )


def daily_light_mj_m2(sun_share: FloatArray, sky_share: FloatArray, light: OpenLight) -> FloatArray:
    """Light on shaded ground, month by month.

    Parameters
    ----------
    sun_share, sky_share : (12, ...)
        Shares of the direct light and of the sky of level open ground that are left, January first. [1]
    light
        Of open ground.

    Returns
    -------
    (12, ...)
        [MJ/m²/day]; times `PLANT_LIGHT_MOL_MJ` the daily light integral [mol/m²/day].

    Limits
    ------
    The sky counts as equally bright everywhere; light thrown back by walls and ground is left out.
    """
    shape = (12, *(1,) * (sun_share.ndim - 1))
    direct = np.reshape(light.direct_mj_m2, shape)
    diffuse = np.reshape(light.diffuse_mj_m2, shape)
    together: FloatArray = sun_share * direct + sky_share * diffuse
    return together


def _direct_share(latitude_deg: float, elevation_m: float, month: int, vapour_kpa: float) -> float:
    """Share of direct light in that of a clear day in mid month, summed through the day."""
    hour_angle_rad = 2 * np.pi * ((np.arange(24 * 60 / SAMPLE_MIN) + 0.5) * SAMPLE_MIN / 1440 - 0.5)
    latitude_rad = np.radians(latitude_deg)
    declination_rad = float(_mid_month_sun(latitude_deg, month).declination_rad[0])
    sine = np.sin(latitude_rad) * np.sin(declination_rad) + np.cos(latitude_rad) * np.cos(
        declination_rad
    ) * np.cos(hour_angle_rad)
    sine = sine[sine > 0]
    if not sine.size:
        return 0.0
    beam = beam_share_of_sun(sine, air_pressure_kpa(elevation_m), vapour_kpa)
    direct, diffuse = float(np.sum(sine * beam)), float(np.sum(sine * sky_share_of_sun(beam)))
    return direct / (direct + diffuse)


def _mid_month_sun(latitude_deg: float, month: int) -> SunDay:
    return sun_day(latitude_deg, np.array([round(30.4 * month - 15)], dtype=np.float64))


def _monthly_extraterrestrial_mj_m2(latitude_deg: float) -> FloatArray:
    """Mean over the days of each month, FAO-56 Eq. 21."""
    dates = np.arange(np.datetime64("2026-01-01"), np.datetime64("2027-01-01"))
    every = sun_day(latitude_deg, np.arange(1.0, 366.0)).extraterrestrial_mj_m2
    return _monthly(every, month_of(dates), 0.0)


def _monthly(values: FloatArray, month: IntArray, lacking: float) -> FloatArray:
    """Mean by calendar month, (12,); days without a value are left out."""
    return _ratio(_monthly_sum(values, np.ones(len(values)), month), lacking)


def _monthly_sum(values: FloatArray, of: FloatArray, month: IntArray) -> tuple[FloatArray, FloatArray]:
    """Sums by calendar month of two quantities over the days on which the first is known."""
    known = np.isfinite(values)
    return (
        np.bincount(month[known] - 1, values[known], 12).astype(np.float64),
        np.bincount(month[known] - 1, of[known], 12).astype(np.float64),
    )


def _ratio(parts: tuple[FloatArray, FloatArray], lacking: float) -> FloatArray:
    ratio: FloatArray = np.divide(parts[0], parts[1], out=np.full(12, lacking), where=parts[1] > 0)
    return ratio


def _as_tuple(values: FloatArray) -> tuple[float, ...]:
    return tuple(float(value) for value in values)
