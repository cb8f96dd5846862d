"""Runners of the cases on air, radiation and reference evapotranspiration."""

from __future__ import annotations

import numpy as np

from bedwright.engine.climate import hargreaves_mm, penman_monteith_mm
from bedwright.engine.climate.air import (
    air_pressure_kpa,
    mean_saturation_vapour_pressure_kpa,
    psychrometric_constant_kpa_c,
    saturation_vapour_pressure_kpa,
    vapour_pressure_from_extremes_kpa,
    vapour_pressure_from_highest_kpa,
    vapour_pressure_from_mean_kpa,
    wind_at_2m_m_s,
)
from bedwright.engine.climate.radiation import (
    clear_sky_radiation_mj_m2,
    net_longwave_mj_m2,
    net_shortwave_mj_m2,
    radiation_from_sunshine_mj_m2,
    radiation_from_temperature_mj_m2,
    sun_day,
)
from bedwright.engine.climate.reference_et import monthly_soil_heat_flux_mj_m2
from bedwright.model.weather import FloatArray
from tests.external.reference.cases import Case, Runner, Values


def given(case: Case, name: str) -> FloatArray:
    """One input as a day of one."""
    return np.array([case.number(name)])


def pressure(case: Case) -> Values:
    kpa = air_pressure_kpa(case.number("elevation"))
    return {"pressure": kpa, "gamma": psychrometric_constant_kpa_c(kpa)}


def saturation(case: Case) -> Values:
    low_c, high_c = given(case, "tmin"), given(case, "tmax")
    return {
        "e0_tmax": saturation_vapour_pressure_kpa(high_c)[0],
        "e0_tmin": saturation_vapour_pressure_kpa(low_c)[0],
        "es": mean_saturation_vapour_pressure_kpa(low_c, high_c)[0],
    }


def vapour(case: Case) -> Values:
    low_c, high_c = given(case, "tmin"), given(case, "tmax")
    most, least = given(case, "rhmax"), given(case, "rhmin")
    both = vapour_pressure_from_extremes_kpa(low_c, high_c, most, least)[0]
    return {
        "ea_from_both": both,
        "ea_from_rhmax": vapour_pressure_from_highest_kpa(low_c, most)[0],
        "ea_from_rhmean": vapour_pressure_from_mean_kpa(low_c, high_c, (most + least) / 2)[0],
        "vpd": mean_saturation_vapour_pressure_kpa(low_c, high_c)[0] - both,
    }


def sun(case: Case) -> Values:
    day = sun_day(case.number("latitude"), given(case, "day_of_year"))
    found = {
        "dr": day.inverse_relative_distance[0],
        "declination": day.declination_rad[0],
        "sunset_angle": day.sunset_hour_angle_rad[0],
        "ra": day.extraterrestrial_mj_m2[0],
        "daylight": day.daylight_h[0],
    }
    if "sunshine" in case.inputs:
        found["rs"] = radiation_from_sunshine_mj_m2(given(case, "sunshine"), day)[0]
    elif "tmin" in case.inputs:
        low_c, high_c = given(case, "tmin"), given(case, "tmax")
        found["rs"] = radiation_from_temperature_mj_m2(low_c, high_c, day)[0]
        found["et0"] = hargreaves_mm(low_c, high_c, day.extraterrestrial_mj_m2)[0]
    return found


def net_radiation(case: Case) -> Values:
    shortwave = net_shortwave_mj_m2(given(case, "rs"))[0]
    return {"rns": shortwave, "rn": shortwave - case.number("rnl")}


def reference_day(case: Case) -> Values:
    """Penman-Monteith from sunshine; a month with its soil heat flux where two means are given."""
    low_c, high_c = given(case, "tmin"), given(case, "tmax")
    day = sun_day(case.number("latitude"), given(case, "day_of_year"))
    radiation = radiation_from_sunshine_mj_m2(given(case, "sunshine"), day)
    clear = clear_sky_radiation_mj_m2(day.extraterrestrial_mj_m2, case.number("elevation"))
    if "ea" in case.inputs:
        vapour_kpa = given(case, "ea")
    else:
        vapour_kpa = vapour_pressure_from_extremes_kpa(
            low_c, high_c, given(case, "rhmax"), given(case, "rhmin")
        )
    if "u2" in case.inputs:
        wind_m_s = given(case, "u2")
    else:
        wind_m_s = wind_at_2m_m_s(given(case, "wind") / 3.6, case.number("wind_height"))
    net = net_shortwave_mj_m2(radiation) - net_longwave_mj_m2(low_c, high_c, vapour_kpa, radiation, clear)
    soil_mj_m2 = 0.0
    if "tmean_march" in case.inputs:
        # Only the month before is known: Eq. 44 is Eq. 43 over half the span.
        soil_mj_m2 = 2 * monthly_soil_heat_flux_mj_m2(case.number("tmean_march"), case.number("tmean_april"))
    et_mm = penman_monteith_mm(
        low_c,
        high_c,
        net_radiation_mj_m2=net,
        vapour_pressure_kpa=vapour_kpa,
        wind_2m_m_s=wind_m_s,
        elevation_m=case.number("elevation"),
        soil_heat_flux_mj_m2=soil_mj_m2,
    )
    return {
        "ra": day.extraterrestrial_mj_m2[0], "daylight": day.daylight_h[0], "rs": radiation[0], "rn": net[0],
        "g": soil_mj_m2, "u2": wind_m_s[0], "et0": et_mm[0],
    }  # fmt: skip


AIR_RUNNERS: dict[str, Runner] = {
    "fao56_ex2_pressure": pressure,
    "fao56_ex3_es": saturation,
    "fao56_ex[56]_.*": vapour,
    "fao56_ex(8|10|15)_.*|fao56_ex20_.*|fao56_table26_.*|ra_eq21_.*": sun,
    "fao56_ex12_rn": net_radiation,
    "fao56_ex13_g": lambda case: {
        "g": monthly_soil_heat_flux_mj_m2(case.number("tmean_march"), case.number("tmean_may"))
    },
    "fao56_ex14_wind": lambda case: {"u2": wind_at_2m_m_s(given(case, "wind"), case.number("height"))[0]},
    "fao56_ex1[78]_.*": reference_day,
}
"""By pattern of the id."""
