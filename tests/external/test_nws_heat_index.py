"""US National Weather Service heat index chart, as copied at rfcafe.com from NOAA."""

from __future__ import annotations

import pytest

from bedwright.engine.soil import heat_index_c
from bedwright.model.units import celsius_to_fahrenheit, fahrenheit_to_celsius


@pytest.mark.parametrize(
    ("temperature_f", "humidity_pct", "index_f"),
    [
        (80, 40, 80), (82, 95, 95), (84, 100, 103), (86, 90, 105), (88, 60, 95), (90, 40, 91), (90, 70, 106),
        (94, 60, 110), (96, 65, 121), (98, 50, 113), (100, 55, 124), (104, 45, 124), (110, 40, 136),
    ],
)  # fmt: skip
def test_the_chart_of_the_weather_service(temperature_f: float, humidity_pct: float, index_f: float) -> None:
    # The chart is rounded to 1 °F, and the regression lies within 1.3 °F of the model behind it.
    found_f = celsius_to_fahrenheit(heat_index_c(fahrenheit_to_celsius(temperature_f), humidity_pct))
    assert found_f == pytest.approx(index_f, abs=1.3)


def test_very_dry_air_takes_the_printed_adjustment() -> None:
    # ((13 - 5) / 4) x sqrt((17 - |95 - 95|) / 17) = 2 °F, put into the formula of the Weather
    # Prediction Center; 90.22 °F is the regression for 95 °F and 5 percent without it.
    found_f = celsius_to_fahrenheit(heat_index_c(fahrenheit_to_celsius(95), 5))
    t, rh = 95.0, 5.0
    regression_f = (
        -42.379 + 2.04901523 * t + 10.14333127 * rh - 0.22475541 * t * rh - 0.00683783 * t**2
        - 0.05481717 * rh**2 + 0.00122874 * t**2 * rh + 0.00085282 * t * rh**2 - 0.00000199 * t**2 * rh**2
    )  # fmt: skip
    assert found_f == pytest.approx(regression_f - 2, abs=1e-6)


def test_mild_air_feels_as_it_is() -> None:
    # Simple form, averaged with the temperature: 68 °F and 50 percent give 67.3 °F.
    # 0.5 x (68 + 61 + 0 + 4.7) = 66.85; (66.85 + 68) / 2 = 67.4.
    assert celsius_to_fahrenheit(heat_index_c(20, 50)) == pytest.approx(67.4, abs=0.1)
