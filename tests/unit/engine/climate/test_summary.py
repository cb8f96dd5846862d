from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.climate import CLIMATE_SOURCES, climate_of, confidence_words, month_means
from bedwright.model.book import Site
from bedwright.model.weather import WeatherRecord

MakeRecord = Callable[..., WeatherRecord]

SITE = Site("Test garden", 45.0, 5.0, 100.0, "Europe/Paris")


def test_a_climate_says_what_it_rests_on(make_record: MakeRecord) -> None:
    record = make_record("2010-01-01", "2019-12-31")
    climate = climate_of(replace(record, n_flagged_dropped=3, notes=("A note.",)), SITE, date(2026, 3, 1))
    assert (climate.first_day, climate.last_day, climate.n_years) == (
        date(2010, 1, 1),
        date(2019, 12, 31),
        10,
    )
    assert climate.invented
    assert climate.n_flagged_dropped == 3
    assert climate.notes == ("A note.",)
    assert len(climate.frost) == 12
    assert climate.frost_free_days == {10: 365, 20: 365, 50: 365, 80: 365, 90: 365}
    assert climate.reference_et_method.startswith("Penman-Monteith")


def test_every_source_named_is_listed(make_record: MakeRecord) -> None:
    climate = climate_of(make_record("2010-01-01", "2011-12-31"), SITE, date(2026, 3, 1))
    assert set(climate.source_ids) <= set(CLIMATE_SOURCES)


def test_gaps_are_filled_and_counted(make_record: MakeRecord) -> None:
    record = make_record("2010-01-01", "2012-12-31")
    tmin_c = record.tmin_c.copy()
    tmin_c[100] = np.nan
    climate = climate_of(replace(record, tmin_c=tmin_c), SITE, date(2026, 3, 1))
    assert climate.n_filled == 1
    assert any("missing values filled" in note for note in climate.notes)


@pytest.mark.parametrize(
    ("first", "last", "n_years"),
    [
        ("2010-01-01", "2019-12-31", 10),
        ("2010-01-01", "2019-12-30", 9),
        ("2010-03-15", "2020-03-14", 10),
        ("2010-03-15", "2020-03-13", 9),
        ("2020-02-29", "2021-02-28", 1),
        ("2020-06-01", "2020-12-31", 0),
    ],
)
def test_only_whole_years_are_counted(make_record: MakeRecord, first: str, last: str, n_years: int) -> None:
    assert climate_of(make_record(first, last), SITE, date(2026, 3, 1)).n_years == n_years


def test_months_are_means_over_whole_months(make_record: MakeRecord) -> None:
    record = make_record("2020-01-15", "2021-03-10")
    months = month_means(record, np.full(record.dates.size, 2.0))
    assert [month.month for month in months] == list(range(1, 13))
    assert months[0].rain_mm == 31  # only January 2021 is whole
    assert months[1].rain_mm == (29 + 28) / 2
    assert months[2].rain_mm == 31  # only March 2020
    assert months[3].reference_et_mm == 60
    assert months[3].degree_days_10c == 150


def test_a_month_never_wholly_recorded_is_left_out(make_record: MakeRecord) -> None:
    record = make_record("2020-01-02", "2020-12-31")
    assert [month.month for month in month_means(record, np.zeros(record.dates.size))] == list(range(2, 13))


@pytest.mark.parametrize(
    ("n_years", "start"),
    [
        (0, "Very low"),
        (1, "Low: only one year;"),
        (9, "Low: only 9 years;"),
        (10, "Fair: 10 years;"),
        (19, "Fair"),
        (20, "Good"),
        (29, "Good"),
        (30, "High: 30 years;"),
    ],
)
def test_confidence_grows_with_the_years(n_years: int, start: str) -> None:
    assert confidence_words(n_years).startswith(start)


def test_confidence_states_the_loss() -> None:
    # by hand: sqrt(0.8 x 0.2 / 4) = 0.2; (0.1 x 3 + 1) / 5 = 0.26
    words = confidence_words(4)
    assert "about 20 points either way" in words
    assert "about 26 times in a hundred" in words
