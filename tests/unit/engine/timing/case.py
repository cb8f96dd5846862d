"""Seasons and crops simple enough to be followed by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np

from bedwright.model.crop import Crop, GerminationPoint
from bedwright.model.weather import SeasonYears
from tests.builders import tiny_crop

EQUATOR_DEG = 0.0
"""Twelve hours of day all year, so that light never slows growth."""


def steady_years(mean_c: float = 15.6, n_years: int = 2, n_days: int = 615) -> SeasonYears:
    """Every day alike: minimum five degrees below the mean, maximum five above, soil at the mean."""
    shape = (n_years, n_days)
    return SeasonYears(
        season_start=date(2027, 1, 1),
        years=tuple(range(2000, 2000 + n_years)),
        tmin_c=np.full(shape, mean_c - 5),
        tmax_c=np.full(shape, mean_c + 5),
        rain_mm=np.zeros(shape),
        plant_tmin_c=np.full(shape, mean_c - 7),
        soil_temp_c=np.full(shape, mean_c),
        soil_depth_m=0.05,
        ground_frost_allowance_c=2.0,
    )


def wave_years(
    mean_c: float = 11.0, swing_c: float = 9.0, n_years: int = 4, coldest_day: int = 20
) -> SeasonYears:
    """A smooth year, each recorded one half a degree warmer than the one before."""
    day = np.arange(615)
    usual_c = mean_c - swing_c * np.cos(2 * np.pi * (day - coldest_day) / 365)
    daily_c = usual_c[None, :] + 0.5 * np.arange(n_years)[:, None]
    flat = steady_years(n_years=n_years)
    return replace(
        flat, tmin_c=daily_c - 5, tmax_c=daily_c + 5, plant_tmin_c=daily_c - 7, soil_temp_c=daily_c
    )


def with_night(years: SeasonYears, year: int, day: int, tmin_c: float) -> SeasonYears:
    """The same seasons with one night as cold as stated."""
    cold_c = years.tmin_c.copy()
    cold_c[year, day] = tmin_c
    return replace(years, tmin_c=cold_c)


def table(*points: tuple[float, float | None]) -> tuple[GerminationPoint, ...]:
    """A germination table from (soil temperature, days); None: nothing came up."""
    return tuple(GerminationPoint(temp_c, days, None, days is not None) for temp_c, days in points)


def quick_leaf() -> Crop:
    """A hardy leaf crop: up in 10 days at 15 °C and 5 at 20, 45 days from sowing, 14 of picking."""
    return replace(
        tiny_crop("quick leaf"),
        germination=table((5.0, 30.0), (15.0, 10.0), (20.0, 5.0), (25.0, 5.0), (30.0, None)),
        days_to_maturity_days=(40.0, 50.0),
        harvest_span_days=14.0,
        frost_kill_c=-5.0,
        edible_parts=("leaves",),
    )


def tender_fruit() -> Crop:
    """A tender crop set out as young plants: 70 days, 60 of picking, killed at 0 °C."""
    return replace(
        tiny_crop("tender fruit"),
        ways=("raise", "buy"),
        weeks_raised=6.0,
        germination=table((10.0, 40.0), (20.0, 8.0), (30.0, 6.0)),
        soil_temp_min_c=10.0,
        days_to_maturity_days=(60.0, 80.0),
        maturity_basis="setting out",
        harvest_span_days=60.0,
        frost_class="tender",
        frost_kill_c=0.0,
        edible_parts=("fruit",),
    )
