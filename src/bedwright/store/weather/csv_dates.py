"""Dates of CSV files: ISO 8601, eight digits, or figures whose order the file itself proves."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

import numpy as np

from bedwright.store.weather.daily_values import DayArray

ISO = re.compile(r"([0-9]{4})-?([0-9]{2})-?([0-9]{2})(?:[ T].*)?")
YEAR_FIRST = re.compile(r"([0-9]{4})[/.-]([0-9]{1,2})[/.-]([0-9]{1,2})")
YEAR_LAST = re.compile(r"([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4})")

EXPECTED_DATE = "a date as year-month-day, such as 2024-05-01"
NO_DAY = np.iinfo(np.int64).min
"""Stands for a text that is not a date."""

YEARS = range(1700, 2200)


def parse_days(texts: Sequence[str]) -> tuple[DayArray, str]:
    """Days since 1 January 1970, and a note on the order of day and month if it had to be inferred.

    A text that is not a date gives `NO_DAY`. Figures with the year last are read only if the
    file proves their order, because one of them goes past 12.
    """
    if all(len(text) == 10 and text[4] == text[7] == "-" for text in texts):
        try:
            days = np.array(texts, dtype="datetime64[D]").astype(np.int64)
        except ValueError:
            pass
        else:
            years_ok = (days >= _ordinal(YEARS[0], 1, 1)) & (days <= _ordinal(YEARS[-1], 12, 31))
            return np.where(years_ok, days, NO_DAY), ""
    return _parse_each(texts)


def _parse_each(texts: Sequence[str]) -> tuple[DayArray, str]:
    first_two = [
        (int(found[1]), int(found[2])) for text in texts if (found := YEAR_LAST.fullmatch(text.strip()))
    ]
    day_first = any(one > 12 for one, _ in first_two)
    month_first = any(two > 12 for _, two in first_two)
    days = np.array([_day(text.strip(), day_first, month_first) for text in texts], dtype=np.int64)
    if day_first == month_first:
        return days, ""
    order = "day, month, year" if day_first else "month, day, year"
    return days, f"Dates were read as {order}: no other order fits all of them."


def _day(text: str, day_first: bool, month_first: bool) -> int:
    if found := ISO.fullmatch(text) or YEAR_FIRST.fullmatch(text):
        return _ordinal(int(found[1]), int(found[2]), int(found[3]))
    found = YEAR_LAST.fullmatch(text)
    if found is None or day_first == month_first:
        return NO_DAY
    one, two, year = int(found[1]), int(found[2]), int(found[3])
    return _ordinal(year, two, one) if day_first else _ordinal(year, one, two)


def _ordinal(year: int, month: int, day: int) -> int:
    if year not in YEARS:
        return NO_DAY
    try:
        return date(year, month, day).toordinal() - date(1970, 1, 1).toordinal()
    except ValueError:
        return NO_DAY


def date_hint(text: str) -> str:
    """What may be wrong with a text that is not a date."""
    if YEAR_LAST.fullmatch(text.strip()):
        return "Whether day or month stands first cannot be told: write the year first."
    if re.fullmatch(r"[0-9]{1,2}[/.-][0-9]{1,2}[/.-][0-9]{2}", text.strip()):
        return "Write the year with four digits."
    found = ISO.fullmatch(text.strip())
    return "There is no such day." if found else ""
