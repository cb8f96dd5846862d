"""Crop coefficients of one day: FAO-56 chapters 6 to 8, equation by equation.

All functions take arrays of any shapes that broadcast together.
"""

from __future__ import annotations

import numpy as np

from bedwright.engine.climate.air import saturation_vapour_pressure_kpa
from bedwright.model.weather import FloatArray

BARE_SOIL_KC = 0.15
"""Kc min of Eq. 76: dry bare soil, FAO-56 recommends 0.15 to 0.20."""

ADJUST_END_ABOVE = 0.45
"""Kc end and Kcb end are adjusted for climate only above this, FAO-56 Eqs. 65 and 70."""

SIGNIFICANT_RAIN_MM = 3.0
"""Rain from which the whole surface counts as wetted, FAO-56 p. 149: 3 to 4 mm."""

MOST_COVER = 0.99
LEAST_EXPOSED = 0.01
"""Bounds of Eqs. 75 and 76."""

ORGANIC_MULCH_CUT = 0.5
"""Evaporation falls by 5 % for each 10 % of the ground under organic mulch, FAO-56 chapter 10."""

Number = FloatArray | float


def least_humidity_pct(tmin_c: FloatArray, tmax_c: FloatArray) -> FloatArray:
    """Least relative humidity of a day from its temperatures, FAO-56 Eq. 64.

    Parameters
    ----------
    tmin_c, tmax_c : any equal shape
        Minimum, taken as the dew point, and maximum. [°C]

    Returns
    -------
    same shape
        Least relative humidity. [%]

    Source
    ------
    FAO56 Eq. 64.

    Limits
    ------
    Too moist where the night stays above the dew point.
    """
    return np.asarray(100 * saturation_vapour_pressure_kpa(tmin_c) / saturation_vapour_pressure_kpa(tmax_c))


def climate_term(wind_2m_m_s: Number, humidity_min_pct: Number, height_m: Number) -> FloatArray:
    """What wind, dry air and height add to a coefficient, the common term of Eqs. 62, 70 and 72.

    Parameters
    ----------
    wind_2m_m_s : any shape
        At 2 m. [m/s]; held within 1 to 6.
    humidity_min_pct : any shape
        Least relative humidity of the day. [%]; held within 20 to 80.
    height_m : any shape
        Of the crop. [m]

    Returns
    -------
    broadcast shape
        Addition, negative in moist still air. [1]

    Source
    ------
    FAO56 Eqs. 62, 70, 72 and the bounds stated with Eq. 62.
    """
    wind = np.clip(wind_2m_m_s, 1.0, 6.0)
    humidity = np.clip(humidity_min_pct, 20.0, 80.0)
    span = np.asarray(height_m, dtype=np.float64) / 3
    return np.asarray((0.04 * (wind - 2) - 0.004 * (humidity - 45)) * span**0.3)


def adjusted_coefficient(
    table: Number, wind_2m_m_s: Number, humidity_min_pct: Number, height_m: Number, *, end: bool = False
) -> FloatArray:
    """A coefficient of Table 12 or 17 adjusted for the climate, FAO-56 Eqs. 62, 65 and 70.

    Parameters
    ----------
    table : any shape
        Kc or Kcb, mid-season or end. [1]
    wind_2m_m_s, humidity_min_pct, height_m : any shape
        Means over the stage. [m/s], [%], [m]
    end : bool
        True for the end of the season: not adjusted at or below 0.45.

    Returns
    -------
    broadcast shape
        Adjusted coefficient. [1]

    Source
    ------
    FAO56 Eqs. 62, 65, 70.
    """
    adjusted = np.asarray(table) + climate_term(wind_2m_m_s, humidity_min_pct, height_m)
    if not end:
        return adjusted
    return np.where(np.asarray(table) > ADJUST_END_ABOVE, adjusted, table)


def coefficient_on_day(
    day: FloatArray, ends: tuple[Number, Number, Number, Number], initial: Number, middle: Number, end: Number
) -> FloatArray:
    """Coefficient on a day of the season: flat, rising, flat, falling; FAO-56 Eq. 66.

    Parameters
    ----------
    day : any shape
        Day of the season, 1 on the day of planting.
    ends : four of any shape
        Last day of the initial, development, mid-season and late stage.
    initial, middle, end : any shape
        Coefficients. [1]

    Returns
    -------
    broadcast shape
        Coefficient; that of the end from the last day on. [1]

    Source
    ------
    FAO56 Eq. 66.
    """
    rise = _share(day, ends[0], ends[1])
    fall = _share(day, ends[2], ends[3])
    return np.asarray(initial + rise * (np.asarray(middle) - initial) - fall * (np.asarray(middle) - end))


def highest_coefficient(
    kcb: Number, wind_2m_m_s: Number, humidity_min_pct: Number, height_m: Number
) -> FloatArray:
    """Upper limit of Kc after wetting, FAO-56 Eq. 72.

    Parameters
    ----------
    kcb : any shape
        Basal coefficient of the day. [1]
    wind_2m_m_s, humidity_min_pct, height_m : any shape
        Of the day. [m/s], [%], [m]

    Returns
    -------
    broadcast shape
        Kc max. [1]

    Source
    ------
    FAO56 Eq. 72, with 1.2 for wettings more than 3 or 4 days apart.
    """
    return np.maximum(1.2 + climate_term(wind_2m_m_s, humidity_min_pct, height_m), np.asarray(kcb) + 0.05)


def covered_share(kcb: Number, kc_max: Number, height_m: Number, kc_min: Number = BARE_SOIL_KC) -> FloatArray:
    """Share of the ground under leaves, FAO-56 Eq. 76.

    Parameters
    ----------
    kcb, kc_max : any shape
        Basal and highest coefficient. [1]
    height_m : any shape
        Of the crop. [m]
    kc_min : any shape
        Coefficient of dry bare soil. [1]

    Returns
    -------
    broadcast shape
        Covered share. [1], 0 to 0.99.

    Source
    ------
    FAO56 Eq. 76.
    """
    above = np.maximum(np.asarray(kcb) - kc_min, 0.0)
    room = np.maximum(np.asarray(kc_max) - kc_min, 0.01)
    return np.asarray(np.minimum((above / room) ** (1 + 0.5 * np.asarray(height_m)), MOST_COVER))


def exposed_wetted_share(
    covered: Number, wetted_share: Number, under_leaves: Number | bool = False
) -> FloatArray:
    """Share of the ground that is both in the open and wet, FAO-56 Eq. 75.

    Parameters
    ----------
    covered : any shape
        Share under leaves. [1]
    wetted_share : any shape
        Share wetted by the last wetting. [1]
    under_leaves : any shape of bool
        True where water is let out beneath the plants: the wetted share counts
        1 - 2/3 of the covered share.

    Returns
    -------
    broadcast shape
        Share from which most evaporation comes. [1], 0.01 to 1.

    Source
    ------
    FAO56 Eq. 75 and, for drip, the text below it and Example 34.
    """
    wet = np.asarray(wetted_share) * (1 - np.asarray(under_leaves, dtype=np.float64) * covered * (2 / 3))
    return np.asarray(np.clip(np.minimum(1 - np.asarray(covered), wet), LEAST_EXPOSED, 1.0))


def evaporation_reduction(depleted_mm: Number, readily_mm: Number, total_mm: Number) -> FloatArray:
    """How far a drying surface still evaporates, FAO-56 Eq. 74.

    Parameters
    ----------
    depleted_mm : any shape
        Evaporated from the surface layer since it was wet. [mm]
    readily_mm, total_mm : any shape
        Readily and totally evaporable water. [mm], total above readily.

    Returns
    -------
    broadcast shape
        Kr. [1], 0 to 1.

    Source
    ------
    FAO56 Eq. 74.
    """
    return np.clip((total_mm - np.asarray(depleted_mm)) / (np.asarray(total_mm) - readily_mm), 0.0, 1.0)


def evaporation_coefficient(kr: Number, kc_max: Number, kcb: Number, exposed_wetted: Number) -> FloatArray:
    """Coefficient of evaporation from soil, FAO-56 Eq. 71.

    Parameters
    ----------
    kr, kc_max, kcb, exposed_wetted : any shape
        Reduction, highest and basal coefficient, exposed and wetted share. [1]

    Returns
    -------
    broadcast shape
        Ke. [1]

    Source
    ------
    FAO56 Eq. 71.
    """
    return np.asarray(np.minimum(kr * (np.asarray(kc_max) - kcb), np.asarray(exposed_wetted) * kc_max))


def depletion_fraction(table: Number, crop_et_mm: Number) -> FloatArray:
    """Share of the available water a crop takes without suffering, for the day's demand.

    Parameters
    ----------
    table : any shape
        Fraction of Table 22, for a demand of 5 mm a day. [1]
    crop_et_mm : any shape
        Demand of the crop. [mm/day]

    Returns
    -------
    broadcast shape
        Fraction. [1], 0.1 to 0.8.

    Source
    ------
    FAO56 p. 162 and Table 22, footnote 2.
    """
    return np.clip(np.asarray(table) + 0.04 * (5 - np.asarray(crop_et_mm)), 0.1, 0.8)


def stress_coefficient(depletion_mm: Number, total_mm: Number, fraction: Number) -> FloatArray:
    """How far a crop short of water still transpires, FAO-56 Eq. 84.

    Parameters
    ----------
    depletion_mm : any shape
        Water missing from the root zone. [mm]
    total_mm : any shape
        Total available water. [mm], above 0.
    fraction : any shape
        Depletion fraction. [1], below 1.

    Returns
    -------
    broadcast shape
        Ks. [1], 0 to 1.

    Source
    ------
    FAO56 Eq. 84.
    """
    total = np.asarray(total_mm)
    return np.asarray(np.clip((total - depletion_mm) / ((1 - np.asarray(fraction)) * total), 0.0, 1.0))


def mulch_factor(cover_share: Number) -> FloatArray:
    """Share of evaporation that an organic mulch lets through.

    Parameters
    ----------
    cover_share : any shape
        Share of the ground under mulch. [1], 0 to 1.

    Returns
    -------
    same shape
        Factor on Ke; Kcb is not changed. [1]

    Source
    ------
    FAO56 chapter 10, organic mulches with the dual coefficient.

    Limits
    ------
    FAO-56 calls it approximate; depth and kind of mulch are left out.
    """
    return np.asarray(1 - ORGANIC_MULCH_CUT * np.asarray(cover_share))


def shade_factor(sun_share: Number) -> FloatArray:
    """Share of the demand for water that is left in shade.

    Parameters
    ----------
    sun_share : any shape
        Hours of direct sun on the patch as a share of those in the open. [1], 0 to 1.

    Returns
    -------
    same shape
        Factor on reference evapotranspiration. [1], 1/3 to 1.

    Source
    ------
    Own rule on FAO56 Eq. 35: radiation is 0.25 + 0.50 n/N of that above the air, so on a clear day a
    place with the share s of the open's sun gets (0.25 + 0.50 s) / 0.75 of its radiation. Demand is
    taken to fall with radiation.

    Limits
    ------
    Clear days; on dull days shade matters less. Dry wind draws water in shade too, so the factor is too
    low in dry windy places. Roots of the tree that shades the bed, and rain it keeps off, are left out.
    """
    return np.asarray((0.25 + 0.50 * np.clip(sun_share, 0.0, 1.0)) / 0.75)


def _share(day: FloatArray, start: Number, end: Number) -> FloatArray:
    span = np.maximum(np.asarray(end, dtype=np.float64) - start, 1e-9)
    return np.asarray(np.clip((day - np.asarray(start)) / span, 0.0, 1.0))
