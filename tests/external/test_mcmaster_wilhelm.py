"""Degree days against the published definitions.

McMaster & Wilhelm 1997, Growing degree-days: one equation, two interpretations, Agric. For. Meteorol.
87:291-300 (abstract and definitions read); NOAA's truncated degree day (methodology of the supplemental
normals, read); Met Éireann's four cases (rule read on its page). Single days: arithmetic of the rule
outside the project. Sums: run on the records by scripts outside the project with pandas, the first
method confirmed with xclim 0.62.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate import DegreeDayMethod, degree_days
from bedwright.engine.climate.dates import year_of
from bedwright.model.weather import WeatherRecord

METHODS: tuple[DegreeDayMethod, DegreeDayMethod] = ("mean", "each limit")


def one_day(
    tmax_c: float, tmin_c: float, base_c: float, upper_c: float | None, method: DegreeDayMethod
) -> float:
    got = degree_days(np.array([tmin_c]), np.array([tmax_c]), base_c=base_c, upper_c=upper_c, method=method)
    return float(got[0])


@pytest.mark.parametrize(
    ("tmax_c", "tmin_c", "base_c", "upper_c", "method_1", "method_2"),
    [
        (15, 5, 10, None, 0.0, 2.5),
        (25, 12, 10, None, 8.5, 8.5),
        (35, 15, 10, 30, 15.0, 12.5),
        (20, 4, 10, None, 2.0, 5.0),
        (22, 9, 10, None, 5.5, 6.0),
        (9, 3, 4.4, None, 1.6, 2.3),
    ],
)
def test_one_day_by_both_methods(
    tmax_c: float, tmin_c: float, base_c: float, upper_c: float | None, method_1: float, method_2: float
) -> None:
    assert one_day(tmax_c, tmin_c, base_c, upper_c, "mean") == pytest.approx(method_1, abs=1e-9)
    assert one_day(tmax_c, tmin_c, base_c, upper_c, "each limit") == pytest.approx(method_2, abs=1e-9)


def test_a_hot_day_is_cut_off_by_the_second_method() -> None:
    assert one_day(34, 21, 10, 30, "each limit") == pytest.approx(15.5, abs=1e-9)


def test_noaas_truncated_degree_day_of_50_and_86_degrees_fahrenheit() -> None:
    # The rule is linear, so it may be worked in °F: 95 and 45 °F give 18 °F d.
    assert one_day(95, 45, 50, 86, "each limit") == pytest.approx(18, abs=1e-9)


@pytest.mark.parametrize(
    ("tmax_c", "tmin_c", "expected"),
    [(20, 4, 3.5), (14, 1, 1.0), (18, 12, 5.0), (9, 2, 0.0)],
)
def test_met_eireanns_four_cases_above_10_degrees(tmax_c: float, tmin_c: float, expected: float) -> None:
    assert one_day(tmax_c, tmin_c, 10, None, "four cases") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("first", "last", "base_c", "sums"),
    [("2012-04-01", "2012-06-30", 10.0, (696.1, 735.4)), ("2003-03-15", "2003-05-15", 4.4, (435.9, 452.2))],
)
def test_a_spring_at_central_park(
    central_park: WeatherRecord, first: str, last: str, base_c: float, sums: tuple[float, float]
) -> None:
    days = (central_park.dates >= np.datetime64(first)) & (central_park.dates <= np.datetime64(last))
    for method, expected in zip(METHODS, sums, strict=True):
        got = degree_days(central_park.tmin_c[days], central_park.tmax_c[days], base_c=base_c, method=method)
        # 0.06: the sums were printed to a tenth
        assert got.sum() == pytest.approx(expected, abs=0.06)


def test_years_at_de_bilt(de_bilt: WeatherRecord) -> None:
    first, second = (
        degree_days(de_bilt.tmin_c, de_bilt.tmax_c, base_c=10, method=method) for method in METHODS
    )
    years = year_of(de_bilt.dates)
    assert first.sum() / 40 == pytest.approx(992.8, abs=0.06)
    assert second.sum() / 40 == pytest.approx(1163.7, abs=0.06)
    assert first[years == 1980].sum() == pytest.approx(843.4, abs=0.06)
    assert first[years == 2019].sum() == pytest.approx(1079.4, abs=0.06)


def test_years_at_central_park(central_park: WeatherRecord) -> None:
    first, second = (
        degree_days(central_park.tmin_c, central_park.tmax_c, base_c=10, method=method) for method in METHODS
    )
    years = year_of(central_park.dates)
    assert first.sum() / 30 == pytest.approx(2128.7, abs=0.06)
    assert second.sum() / 30 == pytest.approx(2233.4, abs=0.06)
    assert first[years == 1990].sum() == pytest.approx(2162.2, abs=0.06)
    assert first[years == 2019].sum() == pytest.approx(2171.9, abs=0.06)
