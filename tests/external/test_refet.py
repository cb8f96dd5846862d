"""Reference evapotranspiration of a whole record against the public package RefET (0.5.0)."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import refet

from bedwright.engine.climate import reference_et
from bedwright.engine.climate.air import vapour_pressure_from_extremes_kpa
from bedwright.engine.climate.dates import day_of_year, month_of, year_of
from bedwright.model.weather import FloatArray, WeatherRecord

LATITUDE_DEG, ELEVATION_M = 52.1, 1.9


def peer_mm(record: WeatherRecord) -> FloatArray:
    assert record.rh_max_pct is not None
    assert record.rh_min_pct is not None
    vapour_kpa = vapour_pressure_from_extremes_kpa(
        record.tmin_c, record.tmax_c, record.rh_max_pct, record.rh_min_pct
    )
    result = refet.Daily(
        tmin=record.tmin_c,
        tmax=record.tmax_c,
        ea=vapour_kpa,
        rs=record.radiation_mj_m2,
        uz=record.wind_m_s,
        zw=record.wind_height_m,
        elev=ELEVATION_M,
        lat=LATITUDE_DEG,
        doy=day_of_year(record.dates),
        method="asce",
        rso_type="simple",
    ).eto()
    return np.asarray(result, dtype=np.float64)


def test_every_day_at_de_bilt_agrees_with_refet(de_bilt: WeatherRecord) -> None:
    ours = reference_et(de_bilt, LATITUDE_DEG, ELEVATION_M)
    assert ours.method.startswith("Penman-Monteith (FAO-56 Eq. 6) with measured radiation")
    # 0.02 mm: ASCE-EWRI has 0.622 in place of 0.665e-3 P / P steps, 273.16 for 273 and its own sun
    # declination; RefET does not cut days below 0
    assert np.abs(ours.et_mm - np.maximum(peer_mm(de_bilt), 0)).max() < 0.02


# Yearly sums run beforehand with RefET 0.5.0; pyet 1.5.0 gives the same to 0.1 mm.
@pytest.mark.parametrize(("year", "sum_mm"), [(1985, 575.0), (2003, 724.6), (2018, 791.8)])
def test_yearly_sums_at_de_bilt(de_bilt: WeatherRecord, year: int, sum_mm: float) -> None:
    et_mm = reference_et(de_bilt, LATITUDE_DEG, ELEVATION_M).et_mm
    # 0.2 mm: a year of differences in the third decimal
    assert et_mm[year_of(de_bilt.dates) == year].sum() == pytest.approx(sum_mm, abs=0.2)


def test_monthly_means_at_de_bilt(de_bilt: WeatherRecord) -> None:
    # Mean monthly sums 1980-2019 run beforehand with RefET 0.5.0, printed to 0.1 mm.
    means_mm = [14.8, 20.9, 41.3, 68.8, 96.8, 101.6, 109.4, 92.0, 56.6, 32.7, 15.9, 12.6]
    et_mm = reference_et(de_bilt, LATITUDE_DEG, ELEVATION_M).et_mm
    ours = np.bincount(month_of(de_bilt.dates), weights=et_mm)[1:] / 40
    assert ours == pytest.approx(means_mm, abs=0.1)


def test_a_record_without_humidity_differs_as_documented(de_bilt: WeatherRecord) -> None:
    full_mm = reference_et(de_bilt, LATITUDE_DEG, ELEVATION_M).et_mm.sum()
    bare = replace(
        de_bilt,
        rh_mean_pct=None,
        rh_max_pct=None,
        rh_min_pct=None,
        radiation_mj_m2=None,
        sunshine_h=None,
        wind_m_s=None,
    )
    estimate = reference_et(bare, LATITUDE_DEG, ELEVATION_M)
    assert "4 to 6 % too high" in estimate.bias
    assert estimate.et_mm.sum() / full_mm - 1 == pytest.approx(0.04, abs=0.005)
