"""Daily reference evapotranspiration against the ASCE-EWRI 2005 worked day.

Fallon AgriMet station, 1 July 2015, read in the tests of the public package RefET, where it was checked
against the reference program of the University of Idaho.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.climate import penman_monteith_mm
from bedwright.engine.climate.air import saturation_vapour_pressure_kpa, wind_at_2m_m_s
from bedwright.engine.climate.radiation import (
    clear_sky_radiation_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    sun_day,
)


def test_the_day_at_fallon_comes_out() -> None:
    tmin_c = np.array([(66.65 - 32) / 1.8])
    tmax_c = np.array([(102.8 - 32) / 1.8])
    vapour_kpa = saturation_vapour_pressure_kpa(np.array([(49.84 - 32) / 1.8]))
    radiation = np.array([674.07 * 0.041868])  # langley to MJ/m²
    wind = wind_at_2m_m_s(np.array([4.8 * 0.44704]), 3)
    assert wind[0] == pytest.approx(1.976, abs=0.0005)
    day = sun_day(39.4575, np.array([182.0]))
    # 0.5 %: ASCE-EWRI takes a solar constant of 4.92 MJ/m²/h, FAO-56 0.0820 MJ/m²/min; they agree, the
    # printed day carries rounding
    assert day.extraterrestrial_mj_m2[0] == pytest.approx(41.648, rel=0.005)
    clear = clear_sky_radiation_mj_m2(day.extraterrestrial_mj_m2, 1208.5)
    net = net_shortwave_mj_m2(radiation) - net_longwave_mj_m2(tmin_c, tmax_c, vapour_kpa, radiation, clear)
    et_mm = penman_monteith_mm(
        tmin_c,
        tmax_c,
        net_radiation_mj_m2=net,
        vapour_pressure_kpa=vapour_kpa,
        wind_2m_m_s=wind,
        elevation_m=1208.5,
    )
    # With the simple clear sky used here RefET gives 7.998; 7.942 is with the full one of appendix D.
    assert et_mm[0] == pytest.approx(7.998, abs=0.01)
    assert et_mm[0] == pytest.approx(7.942, rel=0.01)
