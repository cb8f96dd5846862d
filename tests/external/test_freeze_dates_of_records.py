"""Last and first freezes of two real records, year by year, and their quantiles.

Days of the year (29 February counted) with a minimum at or below the threshold, the year split at 1 August:
found in the records by scripts outside the project with pandas and confirmed with xclim 0.62. Records: KNMI
station 260 De Bilt 1980-2019; NOAA GHCN-Daily USW00094728 New York Central Park 1990-2019.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest

from bedwright.engine.climate import FrostDays, frost_days
from bedwright.model.weather import WeatherRecord


@dataclass(frozen=True)
class Freezes:
    record: str
    threshold_c: float
    spring: list[int]
    autumn: list[int | None]
    spring_quantiles: tuple[float, float, float]
    """10, 50 and 90 % of the years, by linear interpolation on the day of the year."""
    autumn_quantiles: tuple[float, float, float]


CASES = [
    Freezes(
        "de_bilt",
        0.0,
        [
            114, 123, 129, 94, 109, 116, 103, 90, 117, 119, 100, 138, 96, 98, 109, 111, 127, 127,
            83, 110, 102, 112, 109, 103, 111, 74, 105, 95, 108, 90, 113, 125, 108, 112, 124, 118,
            122, 130, 96, 104,
        ],
        [
            289, 289, 319, 294, 337, 299, 333, 311, 304, 317, 309, 293, 287, 290, 291, 308, 319,
            295, 292, 316, 352, 313, 313, 291, 316, 318, 344, 293, 302, 287, 290, 318, 301, 315,
            329, 326, 297, 310, 273, 304,
        ],
        (93.6, 109.5, 127.0),
        (289.0, 306.0, 329.4),
    ),
    Freezes(
        "de_bilt",
        -2.2,
        [
            84, 114, 104, 94, 83, 80, 103, 74, 105, 117, 100, 111, 49, 88, 81, 81, 127, 113, 83, 70,
            102, 112, 73, 102, 87, 65, 82, 39, 107, 80, 69, 88, 108, 97, 84, 118, 72, 110, 80, 78,
        ],
        [
            307, 311, 336, 296, None, 308, 334, 334, 308, 327, 332, 340, 361, 321, 349, 308, 348,
            301, 322, 317, 356, 313, 341, 296, 329, 323, 353, 319, 331, 348, 330, None, 302, 337,
            337, 327, 313, 334, 346, 324,
        ],
        (69.9, 87.5, 113.1),
        (305.5, 328.0, 348.3),
    ),
    Freezes(
        "central_park",
        0.0,
        [
            87, 90, 104, 79, 78, 96, 89, 100, 82, 75, 100, 87, 97, 98, 97, 75, 81, 99, 90, 83, 86,
            88, 87, 82, 106, 91, 101, 82, 99, 77,
        ],
        [
            313, 330, 313, 325, 327, 313, 317, 317, 356, 334, 325, 350, 331, 313, 314, 322, 338,
            315, 323, 341, 338, 344, 311, 316, 322, 328, 344, 314, 318, 312,
        ],
        (77.9, 88.5, 100.1),
        (313.0, 322.5, 344.0),
    ),
    Freezes(
        "central_park",
        -2.2,
        [
            86, 71, 84, 79, 78, 96, 87, 100, 75, 72, 78, 86, 82, 73, 83, 74, 80, 80, 90, 83, 57, 87,
            66, 81, 86, 88, 96, 82, 76, 67,
        ],
        [
            359, 338, 341, 329, 327, 334, 320, 329, 356, 334, 327, 361, 331, 336, 349, 327, 341,
            328, 324, 344, 342, 352, 361, 328, 322, None, 350, 314, 325, 313,
        ],
        (70.6, 81.5, 90.6),
        (321.6, 334.0, 356.6),
    ),
]  # fmt: skip


def days_of(case: Freezes, request: pytest.FixtureRequest) -> tuple[FrostDays, FrostDays]:
    record: WeatherRecord = request.getfixturevalue(case.record)
    return (
        frost_days(record.dates, record.tmin_c, case.threshold_c, "spring", southern=False),
        frost_days(record.dates, record.tmin_c, case.threshold_c, "autumn", southern=False),
    )


def days_of_year(days: FrostDays) -> list[int | None]:
    return [None if day is None else day.timetuple().tm_yday for day in days.dates]


def common_day_of_year(days: FrostDays, chance_pct: int) -> int:
    day = days.day_at_chance(chance_pct)
    assert day is not None
    return days.half.date_of(2001, day).timetuple().tm_yday


@pytest.mark.shared_weather
@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.record} {case.threshold_c}")
def test_every_year_has_its_last_and_first_freeze(case: Freezes, request: pytest.FixtureRequest) -> None:
    spring, autumn = days_of(case, request)
    assert days_of_year(spring) == case.spring
    assert days_of_year(autumn) == case.autumn


@pytest.mark.shared_weather
@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.record} {case.threshold_c}")
def test_dates_at_stated_chances_are_near_the_interpolated_quantiles(
    case: Freezes, request: pytest.FixtureRequest
) -> None:
    spring, autumn = days_of(case, request)
    # 2 days: the quantiles are not rounded, and 29 February adds one in leap years.
    for chance, quantile in zip((90, 50, 10), case.spring_quantiles, strict=True):
        assert common_day_of_year(spring, chance) == pytest.approx(quantile, abs=2)
    for chance, quantile in zip((10, 50, 90), case.autumn_quantiles, strict=True):
        if chance == 90 and autumn.n_years_without:
            # These quantiles are over years with a freeze only; ours count the others as later still.
            assert common_day_of_year(autumn, chance) > quantile
        else:
            assert common_day_of_year(autumn, chance) == pytest.approx(quantile, abs=2)


def test_freeze_risk_at_central_park_in_days_of_a_365_day_year(central_park: WeatherRecord) -> None:
    # A second script outside the project, normal fit and numpy's quantile over the years 1990-2019; the
    # approach of fitting dates is Thom & Shaw 1958 (citation recalled).
    spring = frost_days(central_park.dates, central_park.tmin_c, 0.0, "spring", southern=False)
    autumn = frost_days(central_park.dates, central_park.tmin_c, 0.0, "autumn", southern=False)
    assert spring.n_years == autumn.n_years == 30
    spring_days, autumn_days = spring.day + 1, autumn.day + 213
    assert np.median(spring_days) == pytest.approx(88.0, abs=0.5)
    assert np.median(autumn_days) == pytest.approx(322.0, abs=0.5)
    assert np.quantile(spring_days, 0.9) == pytest.approx(100.0, abs=0.5)
    assert np.quantile(autumn_days, 0.1) == pytest.approx(312.9, abs=0.5)
    # normal fit: mean and 1.2816 standard deviations
    assert spring_days.mean() + 1.2816 * spring_days.std(ddof=1) == pytest.approx(100.7, abs=0.5)
    assert autumn_days.mean() - 1.2816 * autumn_days.std(ddof=1) == pytest.approx(309.0, abs=0.5)
    # 1 day: ours are whole days
    assert common_day_of_year(spring, 10) == pytest.approx(100.0, abs=1)
    assert common_day_of_year(autumn, 10) == pytest.approx(312.9, abs=1)


@pytest.mark.shared_weather
@pytest.mark.parametrize(
    ("record_name", "mean_mm", "low_mm", "high_mm"),
    [("de_bilt", 838.4, 577.1, 1240.6), ("central_park", 1271.3, 905.9, 1850.3)],
)
def test_yearly_rain_of_the_records(
    record_name: str, mean_mm: float, low_mm: float, high_mm: float, request: pytest.FixtureRequest
) -> None:
    record: WeatherRecord = request.getfixturevalue(record_name)
    years = record.dates.astype("datetime64[Y]").astype(int)
    sums_mm = np.bincount(years - years[0], weights=record.rain_mm)
    # 0.06: printed to a tenth
    assert sums_mm.mean() == pytest.approx(mean_mm, abs=0.06)
    assert sums_mm.min() == pytest.approx(low_mm, abs=0.06)
    assert sums_mm.max() == pytest.approx(high_mm, abs=0.06)
