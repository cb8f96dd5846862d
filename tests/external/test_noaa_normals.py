"""Months of New York Central Park against NOAA's published climate normals 1991-2020.

NOAA NCEI, U.S. Climate Normals 1991-2020, daily normals of station USW00094728, as kept in the public
repository josephbcasey/NOAA-normals-data (read). NOAA makes temperature homogeneous first: its minimum is
0.5 °F above the mean of the raw record in every month and its maximum 0.2 °F below, hence 0.7 and
0.4 °F. Rain is not changed: 0.02 inch. Degree days follow the temperatures: 4 % or 8 °F d, whichever is
more.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate import DegreeDayMethod, degree_days, month_means
from bedwright.engine.climate.dates import month_of
from bedwright.model.weather import WeatherRecord

N_YEARS = 30

# month, maximum °F, minimum °F, rain inch, degree days above 50 °F, degree days 50 to 86 °F
NORMALS = [
    (1, 39.5, 27.89, 3.64, 4.5, 14.1),
    (2, 42.2, 29.5, 3.19, 6.2, 19.4),
    (3, 49.9, 35.8, 4.29, 34.1, 64.4),
    (4, 61.8, 45.5, 4.09, 161.6, 201.5),
    (5, 71.4, 54.99, 3.96, 410.3, 416.8),
    (7, 84.9, 70.1, 4.60, 852.6, 822.3),
    (8, 83.3, 68.91, 4.56, 809.0, 790.5),
    (9, 76.2, 62.3, 4.31, 577.4, 574.6),
    (10, 64.5, 51.4, 4.38, 263.0, 283.9),
    (11, 54.0, 42.0, 3.58, 72.6, 100.1),
]


def fahrenheit(celsius: float) -> float:
    return celsius * 1.8 + 32


@pytest.mark.parametrize(("month", "tmax_f", "tmin_f", "rain_in", "above_50", "between_50_and_86"), NORMALS)
def test_a_month_at_central_park(
    central_park_normal_period: WeatherRecord,
    month: int,
    tmax_f: float,
    tmin_f: float,
    rain_in: float,
    above_50: float,
    between_50_and_86: float,
) -> None:
    record = central_park_normal_period
    ours = month_means(record, np.zeros(record.tmin_c.size))[month - 1]
    assert ours.month == month
    assert fahrenheit(ours.tmax_c) == pytest.approx(tmax_f, abs=0.4)
    assert fahrenheit(ours.tmin_c) == pytest.approx(tmin_f, abs=0.7)
    assert ours.rain_mm / 25.4 == pytest.approx(rain_in, abs=0.02)
    assert ours.degree_days_10c * 1.8 == pytest.approx(above_50, rel=0.04, abs=8)
    truncated = degree_days(record.tmin_c, record.tmax_c, base_c=10, upper_c=30, method="each limit")
    in_month = month_of(record.dates) == month
    assert truncated[in_month].sum() / N_YEARS * 1.8 == pytest.approx(between_50_and_86, rel=0.04, abs=8)


def test_the_year_at_central_park(central_park_normal_period: WeatherRecord) -> None:
    record = central_park_normal_period
    assert record.rain_mm.sum() / N_YEARS / 25.4 == pytest.approx(49.52, abs=0.05)

    def yearly_f(base_c: float, upper_c: float | None = None) -> float:
        method: DegreeDayMethod = "mean" if upper_c is None else "each limit"
        days = degree_days(record.tmin_c, record.tmax_c, base_c=base_c, upper_c=upper_c, method=method)
        return float(days.sum() / N_YEARS * 1.8)

    # 1.5 %: the shift of the temperatures by homogenising
    assert yearly_f(10) == pytest.approx(3868.1, rel=0.015)
    assert yearly_f(40 / 1.8 - 32 / 1.8) == pytest.approx(6422.4, rel=0.015)
    assert yearly_f(10, 30) == pytest.approx(3968.2, rel=0.015)
