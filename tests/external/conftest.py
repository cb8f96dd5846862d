"""Real records, read once for all checks against the outside world."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather


@pytest.fixture(scope="session")
def de_bilt(shared_weather: Path) -> WeatherRecord:
    """De Bilt 1980-2019, KNMI station 260: every input of Penman-Monteith, no gaps."""
    return read_weather(shared_weather / "debilt_260_daily_1980_2019.csv")


@pytest.fixture(scope="session")
def central_park(shared_weather: Path) -> WeatherRecord:
    """New York City Central Park 1990-2019, GHCN-Daily USW00094728: no gaps but in wind."""
    return read_weather(shared_weather / "USW00094728.dly")


@pytest.fixture(scope="session")
def central_park_normal_period(shared_weather: Path, central_park: WeatherRecord) -> WeatherRecord:
    """The same station 1991-2020: 2020 comes from a second file of it."""
    later = read_weather(shared_weather / "nyc_central_park_USW00094728_daily_2009_2023.csv")
    early = central_park.dates >= np.datetime64("1991-01-01")
    year_2020 = later.dates.astype("datetime64[Y]") == np.datetime64("2020")
    return replace(
        central_park,
        dates=np.concatenate([central_park.dates[early], later.dates[year_2020]]),
        tmin_c=np.concatenate([central_park.tmin_c[early], later.tmin_c[year_2020]]),
        tmax_c=np.concatenate([central_park.tmax_c[early], later.tmax_c[year_2020]]),
        rain_mm=np.concatenate([central_park.rain_mm[early], later.rain_mm[year_2020]]),
        wind_m_s=None,
    )
