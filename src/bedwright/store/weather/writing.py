"""Writes a weather record as a plain CSV file that can be read back."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from bedwright.model.weather import FloatArray, WeatherRecord
from bedwright.store.weather.quantities import QUANTITIES, Quantity


def write_weather_csv(record: WeatherRecord, path: Path) -> None:
    """Write a record as plain CSV in SI units; reading the file gives the same values.

    The first line says where the record comes from, or that it is invented. Notes and the
    count of dropped values are not written: they belong to the file that was read first.

    Parameters
    ----------
    record : WeatherRecord
        Missing values become empty fields; quantities the record does not have, no column.
    path : Path
        An existing file is replaced.
    """
    columns = {quantity: getattr(record, quantity) for quantity in QUANTITIES}
    columns = {quantity: column for quantity, column in columns.items() if column is not None}
    names = [_name(quantity, record.wind_height_m) for quantity in columns]
    fields = [_fields(column) for column in columns.values()]
    days = np.datetime_as_string(record.dates, unit="D").tolist()
    lines = [
        f"# {'invented' if record.invented else 'provenance'}: {_one_line(record.provenance)}",
        f"# station: {_one_line(record.station)}",
        ",".join(["date", *names]),
        *(",".join(row) for row in zip(days, *fields, strict=True)),
    ]
    path.write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def _name(quantity: Quantity, wind_height_m: float) -> str:
    if quantity == "wind_m_s":
        return f"wind_{wind_height_m:g}m_m_s".replace(".", "_")
    return quantity


def _fields(column: FloatArray) -> list[str]:
    return ["" if np.isnan(value) else repr(value) for value in column.tolist()]


def _one_line(text: str) -> str:
    return " ".join(text.split())
