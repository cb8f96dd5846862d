from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from refet import calcs

from bedwright.engine.climate.generator import (
    INNOVATION_MATRIX,
    LAG_MATRIX,
    GeneratorParameters,
    Harmonic,
    generate_weather,
)
from bedwright.model.weather import WeatherRecord

CLIMATE = GeneratorParameters(
    station="Nowhere",
    provenance="invented for a test",
    latitude_deg=50.0,
    chance_wet_after_dry=Harmonic(0.3),
    chance_wet_after_wet=Harmonic(0.6),
    wet_day_rain_mm=Harmonic(5.0),
    rain_shape=0.7,
    tmax_dry_c=Harmonic(15.0, 10.0, 200),
    tmax_wet_c=Harmonic(13.0, 8.0, 200),
    tmin_dry_c=Harmonic(4.0, 8.0, 200),
    tmin_wet_c=Harmonic(6.0, 7.0, 200),
    tmax_sd_c=Harmonic(3.5),
    tmin_sd_c=Harmonic(3.0),
    clearness_dry=Harmonic(0.5),
    clearness_wet=Harmonic(0.3),
    clearness_sd=0.1,
    wind_2m_m_s=Harmonic(2.5),
    wind_log_sd=0.45,
    wind_lag_correlation=0.5,
    dew_point_above_tmin_dry_c=0.0,
    dew_point_above_tmin_wet_c=1.0,
    dew_point_sd_c=1.0,
)


@pytest.fixture(scope="module")
def century() -> WeatherRecord:
    return generate_weather(CLIMATE, n_years=100, first_year=1901, seed=7)


def lag_one(values: np.typing.NDArray[np.float64]) -> float:
    return float(np.corrcoef(values[:-1], values[1:])[0, 1])


def test_the_published_matrices_keep_the_deviations_at_unit_variance() -> None:
    # Deviations are in standard deviations, so the variances that A and B lead to must be 1:
    # M = A M A' + B B'. The published figures have three decimals; the sums err by about 0.01.
    variance = np.eye(3)
    for _ in range(200):
        variance = LAG_MATRIX @ variance @ LAG_MATRIX.T + INNOVATION_MATRIX @ INNOVATION_MATRIX.T
    np.testing.assert_allclose(np.diag(variance), 1.0, atol=0.02)


def test_the_record_is_invented_whole_and_says_so(century: WeatherRecord) -> None:
    assert century.invented
    assert century.provenance == "invented for a test"
    assert str(century.dates[0]) == "1901-01-01"
    assert str(century.dates[-1]) == "2000-12-31"
    assert (np.diff(century.dates).astype(int) == 1).all()
    for column in (century.tmin_c, century.tmax_c, century.rain_mm):
        assert np.isfinite(column).all()


def test_the_same_seed_gives_the_same_record_and_another_seed_another() -> None:
    first = generate_weather(CLIMATE, 2, 2001, seed=1)
    again = generate_weather(CLIMATE, 2, 2001, seed=1)
    other = generate_weather(CLIMATE, 2, 2001, seed=2)
    np.testing.assert_array_equal(first.tmin_c, again.tmin_c)
    np.testing.assert_array_equal(first.rain_mm, again.rain_mm)
    assert (first.tmin_c != other.tmin_c).any()


def test_wet_days_come_as_often_as_the_chain_implies(century: WeatherRecord) -> None:
    # Share of wet days of a two-state chain: p01 / (1 + p01 - p11) = 0.3 / 0.7. 36 525 days with
    # a lag correlation of 0.3 give a standard error of 0.0035; four of them.
    assert (century.rain_mm > 0).mean() == pytest.approx(0.3 / 0.7, abs=0.014)


def test_rain_follows_rain_as_often_as_stated(century: WeatherRecord) -> None:
    wet = century.rain_mm > 0
    # 15 650 and 20 870 days: standard errors 0.004 and 0.003; four of them.
    assert wet[1:][wet[:-1]].mean() == pytest.approx(0.6, abs=0.016)
    assert wet[1:][~wet[:-1]].mean() == pytest.approx(0.3, abs=0.013)


def test_the_mean_rain_of_wet_days_is_that_asked_for(century: WeatherRecord) -> None:
    wet_mm = century.rain_mm[century.rain_mm > 0]
    # Standard error 5 / sqrt(0.7) / sqrt(15 650) = 0.05 mm; raising tiny amounts to 0.1 mm adds 0.01.
    assert wet_mm.mean() == pytest.approx(5.0, abs=0.2)


def test_temperatures_follow_the_seasonal_means_and_spread(century: WeatherRecord) -> None:
    day = (century.dates - century.dates.astype("datetime64[Y]")).astype(int) + 1
    dry_summer = (np.abs(day - 200) <= 10) & (century.rain_mm == 0)
    # About 1 200 days that remember each other: effective sample near 300, standard error 0.2 °C.
    assert century.tmax_c[dry_summer].mean() == pytest.approx(25.0, abs=0.8)
    assert century.tmin_c[dry_summer].mean() == pytest.approx(12.0, abs=0.7)
    assert century.tmax_c[dry_summer].std() == pytest.approx(3.5, rel=0.1)


def test_wet_days_are_cooler_by_day_in_summer(century: WeatherRecord) -> None:
    day = (century.dates - century.dates.astype("datetime64[Y]")).astype(int) + 1
    summer = np.abs(day - 200) <= 30
    wet = century.rain_mm > 0
    assert century.tmax_c[summer & wet].mean() < century.tmax_c[summer & ~wet].mean() - 2


def test_one_day_resembles_the_next(century: WeatherRecord) -> None:
    day = (century.dates - century.dates.astype("datetime64[Y]")).astype(int) + 1
    normal = np.array([century.tmin_c[day == which].mean() for which in range(1, 367)])
    # Lag-one correlation that the matrices imply for the minimum is 0.65 by itself; wet and dry
    # days with means of their own change it a little.
    assert lag_one(century.tmin_c - normal[day - 1]) == pytest.approx(0.65, abs=0.06)


def test_the_minimum_never_passes_the_maximum() -> None:
    close = replace(CLIMATE, tmin_dry_c=CLIMATE.tmax_dry_c, tmin_wet_c=CLIMATE.tmax_wet_c)
    record = generate_weather(close, 5, 2001, seed=3)
    assert (record.tmax_c - record.tmin_c).min() >= 0.5 - 1e-9


def test_radiation_stays_within_what_a_clear_sky_lets_through(century: WeatherRecord) -> None:
    assert century.radiation_mj_m2 is not None
    day = (century.dates - century.dates.astype("datetime64[Y]")).astype(int) + 1
    # The limit comes from another implementation of FAO-56 Eq. 21 (package RefET); that uses
    # 4.92 MJ/m²/h for the solar constant, and 0.0820 * 60 is 4.92.
    above_air = calcs.ra_daily(lat=math.radians(50.0), doy=day, method="asce")
    share = century.radiation_mj_m2 / above_air
    assert share.max() <= 0.75 + 0.005  # declinations differ in the fourth decimal
    assert share.min() > 0.03


def test_wind_has_the_mean_asked_for_and_is_never_negative(century: WeatherRecord) -> None:
    assert century.wind_m_s is not None
    assert century.wind_height_m == 2
    assert century.wind_m_s.min() > 0
    # Standard error 1.2 * sqrt(3) / sqrt(36 525) = 0.01 m/s.
    assert century.wind_m_s.mean() == pytest.approx(2.5, abs=0.05)


def test_humidity_is_higher_on_wet_days(century: WeatherRecord) -> None:
    assert century.rh_mean_pct is not None
    wet = century.rain_mm > 0
    assert century.rh_mean_pct[wet].mean() > century.rh_mean_pct[~wet].mean() + 5
    assert century.rh_mean_pct.max() <= 100


def test_a_record_of_no_years_is_refused() -> None:
    with pytest.raises(ValueError, match="at least one year"):
        generate_weather(CLIMATE, 0, 2001, seed=1)


def test_a_negative_seed_is_refused() -> None:
    with pytest.raises(ValueError, match="non-negative"):
        generate_weather(CLIMATE, 1, 2001, seed=-1)
