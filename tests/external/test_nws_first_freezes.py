"""First freezes of New York Central Park against the National Weather Service.

Figures of the National Weather Service as quoted by weathergamut.com (read).
"""

from __future__ import annotations

from datetime import date

import pytest

from bedwright.engine.climate import frost_days
from bedwright.model.weather import WeatherRecord


@pytest.mark.parametrize(
    "first_freeze",
    [
        date(1998, 12, 22),  # the latest first freeze on record
        date(2011, 12, 10),
        date(2017, 11, 10),  # 25 °F
    ],
)
def test_first_freeze_of_a_year(central_park: WeatherRecord, first_freeze: date) -> None:
    days = frost_days(central_park.dates, central_park.tmin_c, 0.0, "autumn", southern=False)
    assert first_freeze in days.dates
