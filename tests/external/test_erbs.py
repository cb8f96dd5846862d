"""The parts of an average day's light: the monthly correlation of Erbs, Klein & Duffie (1982).

Solar Energy 28:293-302; coefficients as coded alike in several public programs.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate.air import vapour_pressure_from_minimum_kpa
from bedwright.engine.climate.dates import month_of
from bedwright.engine.sunlight import average_light, clear_light
from bedwright.engine.sunlight.open_sky import diffuse_share
from bedwright.model.weather import FloatArray, WeatherRecord


def test_ends_of_the_range() -> None:
    # Arithmetic on the published coefficients at K = 0.3 and 0.8, by hand.
    winter = diffuse_share(np.array([0.3, 0.8]), np.radians([70.0, 70.0]))
    rest = diffuse_share(np.array([0.3, 0.8]), np.radians([100.0, 100.0]))
    assert winter == pytest.approx([0.6423, 0.1298], abs=0.0002)
    assert rest == pytest.approx([0.6637, 0.1543], abs=0.0002)


@pytest.mark.shared_weather
def test_direct_light_at_de_bilt_goes_with_the_measured_hours_of_sunshine(de_bilt: WeatherRecord) -> None:
    # KNMI station 260, 1980-2019: hours of sunshine and radiation are measured by separate instruments.
    light = average_light(de_bilt, 52.1, 1.9)
    clear_direct = _clear_direct_mj_m2(de_bilt)
    from_radiation = np.array(light.direct_mj_m2) / clear_direct
    # Direct light as a share of a clear day's, against hours as a share of possible ones: thin cloud
    # lets the recorder burn in weakened sun, so the hours run some points higher in summer.
    assert from_radiation == pytest.approx(np.array(light.sunshine_share), abs=0.06)


def _clear_direct_mj_m2(record: WeatherRecord) -> FloatArray:
    months = month_of(record.dates)
    vapour_kpa = vapour_pressure_from_minimum_kpa(record.tmin_c)
    means = [float(vapour_kpa[months == month].mean()) for month in range(1, 13)]
    return np.array(clear_light(52.1, 1.9, means).direct_mj_m2)
