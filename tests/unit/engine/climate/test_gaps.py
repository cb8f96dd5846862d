from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.climate import fill_gaps
from bedwright.engine.climate.gaps import longest_run_days
from bedwright.model.weather import FloatArray, WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


def without(values: FloatArray, *days: int) -> FloatArray:
    result = values.copy()
    result[list(days)] = np.nan
    return result


@pytest.fixture
def record(make_record: MakeRecord) -> WeatherRecord:
    made = make_record("2019-01-01", "2022-12-31")
    wave = 8 * np.sin(np.arange(made.dates.size) / 58)
    return replace(made, tmin_c=made.tmin_c + wave, tmax_c=made.tmax_c + wave)


def test_a_whole_record_is_handed_back_as_it_is(record: WeatherRecord) -> None:
    filled, n_filled, notes = fill_gaps(record)
    assert filled.tmin_c.tolist() == record.tmin_c.tolist()
    assert n_filled == 0
    assert notes == ()


def test_a_gap_of_five_days_is_bridged_by_a_straight_line(record: WeatherRecord) -> None:
    gappy = replace(record, tmin_c=without(record.tmin_c, *range(100, 105)))
    filled, n_filled, notes = fill_gaps(gappy)
    expected = np.interp(range(100, 105), [99, 105], [record.tmin_c[99], record.tmin_c[105]])
    assert filled.tmin_c[100:105] == pytest.approx(expected)
    assert n_filled == 5
    assert "Minimum temperature: 5 missing values" in notes[0]


def test_a_gap_of_six_days_takes_the_mean_of_the_season(record: WeatherRecord) -> None:
    gappy = replace(record, tmin_c=without(record.tmin_c, *range(100, 106)))
    filled, _, _ = fill_gaps(gappy)
    # 29 February 2020 moves the same dates of all later years by one
    window = [365 * year + 1 + day for year in range(1, 4) for day in range(93, 108)]
    window += [*range(93, 100), *range(106, 108)]
    assert filled.tmin_c[100] == pytest.approx(record.tmin_c[window].mean())


def test_a_gap_at_the_start_takes_the_mean_of_the_season(record: WeatherRecord) -> None:
    filled, _, _ = fill_gaps(replace(record, tmax_c=without(record.tmax_c, 0, 1)))
    assert np.isfinite(filled.tmax_c).all()
    assert filled.tmax_c[0] != pytest.approx(record.tmax_c[2])


def test_missing_rain_takes_the_mean_even_in_a_short_gap(record: WeatherRecord) -> None:
    rain_mm = np.where(np.arange(record.dates.size) % 2 == 0, 4.0, 0.0)
    filled, n_filled, _ = fill_gaps(replace(record, rain_mm=without(rain_mm, 200)))
    assert n_filled == 1
    assert 1.5 < filled.rain_mm[200] < 2.5


def test_a_filled_maximum_gives_way_to_a_measured_minimum(record: WeatherRecord) -> None:
    tmin_c = record.tmin_c.copy()
    tmin_c[300] = 40.0
    filled, _, _ = fill_gaps(replace(record, tmin_c=tmin_c, tmax_c=without(record.tmax_c, 300)))
    assert filled.tmin_c[300] == 40.0
    assert filled.tmax_c[300] == 40.0


def test_a_filled_minimum_gives_way_to_a_measured_maximum(record: WeatherRecord) -> None:
    tmax_c = record.tmax_c.copy()
    tmax_c[300] = -20.0
    filled, _, _ = fill_gaps(replace(record, tmax_c=tmax_c, tmin_c=without(record.tmin_c, 300)))
    assert filled.tmax_c[300] == -20.0
    assert filled.tmin_c[300] == -20.0


def test_a_quantity_without_any_value_is_dropped_aloud(record: WeatherRecord) -> None:
    filled, n_filled, notes = fill_gaps(replace(record, sunshine_h=np.full(record.dates.size, np.nan)))
    assert filled.sunshine_h is None
    assert n_filled == 0
    assert "sunshine" in notes[0]


@pytest.mark.parametrize("name", ["tmin_c", "tmax_c", "rain_mm"])
def test_a_record_without_what_every_plan_needs_is_refused(record: WeatherRecord, name: str) -> None:
    nothing = np.full(record.dates.size, np.nan)
    with pytest.raises(ValueError, match=name):
        fill_gaps(replace(record, **{name: nothing}))  # type: ignore[arg-type]


def test_many_filled_temperatures_are_said_to_hide_frost(record: WeatherRecord) -> None:
    days = range(400, 500)
    gappy = replace(record, tmin_c=without(record.tmin_c, *days), tmax_c=without(record.tmax_c, *days))
    _, n_filled, notes = fill_gaps(gappy)
    assert n_filled == 200
    assert "frost and heat on those days are not seen" in notes[-1]


def test_a_record_of_a_few_days_is_filled_from_what_it_has(make_record: MakeRecord) -> None:
    record = make_record("2024-02-25", "2024-03-05")
    filled, _, _ = fill_gaps(replace(record, tmin_c=without(record.tmin_c, 0, 9)))
    assert filled.tmin_c.tolist() == [10.0] * 10


def test_longest_run_counts_the_longest() -> None:
    assert longest_run_days(np.array([True, False, True, True, False])) == 2
    assert longest_run_days(np.array([False])) == 0
