"""Reads a daily weather record from a file of any layout that is understood."""

from __future__ import annotations

from pathlib import Path

from bedwright.model.weather import WeatherRecord
from bedwright.store.weather.arranging import weather_record
from bedwright.store.weather.daily_values import DailyValues
from bedwright.store.weather.faults import Faults
from bedwright.store.weather.ghcn_dly import looks_like_dly, read_dly
from bedwright.store.weather.ghcn_long import looks_like_long, read_long_csv
from bedwright.store.weather.source_text import read_text
from bedwright.store.weather.wide_csv import read_wide_csv


def read_weather(path: Path) -> WeatherRecord:
    """Read a daily weather record; the layout is told from the content, not from the name.

    Layouts: GHCN-Daily `.dly`; GHCN-Daily CSV with one row an element, or with one row a day;
    Climate Data Online tables; plain CSV with named columns. docs/weather-files.md shows each.

    Parameters
    ----------
    path : Path
        File of at most 50 MB, with one station and at least one full year.

    Returns
    -------
    WeatherRecord
        SI units, a day without a gap from first to last. What was dropped, sorted or filled
        in is told in its notes.

    Raises
    ------
    BadDocumentError
        If the file cannot be used; carries every problem found, each kind listed up to 20 times.

    Limits
    ------
    Says nothing of whether the record is long or complete enough for a season plan.
    """
    faults = Faults(str(path))
    text = read_text(path, faults)
    read = None if text is None else _daily_values(text, faults)
    if read is not None and not read.station:
        read.station = path.stem
    record = None if read is None else weather_record(read, faults)
    faults.raise_if_any()
    if record is None:  # pragma: no cover  # every branch without a record has told why
        raise AssertionError
    return record


def _daily_values(text: str, faults: Faults) -> DailyValues | None:
    if looks_like_dly(text):
        return read_dly(text, faults)
    if looks_like_long(text):
        return read_long_csv(text, faults)
    return read_wide_csv(text, faults)
