"""Last spring and first autumn frosts, and the chance of frost after or before a date."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

import numpy as np

from bedwright.engine.climate.dates import (
    DAYS_IN_COMMON_YEAR,
    IntArray,
    common_day,
    date_of_common_day,
    year_of,
)
from bedwright.model.season import FrostQuantile, FrostTable
from bedwright.model.weather import DateArray, FloatArray, WeatherRecord

FrostSeason = Literal["spring", "autumn"]

THRESHOLDS_C = (0.0, -2.2, -4.4)
"""32, 28 and 24 °F: the light, moderate and severe freeze of the US freeze tables."""

CHANCES_PCT = (10, 20, 50, 80, 90)


@dataclass(frozen=True, slots=True)
class HalfYear:
    """The part of the year in which a last or a first frost is looked for."""

    season: FrostSeason
    first_common_day: int
    """Days after 1 January of a common year."""
    n_days: int

    @property
    def crosses_new_year(self) -> bool:
        """True if it ends in the calendar year after the one it starts in."""
        return self.first_common_day + self.n_days > DAYS_IN_COMMON_YEAR

    def date_of(self, start_year: int, day: int) -> date:
        """Calendar date of a day counted from the start of the half-year that starts in a year."""
        return date_of_common_day(start_year, self.first_common_day + day)


def half_year(season: FrostSeason, *, southern: bool) -> HalfYear:
    """The half-year of a frost season.

    Parameters
    ----------
    season : FrostSeason
        "spring" for the last frost, "autumn" for the first.
    southern : bool
        True south of the equator.

    Returns
    -------
    HalfYear
        North: January to July and August to December. South: July to January and February to June.

    Source
    ------
    Split at 1 August as in NOAA's freeze tables for the United States; the south is the same
    calendar six months on.

    Limits
    ------
    Where the first frost often comes only after New Year (July in the south), such a year counts
    as one without autumn frost.
    """
    if season == "spring":
        return HalfYear("spring", 181, 215) if southern else HalfYear("spring", 0, 212)
    return HalfYear("autumn", 31, 150) if southern else HalfYear("autumn", 212, 153)


@dataclass(frozen=True, slots=True, eq=False)
class FrostDays:
    """Last or first frost of each recorded year."""

    half: HalfYear
    threshold_c: float
    years: tuple[int, ...]
    """Calendar year in which each half-year starts."""
    day: FloatArray
    """(n_years,) days from the start of the half-year, 29 February counted as 1 March; nan: none."""
    dates: tuple[date | None, ...]
    """Date of each year's frost, None in a year without."""

    @property
    def n_years(self) -> int:
        """Recorded half-years, with frost or without."""
        return len(self.years)

    @property
    def n_years_without(self) -> int:
        """Half-years without frost."""
        return int(np.isnan(self.day).sum())

    def day_at_chance(self, chance_pct: int) -> int | None:
        """Day of the half-year at which frost has a stated chance.

        Parameters
        ----------
        chance_pct : int
            Chance of a frost later (spring), or on or before (autumn). [%], 1 to 99.

        Returns
        -------
        int or None
            Days from the start of the half-year; None if so many years had no frost that the chance
            is not reached.

        Raises
        ------
        ValueError
            If there is no year at all.

        Source
        ------
        Plain sample quantile over all years, a straight line between neighbouring years (type 7 of
        Hyndman & Fan 1996, recalled; the default of numpy, pandas and R), rounded to the day with
        less frost. NOAA's normals state freeze probabilities from 10,000 resampled pseudo-years
        and on condition that a freeze happens (NOAA_NORMALS); plain quantiles are used here
        because they come out alike on every run, can be counted by hand, and a year without
        frost is good luck that a gardener may count on. Both count a minimum at or below the
        threshold.

        Limits
        ------
        A short record has not seen its extremes: a new year passes the date stated at p with a chance
        near (p (n - 1) + 1) / (n + 1), that is 13 % for 10 % and 30 years, 17 % with 10 years. Supposes
        that coming years resemble the recorded ones.
        """
        if self.n_years == 0:
            raise ValueError("no whole half-year in the record")
        if self.half.season == "spring":
            ordered = np.sort(np.where(np.isnan(self.day), -np.inf, self.day))
            return _quantile(ordered, 100 - chance_pct, later=True)
        ordered = np.sort(np.where(np.isnan(self.day), np.inf, self.day))
        return _quantile(ordered, chance_pct, later=False)

    def chance_pct(self, day: int) -> float:
        """Share of years with frost after a day (spring), or on or before it (autumn). [%]."""
        hits = self.day > day if self.half.season == "spring" else self.day <= day
        return 100.0 * float(np.mean(hits))


def frost_days(
    dates: DateArray, tmin_c: FloatArray, threshold_c: float, season: FrostSeason, *, southern: bool
) -> FrostDays:
    """Last spring or first autumn day at or below a threshold, in every whole half-year.

    Parameters
    ----------
    dates : (n_days,)
        Consecutive days.
    tmin_c : (n_days,)
        Daily minimum, without gaps. [°C]
    threshold_c : float
        A minimum at or below this is a frost. [°C]
    season : FrostSeason
        "spring" for the last, "autumn" for the first.
    southern : bool
        True south of the equator.

    Returns
    -------
    FrostDays
        One entry for each half-year that lies wholly in the record.

    Source
    ------
    At or below, as in NOAA's freeze tables (NOAA_NORMALS).
    """
    half = half_year(season, southern=southern)
    labels = _whole_half_years(dates, half)
    position = (common_day(dates) - half.first_common_day) % DAYS_IN_COMMON_YEAR
    started = year_of(dates) - (common_day(dates) < half.first_common_day)
    frosty = (position < half.n_days) & (tmin_c <= threshold_c)
    row = started - (labels[0] if labels else 0)
    frosty &= (row >= 0) & (row < len(labels))
    index = _extreme_by_row(row[frosty], np.flatnonzero(frosty), len(labels), season)
    return FrostDays(
        half=half,
        threshold_c=threshold_c,
        years=tuple(labels),
        day=np.array([np.nan if at is None else position[at] for at in index], dtype=np.float64),
        dates=tuple(None if at is None else dates[at].astype(date) for at in index),
    )


def frost_tables(
    record: WeatherRecord,
    plant_tmin_c: FloatArray,
    season_start: date,
    *,
    southern: bool,
    thresholds_c: Sequence[float] = THRESHOLDS_C,
    chances_pct: Sequence[int] = CHANCES_PCT,
) -> tuple[FrostTable, ...]:
    """Frost dates at stated chances, in the shelter and at the height of low plants.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in the minimum.
    plant_tmin_c : (n_days,)
        Minimum at the height of low plants. [°C]
    season_start : date
        Start of the season being planned; dates are given in its calendar.
    southern : bool
        True south of the equator.
    thresholds_c : sequence of float
        Frost thresholds. [°C]
    chances_pct : sequence of int
        Chances. [%], 1 to 99.

    Returns
    -------
    tuple of FrostTable
        Spring and autumn, shelter before plant height, thresholds in the order given; empty
        where the record holds no whole half-year.

    Source
    ------
    See `FrostDays.day_at_chance`.
    """
    tables = []
    for season in ("spring", "autumn"):
        for at_plant_height, tmin_c in ((False, record.tmin_c), (True, plant_tmin_c)):
            for threshold_c in thresholds_c:
                days = frost_days(record.dates, tmin_c, threshold_c, season, southern=southern)
                if days.n_years:
                    tables.append(_table(days, season_start, chances_pct, at_plant_height=at_plant_height))
    return tuple(tables)


def frost_free_days(
    dates: DateArray,
    tmin_c: FloatArray,
    *,
    southern: bool,
    threshold_c: float = 0.0,
    chances_pct: Sequence[int] = CHANCES_PCT,
) -> Mapping[int, int]:
    """Length of the frost-free season reached with stated chances.

    Parameters
    ----------
    dates : (n_days,)
        Consecutive days.
    tmin_c : (n_days,)
        Daily minimum, without gaps. [°C]
    southern : bool
        True south of the equator.
    threshold_c : float
        A minimum at or below this is a frost. [°C]
    chances_pct : sequence of int
        Chances. [%], 1 to 99.

    Returns
    -------
    mapping from chance to days
        Days between last spring and first autumn frost, both left out, that at least this share of
        years reaches. Empty if no spring in the record is followed by its autumn.

    Source
    ------
    Same quantile as `FrostDays.day_at_chance`; rounded to the shorter season.
    """
    lengths = frost_free_days_by_year(dates, tmin_c, southern=southern, threshold_c=threshold_c)
    ordered = np.sort(lengths.astype(np.float64))
    found = {chance: _quantile(ordered, 100 - chance, later=False) for chance in chances_pct if ordered.size}
    return {chance: length for chance, length in found.items() if length is not None}


def frost_free_days_by_year(
    dates: DateArray, tmin_c: FloatArray, *, southern: bool, threshold_c: float = 0.0
) -> IntArray:
    """Days between last spring and first autumn frost of each whole year, (n_years,) [days].

    A year without spring frost counts from the start of its spring half-year, one without autumn
    frost to the end of its autumn half-year.
    """
    spring = frost_days(dates, tmin_c, threshold_c, "spring", southern=southern)
    autumn = frost_days(dates, tmin_c, threshold_c, "autumn", southern=southern)
    later = 1 if spring.half.crosses_new_year else 0
    last = dict(zip(spring.years, np.where(np.isnan(spring.day), -1, spring.day), strict=True))
    first = dict(
        zip(autumn.years, np.where(np.isnan(autumn.day), autumn.half.n_days, autumn.day), strict=True)
    )
    return np.array(
        [
            spring.half.n_days + first[year + later] - last[year] - 1
            for year in spring.years
            if year + later in first
        ],
        dtype=np.int64,
    )


def planned_start_year(half: HalfYear, season_start: date) -> int:
    """Year in which the half-year starts that holds the start of the season, or else the next one."""
    year = season_start.year - 1
    while half.date_of(year, half.n_days - 1) < season_start:
        year += 1
    return year


def _table(
    days: FrostDays, season_start: date, chances_pct: Sequence[int], *, at_plant_height: bool
) -> FrostTable:
    year = planned_start_year(days.half, season_start)
    quantiles = []
    for chance in chances_pct:
        day = days.day_at_chance(chance)
        quantiles.append(FrostQuantile(chance, None if day is None else days.half.date_of(year, day)))
    return FrostTable(
        season=days.half.season,
        threshold_c=days.threshold_c,
        at_plant_height=at_plant_height,
        quantiles=tuple(quantiles),
        n_years=days.n_years,
        n_years_without=days.n_years_without,
    )


def _whole_half_years(dates: DateArray, half: HalfYear) -> list[int]:
    """Start years of the half-years that lie wholly in the record."""
    first, last = dates[0].astype(date), dates[-1].astype(date)
    return [
        year
        for year in range(first.year - 1, last.year + 1)
        if half.date_of(year, 0) >= first and half.date_of(year, half.n_days - 1) <= last
    ]


def _extreme_by_row(row: IntArray, index: IntArray, n_rows: int, season: FrostSeason) -> list[int | None]:
    """Last (spring) or first (autumn) index in each row, None in rows without one; indices ascend."""
    found: list[int | None] = [None] * n_rows
    for at_row, at in zip(row.tolist(), index.tolist(), strict=True):
        if season == "spring" or found[at_row] is None:
            found[at_row] = at
    return found


def _quantile(ordered: FloatArray, percent: int, *, later: bool) -> int | None:
    """Whole number on the line between two neighbours, rounded to the later or the earlier.

    Next to a year without frost (infinite) the neighbour with frost stands for both: it is on the
    side of more frost. None between two infinite ones.
    """
    place, rest = divmod((ordered.size - 1) * percent, 100)
    low = float(ordered[place])
    high = float(ordered[place + 1]) if rest else low
    if not (np.isfinite(low) and np.isfinite(high)):
        finite = [value for value in (low, high) if np.isfinite(value)]
        return int(finite[0]) if finite else None
    hundredths = int(high - low) * rest
    return int(low) + (-(-hundredths // 100) if later else hundredths // 100)
