"""Weather records for tests, and the switch that renews golden files."""

from __future__ import annotations

import importlib.util
import os
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, settings

from bedwright.model.weather import WeatherRecord

settings.register_profile("unhurried", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("unhurried")
# No example fails for being slow: how fast things are is measured in `benchmarks/`.

SHARED_WEATHER = Path(__file__).parents[2] / "shared" / "weather"
"""Real daily records kept beside the project, too large and too foreign to be part of it."""

MISSING = (
    "The folder shared/weather does not stand beside the project, so nothing was tested against the real "
    "records in it (New York 1990-2023, De Bilt 1980-2019)."
)


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--renew-golden",
        action="store_true",
        help="write our own output into the golden files instead of comparing with them",
    )


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    for item in items:
        if "shared_weather" in getattr(item, "fixturenames", ()):
            item.add_marker("shared_weather")


def pytest_runtest_setup(item: pytest.Item) -> None:
    if item.get_closest_marker("shared_weather") is None or SHARED_WEATHER.is_dir():
        return
    if os.environ.get("CI"):
        pytest.fail(MISSING, pytrace=False)
    pytest.skip(MISSING)


@pytest.fixture
def renew_golden(request: pytest.FixtureRequest) -> bool:
    """True if golden files are to be written."""
    return bool(request.config.getoption("--renew-golden"))


@pytest.fixture(scope="session")
def shared_weather() -> Path:
    """Folder of the real daily records beside the project; the test is skipped without it."""
    return SHARED_WEATHER


@pytest.fixture(scope="session")
def champion_record() -> WeatherRecord:
    """Champion, Nebraska, 1982 to 2018: a real record that a fresh clone has too.

    It is a file of the package aquacrop (columns day, month, year, minimum, maximum, rain,
    reference evaporation), cold in winter, dry, with frost in spring and autumn.
    """
    spec = importlib.util.find_spec("aquacrop")
    assert spec is not None
    assert spec.submodule_search_locations
    path = Path(spec.submodule_search_locations[0]) / "data" / "champion_climate.txt"
    table = np.loadtxt(path, skiprows=1)
    dates = np.array(
        [f"{year:04.0f}-{month:02.0f}-{day:02.0f}" for day, month, year in table[:, :3]],
        dtype="datetime64[D]",
    )
    assert (np.diff(dates).astype(int) == 1).all()
    return WeatherRecord(
        station="Champion, Nebraska",
        provenance="Daily record of Champion, Nebraska, as kept in the package aquacrop",
        invented=False,
        dates=dates,
        tmin_c=table[:, 3],
        tmax_c=table[:, 4],
        rain_mm=table[:, 5],
    )
