from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from bedwright.engine.climate.dates import (
    anniversary,
    common_day,
    date_of_common_day,
    day_of_year,
    month_of,
    year_of,
)


def test_leap_day_counts_as_the_first_of_march() -> None:
    dates = np.array(["2023-02-28", "2023-03-01", "2024-02-28", "2024-02-29", "2024-03-01"], "datetime64[D]")
    assert common_day(dates).tolist() == [58, 59, 58, 59, 59]


def test_last_day_of_every_year_is_364() -> None:
    dates = np.array(["2023-12-31", "2024-12-31"], "datetime64[D]")
    assert common_day(dates).tolist() == [364, 364]
    assert day_of_year(dates).tolist() == [365, 366]


def test_month_and_year_hold_before_1970_too() -> None:
    dates = np.array(["1968-02-29", "1969-12-31", "1970-01-01"], "datetime64[D]")
    assert month_of(dates).tolist() == [2, 12, 1]
    assert year_of(dates).tolist() == [1968, 1969, 1970]


@pytest.mark.parametrize(
    ("day", "expected"), [(0, date(2024, 1, 1)), (59, date(2024, 3, 1)), (365, date(2025, 1, 1))]
)
def test_a_day_past_the_year_falls_in_the_next(day: int, expected: date) -> None:
    assert date_of_common_day(2024, day) == expected


def test_anniversary_of_a_leap_day_is_the_first_of_march() -> None:
    assert anniversary(date(2024, 2, 29), 2023) == date(2023, 3, 1)
    assert anniversary(date(2024, 2, 29), 2028) == date(2028, 2, 29)
