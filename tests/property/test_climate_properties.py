"""What must hold of climate whatever the weather was."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.climate import (
    CHANCES_PCT,
    DegreeDayMethod,
    FrostDays,
    degree_days,
    fill_gaps,
    frost_days,
    frost_free_days_by_year,
    penman_monteith_mm,
    reference_et,
    season_years,
    soil_temperature_c,
)
from bedwright.engine.climate.frost import FrostSeason
from bedwright.model.weather import DateArray, WeatherRecord

Cold = tuple[int, int, int, float]
"""Year of the record from 0, month, day of the month, minimum [°C]."""

FROSTS = st.lists(
    st.tuples(st.integers(0, 4), st.integers(1, 12), st.integers(1, 28), st.floats(-9, 0.0)), max_size=40
)
SEASONS: tuple[FrostSeason, FrostSeason] = ("spring", "autumn")
season_names = st.sampled_from(SEASONS)


def record_of(
    frosts: list[Cold], *, first_year: int = 2001, n_years: int = 5, months_on: int = 0
) -> WeatherRecord:
    """Record of mild days with frosts, all moved on by some months."""
    start = np.datetime64(f"{first_year}-01") + months_on
    end = start + 12 * n_years
    dates: DateArray = np.arange(
        start.astype("datetime64[D]"), end.astype("datetime64[D]"), dtype="datetime64[D]"
    )
    tmin_c = np.full(dates.size, 10.0)
    for year, month, day, cold_c in frosts:
        at = (start + 12 * year + month - 1).astype("datetime64[D]") + (day - 1)
        tmin_c[dates == at] = cold_c
    return WeatherRecord(
        "Made up", "Invented", True, dates, tmin_c, np.full(dates.size, 20.0), np.zeros(dates.size)
    )


def days_of(
    record: WeatherRecord, season: FrostSeason, threshold_c: float = 0.0, *, southern: bool = False
) -> FrostDays:
    return frost_days(record.dates, record.tmin_c, threshold_c, season, southern=southern)


@given(frosts=FROSTS, high_c=st.floats(-5, 2), lower_by_c=st.floats(0, 6))
def test_a_lower_threshold_never_lengthens_the_time_of_frost(
    frosts: list[Cold], high_c: float, lower_by_c: float
) -> None:
    record = record_of(frosts)
    spring, colder_spring = (days_of(record, "spring", c) for c in (high_c, high_c - lower_by_c))
    autumn, colder_autumn = (days_of(record, "autumn", c) for c in (high_c, high_c - lower_by_c))
    assert (np.nan_to_num(colder_spring.day, nan=-1) <= np.nan_to_num(spring.day, nan=-1)).all()
    assert (np.nan_to_num(colder_autumn.day, nan=999) >= np.nan_to_num(autumn.day, nan=999)).all()


@given(frosts=FROSTS, season=season_names, chance_pct=st.integers(1, 99), day=st.integers(0, 211))
def test_a_year_without_frost_never_raises_the_chance_of_frost(
    frosts: list[Cold], season: FrostSeason, chance_pct: int, day: int
) -> None:
    before = days_of(record_of(frosts), season)
    after = days_of(record_of(frosts, n_years=6), season)
    assert after.n_years == before.n_years + 1
    assert after.chance_pct(day) <= before.chance_pct(day)
    never = -1 if season == "spring" else 999
    old, new = (never if at is None else at for at in (d.day_at_chance(chance_pct) for d in (before, after)))
    assert new <= old if season == "spring" else new >= old


@given(frosts=FROSTS, season=season_names)
def test_the_south_mirrors_the_north_half_a_year_on(frosts: list[Cold], season: FrostSeason) -> None:
    north = days_of(record_of(frosts), season)
    south = days_of(record_of(frosts, months_on=6), season, southern=True)
    assert south.n_years == north.n_years
    for a, b in zip(north.dates, south.dates, strict=True):
        assert (a is None) == (b is None)
        if a is not None and b is not None:
            assert b.day == a.day
            assert (b.year - a.year) * 12 + b.month - a.month == 6


@given(frosts=FROSTS, season=season_names, first_year=st.integers(1990, 2020))
def test_leap_years_do_not_move_frost_days(frosts: list[Cold], season: FrostSeason, first_year: int) -> None:
    one, other = (days_of(record_of(frosts, first_year=year), season) for year in (2001, first_year))
    assert np.array_equal(one.day, other.day, equal_nan=True)
    assert [one.day_at_chance(c) for c in CHANCES_PCT] == [other.day_at_chance(c) for c in CHANCES_PCT]


@given(frosts=FROSTS, season=season_names)
def test_a_smaller_chance_of_frost_is_a_safer_day(frosts: list[Cold], season: FrostSeason) -> None:
    days = days_of(record_of(frosts), season)
    never = -1 if season == "spring" else 999
    found = [never if at is None else at for at in (days.day_at_chance(c) for c in CHANCES_PCT)]
    assert found == sorted(found, reverse=season == "spring")


@given(frosts=FROSTS, season=season_names, chance_pct=st.integers(1, 99))
def test_a_stated_chance_is_a_share_of_years_to_within_one_year(
    frosts: list[Cold], season: FrostSeason, chance_pct: int
) -> None:
    days = days_of(record_of(frosts), season)
    day = days.day_at_chance(chance_pct)
    if day is None:
        assert 100 * days.n_years_without / days.n_years > 99 - chance_pct - 100 / days.n_years
    else:
        # In autumn several years may have their frost on that very day; the chance is of one before it.
        before = day if season == "spring" else day - 1
        assert days.chance_pct(before) <= chance_pct + 100 / days.n_years


@given(frosts=FROSTS, southern=st.booleans())
def test_the_frost_free_season_holds_no_frost(frosts: list[Cold], southern: bool) -> None:
    record = record_of(frosts)
    spring, autumn = (days_of(record, season, southern=southern) for season in SEASONS)
    lengths = frost_free_days_by_year(record.dates, record.tmin_c, southern=southern)
    assert ((lengths >= 0) & (lengths <= 365)).all()
    if spring.n_years and None not in spring.dates and None not in autumn.dates and not southern:
        between = [
            (b - a).days - 1
            for a, b in zip(spring.dates, autumn.dates, strict=True)
            if a is not None and b is not None
        ]
        # a 29 February between January's frost and autumn's is not counted in a year of 365 days
        assert all(0 <= days - length <= 1 for days, length in zip(between, lengths, strict=True))


temperatures = st.floats(-30, 45)
METHODS: tuple[DegreeDayMethod, DegreeDayMethod] = ("mean", "each limit")
method_names = st.sampled_from(METHODS)


@given(
    low=temperatures,
    span=st.floats(0, 30),
    warmer_by=st.floats(0, 20),
    base_c=st.floats(0, 15),
    above_base=st.floats(1, 30),
    method=method_names,
)
def test_degree_days_grow_with_temperature_and_never_pass_the_limits(
    low: float, span: float, warmer_by: float, base_c: float, above_base: float, method: DegreeDayMethod
) -> None:
    tmin_c, tmax_c = np.array([low, low + warmer_by]), np.array([low + span, low + span + warmer_by])
    upper_c = base_c + above_base
    cool, warm = degree_days(tmin_c, tmax_c, base_c=base_c, upper_c=upper_c, method=method)
    assert 0 <= cool <= warm + 1e-9
    assert warm <= above_base + 1e-9


@given(low=temperatures, span=st.floats(0, 30), base_c=st.floats(0, 15))
def test_without_an_upper_limit_the_second_method_never_gives_less(
    low: float, span: float, base_c: float
) -> None:
    tmin_c, tmax_c = np.array([low]), np.array([low + span])
    first = degree_days(tmin_c, tmax_c, base_c=base_c, method="mean")[0]
    second = degree_days(tmin_c, tmax_c, base_c=base_c, method="each limit")[0]
    cases = degree_days(tmin_c, tmax_c, base_c=base_c, method="four cases")[0]
    assert first - 1e-9 <= cases <= second + 1e-9


@given(seed=st.integers(0, 2**32 - 1), share=st.floats(0, 0.9), n_days=st.integers(2, 900))
def test_a_filled_record_has_no_gap_and_keeps_every_measured_value(
    seed: int, share: float, n_days: int
) -> None:
    random = np.random.default_rng(seed)
    dates = np.arange(np.datetime64("2019-11-05"), np.datetime64("2019-11-05") + n_days)
    tmin_c = random.normal(5, 8, n_days)
    columns = [tmin_c, tmin_c + random.uniform(0, 15, n_days), random.exponential(2, n_days)]
    gappy = [np.where(random.random(n_days) < share, np.nan, column) for column in columns]
    for column, whole in zip(gappy, columns, strict=True):
        column[0] = whole[0]
    record = WeatherRecord("Made up", "Invented", True, dates, gappy[0], gappy[1], gappy[2])
    filled, n_filled, _ = fill_gaps(record)
    assert n_filled == sum(int(np.isnan(column).sum()) for column in gappy)
    for before, after in (
        (record.tmin_c, filled.tmin_c),
        (record.tmax_c, filled.tmax_c),
        (record.rain_mm, filled.rain_mm),
    ):
        assert np.isfinite(after).all()
        known = np.isfinite(before)
        assert np.array_equal(before[known], after[known])
    assert (filled.tmax_c >= filled.tmin_c).all()
    again, n_again, _ = fill_gaps(filled)
    assert n_again == 0
    assert np.array_equal(again.tmin_c, filled.tmin_c)


@settings(max_examples=50)
@given(
    start=st.dates(date(2024, 1, 1), date(2024, 12, 31)),
    first=st.dates(date(2010, 1, 1), date(2012, 12, 31)),
    n_record=st.integers(1200, 2500),
    n_days=st.integers(1, 700),
)
def test_every_season_is_a_stretch_of_the_record(
    start: date, first: date, n_record: int, n_days: int
) -> None:
    dates = np.arange(np.datetime64(first), np.datetime64(first) + n_record)
    number = np.arange(n_record, dtype=float)
    record = WeatherRecord("Made up", "Invented", True, dates, number * 0, number * 0 + 10, number)
    seasons = season_years(record, start, n_days=n_days)
    assert seasons.rain_mm.shape == (seasons.n_years, n_days)
    assert (np.diff(seasons.rain_mm, axis=1) == 1).all()
    for year, row in zip(seasons.years, seasons.rain_mm, strict=True):
        begins = dates[int(row[0])].astype(date)
        assert begins.year == year
        assert (begins.month, begins.day) == (start.month, start.day) or (start.month, start.day) == (2, 29)
    # no start that fits is lost: the next one would run past the end
    last = dates[int(seasons.rain_mm[-1, 0])].astype(date)
    assert (dates[-1].astype(date) - last).days + 1 - n_days < 366


@given(air_c=st.lists(temperatures, min_size=1, max_size=60), depth_m=st.floats(0, 0.3))
def test_soil_stays_within_what_its_surface_went_through(air_c: list[float], depth_m: float) -> None:
    air = np.array(air_c)
    surface = np.where(air >= 0, air * (0.95 + 0.05 * np.exp(1.2)), air * 0.2)
    soil_c = soil_temperature_c(air, depth_m, 1)
    assert soil_c.min() >= surface.min() - 1e-9
    assert soil_c.max() <= surface.max() + 1e-9


@given(
    latitude_deg=st.floats(-90, 90),
    elevation_m=st.floats(-400, 4000),
    tmin_c=temperatures,
    span_c=st.floats(0, 25),
    sunshine_h=st.floats(0, 24),
)
def test_reference_et_is_finite_and_never_negative_anywhere(
    latitude_deg: float, elevation_m: float, tmin_c: float, span_c: float, sunshine_h: float
) -> None:
    dates = np.arange(np.datetime64("2020-01-01"), np.datetime64("2021-01-01"))
    ones = np.ones(dates.size)
    record = WeatherRecord("Made up", "Invented", True, dates, ones * tmin_c, ones * (tmin_c + span_c), ones)
    for case in (record, replace(record, sunshine_h=ones * sunshine_h)):
        et_mm = reference_et(case, latitude_deg, elevation_m).et_mm
        assert np.isfinite(et_mm).all()
        assert (et_mm >= 0).all()


@given(
    tmin_c=temperatures,
    span_c=st.floats(0, 25),
    net_mj_m2=st.floats(-5, 25),
    more_mj_m2=st.floats(0, 10),
    vapour_kpa=st.floats(0, 3),
    moister_kpa=st.floats(0, 1),
    wind_m_s=st.floats(0, 12),
)
def test_reference_et_grows_with_radiation_and_falls_with_moisture(
    tmin_c: float,
    span_c: float,
    net_mj_m2: float,
    more_mj_m2: float,
    vapour_kpa: float,
    moister_kpa: float,
    wind_m_s: float,
) -> None:
    def et_mm(net: float, vapour: float) -> float:
        result = penman_monteith_mm(
            np.array([tmin_c]),
            np.array([tmin_c + span_c]),
            net_radiation_mj_m2=np.array([net]),
            vapour_pressure_kpa=np.array([vapour]),
            wind_2m_m_s=wind_m_s,
            elevation_m=100,
        )
        return float(result[0])

    plain_mm = et_mm(net_mj_m2, vapour_kpa)
    assert et_mm(net_mj_m2 + more_mj_m2, vapour_kpa) >= plain_mm - 1e-12
    assert et_mm(net_mj_m2, vapour_kpa + moister_kpa) <= plain_mm + 1e-12
