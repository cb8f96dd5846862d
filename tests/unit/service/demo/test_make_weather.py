from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest

from bedwright.model.weather import WeatherRecord
from bedwright.service.demo.make_weather import PACKAGED_RECORD, main
from bedwright.store.weather import read_weather

YEARS = range(1995, 2025)


@pytest.fixture(scope="module")
def packaged() -> WeatherRecord:
    return read_weather(PACKAGED_RECORD)


def test_the_command_reproduces_the_packaged_record(tmp_path: Path) -> None:
    main([str(tmp_path / "weather.csv")])
    assert (tmp_path / "weather.csv").read_bytes() == PACKAGED_RECORD.read_bytes()


def test_the_first_line_tells_that_the_record_is_invented() -> None:
    assert PACKAGED_RECORD.read_text(encoding="utf-8").startswith("# invented: ")


def test_the_record_is_read_without_a_note_or_a_gap(packaged: WeatherRecord) -> None:
    assert packaged.invented
    assert packaged.notes == ()
    assert str(packaged.dates[0]) == "1995-01-01"
    assert str(packaged.dates[-1]) == "2024-12-31"
    assert packaged.wind_height_m == 2
    for column in (
        packaged.tmin_c,
        packaged.tmax_c,
        packaged.rain_mm,
        packaged.wind_m_s,
        packaged.rh_mean_pct,
        packaged.radiation_mj_m2,
    ):
        assert column is not None
        assert np.isfinite(column).all()


def median_frost_day(record: WeatherRecord, *, spring: bool) -> float:
    """Median day of the year of the last spring, or first autumn, minimum at or below 0 °C."""
    year = record.dates.astype("datetime64[Y]").astype(int) + 1970
    day = (record.dates - record.dates.astype("datetime64[Y]")).astype(int) + 1
    found = []
    for which in YEARS:
        frost = day[(year == which) & (record.tmin_c <= 0) & ((day < 200) == spring)]
        found.append(frost.max() if spring else frost.min())
    return float(np.median(found))


def test_the_climate_is_the_cool_temperate_one_that_was_meant(packaged: WeatherRecord) -> None:
    # Bounds are those of the example's own description, not of any place.
    assert date(2001, 4, 15).timetuple().tm_yday <= median_frost_day(packaged, spring=True)
    assert median_frost_day(packaged, spring=True) <= date(2001, 4, 30).timetuple().tm_yday
    assert date(2001, 10, 12).timetuple().tm_yday <= median_frost_day(packaged, spring=False)
    assert median_frost_day(packaged, spring=False) <= date(2001, 10, 30).timetuple().tm_yday
    assert 650 <= packaged.rain_mm.sum() / len(YEARS) <= 750
    july = packaged.dates.astype("datetime64[M]").astype(int) % 12 == 6
    assert 23 <= packaged.tmax_c[july].mean() <= 25
