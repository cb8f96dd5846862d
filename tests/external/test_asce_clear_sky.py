"""Sun and sky under a clear sky against ASCE-EWRI 2005 Appendix D as coded in the package RefET 0.5."""

from __future__ import annotations

import numpy as np
import pytest
from refet import calcs

from bedwright.engine.climate.air import air_pressure_kpa
from bedwright.engine.sunlight import clear_light
from bedwright.engine.sunlight.open_sky import beam_share_of_sun, sky_share_of_sun


@pytest.mark.parametrize("elevation_m", [0.0, 1500.0])
@pytest.mark.parametrize("vapour_kpa", [0.4, 1.0, 2.5])
def test_beam_and_sky_of_an_hour(elevation_m: float, vapour_kpa: float) -> None:
    pressure_kpa = air_pressure_kpa(elevation_m)
    latitude_rad, hours_utc = np.radians(40.0), np.arange(7.0, 18.0)
    # Ra of 1 makes RefET return the sum of both shares (Eqs. D.1 to D.4).
    theirs = calcs.rso_hourly(
        np.ones(hours_utc.size),
        np.full(hours_utc.size, vapour_kpa),
        pressure_kpa,
        np.full(hours_utc.size, 172),
        hours_utc,
        latitude_rad,
        0.0,
        method="asce",
    )
    declination = calcs.declination(np.array([172]), "asce")
    hour_angle = calcs.solar_hour_angle(
        calcs.solar_time_rad(0.0, hours_utc, calcs.seasonal_correction(np.array([172])))
    )
    sine = np.sin(latitude_rad) * np.sin(declination) + np.cos(latitude_rad) * np.cos(declination) * np.cos(
        hour_angle
    )
    beam = beam_share_of_sun(sine, pressure_kpa, vapour_kpa)
    # The same equations: equal but for rounding.
    assert beam + sky_share_of_sun(beam) == pytest.approx(theirs, rel=1e-6)


def test_the_simple_and_the_full_clear_sky_agree_in_the_middle_latitudes() -> None:
    # The simple form (FAO-56 Eq. 37) that sets our total against the full one: ASCE-EWRI Appendix D
    # offers both for the same use; 7 % is the spread seen here between dry and humid air.
    for vapour_kpa in (0.8, 1.5):
        light = clear_light(40.0, 100.0, [vapour_kpa] * 12)
        total = light.direct_mj_m2[5] + light.diffuse_mj_m2[5]
        extraterrestrial = total / (0.75 + 2e-5 * 100)
        full = calcs.rso_daily(
            np.array([extraterrestrial]),
            np.array([vapour_kpa]),
            air_pressure_kpa(100.0),
            np.array([167]),
            np.radians(40.0),
        )
        assert total == pytest.approx(float(full[0]), rel=0.07)
