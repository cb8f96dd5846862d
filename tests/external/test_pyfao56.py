"""The daily balance against the public package pyfao56 (1.4.3), day by day and season by season.

Both are run with the conventions of pyfao56: water after the day's evaporation, height and roots
after Kcb, surface dry at the start. What is left between them is stated in docs/water.md.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from bedwright.engine.climate.air import wind_at_2m_m_s
from bedwright.engine.water import site_conditions
from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather
from tests.external import cotton_2013
from tests.external.pyfao56_peer import Case, Weather, day_keys, peer_parts, run_ours, run_peer

COTTON = Case(
    kcb=(0.15, 1.2, 0.573),
    stage_days=(31, 52, 50, 21),
    height_m=(0.05, 1.2),
    root_depth_m=(0.6, 1.7),
    depletion_fraction=0.65,
    field_capacity=0.225,
    wilting_point=0.1,
    start_content=0.1,
    evaporation_depth_m=0.11429,
    readily_evaporable_mm=9.0,
)

TOMATO_LIKE = Case((0.15, 1.1, 0.6), (30, 40, 45, 30), (0.05, 0.6), (0.2, 0.7), 0.4)

GARDEN_CROPS = {
    "tomato": Case((0.15, 1.1, 0.7), (30, 40, 45, 30), (0.05, 0.6), (0.2, 0.7), 0.40),
    "lettuce": Case((0.15, 0.9, 0.9), (20, 30, 15, 10), (0.05, 0.3), (0.2, 0.3), 0.30),
    "carrot": Case((0.15, 0.95, 0.85), (30, 40, 60, 20), (0.05, 0.3), (0.2, 0.5), 0.35),
    "potato": Case((0.15, 1.1, 0.65), (25, 30, 45, 30), (0.05, 0.6), (0.2, 0.4), 0.35),
    "bush bean": Case((0.15, 1.0, 0.8), (15, 25, 25, 10), (0.05, 0.4), (0.2, 0.5), 0.45),
}
"""FAO-56 Tables 11, 12, 17 and 22."""


def cotton_weather() -> Weather:
    days = [row.split() for line in cotton_2013.WEATHER.splitlines() for row in line.split(";")]
    table = np.array(days, dtype=np.float64)
    first = np.datetime64(cotton_2013.FIRST_DAY)
    return Weather(
        dates=first + np.arange(len(table)),
        humidity_min_pct=table[:, 0],
        wind_m_s=table[:, 1],
        rain_mm=table[:, 2],
        reference_et_mm=table[:, 3],
        wind_height_m=cotton_2013.WIND_HEIGHT_M,
    )


def cotton_irrigation() -> dict[str, tuple[float, float]]:
    rows = [row.split() for line in cotton_2013.WATERINGS.splitlines() for row in line.split(";")]
    return {f"2013-{day}": (float(depth), float(share)) for day, depth, share in rows}


def test_the_published_cotton_season_comes_out_the_same() -> None:
    weather, irrigation = cotton_weather(), cotton_irrigation()
    # the wetted share changes from 0.5 to 0.2 on day 145: two runs, the second from the first's state
    cut = day_keys(weather.dates).index("2013-145")
    early = run_ours(COTTON, weather, irrigation, days=slice(0, cut))
    late = run_ours(COTTON, weather, irrigation, days=slice(cut, None), start=early.last)
    published = cotton_2013.SUMS_MM

    def total(name: str) -> float:
        return float(getattr(early, name).sum() + getattr(late, name).sum())

    assert total("irrigation_mm") == pytest.approx(published["irrigation"])
    assert total("transpiration_mm") == pytest.approx(published["transpiration"], abs=0.01)
    # 0.006: our surface layer gives no more than it holds, pyfao56 only bounds what is missing from it
    assert total("crop_et_mm") == pytest.approx(published["crop_et"], rel=0.006)
    assert total("actual_et_mm") == pytest.approx(published["actual_et"], rel=0.006)
    assert total("evaporation_mm") == pytest.approx(published["evaporation"], abs=6)
    assert total("percolation_mm") == pytest.approx(published["percolation"], abs=6)
    assert late.depletion_mm[-1, 0] == pytest.approx(published["depletion_at_end"], abs=0.01)


def de_bilt_weather(record: WeatherRecord) -> Weather:
    site = site_conditions(record, 52.1, 1.9)
    assert record.wind_m_s is not None
    return Weather(
        dates=site.dates,
        rain_mm=site.rain_mm,
        reference_et_mm=site.reference_et_mm,
        wind_m_s=record.wind_m_s,
        humidity_min_pct=site.humidity_min_pct,
        wind_height_m=record.wind_height_m,
    )


# Run beforehand with pyfao56 1.4.3 and reference evapotranspiration of RefET 0.5.0, printed to 0.1 mm.
@pytest.mark.parametrize(
    ("year", "crop_et_mm", "actual_et_mm", "percolation_mm", "depletion_mm", "stress_days"),
    [(2018, 461.4, 209.7, 8.7, 62.8, 120), (2007, 426.8, 412.8, 122.7, 40.2, 15)],
)
def test_two_seasons_without_watering_at_de_bilt(
    shared_weather: Path,
    year: int,
    crop_et_mm: float,
    actual_et_mm: float,
    percolation_mm: float,
    depletion_mm: float,
    stress_days: int,
) -> None:
    record = read_weather(shared_weather / "debilt_260_daily_1980_2019.csv")
    run = run_ours(TOMATO_LIKE, de_bilt_weather(record).between(f"{year}-05-01", f"{year}-09-22"))
    # 0.15 mm: reference evapotranspiration differs in the third decimal
    assert run.crop_et_mm.sum() == pytest.approx(crop_et_mm, abs=0.15)
    assert run.actual_et_mm.sum() == pytest.approx(actual_et_mm, abs=0.15)
    assert run.percolation_mm.sum() == pytest.approx(percolation_mm, abs=0.15)
    assert run.depletion_mm[-1, 0] == pytest.approx(depletion_mm, abs=0.15)
    assert (run.stress < 0.8).sum() == stress_days


@pytest.mark.parametrize("crop", GARDEN_CROPS)
def test_five_crops_agree_with_pyfao56_in_the_same_run(champion_record: WeatherRecord, crop: str) -> None:
    # every sixth year here to keep the test short; benchmarks/water.py runs the whole record
    site = site_conditions(champion_record, 40.4, 1000.0)
    wind = np.full(site.n_days, wind_at_2m_m_s(np.array([2.0]), 2.0)[0])
    weather = Weather(site.dates, site.rain_mm, site.reference_et_mm, wind, site.humidity_min_pct)
    case = GARDEN_CROPS[crop]
    for year in range(1983, 2018, 6):
        last = np.datetime64(f"{year}-05-15") + int(sum(case.stage_days))
        season = weather.between(f"{year}-05-15", str(last))
        keys = day_keys(season.dates)
        irrigation = {keys[day]: (20.0, 1.0) for day in range(5, len(keys), 10)}
        peer = run_peer(peer_parts(case, season, irrigation))
        ours = run_ours(case, season, irrigation)
        # 1 %: on days on which pyfao56 evaporates more than the surface layer holds
        assert ours.crop_et_mm.sum() == pytest.approx(peer["ETc"], rel=0.01)
        assert ours.actual_et_mm.sum() == pytest.approx(peer["ETa"], rel=0.01)
        assert ours.transpiration_mm.sum() == pytest.approx(peer["T"], rel=0.01)
        assert ours.percolation_mm.sum() == pytest.approx(peer["DP"], abs=5)
