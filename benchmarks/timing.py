"""Dates of a whole catalogue by arrays, beside the same rules followed day by day in plain Python."""

from __future__ import annotations

import math
import time
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.engine.timing import CAUSES, sowing_outcomes
from bedwright.engine.timing.growth import (
    EMERGENCE_UNITS,
    GROWTH_UNITS_PER_DEGREE_DAY,
    comes_up,
    emergence_days,
    emergence_progress,
    growth_need,
    light_share,
    soil_limits_c,
)
from bedwright.engine.timing.outcomes import (
    EMERGENCE_LIMIT_DAYS,
    HEAT_SENSITIVE_FROM,
    HEAT_SPELL_DAYS,
    PICKING_WANTED_DAYS,
    SEASON_DAYS,
    STRETCH_LIMIT,
    dies_of_heat,
    warming,
)
from bedwright.model.book import Way
from bedwright.model.crop import Crop, GerminationPoint
from bedwright.model.weather import SeasonYears
from tests.builders import tiny_crop

N_CROPS = 69
N_YEARS = 30
N_PLAIN_CROPS = 3
"""The plain loop is followed for these only: it is the slow one."""


@dataclass(frozen=True, slots=True)
class Fate:
    """What became of one planting of an annual."""

    cause: str
    """Empty where it worked."""
    first_pick: int
    last_pick: int


def plain_fates(crop: Crop, years: SeasonYears, way: Way, latitude_deg: float, year: int) -> list[Fate]:
    """Follow an annual crop from each day of one recorded season, one day at a time."""
    days = _PlainYear(crop, years, way, latitude_deg, year)
    return [days.follow(day) for day in range(SEASON_DAYS)]


class _PlainYear:
    """One recorded season as plain lists, and the rules as plain steps."""

    def __init__(self, crop: Crop, years: SeasonYears, way: Way, latitude_deg: float, year: int) -> None:
        self.crop, self.way = crop, way
        self.need = growth_need(crop, way)
        self.tmin_c: list[float] = years.tmin_c[year].tolist()
        self.tmax_c: list[float] = years.tmax_c[year].tolist()
        self.soil_c: list[float] = years.soil_temp_c[year].tolist()
        self.emergence: list[int] = emergence_progress(crop, way, years.soil_temp_c[year]).tolist()
        self.light: list[float] = light_share(latitude_deg, years.season_start, years.n_days).tolist()
        self.falling: list[bool] = (warming(years) < 0).tolist()
        self.n_days = years.n_days
        self.units = round(GROWTH_UNITS_PER_DEGREE_DAY * self.need.degree_days)

    def is_hot(self, day: int) -> bool:
        if self.crop.heat_limit_c is None or day + 1 < HEAT_SPELL_DAYS:
            return False
        spell = self.tmax_c[day + 1 - HEAT_SPELL_DAYS : day + 1]
        limit = round(100 * self.crop.heat_limit_c) * HEAT_SPELL_DAYS
        return sum(round(100 * tmax_c) for tmax_c in spell) > limit

    def growth(self, day: int) -> int:
        if self.is_hot(day) and not dies_of_heat(self.crop):
            return 0
        limits = self.need.temperatures
        mean_c = min(max((self.tmin_c[day] + self.tmax_c[day]) / 2, limits.base_c), limits.packet_c)
        return round(GROWTH_UNITS_PER_DEGREE_DAY * (mean_c - limits.base_c) * self.light[day])

    def emerges(self, sown: int) -> int | str:
        """Day it comes up, or why it does not."""
        if not comes_up(self.crop, self.way):
            return sown
        done = 0
        for day in range(sown, min(sown + EMERGENCE_LIMIT_DAYS + 1, self.n_days + 1)):
            if done >= EMERGENCE_UNITS:
                return day
            done += self.emergence[day] if day < self.n_days else 0
        lowest_c, highest_c = soil_limits_c(self.crop, self.way)
        waited = self.soil_c[sown : sown + EMERGENCE_LIMIT_DAYS]
        n_hot = sum(soil_c > highest_c for soil_c in waited)
        n_cold = sum(soil_c < lowest_c for soil_c in waited)
        return "soil too hot" if n_hot > n_cold else "soil too cold"

    def frost_cause(self, day: int) -> str:
        return "season too short" if self.falling[day] else "killing frost"

    def follow(self, sown: int) -> Fate:
        start = self.emerges(sown)
        if isinstance(start, str):
            return Fate(start, -1, -1)
        limit = self.limit(sown)
        grown = sum(self.growth(day) for day in range(sown, start)) if self.need.from_sowing else 0
        for day in range(start, limit + 1):
            if self.tmin_c[day] <= self.crop.frost_kill_c:
                return Fate(self.frost_cause(day), -1, -1)
            if self.heat_ends(day) and grown >= round(HEAT_SENSITIVE_FROM * self.units):
                return Fate("heat", -1, -1)
            if grown >= self.units and day > start:
                return self.pick(day)
            grown += self.growth(day)
        return Fate("season too short", -1, -1)

    def limit(self, sown: int) -> int:
        """Last day on which the first picking still counts."""
        hidden = emergence_days(self.crop, self.way) if comes_up(self.crop, self.way) else 0.0
        stretched = sown + math.ceil(STRETCH_LIMIT * (self.need.packet_days + hidden))
        for day in range(sown + 1, self.n_days):
            if self.falling[day - 1] and not self.falling[day]:
                return min(max(stretched, day), self.n_days - 1)
        return min(stretched, self.n_days - 1)

    def heat_ends(self, day: int) -> bool:
        return dies_of_heat(self.crop) and self.is_hot(day)

    def pick(self, first: int) -> Fate:
        span = max(1, round(self.crop.harvest_span_days))
        wanted = min(span, PICKING_WANTED_DAYS)
        for day in range(first, min(first + span, self.n_days)):
            frost = self.tmin_c[day] <= self.crop.frost_kill_c
            if frost or self.heat_ends(day):
                if day - first >= wanted:
                    return Fate("", first, day - 1)
                return Fate(self.frost_cause(day) if frost else "heat", -1, -1)
        return Fate("", first, first + span - 1)


def invented_years(n_years: int, n_days: int = 615, seed: int = 1) -> SeasonYears:
    """Seasons from 1 January with a made-up temperate climate."""
    rng = np.random.default_rng(seed)
    day = np.arange(n_days)
    usual_c = 11 - 9 * np.cos(2 * np.pi * (day - 20) / 365)
    noise_c = rng.normal(0, 3, (n_years, n_days))
    for index in range(1, n_days):
        noise_c[:, index] = 0.7 * noise_c[:, index - 1] + 0.7 * noise_c[:, index]
    mean_c = usual_c + noise_c
    soil_c = usual_c + np.cumsum(noise_c, axis=1) / (day + 1)
    return SeasonYears(
        season_start=date(2027, 1, 1),
        years=tuple(range(1990, 1990 + n_years)),
        tmin_c=mean_c - 4.5,
        tmax_c=mean_c + 4.5,
        rain_mm=np.zeros((n_years, n_days)),
        plant_tmin_c=mean_c - 6.5,
        soil_temp_c=soil_c,
        soil_depth_m=0.05,
        ground_frost_allowance_c=2.0,
    )


def invented_crops() -> Iterator[Crop]:
    """Crops with a germination table, spread from quick and hardy to slow and tender."""
    table = tuple(
        GerminationPoint(temp_c, days, None, days is not None)
        for temp_c, days in ((0.0, None), (5.0, 40.0), (15.0, 10.0), (25.0, 6.0), (35.0, None))
    )
    for index in range(N_CROPS):
        tender = index % 3 == 1
        yield replace(
            tiny_crop(f"crop {index}"),
            germination=table,
            days_to_maturity_days=(30.0 + index, 40.0 + index),
            frost_class="tender" if tender else "hardy",
            frost_kill_c=0.0 if tender else -6.0,
            heat_limit_c=24.0 if index % 3 == 2 else None,
            edible_parts=("leaves",),
        )


def main() -> None:
    years, crops, latitude_deg = invented_years(N_YEARS), list(invented_crops()), 52.0
    begun = time.perf_counter()
    outcomes = [sowing_outcomes(crop, years, "sow", latitude_deg=latitude_deg) for crop in crops]
    arrays_s = time.perf_counter() - begun
    begun = time.perf_counter()
    differ = 0
    for crop, found in zip(crops[:N_PLAIN_CROPS], outcomes, strict=False):
        for year in range(N_YEARS):
            for day, fate in enumerate(plain_fates(crop, years, "sow", latitude_deg, year)):
                cause = int(found.cause[day, year])
                same = (CAUSES[cause] if cause >= 0 else "") == fate.cause
                same &= int(found.first_pick[day, year]) == fate.first_pick
                same &= int(found.last_pick[day, year]) == fate.last_pick
                differ += not same
    plain_s = (time.perf_counter() - begun) * N_CROPS / N_PLAIN_CROPS
    n_cases = N_PLAIN_CROPS * N_YEARS * SEASON_DAYS
    print(f"{N_CROPS} crops x {SEASON_DAYS} days x {N_YEARS} years: arrays {arrays_s:.2f} s")
    ratio = plain_s / arrays_s
    print(f"plain loop {plain_s:.0f} s (scaled from {N_PLAIN_CROPS} crops): {ratio:.0f} times slower")
    print(f"{differ} of {n_cases} fates differ")
    assert differ == 0


if __name__ == "__main__":
    main()
