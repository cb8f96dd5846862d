"""Checks daily values and lays them on an unbroken run of days."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from bedwright.model.weather import BoolArray, FloatArray, WeatherRecord
from bedwright.store.weather.csv_dates import NO_DAY
from bedwright.store.weather.daily_values import DailyValues, DayArray, iso_date
from bedwright.store.weather.faults import N_LISTED, Faults
from bedwright.store.weather.quantities import (
    BOUNDS,
    HIGHEST_FAHRENHEIT,
    HUMIDITY_PCT,
    LABELS,
    NEEDED,
    QUANTITIES,
    TEMPERATURES,
    Quantity,
)

N_DAYS_OF_A_YEAR = 365
CROSSED_SHARE = 0.005
"""Share of days whose minimum may lie above the maximum before the columns look swapped (own choice)."""
COVERED_SHARE = 0.5
"""Share of the days from first to last that must have a row; else a year is mistyped (own choice)."""
COOLEST_SUMMER_C = 10.0
"""Where no month has a mean of 10 °C, Köppen's polar climates begin (from memory); here no single day has."""
HUMIDITY_SLACK_PCT = 5.0
"""Sensors in saturated air read a little above 100 percent (common practice, no source)."""


def weather_record(read: DailyValues, faults: Faults) -> WeatherRecord | None:
    """A record without gaps in its dates, or None after adding problems."""
    notes = list(read.notes)
    values = {quantity: read.values[quantity] for quantity in QUANTITIES if quantity in read.values}
    _cap_humidity(values, notes)
    for quantity, column in values.items():
        _check_range(read, quantity, column, faults)
    _drop_crossed(read, values, notes, faults)
    _check_enough(values, faults)
    if not faults:  # swapped or mistyped columns would look cold as well
        _check_warmth(values, faults)
    usable = np.flatnonzero(read.days != NO_DAY)
    _check_dates(read, usable, faults)
    if faults or not usable.size:
        return None
    days = read.days[usable]
    if (np.diff(days) < 0).any():
        notes.append("The days stood out of order and were sorted.")
    first, n_days = int(days.min()), int(days.max() - days.min()) + 1
    if n_days > days.size:
        n_missing = n_days - days.size
        notes.append(
            f"{n_missing} days between the first and the last are not in the file; they count as missing."
        )
    arrays = {
        quantity: _laid_out(days - first, column[usable], n_days) for quantity, column in values.items()
    }
    if read.n_flagged_dropped:
        notes.append(
            f"{read.n_flagged_dropped} values that failed the provider's quality checks were dropped."
        )
    dates = (first + np.arange(n_days)).astype("datetime64[D]")
    return _record(read, dates, arrays, notes)


def _record(
    read: DailyValues,
    dates: np.typing.NDArray[np.datetime64],
    arrays: dict[Quantity, FloatArray],
    notes: list[str],
) -> WeatherRecord:
    def optional(quantity: Quantity) -> FloatArray | None:
        column = arrays.get(quantity)
        return None if column is None or np.isnan(column).all() else column

    return WeatherRecord(
        station=read.station,
        provenance=read.provenance,
        invented=read.invented,
        dates=dates,
        tmin_c=arrays["tmin_c"],
        tmax_c=arrays["tmax_c"],
        rain_mm=arrays["rain_mm"],
        wind_m_s=optional("wind_m_s"),
        wind_height_m=read.wind_height_m,
        rh_mean_pct=optional("rh_mean_pct"),
        rh_max_pct=optional("rh_max_pct"),
        rh_min_pct=optional("rh_min_pct"),
        radiation_mj_m2=optional("radiation_mj_m2"),
        sunshine_h=optional("sunshine_h"),
        ground_tmin_c=optional("ground_tmin_c"),
        n_flagged_dropped=read.n_flagged_dropped,
        notes=tuple(notes),
    )


def _laid_out(offsets: DayArray, column: FloatArray, n_days: int) -> FloatArray:
    laid = np.full(n_days, np.nan)
    laid[offsets] = column
    return laid


def _cap_humidity(values: dict[Quantity, FloatArray], notes: list[str]) -> None:
    highest = HUMIDITY_PCT.high
    for quantity, column in list(values.items()):
        above = (column > highest) & (column <= highest + HUMIDITY_SLACK_PCT)
        if BOUNDS[quantity] is HUMIDITY_PCT and above.any():
            values[quantity] = np.where(above, highest, column)
            notes.append(f"{int(above.sum())} values of {LABELS[quantity]} just above 100 were set to 100.")


def _listed(rows: BoolArray, kind: str, faults: Faults) -> Iterable[int]:
    """Rows to list one by one; the rest is only counted."""
    found = np.flatnonzero(rows)
    yield from (int(row) for row in found[:N_LISTED])
    faults.count_more(kind, max(found.size - N_LISTED, 0))


def _check_range(read: DailyValues, quantity: Quantity, column: FloatArray, faults: Faults) -> None:
    bounds = BOUNDS[quantity]
    kind = f"{LABELS[quantity]} out of range"
    for row in _listed((column < bounds.low) | (column > bounds.high), kind, faults):
        value = float(column[row])
        line, place = read.place(quantity, row)
        where = f"{LABELS[quantity]} of {_date(read, row)}"
        faults.add(kind, where, f"{value:g}", str(bounds), _range_hint(quantity, value), line, place)


def _date(read: DailyValues, row: int) -> str:
    day = int(read.days[row])
    return "an unknown day" if day == NO_DAY else iso_date(day)


def _range_hint(quantity: Quantity, value: float) -> str:
    hints = (
        (_is_nines(value), "This looks like a code for a missing value: leave the field empty."),
        (
            quantity in TEMPERATURES and 60 < value <= HIGHEST_FAHRENHEIT,
            "This looks like °F: name the column tmin_f or tmax_f.",
        ),
        (quantity in TEMPERATURES and abs(value) < 600, "This looks like tenths of a degree."),
        (quantity == "rain_mm" and value < 0, "Rain cannot be negative; leave a missing value empty."),
        (
            quantity == "radiation_mj_m2" and value > 0,
            "This looks like J/cm² (divide by 100), kJ/m² (divide by 1000) or W/m² (multiply by 0.0864).",
        ),
        (
            quantity == "sunshine_h" and value > 0,
            "This looks like minutes: name the column sunshine_min.",
        ),
    )
    return next((hint for fits, hint in hints if fits), "")


def _is_nines(value: float) -> bool:
    """True for -99.9, -999, 9999 and the like."""
    return abs(value) > 90 and not f"{abs(value):g}".strip("9.")


def _drop_crossed(
    read: DailyValues, values: dict[Quantity, FloatArray], notes: list[str], faults: Faults
) -> None:
    """Drop both temperatures of the few days whose minimum lies above the maximum."""
    if "tmin_c" not in values or "tmax_c" not in values:
        return
    tmin_c, tmax_c = values["tmin_c"], values["tmax_c"]
    crossed = tmin_c > tmax_c
    n_crossed, n_both = int(crossed.sum()), int((~np.isnan(tmin_c + tmax_c)).sum())
    if not n_crossed:
        return
    if n_crossed > max(CROSSED_SHARE * n_both, 1):
        row = int(np.flatnonzero(crossed)[0])
        line, place = read.place("tmin_c", row)
        got = f"a minimum above the maximum on {n_crossed} of {n_both} days, first on {_date(read, row)}"
        hint = "The columns may be swapped."
        faults.add("crossed", "temperatures", got, "minimum at or below maximum", hint, line, place)
        return
    values["tmin_c"] = np.where(crossed, np.nan, tmin_c)
    values["tmax_c"] = np.where(crossed, np.nan, tmax_c)
    notes.append(f"{n_crossed} days with a minimum above the maximum lost both temperatures.")


def _check_enough(values: dict[Quantity, FloatArray], faults: Faults) -> None:
    for quantity in NEEDED:
        if quantity not in values and faults:
            continue  # the reader has told why it is not there
        n_values = int((~np.isnan(values[quantity])).sum()) if quantity in values else 0
        if n_values < N_DAYS_OF_A_YEAR:
            hint = "" if n_values else "Choose a station that observes it."
            expected = f"at least {N_DAYS_OF_A_YEAR}, one full year"
            faults.add("too short", LABELS[quantity], f"{n_values} days with a value", expected, hint)


def _check_warmth(values: dict[Quantity, FloatArray], faults: Faults) -> None:
    """Figures in °C under a heading of °F look like a place colder than any garden."""
    highest_c = float(np.nanmax(values["tmax_c"], initial=-np.inf)) if "tmax_c" in values else np.nan
    if -np.inf < highest_c < COOLEST_SUMMER_C:
        got = f"no day above {highest_c:.1f} °C in the whole record"
        expected = f"a summer with days above {COOLEST_SUMMER_C:g} °C"
        faults.add("too cold", LABELS["tmax_c"], got, expected, "The unit in the heading may be wrong.")


def _check_dates(read: DailyValues, usable: DayArray, faults: Faults) -> None:
    days = read.days[usable]
    order = np.argsort(days, kind="stable")
    again = np.zeros(days.size, dtype=bool)
    again[order[1:]] = np.diff(days[order]) == 0
    kind = "date given twice"
    for index in _listed(again, kind, faults):
        line, place = read.place(None, int(usable[index]))
        first_row = int(usable[np.flatnonzero(days == days[index])[0]])
        first_line, _ = read.place(None, first_row)
        got = f"{iso_date(int(days[index]))} again"
        faults.add(kind, "date", got, f"each day once; it stands in line {first_line} too", "", line, place)
    if days.size < 2:
        return
    span = int(days.max() - days.min()) + 1
    if span > days.size and days.size < COVERED_SHARE * span:
        step = int(np.argmax(np.diff(days[order])))
        before, after = int(days[order[step]]), int(days[order[step + 1]])
        line, place = read.place(None, int(usable[order[step + 1]]))
        faults.add(
            "gap",
            "dates",
            f"rows for {days.size} of {span} days, and none between {iso_date(before)} and {iso_date(after)}",
            "a row for at least half of the days",
            "A year may be mistyped.",
            line,
            place,
        )
