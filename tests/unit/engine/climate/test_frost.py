from __future__ import annotations

from collections.abc import Callable
from datetime import date

import numpy as np
import pytest

from bedwright.engine.climate import (
    frost_days,
    frost_free_days,
    frost_free_days_by_year,
    frost_tables,
)
from bedwright.engine.climate.frost import half_year, planned_start_year
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def test_last_and_first_frost_of_a_year_are_found(make_record: MakeRecord) -> None:
    record = make_record("2021-01-01", "2021-12-31", {"2021-03-01": -3, "2021-04-20": -1, "2021-10-09": -2})
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    autumn = frost_days(record.dates, record.tmin_c, 0.0, "autumn", southern=False)
    assert spring.dates == (date(2021, 4, 20),)
    assert autumn.dates == (date(2021, 10, 9),)


@pytest.mark.parametrize(("tmin_c", "n_without"), [(0.0, 0), (0.1, 1)])
def test_a_minimum_at_the_threshold_is_a_frost(
    make_record: MakeRecord, tmin_c: float, n_without: int
) -> None:
    record = make_record("2021-01-01", "2021-12-31", {"2021-04-20": tmin_c})
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    assert spring.n_years_without == n_without


def test_a_frost_on_leap_day_keeps_its_date_and_counts_as_1_march(make_record: MakeRecord) -> None:
    record = make_record("2024-01-01", "2024-12-31", {"2024-02-29": -1})
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    assert spring.dates == (date(2024, 2, 29),)
    assert spring.day.tolist() == [59]


def test_southern_spring_crosses_new_year(make_record: MakeRecord) -> None:
    cold = {"2020-09-30": -1, "2021-01-02": -1, "2021-04-25": -1}
    record = make_record("2020-07-01", "2021-06-30", cold)
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=True)
    autumn = frost_days(record.dates, record.tmin_c, 0.0, "autumn", southern=True)
    assert spring.years == (2020,)
    assert spring.dates == (date(2021, 1, 2),)
    assert autumn.years == (2021,)
    assert autumn.dates == (date(2021, 4, 25),)
    assert frost_free_days_by_year(record.dates, record.tmin_c, southern=True).tolist() == [112]


def test_half_years_only_partly_in_the_record_do_not_count(make_record: MakeRecord) -> None:
    record = make_record("2020-01-02", "2021-12-30")
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    autumn = frost_days(record.dates, record.tmin_c, 0.0, "autumn", southern=False)
    assert spring.years == (2021,)
    assert autumn.years == (2020,)


def test_a_record_without_a_whole_half_year_gives_no_table(make_record: MakeRecord) -> None:
    record = make_record("2020-02-01", "2020-11-30")
    assert frost_tables(record, record.tmin_c, date(2026, 3, 1), southern=False) == ()
    assert frost_free_days(record.dates, record.tmin_c, southern=False) == {}
    days = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    with pytest.raises(ValueError, match="no whole half-year"):
        days.day_at_chance(10)


def eleven_springs(make_record: MakeRecord, without: tuple[int, ...] = ()) -> WeatherRecord:
    """Last frosts on 1 to 11 April of 2011 to 2021."""
    cold = {f"{2010 + k}-04-{k:02d}": -1.0 for k in range(1, 12) if k not in without}
    return make_record("2011-01-01", "2021-12-31", cold)


def test_chances_are_quantiles_over_the_years(make_record: MakeRecord) -> None:
    record = eleven_springs(make_record)
    table = frost_tables(record, record.tmin_c, date(2026, 3, 1), southern=False, thresholds_c=(0.0,))[0]
    # by hand: 11 years, so the 10 % steps fall on the years themselves
    days = {quantile.chance_pct: quantile.day for quantile in table.quantiles}
    assert days == {
        10: date(2026, 4, 10),
        20: date(2026, 4, 9),
        50: date(2026, 4, 6),
        80: date(2026, 4, 3),
        90: date(2026, 4, 2),
    }
    assert (table.n_years, table.n_years_without) == (11, 0)


def test_years_without_frost_count_as_years(make_record: MakeRecord) -> None:
    record = eleven_springs(make_record, without=(8, 9, 10, 11))
    table = frost_tables(record, record.tmin_c, date(2026, 3, 1), southern=False, thresholds_c=(0.0,))[0]
    days = {quantile.chance_pct: quantile.day for quantile in table.quantiles}
    # four years without stand before the earliest: 80 and 90 % are never reached
    assert days == {10: date(2026, 4, 6), 20: date(2026, 4, 5), 50: date(2026, 4, 2), 80: None, 90: None}
    assert table.n_years_without == 4


def test_between_two_years_spring_rounds_later_and_autumn_earlier(make_record: MakeRecord) -> None:
    cold = {"2020-04-01": -1.0, "2021-04-10": -1.0, "2020-10-01": -1.0, "2021-10-10": -1.0}
    record = make_record("2020-01-01", "2021-12-31", cold)
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    autumn = frost_days(record.dates, record.tmin_c, 0.0, "autumn", southern=False)
    for days, expected in ((spring, date(2021, 4, 6)), (autumn, date(2021, 10, 5))):
        day = days.day_at_chance(50)
        assert day is not None
        assert days.half.date_of(2021, day) == expected


def test_share_of_years_with_frost_after_a_day(make_record: MakeRecord) -> None:
    record = eleven_springs(make_record)
    spring = frost_days(record.dates, record.tmin_c, 0.0, "spring", southern=False)
    sixth_of_april = 95
    assert spring.chance_pct(sixth_of_april) == pytest.approx(100 * 5 / 11)


def test_frost_free_season_reached_with_a_chance(make_record: MakeRecord) -> None:
    record = eleven_springs(make_record)
    # from 1..11 April, no autumn frost: to the end of December
    lengths = frost_free_days_by_year(record.dates, record.tmin_c, southern=False)
    assert lengths.tolist() == [274 - k for k in range(11)]
    found = frost_free_days(record.dates, record.tmin_c, southern=False)
    assert found == {10: 273, 20: 272, 50: 269, 80: 266, 90: 265}


def test_a_year_without_any_frost_is_free_from_end_to_end(make_record: MakeRecord) -> None:
    record = make_record("2023-01-01", "2023-12-31")
    assert frost_free_days_by_year(record.dates, record.tmin_c, southern=False).tolist() == [365]


@pytest.mark.parametrize(
    ("season_start", "spring_year", "autumn_year"),
    [
        (date(2026, 3, 1), 2026, 2026),
        (date(2026, 7, 31), 2026, 2026),
        (date(2026, 8, 1), 2027, 2026),
        (date(2025, 10, 15), 2026, 2025),
    ],
)
def test_dates_are_given_for_the_season_being_planned(
    season_start: date, spring_year: int, autumn_year: int
) -> None:
    assert planned_start_year(half_year("spring", southern=False), season_start) == spring_year
    assert planned_start_year(half_year("autumn", southern=False), season_start) == autumn_year


def test_southern_dates_are_given_for_the_season_being_planned() -> None:
    assert planned_start_year(half_year("spring", southern=True), date(2026, 8, 1)) == 2026
    assert planned_start_year(half_year("spring", southern=True), date(2027, 1, 15)) == 2026
    assert planned_start_year(half_year("autumn", southern=True), date(2026, 8, 1)) == 2027


def test_tables_come_for_shelter_and_for_plant_height(make_record: MakeRecord) -> None:
    record = eleven_springs(make_record)
    tables = frost_tables(record, record.tmin_c - 20, date(2026, 3, 1), southern=False)
    assert len(tables) == 12
    assert [table.at_plant_height for table in tables] == [False] * 3 + [True] * 3 + [False] * 3 + [True] * 3
    assert tables[3].n_years_without == 0
    assert tables[2].n_years_without == 11


def test_southern_half_years_are_the_northern_six_months_on() -> None:
    for season in ("spring", "autumn"):
        north = half_year("spring" if season == "spring" else "autumn", southern=False)
        south = half_year("spring" if season == "spring" else "autumn", southern=True)
        north_start, south_start = north.date_of(2021, 0), south.date_of(2021, 0)
        assert south_start.day == north_start.day == 1
        assert (south_start.month - north_start.month) % 12 == 6


def test_frost_days_of_an_empty_span_are_empty() -> None:
    dates = np.arange(np.datetime64("2020-05-01"), np.datetime64("2020-05-10"))
    days = frost_days(dates, np.full(dates.size, -1.0), 0.0, "spring", southern=False)
    assert days.n_years == 0
    assert days.dates == ()
