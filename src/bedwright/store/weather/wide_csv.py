"""CSV files with one row a day: plain tables, and the tables of NOAA that are laid out so."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.store.weather.csv_dates import EXPECTED_DATE, NO_DAY, date_hint, parse_days
from bedwright.store.weather.csv_numbers import number_hint, parse_numbers
from bedwright.store.weather.csv_table import CsvTable, split_table
from bedwright.store.weather.daily_values import DailyValues
from bedwright.store.weather.faults import Faults
from bedwright.store.weather.ghcn_elements import CITATION
from bedwright.store.weather.headers import (
    DATE_NAMES,
    EXAMPLE_NAMES,
    UNITLESS,
    Column,
    column_of,
    plain_name,
)
from bedwright.store.weather.noaa_units import noaa_unit, tell_units
from bedwright.store.weather.quantities import LABELS, NEEDED, STANDARD_WIND_HEIGHT_M, Quantity

HEADER_EXPECTED = "a line that names the columns: date, tmin_c, tmax_c, rain_mm"
NAMED_UNITS_HINT = "Name the columns with their unit: tmin_c or tmin_f, tmax_c or tmax_f, rain_mm or rain_in."
QUALITY_FLAG = 1
"""Place of the quality flag in NOAA's attributes `measurement,quality,source`."""


@dataclass(frozen=True, slots=True)
class _Layout:
    """Which column holds what."""

    date_index: int
    station_index: int | None
    name_index: int | None
    columns: list[Column]
    attribute_index: dict[Quantity, int]


def read_wide_csv(text: str, faults: Faults) -> DailyValues | None:
    """Daily values of a CSV text with one row a day, or None after adding problems."""
    table = split_table(text)
    if table is None:
        first = next((line.strip() for line in text.split("\n") if line.strip()), "")
        got = repr(first if len(first) <= 60 else f"{first[:57]}...")
        faults.add("header", "first line", got, HEADER_EXPECTED, NAMED_UNITS_HINT)
        return None
    rows, row_lines = _whole_rows(table, faults)
    notes: list[str] = []
    layout = _layout(table, rows, faults, notes)
    if not rows:
        faults.add("rows", "rows", "none", "one row a day below the header", line=table.header_line)
    if layout is None or not rows:
        return None

    days, order_note = parse_days([row[layout.date_index] for row in rows])
    for index in np.flatnonzero(days == NO_DAY):
        got, line = rows[index][layout.date_index], row_lines[index]
        column = table.column_at(line, layout.date_index)
        faults.add("date", "date", repr(got), EXPECTED_DATE, date_hint(got), line, column)
    notes += [order_note] if order_note else []
    values, n_flagged = _values(table, rows, row_lines, layout, faults)
    column_index = {column.quantity: column.index for column in layout.columns}

    def place(quantity: Quantity | None, row: int) -> tuple[int | None, int | None]:
        index = layout.date_index if quantity is None else column_index[quantity]
        return row_lines[row], table.column_at(row_lines[row], index)

    station, provenance = _station(table, rows, layout, faults)
    return DailyValues(
        station=station,
        provenance=provenance,
        invented="invented" in table.comments,
        days=days,
        values=values,
        place=place,
        wind_height_m=_wind_height_m(layout, notes),
        n_flagged_dropped=n_flagged,
        notes=notes,
    )


def _whole_rows(table: CsvTable, faults: Faults) -> tuple[list[list[str]], list[int]]:
    """Rows with a field for every column; others are problems."""
    n_columns = len(table.names)
    rows, row_lines = [], []
    for row, line in zip(table.rows, table.row_lines, strict=True):
        if len(row) == n_columns or (len(row) > n_columns and not any(row[n_columns:])):
            rows.append(row)
            row_lines.append(line)
            continue
        hint = "Decimal commas need semicolons between the columns." if len(row) > n_columns else ""
        faults.add("fields", "row", f"{len(row)} fields", f"{n_columns}, as in the header", hint, line)
    return rows, row_lines


def _layout(table: CsvTable, rows: list[list[str]], faults: Faults, notes: list[str]) -> _Layout | None:
    plain = [plain_name(name) for name in table.names]
    station_index = plain.index("station") if "station" in plain else None
    known = [found for index, name in enumerate(table.names) if (found := column_of(name, index))]
    columns = _one_each(known, table, faults, notes)
    have = {column.quantity for column in columns}
    bare = {index: UNITLESS[name] for index, name in enumerate(plain) if name in UNITLESS}
    bare = {index: quantity for index, quantity in bare.items() if quantity not in have}
    if bare and station_index is not None:
        columns += _noaa_columns(table, rows, bare, faults)
    elif bare:
        for index, quantity in bare.items():
            expected = f"a unit in the name, such as {EXAMPLE_NAMES.get(quantity, quantity)}"
            got = repr(table.names[index].strip())
            column = table.column_at(table.header_line, index)
            faults.add("unit", LABELS[quantity], got, expected, line=table.header_line, column=column)
    for quantity in NEEDED:
        if quantity not in have and quantity not in bare.values():
            names = EXAMPLE_NAMES[quantity]
            faults.add(
                "column", LABELS[quantity], "no such column", f"a column {names}", "", table.header_line
            )
    if not columns:
        return None
    attributes = {
        column.quantity: plain.index(f"{plain[column.index]}_attributes")
        for column in columns
        if f"{plain[column.index]}_attributes" in plain
    }
    date_index = next(index for index, name in enumerate(plain) if name in DATE_NAMES)
    name_index = plain.index("name") if "name" in plain else None
    return _Layout(date_index, station_index, name_index, columns, attributes)


def _one_each(known: list[Column], table: CsvTable, faults: Faults, notes: list[str]) -> list[Column]:
    """One column a quantity: SI before US units; two of the same kind are a problem."""
    chosen: dict[Quantity, Column] = {}
    for column in sorted(known, key=lambda column: column.unit.us):
        first = chosen.setdefault(column.quantity, column)
        if first is column:
            continue
        if column.unit.us and not first.unit.us:
            notes.append(f"Column {column.name} was left aside for {first.name}.")
            continue
        got = f"{first.name} and {column.name}"
        place = table.column_at(table.header_line, column.index)
        faults.add("column", LABELS[column.quantity], got, "one column", "", table.header_line, place)
    return sorted(chosen.values(), key=lambda column: column.index)


def _noaa_columns(
    table: CsvTable, rows: list[list[str]], bare: dict[int, Quantity], faults: Faults
) -> list[Column]:
    """Columns of NOAA's table, in the units its figures show."""
    texts = {quantity: [row[index].strip() for row in rows] for index, quantity in bare.items()}
    temperatures = texts.get("tmax_c", []) + texts.get("tmin_c", [])
    units = tell_units(temperatures, texts.get("rain_mm", []))
    if units is None:
        faults.add(
            "unit",
            "units of temperature and rain",
            "figures that fit more than one set of units, or none",
            "tenths of °C and of mm, or °C and mm, or °F and inches with two decimals",
            NAMED_UNITS_HINT,
            table.header_line,
        )
        return []
    return [
        Column(index, table.names[index].strip(), quantity, noaa_unit(quantity, units))
        for index, quantity in bare.items()
    ]


def _values(
    table: CsvTable, rows: list[list[str]], row_lines: list[int], layout: _Layout, faults: Faults
) -> tuple[dict[Quantity, np.typing.NDArray[np.float64]], int]:
    """Values by quantity in SI units, and how many were dropped for their quality flag."""
    values = {}
    n_flagged = 0
    decimal_comma = table.delimiter != ","
    for column in layout.columns:
        texts = [row[column.index] for row in rows]
        trace = column.quantity == "rain_mm"
        numbers, bad = parse_numbers(texts, decimal_comma=decimal_comma, trace=trace)
        for index in bad:
            line = row_lines[index]
            got, hint = repr(texts[index]), number_hint(texts[index])
            place = table.column_at(line, column.index)
            faults.add("number", column.name, got, "a number or nothing", hint, line, place)
        if column.quantity in layout.attribute_index:
            index = layout.attribute_index[column.quantity]
            flags = [[*row[index].split(","), "", ""][QUALITY_FLAG].strip() for row in rows]
            failed = np.array([bool(flag) for flag in flags]) & ~np.isnan(numbers)
            numbers[failed] = np.nan
            n_flagged += int(failed.sum())
        values[column.quantity] = column.unit.to_record(numbers)
    return values, n_flagged


def _wind_height_m(layout: _Layout, notes: list[str]) -> float:
    for column in layout.columns:
        if column.quantity == "wind_m_s":
            if column.wind_height_m is not None:
                return column.wind_height_m
            notes.append(
                f"Column {column.name} does not state the height of the anemometer; 10 m, "
                "the standard height, is taken."
            )
    return STANDARD_WIND_HEIGHT_M


def _station(table: CsvTable, rows: list[list[str]], layout: _Layout, faults: Faults) -> tuple[str, str]:
    """Name and provenance of the station."""
    station = table.comments.get("station", "")
    provenance = table.comments.get("invented") or table.comments.get("provenance", "")
    if layout.station_index is not None:
        codes = sorted({row[layout.station_index].strip() for row in rows} - {""})
        if len(codes) > 1:
            got = f"{len(codes)} stations: {', '.join(codes[:5])}"
            hint = "Keep the rows of the station nearest in distance and height."
            faults.add("stations", "station", got, "one station", hint)
        station = station or (codes[0] if codes else "")
        named = rows[0][layout.name_index].strip() if layout.name_index is not None else ""
        label = f"{station} ({named})" if named else station
        provenance = provenance or f"Station {label}, {CITATION}"
    station = station or (table.preamble[0] if table.preamble else "")
    return station, provenance or "Daily record from a file that does not state who observed it"
