"""Weather as the water balance wants it: of the record, of recorded seasons, of this season so far."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np

from bedwright.engine.climate import reference_et
from bedwright.engine.climate.air import wind_at_2m_m_s
from bedwright.engine.climate.dates import DAYS_IN_COMMON_YEAR, anniversary, common_day
from bedwright.engine.climate.reference_et import DEFAULT_WIND_2M_M_S
from bedwright.engine.water.coefficients import least_humidity_pct
from bedwright.engine.water.sources import FAO56
from bedwright.model.source import Origin
from bedwright.model.water import DailyConditions, ForecastDay, RainReading
from bedwright.model.weather import DateArray, FloatArray, WeatherRecord

USUAL_WINDOW_DAYS = 7
"""Days either side of a calendar day that make its usual value. Common practice, no source."""


def site_conditions(record: WeatherRecord, latitude_deg: float, elevation_m: float) -> DailyConditions:
    """Rain, reference evapotranspiration, wind and least humidity of every day of a record.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps.
    latitude_deg, elevation_m : float
        Of the site. [degrees], [m]

    Returns
    -------
    DailyConditions
        Wind 2 m/s where the record has none; least humidity from the temperatures where it has none.

    Raises
    ------
    ValueError
        If rain or temperatures have gaps, or rain is negative.

    Source
    ------
    Reference evapotranspiration: climate stage. Wind at 2 m: FAO56 Eq. 47. Humidity: FAO56 Eq. 64.
    """
    evapotranspiration = reference_et(record, latitude_deg, elevation_m)
    if record.wind_m_s is None:
        wind = np.full(record.dates.size, DEFAULT_WIND_2M_M_S)
    else:
        wind = wind_at_2m_m_s(record.wind_m_s, record.wind_height_m)
    humidity = record.rh_min_pct
    if humidity is None:
        humidity = least_humidity_pct(record.tmin_c, record.tmax_c)
    for name, values in (("rain_mm", record.rain_mm), ("reference_et_mm", evapotranspiration.et_mm)):
        if not (np.isfinite(values).all() and values.min(initial=0.0) >= 0):
            raise ValueError(f"{name} has missing or negative values; fill the gaps first")
    method = f"{evapotranspiration.method}. {evapotranspiration.bias}"
    return DailyConditions(
        dates=record.dates,
        rain_mm=record.rain_mm,
        reference_et_mm=evapotranspiration.et_mm,
        wind_2m_m_s=wind,
        humidity_min_pct=humidity,
        origins=(Origin("reference_et_mm", None, method, (FAO56,), "derived"),),
    )


def recorded_seasons(site: DailyConditions, season_start: date, n_days: int) -> DailyConditions:
    """A site's record cut into seasons side by side.

    Parameters
    ----------
    site : DailyConditions
        Whole record.
    season_start : date
        First day of the planned season; its month and day cut the record.
    n_days : int
        Days followed from each start.

    Returns
    -------
    DailyConditions
        Arrays (n_days, n_years), dates of the planned season. Only seasons wholly in the record.

    Raises
    ------
    ValueError
        If no season lies wholly in the record.
    """
    first, last = site.dates[0].astype(date), site.dates[-1].astype(date)
    starts = {
        year: (anniversary(season_start, year) - first).days for year in range(first.year, last.year + 1)
    }
    held = {year: at for year, at in starts.items() if at >= 0 and at + n_days <= site.n_days}
    if not held:
        raise ValueError(f"the record, {first} to {last}, holds no {n_days} days from {season_start:%d %B}")
    rows = np.array(list(held.values()))[None, :] + np.arange(n_days)[:, None]
    return DailyConditions(
        dates=np.datetime64(season_start) + np.arange(n_days),
        rain_mm=site.rain_mm[rows],
        reference_et_mm=site.reference_et_mm[rows],
        wind_2m_m_s=site.wind_2m_m_s[rows],
        humidity_min_pct=site.humidity_min_pct[rows],
        years=tuple(held),
        origins=site.origins,
    )


def season_so_far(
    site: DailyConditions,
    start: date,
    until: date,
    *,
    readings: Sequence[RainReading] = (),
    forecast: Sequence[ForecastDay] = (),
) -> DailyConditions:
    """One run of days through the season at hand, from whatever is known of each.

    Parameters
    ----------
    site : DailyConditions
        The site's record; it may end before or after `start`.
    start, until : date
        First and last day.
    readings : sequence of RainReading
        Of the rain gauge. From the first to the last of them they replace the record; days between
        without a reading had no rain of their own.
    forecast : sequence of ForecastDay
        For days to come.

    Returns
    -------
    DailyConditions
        Days of the record as recorded; other days with the usual evapotranspiration, wind and
        humidity of their time of year, and no rain but that of readings and forecast.

    Raises
    ------
    ValueError
        If a reading or forecast is negative or not a number, or a day is given twice.
    """
    _refuse_bad(readings, forecast)
    dates = np.arange(np.datetime64(start), np.datetime64(until) + 1)
    usual = {name: usual_values(site, getattr(site, name), dates) for name in _WEATHER}
    rain = np.zeros(dates.size)
    at = (dates - site.dates[0]).astype(np.int64)
    known = (at >= 0) & (at < site.n_days)
    rain[known] = site.rain_mm[at[known]]
    for name in _WEATHER:
        usual[name][known] = getattr(site, name)[at[known]]
    if readings:
        days = [reading.day for reading in readings]
        spanned = (dates >= np.datetime64(min(days))) & (dates <= np.datetime64(max(days)))
        rain[spanned] = 0.0
    entries: tuple[RainReading | ForecastDay, ...] = (*readings, *forecast)
    for entry in entries:
        index = (entry.day - start).days
        if 0 <= index < dates.size:
            rain[index] = entry.rain_mm
            if isinstance(entry, ForecastDay) and entry.reference_et_mm is not None:
                usual["reference_et_mm"][index] = entry.reference_et_mm
    return DailyConditions(
        dates=dates,
        rain_mm=rain,
        reference_et_mm=usual["reference_et_mm"],
        wind_2m_m_s=usual["wind_2m_m_s"],
        humidity_min_pct=usual["humidity_min_pct"],
        origins=site.origins,
    )


_WEATHER = ("reference_et_mm", "wind_2m_m_s", "humidity_min_pct")


def usual_values(site: DailyConditions, values: FloatArray, dates: DateArray) -> FloatArray:
    """Mean of a quantity near the same day of all recorded years.

    Parameters
    ----------
    site : DailyConditions
        Whole record.
    values : (n_days of site,)
        One of its quantities.
    dates : (n,)
        Days wanted.

    Returns
    -------
    (n,)
        Mean within 7 days of each calendar day.
    """
    day = common_day(site.dates)
    total = np.bincount(day, weights=values, minlength=DAYS_IN_COMMON_YEAR)
    count = np.bincount(day, minlength=DAYS_IN_COMMON_YEAR).astype(np.float64)
    shifts = range(-USUAL_WINDOW_DAYS, USUAL_WINDOW_DAYS + 1)
    total = np.sum([np.roll(total, shift) for shift in shifts], axis=0)
    count = np.sum([np.roll(count, shift) for shift in shifts], axis=0)
    have = np.flatnonzero(count > 0)
    wanted = common_day(dates)
    return np.asarray(
        np.interp(wanted, have, total[have] / count[have], period=DAYS_IN_COMMON_YEAR), dtype=np.float64
    )


def _refuse_bad(readings: Sequence[RainReading], forecast: Sequence[ForecastDay]) -> None:
    kinds: tuple[tuple[str, Sequence[RainReading | ForecastDay]], ...] = (
        ("rain gauge", readings),
        ("forecast", forecast),
    )
    for what, entries in kinds:
        seen: set[date] = set()
        for entry in entries:
            if not (np.isfinite(entry.rain_mm) and entry.rain_mm >= 0):
                raise ValueError(f"{what} of {entry.day}: got {entry.rain_mm} mm; rain is 0 mm or more")
            if entry.day in seen:
                raise ValueError(f"{what} of {entry.day} is given twice")
            seen.add(entry.day)
