from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from bedwright.engine.water import recorded_seasons, season_so_far, site_conditions
from bedwright.model.water import DailyConditions, ForecastDay, RainReading
from bedwright.model.weather import WeatherRecord

FIRST = date(2000, 1, 1)


def record() -> WeatherRecord:
    dates = np.arange(np.datetime64(FIRST), np.datetime64("2004-01-01"))
    wave = np.cos(2 * np.pi * (np.arange(dates.size) - 196) / 365.25)
    return WeatherRecord(
        "Hill", "invented", True, dates, 8 + 7 * wave, 18 + 7 * wave, np.full(dates.size, 2.0)
    )


def site() -> DailyConditions:
    return site_conditions(record(), 51.0, 50.0)


def test_a_bare_record_gets_wind_and_humidity_by_rule() -> None:
    conditions = site()
    assert (conditions.wind_2m_m_s == 2.0).all()
    # minimum taken as the dew point: 15 °C under 25 °C are 54 %
    assert conditions.humidity_min_pct.max() < 60
    assert "Penman-Monteith" in conditions.origins[0].rule


def test_measured_wind_and_humidity_are_used() -> None:
    rich = replace(record(), wind_m_s=np.full(1461, 4.0), rh_min_pct=np.full(1461, 33.0))
    conditions = site_conditions(rich, 51.0, 50.0)
    # 4 m/s at 10 m are 2.99 m/s at 2 m
    assert conditions.wind_2m_m_s[0] == pytest.approx(2.99, abs=0.01)
    assert conditions.humidity_min_pct[0] == 33.0


def test_gaps_in_the_record_are_refused() -> None:
    rain = record().rain_mm.copy()
    rain[5] = np.nan
    with pytest.raises(ValueError, match="fill the gaps"):
        site_conditions(replace(record(), rain_mm=rain), 51.0, 50.0)


def test_seasons_stand_side_by_side() -> None:
    seasons = recorded_seasons(site(), date(2027, 3, 1), 300)
    assert seasons.years == (2000, 2001, 2002, 2003)
    assert seasons.rain_mm.shape == (300, 4)
    assert seasons.dates[0] == np.datetime64("2027-03-01")
    index = int((np.datetime64("2001-03-01") - np.datetime64(FIRST)).astype(int))
    assert seasons.reference_et_mm[0, 1] == site().reference_et_mm[index]


def test_a_record_too_short_for_a_season_is_refused() -> None:
    with pytest.raises(ValueError, match="holds no 3000 days"):
        recorded_seasons(site(), date(2027, 3, 1), 3000)


def test_days_outside_the_record_are_usual_and_dry() -> None:
    days = season_so_far(site(), date(2027, 6, 1), date(2027, 7, 31))
    assert days.n_days == 61
    assert days.rain_mm.sum() == 0
    june = site().reference_et_mm[(np.datetime64("2001-06-01") - np.datetime64(FIRST)).astype(int)]
    assert days.reference_et_mm[0] == pytest.approx(june, rel=0.03)


def test_days_of_the_record_are_as_recorded() -> None:
    days = season_so_far(site(), date(2003, 12, 30), date(2004, 1, 2))
    assert days.rain_mm.tolist() == [2.0, 2.0, 0.0, 0.0]


def test_the_gauge_overrules_the_record_between_its_first_and_last_reading() -> None:
    readings = [RainReading(date(2003, 6, 3), 7.0), RainReading(date(2003, 6, 6), 1.0)]
    days = season_so_far(site(), date(2003, 6, 1), date(2003, 6, 8), readings=readings)
    assert days.rain_mm.tolist() == [2, 2, 7, 0, 0, 1, 2, 2]


def test_a_forecast_brings_rain_and_its_own_demand() -> None:
    forecast = [ForecastDay(date(2027, 6, 2), 12.0, 1.5), ForecastDay(date(2027, 6, 3), 0.0)]
    days = season_so_far(site(), date(2027, 6, 1), date(2027, 6, 4), forecast=forecast)
    assert days.rain_mm.tolist() == [0, 12, 0, 0]
    assert days.reference_et_mm[1] == 1.5
    assert days.reference_et_mm[2] > 1.5


def test_readings_before_the_first_day_are_left_out() -> None:
    early = [RainReading(date(2027, 5, 1) + timedelta(days=k), 9.0) for k in range(3)]
    assert season_so_far(site(), date(2027, 6, 1), date(2027, 6, 4), readings=early).rain_mm.sum() == 0


@pytest.mark.parametrize(
    ("readings", "words"),
    [
        ([RainReading(date(2027, 6, 1), -1.0)], "rain gauge of 2027-06-01: got -1.0 mm"),
        ([RainReading(date(2027, 6, 1), float("nan"))], "rain is 0 mm or more"),
        ([RainReading(date(2027, 6, 1), 1.0), RainReading(date(2027, 6, 1), 2.0)], "given twice"),
    ],
)
def test_impossible_readings_are_refused(readings: list[RainReading], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        season_so_far(site(), date(2027, 6, 1), date(2027, 6, 4), readings=readings)
