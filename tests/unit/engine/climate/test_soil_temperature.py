from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate import soil_temperature_c


def test_deeper_soil_lags_further_behind_a_warm_spell() -> None:
    air_c = np.concatenate([np.full(60, 10.0), np.full(30, 20.0)])
    shallow, deep = soil_temperature_c(air_c, 0.02, 60), soil_temperature_c(air_c, 0.20, 60)
    assert (shallow[62:80] > deep[62:80]).all()


def test_soil_follows_only_the_days_before() -> None:
    air_c = np.full(60, 10.0)
    later = air_c.copy()
    later[40:] = 25.0
    assert (
        soil_temperature_c(air_c, 0.05, 1)[:41].tolist() == soil_temperature_c(later, 0.05, 1)[:41].tolist()
    )


def test_frozen_air_hardly_cools_the_soil_below_zero() -> None:
    assert soil_temperature_c(np.full(200, -10.0), 0.05, 1)[-1] == pytest.approx(-2.0)


def test_start_of_a_long_record_lies_on_its_yearly_wave() -> None:
    day = np.arange(1, 4 * 365 + 1)
    air_c = 12 - 10 * np.cos(2 * np.pi * (day - 20) / 365)
    soil_c = soil_temperature_c(air_c, 0.05, 1)
    # the same day of later years, when any start is long forgotten; 0.7 °C: the lag of the method
    assert soil_c[0] == pytest.approx(soil_c[365], abs=0.7)
    assert soil_c[365] == pytest.approx(soil_c[730], abs=0.01)


@pytest.mark.parametrize("depth_m", [-0.01, 0.31, float("nan")])
def test_depths_out_of_reach_are_refused(depth_m: float) -> None:
    with pytest.raises(ValueError, match=r"outside 0 to 0\.3 m"):
        soil_temperature_c(np.full(10, 10.0), depth_m, 1)


@pytest.mark.parametrize("depth_m", [0.0, 0.3])
def test_depths_at_the_bounds_are_taken(depth_m: float) -> None:
    assert np.isfinite(soil_temperature_c(np.full(10, 10.0), depth_m, 1)).all()
