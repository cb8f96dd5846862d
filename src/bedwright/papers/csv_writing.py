"""Numbers and rows of a table for a spreadsheet."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bedwright.model.book import UnitSystem
from bedwright.model.units import UNITS, convert

Cell = str | int | float | None
_UNITS = {unit.suffix: unit for unit in UNITS}
_US_TWIN = {"m": "ft", "cm": "in", "mm": "in", "g": "oz", "kg": "lb", "l": "us_gal", "m2": "ft2"}
_DIGITS = {
    "m": 3,
    "cm": 1,
    "mm": 1,
    "g": 2,
    "kg": 3,
    "ft": 3,
    "in": 2,
    "oz": 3,
    "lb": 2,
    "l": 1,
    "us_gal": 1,
    "m2": 2,
    "ft2": 1,
}


@dataclass(frozen=True, slots=True)
class Columns:
    """Writes a header and a number in the system asked for."""

    system: UnitSystem

    def header(self, name: str, suffix: str) -> str:
        """Name with its unit last."""
        return f"{name}_{_US_TWIN[suffix] if self.system == 'us' else suffix}"

    def number(self, value: float | None, suffix: str) -> float | None:
        """A value in the unit of its header, rounded."""
        if value is None:
            return None
        if self.system == "metric":
            return round(value, _DIGITS[suffix])
        twin = _US_TWIN[suffix]
        return round(convert(value, _UNITS[suffix], _UNITS[twin]), _DIGITS[twin])


def csv_bytes(header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A table as RFC 4180 asks: comma, CRLF, quotes where needed; UTF-8."""
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows(["" if cell is None else cell for cell in row] for row in rows)
    return text.getvalue().encode()
