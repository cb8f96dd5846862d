"""Small made-up records whose answers are known beforehand."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from bedwright.model.weather import FloatArray, WeatherRecord

MakeRecord = Callable[..., WeatherRecord]


@pytest.fixture
def make_record() -> MakeRecord:
    """Record of mild days (10 to 20 °C, 1 mm) from a first to a last day, with stated colder days."""

    def make(
        first: str, last: str, cold: dict[str, float] | None = None, **optional: FloatArray
    ) -> WeatherRecord:
        dates = np.arange(np.datetime64(first), np.datetime64(last) + 1)
        tmin_c = np.full(dates.size, 10.0)
        for day, value in (cold or {}).items():
            tmin_c[dates == np.datetime64(day)] = value
        return WeatherRecord(
            station="Made up",
            provenance="Invented for a test",
            invented=True,
            dates=dates,
            tmin_c=tmin_c,
            tmax_c=np.full(dates.size, 20.0),
            rain_mm=np.ones(dates.size),
            **optional,  # type: ignore[arg-type]
        )

    return make
