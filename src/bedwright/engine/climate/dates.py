"""Days of a year of 365 days, so that leap and common years can be laid over each other."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from bedwright.model.weather import DateArray

IntArray = NDArray[np.int64]

DAYS_IN_COMMON_YEAR = 365
_COMMON_YEAR = 2001
_DAYS_BEFORE_MONTH = np.array([0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334], dtype=np.int64)


def month_of(dates: DateArray) -> IntArray:
    """Month of each date, (n_days,), 1 to 12."""
    months: IntArray = dates.astype("datetime64[M]").astype(np.int64) % 12 + 1
    return months


def year_of(dates: DateArray) -> IntArray:
    """Calendar year of each date, (n_days,)."""
    years: IntArray = dates.astype("datetime64[Y]").astype(np.int64) + 1970
    return years


def day_of_year(dates: DateArray) -> IntArray:
    """Day of the year of each date, (n_days,), 1 to 366, counting 29 February."""
    days: IntArray = (dates - dates.astype("datetime64[Y]")).astype(np.int64) + 1
    return days


def common_day(dates: DateArray) -> IntArray:
    """Days since 1 January in a year of 365 days, (n_days,), 0 to 364; 29 February counts as 1 March."""
    month_starts = dates.astype("datetime64[M]")
    day_of_month: IntArray = (dates - month_starts).astype(np.int64)
    result: IntArray = _DAYS_BEFORE_MONTH[month_of(dates) - 1] + day_of_month
    return result


def date_of_common_day(start_year: int, day: int) -> date:
    """Calendar date of a day counted by `common_day`; a day past 364 falls in a later year."""
    years, within = divmod(day, DAYS_IN_COMMON_YEAR)
    at = date(_COMMON_YEAR, 1, 1) + timedelta(days=within)
    return at.replace(year=start_year + years)


def anniversary(day: date, year: int) -> date:
    """The same month and day in another year; 29 February becomes 1 March in a common year."""
    try:
        return day.replace(year=year)
    except ValueError:
        return date(year, 3, 1)
