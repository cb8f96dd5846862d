"""GHCN-Daily `.dly` files: fixed width, one line a station, month and element.

Source: NOAA National Centers for Environmental Information, GHCN-Daily readme.txt, section III:
columns 1-11 station, 12-15 year, 16-17 month, 18-21 element, then 31 times value (5), measurement
flag, quality flag, source flag (1 each); -9999 is missing; a quality flag other than blank means
that the value failed a check.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.model.weather import BoolArray, FloatArray
from bedwright.store.weather.daily_values import DailyValues
from bedwright.store.weather.faults import Faults
from bedwright.store.weather.ghcn_elements import (
    ELEMENTS,
    MULTIDAY_RAIN,
    WIND_HEIGHT_NOTE,
    multiday_note,
    provenance,
)
from bedwright.store.weather.quantities import MISSING_CODE, Quantity

N_DAYS = 31
WIDTH_HEAD = 21
WIDTH_DAY = 8
WIDTH_VALUE = 5
QUALITY_FLAG = 6
"""Offset of the quality flag in the eight characters of a day."""
WIDTH_LINE = WIDTH_HEAD + N_DAYS * WIDTH_DAY

HEAD = re.compile(r"[A-Z]{2}[A-Z0-9_-]{9}(?:1[6-9]|20|21)[0-9]{2}(?:0[1-9]|1[0-2])[A-Z][A-Z0-9]{3}")

SPACE, MINUS, ZERO, NINE = (ord(character) for character in " -09")


@dataclass(frozen=True, slots=True)
class _Lines:
    """The lines of the wanted elements; arrays have shape (n_lines,)."""

    elements: list[str]
    numbers: NDArray[np.int64]
    """Line numbers, from 1."""
    month_start: NDArray[np.int64]
    """First day of the month, in days since 1 January 1970."""
    month_length: NDArray[np.int64]
    characters: NDArray[np.uint8]
    """Shape (n_lines, 31, 8)."""


def looks_like_dly(text: str) -> bool:
    """True if the first line that is not blank has the head of a `.dly` line."""
    first = text.lstrip()[: WIDTH_HEAD + WIDTH_DAY]
    return HEAD.match(first) is not None and "," not in first


def read_dly(text: str, faults: Faults) -> DailyValues | None:
    """Daily values of a `.dly` text, or None if no line could be read."""
    station, heads, n_multiday = _checked_heads(text.split("\n"), faults)
    if not heads:
        faults.add("lines", "lines", "none with an element that can be used", ", ".join(ELEMENTS))
        return None
    lines = _lines(heads)
    numbers, bad = _five_digit_numbers(lines.characters[:, :, :WIDTH_VALUE])
    in_month = np.arange(N_DAYS) < lines.month_length[:, None]
    present = (numbers != MISSING_CODE) & ~bad
    _report_bad_values(lines, bad & in_month, faults)
    _report_impossible_days(lines, present & ~in_month, faults)
    failed = lines.characters[:, :, QUALITY_FLAG] != SPACE
    usable = present & in_month & ~failed
    notes = [multiday_note(n_multiday)] if n_multiday else []
    if "AWND" in lines.elements:
        notes.append(WIND_HEIGHT_NOTE)
    return _scattered(station, lines, np.where(usable, numbers, np.nan), notes, int((present & failed).sum()))


def _checked_heads(raw_lines: list[str], faults: Faults) -> tuple[str, list[tuple[int, str]], int]:
    """Station, numbered lines of wanted elements, and how many multi-day rain totals there are."""
    kept: list[tuple[int, str]] = []
    first_line: dict[str, int] = {}
    n_multiday = 0
    for number, line in enumerate(raw_lines, start=1):
        if not line.strip():
            continue
        head = line[:WIDTH_HEAD]
        if not HEAD.fullmatch(head):
            faults.add(
                "head of a line",
                "station, year, month and element",
                repr(head),
                "11 characters of station, 4 of year, 2 of month, 4 of element, as in GHCN-Daily",
                line=number,
                column=1,
            )
            continue
        element = head[17:21]
        if element == MULTIDAY_RAIN:
            n_multiday += sum(
                line[start : start + WIDTH_VALUE].strip() not in {"", str(MISSING_CODE)}
                for start in range(WIDTH_HEAD, WIDTH_LINE, WIDTH_DAY)
            )
        if element not in ELEMENTS:
            continue
        if head in first_line:
            got = f"{element} of {head[11:15]}-{head[15:17]} again"
            expected = f"one line a month and element; the first is line {first_line[head]}"
            faults.add("month given twice", element, got, expected, line=number, column=1)
            continue
        first_line[head] = number
        kept.append((number, line))
    stations = sorted({line[:11] for _, line in kept})
    if len(stations) > 1:
        faults.add(
            "stations",
            "station",
            f"{len(stations)} stations: {', '.join(stations[:5])}",
            "one station",
            "Keep the lines of the station nearest in distance and height.",
        )
    return (stations[0] if stations else ""), kept, n_multiday


def _lines(heads: list[tuple[int, str]]) -> _Lines:
    months = np.array([f"{line[11:15]}-{line[15:17]}" for _, line in heads], dtype="datetime64[M]")
    starts = months.astype("datetime64[D]").astype(np.int64)
    ends = (months + 1).astype("datetime64[D]").astype(np.int64)
    packed = "".join(line[WIDTH_HEAD:WIDTH_LINE].ljust(WIDTH_LINE - WIDTH_HEAD) for _, line in heads)
    characters = np.frombuffer(packed.encode("latin-1", "replace"), dtype=np.uint8)
    return _Lines(
        elements=[line[17:21] for _, line in heads],
        numbers=np.array([number for number, _ in heads], dtype=np.int64),
        month_start=starts,
        month_length=ends - starts,
        characters=characters.reshape(len(heads), N_DAYS, WIDTH_DAY),
    )


def _five_digit_numbers(fields: NDArray[np.uint8]) -> tuple[FloatArray, BoolArray]:
    """Whole numbers of right-aligned fields (..., 5), and where a field is not such a number."""
    digit = (fields >= ZERO) & (fields <= NINE)
    sign = fields == MINUS
    blank = fields == SPACE
    # Reading leftwards from the last character: digits, at most one sign, blanks.
    rank = np.where(blank, 0, np.where(sign, 1, np.where(digit, 2, 3)))
    bad = (np.diff(rank, axis=-1) < 0).any(axis=-1) | (rank == 3).any(axis=-1)
    bad |= ~digit[..., -1] | (sign.sum(axis=-1) > 1)
    values = np.zeros(fields.shape[:-1])
    for place in range(fields.shape[-1]):
        values = np.where(digit[..., place], values * 10 + (fields[..., place] - float(ZERO)), values)
    return np.where(sign.any(axis=-1), -values, values), bad


def _column(day: int) -> int:
    return WIDTH_HEAD + WIDTH_DAY * day + 1


def _report_bad_values(lines: _Lines, bad: BoolArray, faults: Faults) -> None:
    for row, day in np.argwhere(bad):
        got = repr(lines.characters[row, day, :WIDTH_VALUE].tobytes().decode("latin-1"))
        hint = "The line may have been cut off." if not got.strip("' ") else ""
        faults.add(
            "value",
            f"{lines.elements[row]}, day {day + 1}",
            got,
            "a whole number of five characters, or -9999",
            hint,
            line=int(lines.numbers[row]),
            column=_column(int(day)),
        )


def _report_impossible_days(lines: _Lines, impossible: BoolArray, faults: Faults) -> None:
    for row, day in np.argwhere(impossible):
        month = str(np.datetime64(int(lines.month_start[row]), "D"))[:7]
        faults.add(
            "impossible day",
            lines.elements[row],
            f"a value for day {day + 1} of {month}",
            f"{lines.month_length[row]} days in that month, the rest -9999",
            line=int(lines.numbers[row]),
            column=_column(int(day)),
        )


def _scattered(
    station: str, lines: _Lines, table: FloatArray, notes: list[str], n_flagged: int
) -> DailyValues:
    """Lay the months of each element along one run of days."""
    first = int(lines.month_start.min())
    n_days = int((lines.month_start + lines.month_length).max()) - first
    values: dict[Quantity, FloatArray] = {}
    line_of_day: dict[Quantity, NDArray[np.int64]] = {}
    elements = np.array(lines.elements)
    for element, (quantity, unit) in ELEMENTS.items():
        chosen = elements == element
        if not chosen.any():
            continue
        days = lines.month_start[chosen, None] - first + np.arange(N_DAYS)
        in_month = np.arange(N_DAYS) < lines.month_length[chosen, None]
        values[quantity] = np.full(n_days, np.nan)
        values[quantity][days[in_month]] = unit.to_record(table[chosen][in_month])
        line_of_day[quantity] = np.zeros(n_days, dtype=np.int64)
        line_of_day[quantity][days[in_month]] = np.broadcast_to(lines.numbers[chosen, None], in_month.shape)[
            in_month
        ]
    observed = np.flatnonzero(np.any([~np.isnan(column) for column in values.values()], axis=0))
    start, stop = (int(observed[0]), int(observed[-1]) + 1) if observed.size else (0, n_days)
    days_kept = np.arange(first + start, first + stop)

    def place(quantity: Quantity | None, row: int) -> tuple[int | None, int | None]:
        line = int(line_of_day[quantity][start + row]) if quantity in line_of_day else 0
        day_of_month = int(str(np.datetime64(int(days_kept[row]), "D"))[8:])
        return (line or None), (_column(day_of_month - 1) if line else None)

    return DailyValues(
        station=station,
        provenance=provenance(station),
        days=days_kept,
        values={quantity: column[start:stop] for quantity, column in values.items()},
        place=place,
        n_flagged_dropped=n_flagged,
        notes=notes,
    )
