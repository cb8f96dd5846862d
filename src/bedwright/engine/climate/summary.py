"""The climate of a site as the papers show it."""

from __future__ import annotations

import calendar
from datetime import date, timedelta

import numpy as np

from bedwright.engine.climate.dates import anniversary, day_of_year, month_of, year_of
from bedwright.engine.climate.degree_days import degree_days
from bedwright.engine.climate.frost import frost_free_days, frost_tables
from bedwright.engine.climate.gaps import fill_gaps
from bedwright.engine.climate.ground_frost import plant_minimum
from bedwright.engine.climate.reference_et import reference_et
from bedwright.engine.climate.seasons import SOWING_DEPTH_M
from bedwright.engine.climate.soil_temperature import soil_temperature_c
from bedwright.model.book import Site
from bedwright.model.season import Climate, MonthClimate
from bedwright.model.weather import BoolArray, FloatArray, WeatherRecord

DEGREE_DAY_BASE_C = 10.0

CLIMATE_NORMAL_YEARS = 30
"""Length of the normal period of the World Meteorological Organization."""

LOW_CONFIDENCE_YEARS = 10
"""Fewer years than this give low confidence; chosen here."""


def climate_of(record: WeatherRecord, site: Site, season_start: date) -> Climate:
    """Summary of a record for a site and the season being planned.

    Parameters
    ----------
    record : WeatherRecord
        As read; gaps are filled here by the rule of `fill_gaps`.
    site : Site
        Latitude and elevation of the garden.
    season_start : date
        Start of the season being planned; frost dates are given in its calendar.

    Returns
    -------
    Climate
        Frost tables, frost-free season, months, and words on how far to trust them.

    Raises
    ------
    ValueError
        If minimum, maximum or rain has no value at all.

    Source
    ------
    Each part names its own; keys into CLIMATE_SOURCES.

    Limits
    ------
    Months are means over months wholly in the record; a month never wholly recorded is left out.
    The station is taken to stand for the garden as it is: no correction for height or distance.
    """
    filled, n_filled, gap_notes = fill_gaps(record)
    plants = plant_minimum(filled)
    et = reference_et(filled, site.latitude_deg, site.elevation_m)
    frost = frost_tables(filled, plants.tmin_c, season_start, southern=site.southern)
    n_years = _whole_years(record.dates[0].astype(date), record.dates[-1].astype(date))
    return Climate(
        station=record.station,
        provenance=record.provenance,
        invented=record.invented,
        first_day=record.dates[0].astype(date),
        last_day=record.dates[-1].astype(date),
        n_years=n_years,
        confidence=confidence_words(n_years),
        frost=frost,
        frost_free_days=frost_free_days(filled.dates, filled.tmin_c, southern=site.southern),
        months=month_means(filled, et.et_mm),
        ground_frost_allowance_c=plants.allowance_c,
        ground_frost_basis=plants.basis,
        reference_et_method=f"{et.method}. {et.bias}",
        n_filled=n_filled,
        n_flagged_dropped=record.n_flagged_dropped,
        notes=(*record.notes, *gap_notes),
        source_ids=(
            "NOAA_NORMALS",
            "KNMI_260",
            "FAO56",
            "ASCE_EWRI_05",
            "MW97",
            "KATTERER_ANDREN_09",
            "HILLEL82",
            "RAIN_OR_SHINE",
        ),
    )


def confidence_words(n_years: int) -> str:
    """Plain words on what a number of recorded years allows, with the loss stated.

    Parameters
    ----------
    n_years : int
        Whole years in the record, not negative.

    Returns
    -------
    str
        Low below 10 years, fair below 20, good below 30, high from 30; how uncertain a chance of 80 %
        is, and how often a new year passes the frost date stated at 10 %.

    Source
    ------
    Standard error sqrt(p (1 - p) / n) of a share; chance of passing as in `FrostDays.day_at_chance`.
    30 years are the normal period of the World Meteorological Organization (recalled). The
    other limits are chosen here.
    """
    if n_years < 1:
        return "Very low: less than one whole year is recorded, so no chance can be stated."
    error_points = 100 * (0.8 * 0.2 / n_years) ** 0.5
    passed_pct = 100 * (0.1 * (n_years - 1) + 1) / (n_years + 1)
    years = "one year" if n_years == 1 else f"{n_years} years"
    word = (
        f"Low: only {years}"
        if n_years < LOW_CONFIDENCE_YEARS
        else f"{'Fair' if n_years < 20 else 'Good' if n_years < CLIMATE_NORMAL_YEARS else 'High'}: {years}"
    )
    return (
        f"{word}; a stated chance of 80 % is uncertain by about {error_points:.0f} points either way, and a"
        f" new year passes the frost date stated at 10 % about {passed_pct:.0f} times in a hundred. Warming"
        " since the record began is not allowed for."
    )


def month_means(record: WeatherRecord, et_mm: FloatArray) -> tuple[MonthClimate, ...]:
    """Mean weather of the calendar months.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in minimum, maximum and rain.
    et_mm : (n_days,)
        Reference evapotranspiration of each day. [mm/day]

    Returns
    -------
    tuple of MonthClimate
        January to December, without months never wholly recorded.
    """
    months = month_of(record.dates)
    whole = _in_whole_month(record)
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    soil_c = soil_temperature_c(tmean_c, SOWING_DEPTH_M, int(day_of_year(record.dates[:1])[0]))
    growth = degree_days(record.tmin_c, record.tmax_c, base_c=DEGREE_DAY_BASE_C)
    years = year_of(record.dates)
    result = []
    for month in range(1, 13):
        days = whole & (months == month)
        if not days.any():
            continue
        n_months = np.unique(years[days]).size
        result.append(
            MonthClimate(
                month=month,
                tmin_c=float(record.tmin_c[days].mean()),
                tmax_c=float(record.tmax_c[days].mean()),
                rain_mm=float(record.rain_mm[days].sum() / n_months),
                soil_temp_c=float(soil_c[days].mean()),
                reference_et_mm=float(et_mm[days].sum() / n_months),
                degree_days_10c=float(growth[days].sum() / n_months),
            )
        )
    return tuple(result)


def _whole_years(first: date, last: date) -> int:
    """Whole years from the first to the last day, both included."""
    after = last + timedelta(days=1)
    return after.year - first.year - (after < anniversary(first, after.year))


def _in_whole_month(record: WeatherRecord) -> BoolArray:
    """True on days of a month that lies wholly in the record."""
    months = record.dates.astype("datetime64[M]")
    first, last = record.dates[0].astype(date), record.dates[-1].astype(date)
    whole = np.ones(record.dates.size, dtype=np.bool_)
    if first.day > 1:
        whole &= months > months[0]
    if last.day < calendar.monthrange(last.year, last.month)[1]:
        whole &= months < months[-1]
    return whole
