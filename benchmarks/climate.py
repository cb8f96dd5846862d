"""Speed of the climate stage: reference evapotranspiration against the public package RefET, in one run."""

from __future__ import annotations

import timeit
from collections.abc import Callable
from datetime import date

import numpy as np
import refet

from bedwright.engine.climate import climate_of, reference_et, season_years
from bedwright.engine.climate.air import vapour_pressure_from_extremes_kpa
from bedwright.engine.climate.dates import day_of_year
from bedwright.model.book import Site
from bedwright.model.weather import FloatArray, WeatherRecord

LATITUDE_DEG, ELEVATION_M = 52.1, 1.9
REPEATS = 20


def forty_years() -> WeatherRecord:
    """Forty made-up years with every input of Penman-Monteith: speed does not depend on real weather."""
    random = np.random.default_rng(1)
    dates = np.arange(np.datetime64("1980-01-01"), np.datetime64("2020-01-01"))
    wave = np.sin(2 * np.pi * (np.arange(dates.size) - 110) / 365.25)
    tmin_c = 6 + 7 * wave + random.normal(0, 3, dates.size)
    return WeatherRecord(
        station="Benchmark",
        provenance="Invented",
        invented=True,
        dates=dates,
        tmin_c=tmin_c,
        tmax_c=tmin_c + random.uniform(3, 14, dates.size),
        rain_mm=random.exponential(2, dates.size),
        wind_m_s=random.uniform(1, 7, dates.size),
        rh_max_pct=random.uniform(80, 100, dates.size),
        rh_min_pct=random.uniform(30, 80, dates.size),
        radiation_mj_m2=np.maximum(10 + 9 * wave, 1) * random.uniform(0.3, 1.2, dates.size),
    )


def refet_mm(record: WeatherRecord) -> FloatArray:
    """The peer, from the same inputs."""
    assert record.rh_max_pct is not None
    assert record.rh_min_pct is not None
    result = refet.Daily(
        tmin=record.tmin_c,
        tmax=record.tmax_c,
        ea=vapour_pressure_from_extremes_kpa(
            record.tmin_c, record.tmax_c, record.rh_max_pct, record.rh_min_pct
        ),
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


def best_ms(work: Callable[[], object]) -> float:
    """Fastest of several runs, which leaves out what else the machine was doing. [ms]."""
    return min(timeit.repeat(work, number=1, repeat=REPEATS)) * 1000


def main() -> None:
    record = forty_years()
    site = Site("Benchmark", LATITUDE_DEG, 5.2, ELEVATION_M, "UTC")
    start = date(2026, 3, 1)
    ours_ms = best_ms(lambda: reference_et(record, LATITUDE_DEG, ELEVATION_M))
    peer_ms = best_ms(lambda: refet_mm(record))
    print(f"reference ET, {record.dates.size} days: {ours_ms:.2f} ms")
    print(f"  RefET {refet.__version__}: {peer_ms:.2f} ms, ratio RefET / ours {peer_ms / ours_ms:.2f}")
    print(f"season_years, 40 years: {best_ms(lambda: season_years(record, start)):.2f} ms")
    print(f"climate_of, 40 years: {best_ms(lambda: climate_of(record, site, start)):.2f} ms")


if __name__ == "__main__":
    main()
