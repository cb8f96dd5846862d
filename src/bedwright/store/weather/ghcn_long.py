"""GHCN-Daily CSV with one row a station, day and element (NOAA's `by_station` and `by_year` files).

Source: NOAA National Centers for Environmental Information, readme-by_station.txt (seen in a public
copy): station, date as eight digits, element, value, measurement flag, quality flag, source flag,
time of observation; with or without a line of names. Units as in the `.dly` files.
"""

from __future__ import annotations

import re

import numpy as np

from bedwright.model.weather import FloatArray
from bedwright.store.weather.csv_dates import EXPECTED_DATE, NO_DAY, date_hint, parse_days
from bedwright.store.weather.csv_numbers import number_hint, parse_numbers
from bedwright.store.weather.csv_table import CsvTable, split_table
from bedwright.store.weather.daily_values import DailyValues, DayArray, iso_date
from bedwright.store.weather.faults import Faults
from bedwright.store.weather.ghcn_elements import (
    ELEMENTS,
    MULTIDAY_RAIN,
    WIND_HEIGHT_NOTE,
    multiday_note,
    provenance,
)
from bedwright.store.weather.quantities import Quantity

FIRST_ROW = re.compile(r'"?[A-Z]{2}[A-Z0-9_-]{9}"?,"?[0-9]{8}"?,"?[A-Z][A-Z0-9]{3}"?,')
HEADER_NAMES = re.compile(r'"?(?:ID|STATION)"?,"?(?:DATE|YEAR/MONTH/DAY)"?,"?ELEMENT"?,', re.IGNORECASE)

STATION, DATE, ELEMENT, VALUE, QUALITY_FLAG = 0, 1, 2, 3, 5


def looks_like_long(text: str) -> bool:
    """True if the text begins with the names of this layout, or with one of its rows."""
    return bool(FIRST_ROW.match(text) or HEADER_NAMES.match(text))


def read_long_csv(text: str, faults: Faults) -> DailyValues | None:
    """Daily values of a text with one row an element, or None if there is nothing to read."""
    table = split_table(text, with_header=False)
    if table is None:
        return None
    rows, lines, n_multiday = _wanted_rows(table, faults)
    if not rows:
        faults.add("rows", "rows", "none with an element that can be used", ", ".join(ELEMENTS))
        return None
    stations = sorted({row[STATION] for row in rows})
    if len(stations) > 1:
        got = f"{len(stations)} stations: {', '.join(stations[:5])}"
        hint = "Keep the rows of the station nearest in distance and height."
        faults.add("stations", "station", got, "one station", hint)
        return None
    days, _ = parse_days([row[DATE] for row in rows])
    for index in np.flatnonzero(days == NO_DAY):
        got = rows[index][DATE]
        column = table.column_at(lines[index], DATE)
        faults.add("date", "date", repr(got), EXPECTED_DATE, date_hint(got), lines[index], column)
    numbers, bad = parse_numbers([row[VALUE] for row in rows], decimal_comma=False, trace=False)
    for bad_row in bad:
        got, line = rows[bad_row][VALUE], lines[bad_row]
        column = table.column_at(line, VALUE)
        faults.add(
            "number", rows[bad_row][ELEMENT], repr(got), "a whole number", number_hint(got), line, column
        )
    failed = np.array([bool(row[QUALITY_FLAG].strip()) for row in rows]) & ~np.isnan(numbers)
    numbers[failed] = np.nan
    read = _pivoted(table, rows, lines, days, numbers, faults)
    read.n_flagged_dropped = int(failed.sum())
    if n_multiday:
        read.notes.append(multiday_note(n_multiday))
    return read


def _wanted_rows(table: CsvTable, faults: Faults) -> tuple[list[list[str]], list[int], int]:
    """Rows of usable elements, their lines, and how many multi-day rain totals there are."""
    rows, lines = [], []
    n_multiday = 0
    start = 1 if HEADER_NAMES.match(table.lines[0]) else 0
    for row, line in zip(table.rows[start:], table.row_lines[start:], strict=True):
        if len(row) <= QUALITY_FLAG:
            expected = "station, date, element, value, three flags, time"
            faults.add("fields", "row", f"{len(row)} fields", expected, "", line)
        elif row[ELEMENT] in ELEMENTS:
            rows.append(row)
            lines.append(line)
        else:
            n_multiday += row[ELEMENT] == MULTIDAY_RAIN
    return rows, lines, n_multiday


def _pivoted(
    table: CsvTable,
    rows: list[list[str]],
    lines: list[int],
    days: DayArray,
    numbers: FloatArray,
    faults: Faults,
) -> DailyValues:
    """One row a day from one row an element."""
    elements = np.array([row[ELEMENT] for row in rows])
    line_numbers = np.array(lines, dtype=np.int64)
    usable = days != NO_DAY
    all_days = np.unique(days[usable])
    values: dict[Quantity, FloatArray] = {}
    line_of_day: dict[Quantity, DayArray] = {}
    for element, (quantity, unit) in ELEMENTS.items():
        chosen = np.flatnonzero((elements == element) & usable)
        if not chosen.size:
            continue
        where = np.searchsorted(all_days, days[chosen])
        values[quantity] = np.full(all_days.shape, np.nan)
        line_of_day[quantity] = np.zeros(all_days.shape, dtype=np.int64)
        # Written backwards, so that the first of several rows of a day stays.
        values[quantity][where[::-1]] = unit.to_record(numbers[chosen[::-1]])
        line_of_day[quantity][where[::-1]] = line_numbers[chosen[::-1]]
        for row in chosen[line_of_day[quantity][where] != line_numbers[chosen]]:
            got = f"{element} of {iso_date(int(days[row]))} again"
            first = line_of_day[quantity][np.searchsorted(all_days, days[row])]
            faults.add("day given twice", element, got, f"one row; the first is line {first}", "", lines[row])

    def place(quantity: Quantity | None, row: int) -> tuple[int | None, int | None]:
        line = int(line_of_day[quantity][row]) if quantity in line_of_day else 0
        return (line, table.column_at(line, VALUE)) if line else (None, None)

    station = rows[0][STATION]
    notes = [WIND_HEIGHT_NOTE] if "wind_m_s" in values else []
    return DailyValues(station, provenance(station), all_days, values, place, notes=notes)
