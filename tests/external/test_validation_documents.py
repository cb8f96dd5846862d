"""The figures in docs/validation are those the records give."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from bedwright.engine.climate import (
    GROUND_FROST_ALLOWANCE_C,
    frost_days,
    hargreaves_mm,
    measured_allowance_c,
    plant_minimum,
    reference_et,
)
from bedwright.engine.climate.calibration import (
    frost_verdicts,
    leave_one_out_verdicts,
    markdown_table,
)
from bedwright.engine.climate.dates import day_of_year, month_of, year_of
from bedwright.engine.climate.radiation import sun_day
from bedwright.engine.climate.reference_et import (
    BIAS_PARTLY_ESTIMATED,
    BIAS_SUNSHINE,
    BIAS_TEMPERATURE_ONLY,
)
from bedwright.model.weather import FloatArray, WeatherRecord

DOCUMENTS = Path(__file__).parents[2] / "docs" / "validation"


def text_of(name: str) -> str:
    return (DOCUMENTS / name).read_text(encoding="utf-8")


def test_reliability_tables_are_up_to_date(central_park: WeatherRecord, de_bilt: WeatherRecord) -> None:
    stations = {"New York Central Park": central_park, "De Bilt": de_bilt}
    text = text_of("reliability.md")
    ahead = [
        verdict
        for name, record in stations.items()
        for verdict in frost_verdicts(record, name, southern=False, fitted=(1990, 2009), judged=(2010, 2019))
    ]
    assert markdown_table(ahead) in text, "run: python -m benchmarks.reliability"
    left_out = [
        verdict
        for name, record in stations.items()
        for verdict in leave_one_out_verdicts(record, name, southern=False)
    ]
    assert markdown_table(left_out) in text, "run: python -m benchmarks.reliability"


def test_ground_frost_allowance_is_the_one_measured_at_de_bilt(de_bilt: WeatherRecord) -> None:
    assert de_bilt.ground_tmin_c is not None
    months = month_of(de_bilt.dates)
    measured_c = measured_allowance_c(de_bilt.tmin_c, de_bilt.ground_tmin_c, months)
    assert measured_c == pytest.approx(2.27, abs=0.005)
    assert round(measured_c or 0, 1) == GROUND_FROST_ALLOWANCE_C
    text = text_of("ground_frost.md")
    at_risk = (de_bilt.tmin_c >= 0) & (de_bilt.tmin_c <= 5)
    lines = []
    for words, of_months in (
        ("March to May, shelter 0 to 5 °C", (3, 4, 5)),
        ("September to November, shelter 0 to 5 °C", (9, 10, 11)),
        ("both: the allowance", (3, 4, 5, 9, 10, 11)),
    ):
        nights = at_risk & np.isin(months, of_months)
        difference_c = de_bilt.tmin_c[nights] - de_bilt.ground_tmin_c[nights]
        low_c, high_c = np.quantile(difference_c, (0.1, 0.9))
        lines.append(
            f"| {words} | {nights.sum()} | {difference_c.mean():.2f} °C | {low_c:.1f} °C | {high_c:.1f} °C |"
        )
    for line in lines:
        assert line in text


def late_frost(record: WeatherRecord, tmin_c: FloatArray) -> date:
    days = frost_days(record.dates, tmin_c, 0.0, "spring", southern=False)
    day = days.day_at_chance(10)
    assert day is not None
    return days.half.date_of(2001, day)


def test_ground_frost_dates_at_de_bilt_are_as_told(de_bilt: WeatherRecord) -> None:
    text = text_of("ground_frost.md")
    estimated = plant_minimum(replace(de_bilt, ground_tmin_c=None)).tmin_c
    assert de_bilt.ground_tmin_c is not None
    for tmin_c in (de_bilt.ground_tmin_c, estimated, de_bilt.tmin_c):
        day = late_frost(de_bilt, tmin_c)
        assert f"{day.day} {day:%B}" in text


def cases(record: WeatherRecord) -> dict[str, FloatArray]:
    """Reference ET of each way of leaving measurements out."""
    bare = replace(
        record,
        rh_mean_pct=None,
        rh_max_pct=None,
        rh_min_pct=None,
        radiation_mj_m2=None,
        sunshine_h=None,
        wind_m_s=None,
    )
    humidity = {"rh_max_pct": record.rh_max_pct, "rh_min_pct": record.rh_min_pct}
    mean = {"rh_mean_pct": record.rh_mean_pct}
    wind, sunshine = {"wind_m_s": record.wind_m_s}, {"sunshine_h": record.sunshine_h}
    radiation = {"radiation_mj_m2": record.radiation_mj_m2}
    given = {
        "everything measured": {**humidity, **wind, **radiation},
        "sunshine for radiation": {**humidity, **wind, **sunshine},
        "highest humidity for both": {"rh_max_pct": record.rh_max_pct, **wind, **radiation},
        "mean humidity for both": {**mean, **wind, **radiation},
        "no wind": {**humidity, **radiation},
        "mean humidity, no wind": {**mean, **radiation},
        "no humidity": {**wind, **radiation},
        "no radiation": {**humidity, **wind},
        "radiation only": radiation,
        "sunshine only": sunshine,
        "humidity only": humidity,
        "temperature and wind": wind,
        "temperature only": {},
    }
    found = {
        words: reference_et(replace(bare, **arrays), 52.1, 1.9).et_mm  # type: ignore[arg-type]
        for words, arrays in given.items()
    }
    sun = sun_day(52.1, day_of_year(record.dates).astype(np.float64))
    found["Hargreaves (Eq. 52), temperature only"] = np.maximum(
        hargreaves_mm(record.tmin_c, record.tmax_c, sun.extraterrestrial_mj_m2), 0
    )
    return found


def test_the_biases_told_beside_results_are_those_of_the_table(de_bilt: WeatherRecord) -> None:
    found = cases(de_bilt)
    full_mm = found.pop("everything measured").sum()
    assert found.pop("sunshine for radiation").sum() / full_mm == pytest.approx(1.02, abs=0.005)
    assert "2 % too high" in BIAS_SUNSHINE
    found.pop("Hargreaves (Eq. 52), temperature only")
    of_temperature = [
        found.pop(words).sum() / full_mm for words in ("temperature only", "temperature and wind")
    ]
    assert of_temperature == pytest.approx([1.04, 1.06], abs=0.005)
    assert "4 to 6 % too high" in BIAS_TEMPERATURE_ONLY
    partly = [et_mm.sum() / full_mm for et_mm in found.values()]
    assert (min(partly), max(partly)) == pytest.approx((0.87, 1.066), abs=0.005)
    assert "-13 to +7 %" in BIAS_PARTLY_ESTIMATED


def test_the_table_of_reference_et_is_up_to_date(de_bilt: WeatherRecord) -> None:
    text = text_of("reference_et.md")
    found = cases(de_bilt)
    full_mm = found["everything measured"]
    years = year_of(de_bilt.dates) - 1980
    warm = np.isin(month_of(de_bilt.dates), range(4, 10))
    full_year_mm = np.bincount(years, weights=full_mm)
    lines = []
    for words, et_mm in found.items():
        year_mm = np.bincount(years, weights=et_mm)
        single = 100 * (year_mm / full_year_mm - 1)
        error_mm = np.sqrt(np.mean((et_mm - full_mm) ** 2))
        lines.append(
            f"| {words} | {year_mm.mean():.0f} mm | {100 * (et_mm.sum() / full_mm.sum() - 1):+.0f} %"
            f" | {single.min():+.0f} to {single.max():+.0f} %"
            f" | {100 * (et_mm[warm].sum() / full_mm[warm].sum() - 1):+.0f} % | {error_mm:.2f} mm |"
        )
    assert "\n".join(lines) in text, "\n".join(lines)
