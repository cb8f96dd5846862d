"""Missing values filled by one stated rule, each of them counted."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bedwright.engine.climate.dates import DAYS_IN_COMMON_YEAR, IntArray, common_day
from bedwright.model.weather import BoolArray, FloatArray, WeatherRecord

SHORT_GAP_DAYS = 5
"""Longest gap bridged by a straight line. Common practice, no source."""

WINDOW_DAYS = 7
"""Days either side of a calendar day that make its long-term mean. Common practice, no source."""

MANY_FILLED_SHARE = 0.02
"""Share of filled temperatures from which the chances themselves are in doubt; chosen here."""


def fill_gaps(record: WeatherRecord) -> tuple[WeatherRecord, int, tuple[str, ...]]:
    """The record without missing values, the number of values filled, and words on what was done.

    Parameters
    ----------
    record : WeatherRecord
        Daily record of at least one day; nan where a value is missing.

    Returns
    -------
    tuple
        Record without nan, number of single values filled, notes for the reader. A quantity
        without a single value becomes None.

    Raises
    ------
    ValueError
        If minimum, maximum or rain has no value at all.

    Source
    ------
    Own rule: a gap of up to 5 days in a temperature is bridged by a straight line between the
    days either side; a longer one, one at either end of the record, and every other quantity
    takes the mean of the days within 7 days of the same calendar date in all years. Rain so
    filled keeps its total but not its dry spells. A missing minimum near the ground is left
    missing: it is estimated from the shelter minimum where it is used.

    Limits
    ------
    Filled days are never extreme, so frost on a missing day is not seen. Notes say so when more
    than 2 % of the temperatures were filled. 29 February is kept and takes the mean of 1 March.
    """
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        if not np.isfinite(getattr(record, name)).any():
            raise ValueError(f"{name} has no value on any day")
    day = common_day(record.dates)
    notes: list[str] = []
    filled: dict[str, FloatArray | None] = {}
    n_filled = 0
    for name, (words, bridge) in _FILLED_QUANTITIES.items():
        values = getattr(record, name)
        if values is None:
            continue
        missing = ~np.isfinite(values)
        if missing.all():
            filled[name] = None
            notes.append(f"The record names {words} but holds no value of it; it is not used.")
        elif missing.any():
            filled[name] = _filled(values, missing, day, bridge=bridge)
            n_filled += int(missing.sum())
            notes.append(_note(words, missing, bridge=bridge))
    result = _maximum_above_minimum(record, replace(record, **filled))  # type: ignore[arg-type]
    share = float(np.mean([~np.isfinite(record.tmin_c), ~np.isfinite(record.tmax_c)]))
    if share > MANY_FILLED_SHARE:
        notes.append(
            f"{share:.0%} of the temperatures were filled with ordinary weather, so frost and heat on"
            " those days are not seen: true chances of failure are higher."
        )
    return result, n_filled, tuple(notes)


_FILLED_QUANTITIES: dict[str, tuple[str, bool]] = {
    "tmin_c": ("minimum temperature", True),
    "tmax_c": ("maximum temperature", True),
    "rain_mm": ("rain", False),
    "wind_m_s": ("wind speed", False),
    "rh_mean_pct": ("mean humidity", False),
    "rh_max_pct": ("highest humidity", False),
    "rh_min_pct": ("lowest humidity", False),
    "radiation_mj_m2": ("solar radiation", False),
    "sunshine_h": ("sunshine", False),
}
"""Name in words, and whether short gaps are bridged by a straight line."""


def longest_run_days(missing: BoolArray) -> int:
    """Length of the longest run of True."""
    return int(_run_length(missing).max(initial=0))


def _run_length(missing: BoolArray) -> IntArray:
    """For each True, the length of the run it belongs to; 0 elsewhere."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], missing, [False])).astype(np.int8)))
    lengths = np.zeros(missing.size, dtype=np.int64)
    for start, stop in zip(edges[::2], edges[1::2], strict=True):
        lengths[start:stop] = stop - start
    return lengths


def _filled(values: FloatArray, missing: BoolArray, day: IntArray, *, bridge: bool) -> FloatArray:
    if not missing.any():
        return values
    result = values.copy()
    result[missing] = _calendar_mean(values, missing, day)[day[missing]]
    if bridge:
        index = np.arange(values.size)
        known = np.flatnonzero(~missing)
        inside = (index > known[0]) & (index < known[-1])
        short = missing & inside & (_run_length(missing) <= SHORT_GAP_DAYS)
        result[short] = np.interp(index[short], known, values[known])
    return result


def _calendar_mean(values: FloatArray, missing: BoolArray, day: IntArray) -> FloatArray:
    """Mean of the known days within the window of each calendar day, (365,)."""
    known = ~missing
    total = np.bincount(day[known], weights=values[known], minlength=DAYS_IN_COMMON_YEAR)
    count = np.bincount(day[known], minlength=DAYS_IN_COMMON_YEAR)
    shifts = range(-WINDOW_DAYS, WINDOW_DAYS + 1)
    total = np.sum([np.roll(total, shift) for shift in shifts], axis=0)
    count = np.sum([np.roll(count, shift) for shift in shifts], axis=0)
    have = np.flatnonzero(count > 0)
    mean = total[have] / count[have]
    # a record shorter than a year may have no day near: take the nearest calendar days that have one
    every_day = np.arange(DAYS_IN_COMMON_YEAR)
    return np.asarray(np.interp(every_day, have, mean, period=DAYS_IN_COMMON_YEAR), dtype=np.float64)


def _maximum_above_minimum(record: WeatherRecord, filled: WeatherRecord) -> WeatherRecord:
    """Where a filled value crosses the other of its pair it gives way; a measured one stands."""
    crossed = filled.tmax_c < filled.tmin_c
    tmin_c = np.where(crossed & ~np.isfinite(record.tmin_c), filled.tmax_c, filled.tmin_c)
    tmax_c = np.where(crossed & ~np.isfinite(record.tmax_c), np.maximum(filled.tmax_c, tmin_c), filled.tmax_c)
    return replace(filled, tmin_c=tmin_c, tmax_c=tmax_c)


def _note(words: str, missing: BoolArray, *, bridge: bool) -> str:
    n_missing, longest = int(missing.sum()), longest_run_days(missing)
    rule = (
        f"gaps of up to {SHORT_GAP_DAYS} days by a straight line, longer ones by the mean of the season"
        if bridge
        else "by the mean of the season"
    )
    return f"{words.capitalize()}: {n_missing} missing values filled ({rule}); longest gap {longest} days."
