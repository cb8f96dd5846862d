from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.climate import GROUND_FROST_ALLOWANCE_C, season_years
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def numbered(make_record: MakeRecord, first: str, last: str) -> WeatherRecord:
    """Record whose rain is the running number of the day."""
    record = make_record(first, last)
    return replace(record, rain_mm=np.arange(record.dates.size, dtype=float))


def test_seasons_begin_on_the_month_and_day_of_the_plan(make_record: MakeRecord) -> None:
    record = numbered(make_record, "2015-01-01", "2019-12-31")
    seasons = season_years(record, date(2026, 3, 1), n_days=365)
    assert seasons.years == (2015, 2016, 2017, 2018)
    for row, year in enumerate(seasons.years):
        assert record.dates[int(seasons.rain_mm[row, 0])] == np.datetime64(f"{year}-03-01")
    assert np.diff(seasons.rain_mm, axis=1).min() == np.diff(seasons.rain_mm, axis=1).max() == 1


def test_a_longer_look_loses_only_the_starts_it_must(make_record: MakeRecord) -> None:
    record = numbered(make_record, "2015-01-01", "2019-12-31")
    assert season_years(record, date(2026, 3, 1)).years == (2015, 2016, 2017, 2018)
    assert season_years(record, date(2026, 5, 1)).years == (2015, 2016, 2017)
    assert season_years(record, date(2026, 5, 1), n_days=365).years == (2015, 2016, 2017, 2018)
    assert season_years(record, date(2026, 3, 1), n_days=306).years == (2015, 2016, 2017, 2018, 2019)
    assert season_years(record, date(2026, 3, 1), n_days=307).years == (2015, 2016, 2017, 2018)


def test_a_start_before_the_record_is_left_out(make_record: MakeRecord) -> None:
    record = numbered(make_record, "2015-03-02", "2018-12-31")
    assert season_years(record, date(2026, 3, 1), n_days=300).years == (2016, 2017, 2018)
    assert season_years(record, date(2026, 3, 2), n_days=300).years == (2015, 2016, 2017, 2018)


def test_leap_days_are_kept(make_record: MakeRecord) -> None:
    record = numbered(make_record, "2019-01-01", "2021-12-31")
    seasons = season_years(record, date(2026, 1, 1), n_days=365)
    ends = [record.dates[int(row[-1])] for row in seasons.rain_mm]
    assert ends == [np.datetime64(day) for day in ("2019-12-31", "2020-12-30", "2021-12-31")]


def test_a_season_from_leap_day_starts_on_1_march_in_common_years(make_record: MakeRecord) -> None:
    record = numbered(make_record, "2019-01-01", "2021-12-31")
    seasons = season_years(record, date(2028, 2, 29), n_days=100)
    starts = [record.dates[int(row[0])] for row in seasons.rain_mm]
    assert starts == [np.datetime64(day) for day in ("2019-03-01", "2020-02-29", "2021-03-01")]


def test_low_plants_are_colder_than_the_shelter(make_record: MakeRecord) -> None:
    seasons = season_years(make_record("2019-01-01", "2021-12-31"), date(2026, 3, 1))
    assert seasons.ground_frost_allowance_c == GROUND_FROST_ALLOWANCE_C
    assert seasons.plant_tmin_c == pytest.approx(seasons.tmin_c - GROUND_FROST_ALLOWANCE_C)


def test_soil_of_a_steady_climate_is_steady_and_warmer_than_the_air(make_record: MakeRecord) -> None:
    seasons = season_years(make_record("2019-01-01", "2021-12-31"), date(2026, 3, 1))
    # bare soil, Kätterer & Andrén 2009: 1.116 times the air's 15 °C
    assert seasons.soil_temp_c == pytest.approx(16.74, abs=0.01)
    assert seasons.soil_depth_m == 0.05


def test_a_record_too_short_is_refused_with_what_it_holds(make_record: MakeRecord) -> None:
    with pytest.raises(ValueError, match="2019-01-01 to 2019-12-31, does not hold 615 days from a 01 March"):
        season_years(make_record("2019-01-01", "2019-12-31"), date(2026, 3, 1))


def test_gaps_are_refused(make_record: MakeRecord) -> None:
    record = make_record("2019-01-01", "2021-12-31")
    rain_mm = record.rain_mm.copy()
    rain_mm[5] = np.nan
    with pytest.raises(ValueError, match="rain_mm has missing values"):
        season_years(replace(record, rain_mm=rain_mm), date(2026, 3, 1))
