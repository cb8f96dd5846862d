"""Speed of the daily water balance beside pyfao56 and aquacrop, and what the three make of the same record.

One run: the three carry tomatoes through seasons of one record; then ours alone carries a whole site's beds
through thirty years, and fifty thousand beds over one day; then sums of five crops over the record
stand side by side, for docs/water.md.
"""

from __future__ import annotations

import resource
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from bedwright.catalogue import load_catalogue
from bedwright.engine.water import (
    METHODS,
    Canopy,
    Ground,
    WaterState,
    recorded_seasons,
    run_days,
    season_demand,
    site_conditions,
    soil_water,
    tank_sizing,
)
from bedwright.model.water import DailyConditions, WateredPatch, WaterSupply
from bedwright.model.weather import FloatArray, WeatherRecord
from tests.external import aquacrop_peer, pyfao56_peer

LATITUDE_DEG, ELEVATION_M = 40.4, 1000.0
WANTED_TIMES_PYFAO56 = 3000
WANTED_SITE_S = 2.0
WANTED_DAY_S = 0.1
WANTED_MEMORY_GB = 1.0
N_BEDS, N_YEARS, N_DAYS = 200, 30, 365
N_BEDS_ONE_DAY = 50_000
REPEATS = 5

TOMATO = pyfao56_peer.Case((0.15, 1.1, 0.7), (30, 40, 45, 30), (0.05, 0.6), (0.2, 0.7), 0.40)
CASES = {
    "tomato": TOMATO,
    "lettuce": pyfao56_peer.Case((0.15, 0.9, 0.9), (20, 30, 15, 10), (0.05, 0.3), (0.2, 0.3), 0.30),
    "carrot": pyfao56_peer.Case((0.15, 0.95, 0.85), (30, 40, 60, 20), (0.05, 0.3), (0.2, 0.5), 0.35),
    "potato": pyfao56_peer.Case((0.15, 1.1, 0.65), (25, 30, 45, 30), (0.05, 0.6), (0.2, 0.4), 0.35),
    "bush bean": pyfao56_peer.Case((0.15, 1.0, 0.8), (15, 25, 25, 10), (0.05, 0.4), (0.2, 0.5), 0.45),
}


def record() -> WeatherRecord:
    """The daily record of Champion, Nebraska, 1982 to 2018, as kept in the package aquacrop."""
    path = aquacrop_peer.weather_file()
    table = np.loadtxt(path, skiprows=1)
    dates = np.array([f"{y:04.0f}-{m:02.0f}-{d:02.0f}" for d, m, y in table[:, :3]], dtype="datetime64[D]")
    return WeatherRecord(
        "Champion, Nebraska", "package aquacrop", False, dates, table[:, 3], table[:, 4], table[:, 5]
    )


def best_s(action: Callable[[], object], repeats: int = REPEATS) -> float:
    """Shortest of some runs, the first of which warms up."""
    action()
    times = []
    for _ in range(repeats):
        start = time.perf_counter()
        action()
        times.append(time.perf_counter() - start)
    return min(times)


def patches(n_patches: int) -> list[WateredPatch]:
    """One patch a bed: five crops in turn, put in between April and June."""
    crops = load_catalogue().crops
    kinds = ("tomato", "lettuce", "carrot", "potato", "bush bean")
    made = []
    for k in range(n_patches):
        planted = date(2027, 4, 1) + timedelta(days=(7 * k) % 75)
        last = planted + timedelta(days=90 + k % 30)
        made.append(
            WateredPatch(
                code=f"P{k}",
                bed_code=f"B{k}",
                crop=crops[kinds[k % 5]],
                way="sow",
                area_m2=4.0,
                n_plants=20,
                in_ground=planted,
                emerges=planted + timedelta(days=10),
                first_pick=last - timedelta(days=25),
                last_pick=last,
                soil=soil_water("loam"),
                soil_depth_m=None,
                method=METHODS["hose"],
            )
        )
    return made


def peer_s_per_bed_day(weather: pyfao56_peer.Weather, years: range) -> tuple[float, int]:
    """Seconds of pyfao56 for one bed and day, and the days it ran."""
    seasons = [weather.between(f"{year}-05-01", f"{year}-09-22") for year in years]
    models = [pyfao56_peer.peer_parts(TOMATO, season) for season in seasons]
    n_days = sum(season.dates.size for season in seasons)
    start = time.perf_counter()
    for model in models:
        pyfao56_peer.run_peer(model)
    theirs = (time.perf_counter() - start) / n_days
    return theirs, n_days


def aquacrop_s_per_bed_day(days: DailyConditions, weather: WeatherRecord, years: tuple[int, int]) -> float:
    table = aquacrop_peer.weather_table(days, weather.tmin_c, weather.tmax_c)
    aquacrop_peer.run_peer(aquacrop_peer.PAIRS[0], table, years, watered=True)
    start = time.perf_counter()
    seasons = aquacrop_peer.run_peer(aquacrop_peer.PAIRS[0], table, years, watered=True)
    return (time.perf_counter() - start) / sum(seasons.n_days)


def fifty_thousand_beds_one_day() -> Callable[[], object]:
    random = np.random.default_rng(1)
    shape = (1, N_BEDS_ONE_DAY)

    def spread(low: float, high: float) -> FloatArray:
        return random.uniform(low, high, shape)

    kcb = spread(0.15, 1.1)
    ground = Ground(spread(80, 170)[0], spread(5, 9)[0], spread(12, 26)[0], spread(0.3, 0.5)[0])
    canopy = Canopy(kcb, kcb + 0.2, spread(0, 0.9), spread(0.2, 0.8))
    state = WaterState(spread(0, 10)[0], spread(0, 10)[0], spread(0, 10)[0], np.ones(N_BEDS_ONE_DAY))
    rain, demand = spread(0, 5), spread(2, 6)
    return lambda: run_days(ground, canopy, state, rain_mm=rain, reference_et_mm=demand)


def say(what: str, got: float, unit: str, wanted: float, *, at_least: bool) -> None:
    met = got >= wanted if at_least else got <= wanted
    bound = "at least" if at_least else "at most"
    print(f"{what}: {got:.3g} {unit} (wanted {bound} {wanted:g}: {'met' if met else 'MISSED'})")


def speed(days: DailyConditions, weather: WeatherRecord) -> None:
    series = pyfao56_peer.Weather(
        days.dates, days.rain_mm, days.reference_et_mm, days.wind_2m_m_s, days.humidity_min_pct
    )
    theirs, n_days = peer_s_per_bed_day(series, range(1990, 1998))
    aquacrop_s = aquacrop_s_per_bed_day(days, weather, (1990, 1997))

    garden = patches(N_BEDS)
    seasons = recorded_seasons(days, date(2027, 1, 1), N_DAYS)
    seasons = replace(
        seasons,
        years=seasons.years[:N_YEARS],
        **{
            name: getattr(seasons, name)[:, :N_YEARS]
            for name in ("rain_mm", "reference_et_mm", "wind_2m_m_s", "humidity_min_pct")
        },
    )
    supply = WaterSupply(15.0)
    site_s = best_s(lambda: season_demand(garden, seasons, supply))
    ours = site_s / (N_BEDS * N_YEARS * N_DAYS)
    day_s = best_s(fifty_thousand_beds_one_day())
    print(f"pyfao56: {theirs * 1e6:.0f} us a bed and day ({n_days} days)")
    print(f"aquacrop: {aquacrop_s * 1e6:.0f} us a bed and day")
    print(f"ours: {ours * 1e9:.0f} ns a bed and day, canopy, watering rule, weeks and quantiles included")
    say("times as fast as pyfao56", theirs / ours, "", WANTED_TIMES_PYFAO56, at_least=True)
    print(f"times as fast as aquacrop: {aquacrop_s / ours:.3g}")
    say(f"{N_BEDS} beds, {N_YEARS} years", site_s, "s", WANTED_SITE_S, at_least=False)
    say(f"{N_BEDS_ONE_DAY} beds, one day", day_s, "s", WANTED_DAY_S, at_least=False)
    season = season_demand(garden, seasons, supply)
    tank_s = best_s(lambda: tank_sizing(season, roof_area_m2=50, tanks_l=[500, 1000, 2000, 5000]))
    print(f"four tank sizes over {N_YEARS} seasons: {tank_s:.3g} s")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1e9 if sys.platform == "darwin" else 1e6)
    say("peak memory of this run, peers included", peak, "GB", WANTED_MEMORY_GB, at_least=False)


def beside_pyfao56(days: DailyConditions) -> None:
    """Season sums of five crops over every year of the record, in mm."""
    series = pyfao56_peer.Weather(
        days.dates, days.rain_mm, days.reference_et_mm, days.wind_2m_m_s, days.humidity_min_pct
    )
    years = range(1982, 2019)
    print(f"\nbeside pyfao56, {len(years)} seasons, 20 mm every tenth day, mean of a season in mm")
    print(
        "crop        ETc theirs  ours   ETa theirs  ours   E theirs  ours   DP theirs  ours  largest ETa gap"
    )
    for crop, case in CASES.items():
        sums = []
        for year in years:
            last = np.datetime64(f"{year}-05-15") + int(sum(case.stage_days))
            season = series.between(f"{year}-05-15", str(last))
            keys = pyfao56_peer.day_keys(season.dates)
            given = {keys[k]: (20.0, 1.0) for k in range(5, len(keys), 10)}
            peer = pyfao56_peer.run_peer(pyfao56_peer.peer_parts(case, season, given))
            run = pyfao56_peer.run_ours(case, season, given)
            sums.append(
                (
                    peer["ETc"], run.crop_et_mm.sum(), peer["ETa"], run.actual_et_mm.sum(),
                    peer["E"], run.evaporation_mm.sum(), peer["DP"], run.percolation_mm.sum(),
                )
            )  # fmt: skip
        table = np.array(sums)
        gap = np.abs(table[:, 2] - table[:, 3]).max()
        mean = table.mean(axis=0)
        print(f"{crop:10}" + "".join(f"{value:9.1f}" for value in mean) + f"{gap:12.1f}")


def beside_aquacrop(days: DailyConditions, weather: WeatherRecord) -> None:
    """Evapotranspiration of five crops over every year of the record, in mm."""
    table = aquacrop_peer.weather_table(days, weather.tmin_c, weather.tmax_c)
    print("\nbeside aquacrop, 37 seasons, loam at field capacity, mean of a season in mm")
    print("crop        water    ET theirs   ours   ratio  correlation  E theirs   ours")
    for pair in aquacrop_peer.PAIRS:
        for watered in (False, True):
            peer = aquacrop_peer.run_peer(pair, table, (1982, 2018), watered=watered)
            ours = aquacrop_peer.run_ours(pair, days, peer, watered=watered)
            correlation = float(np.corrcoef(peer.et_mm, ours.et_mm)[0, 1])
            print(
                f"{pair.ours:10}  {'watered' if watered else 'rain':8}"
                f"{peer.et_mm.mean():9.0f}{ours.et_mm.mean():8.0f}"
                f"{ours.et_mm.mean() / peer.et_mm.mean():8.2f}{correlation:12.2f}"
                f"{peer.evaporation_mm.mean():11.0f}{ours.evaporation_mm.mean():8.0f}"
            )


def main() -> None:
    weather = record()
    days = site_conditions(weather, LATITUDE_DEG, ELEVATION_M)
    speed(days, weather)
    beside_pyfao56(days)
    beside_aquacrop(days, weather)


if __name__ == "__main__":
    main()
