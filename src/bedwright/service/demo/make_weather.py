"""Makes the invented weather record of the example garden.

`python -m bedwright.service.demo.make_weather [FILE]` writes it again, into the package if no
file is named.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from bedwright.engine.climate.generator import GeneratorParameters, Harmonic, generate_weather
from bedwright.model.weather import FloatArray, WeatherRecord
from bedwright.store.weather import write_weather_csv

PACKAGED_RECORD = Path(__file__).with_name("weather.csv")

FIRST_YEAR = 1995
N_YEARS = 30
SEED = 4
"""Of the first eight, the one whose frost dates and rain come nearest to the place meant."""

# Every figure is invented: a cool-temperate inland place, with frost to the end of April and from
# the middle of October, a July of about 23 °C by day and some 700 mm of rain a year.
DEMO_CLIMATE = GeneratorParameters(
    station="Lantern Field (invented)",
    provenance="made by a weather generator for the example garden; no place has had this weather",
    latitude_deg=52.31,
    chance_wet_after_dry=Harmonic(mean=0.32, amplitude=0.05, peak_day=345),
    chance_wet_after_wet=Harmonic(mean=0.61, amplitude=0.06, peak_day=345),
    wet_day_rain_mm=Harmonic(mean=4.3, amplitude=0.7, peak_day=235),
    rain_shape=0.72,
    tmax_dry_c=Harmonic(mean=15.3, amplitude=10.3, peak_day=201),
    tmax_wet_c=Harmonic(mean=14.0, amplitude=8.4, peak_day=204),
    tmin_dry_c=Harmonic(mean=3.7, amplitude=8.2, peak_day=205),
    tmin_wet_c=Harmonic(mean=5.8, amplitude=6.9, peak_day=207),
    tmax_sd_c=Harmonic(mean=3.8, amplitude=0.1, peak_day=20),
    tmin_sd_c=Harmonic(mean=3.1, amplitude=0.6, peak_day=20),
    clearness_dry=Harmonic(mean=0.50, amplitude=0.05, peak_day=150),
    clearness_wet=Harmonic(mean=0.34, amplitude=0.06, peak_day=165),
    clearness_sd=0.12,
    wind_2m_m_s=Harmonic(mean=2.5, amplitude=0.4, peak_day=25),
    wind_log_sd=0.45,
    wind_lag_correlation=0.5,
    dew_point_above_tmin_dry_c=1.2,
    dew_point_above_tmin_wet_c=2.4,
    dew_point_sd_c=1.2,
)


def demo_weather() -> WeatherRecord:
    """The record of the example garden, 1995 to 2024, to one decimal."""
    record = generate_weather(DEMO_CLIMATE, N_YEARS, FIRST_YEAR, SEED)
    return replace(
        record,
        tmin_c=_one_decimal(record.tmin_c),
        tmax_c=_one_decimal(record.tmax_c),
        rain_mm=_one_decimal(record.rain_mm),
        wind_m_s=_one_decimal(record.wind_m_s),
        rh_mean_pct=_one_decimal(record.rh_mean_pct),
        radiation_mj_m2=_one_decimal(record.radiation_mj_m2),
    )


def _one_decimal(values: FloatArray | None) -> FloatArray:
    if values is None:
        raise ValueError("the generator gives every quantity of the example")
    return np.round(values, 1) + 0.0  # -0.0 becomes 0.0


def main(arguments: Sequence[str] | None = None) -> None:
    """Write the record to the file named, or into the package."""
    named = sys.argv[1:] if arguments is None else arguments
    write_weather_csv(demo_weather(), Path(named[0]) if named else PACKAGED_RECORD)


if __name__ == "__main__":
    main()
