"""What a rain tank under a roof would have covered, day by day over the record."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.water.sources import FAO56, MARTIN_ROOF
from bedwright.model.bounds import Bounds
from bedwright.model.source import Origin
from bedwright.model.water import SeasonWater, TankSizing
from bedwright.model.weather import FloatArray

ROOF_YIELD_SHARE = 0.80
"""Share of the rain on a roof that reaches the tank: low end of 80 to 85 %, Martin 1980, second hand."""

TANK_L = Bounds(1, 1_000_000, "L")
ROOF_AREA_M2 = Bounds(0.1, 100_000, "m²")
DRY_YEAR_QUANTILE = 0.2


@dataclass(frozen=True, slots=True, eq=False)
class TankRun:
    """Days of a tank; arrays (n_days, n_years), in litres."""

    given_l: FloatArray
    """Taken from the tank."""
    overflow_l: FloatArray
    stored_l: FloatArray
    """In the tank in the evening."""


def run_tank(
    needed_l: FloatArray, rain_mm: FloatArray, *, roof_area_m2: float, tank_l: float, start_l: float = 0.0
) -> TankRun:
    """Carry a tank through recorded seasons.

    Parameters
    ----------
    needed_l : (n_days, n_years)
        Water wanted each morning. [L]
    rain_mm : (n_days, n_years)
        Rain of the day, in the tank by the evening. [mm]
    roof_area_m2 : float
        Ground plan of the roof that drains into it. [m²]
    tank_l : float
        Size. [L]
    start_l : float
        In it on the first morning. [L]

    Returns
    -------
    TankRun
        Water given, spilled and stored; what comes in less what goes out is what is kept.

    Raises
    ------
    ValueError
        If tank or roof is outside its permitted range.
    """
    for name, value, bounds in (("tank_l", tank_l, TANK_L), ("roof_area_m2", roof_area_m2, ROOF_AREA_M2)):
        if value not in bounds:
            raise ValueError(f"{name}: got {value:g}; expected {bounds}")
    caught = ROOF_YIELD_SHARE * roof_area_m2 * rain_mm
    given, overflow, stored = (np.empty_like(needed_l) for _ in range(3))
    level = np.full(needed_l.shape[1], min(start_l, tank_l))
    for day in range(needed_l.shape[0]):
        given[day] = np.minimum(level, needed_l[day])
        filled = level - given[day] + caught[day]
        level = np.minimum(filled, tank_l)
        overflow[day], stored[day] = filled - level, level
    return TankRun(given, overflow, stored)


def tank_sizing(
    season: SeasonWater, *, roof_area_m2: float, tanks_l: Sequence[float]
) -> tuple[TankSizing, ...]:
    """What tanks of several sizes would have covered in the recorded seasons.

    Parameters
    ----------
    season : SeasonWater
        Water needed, by `season_demand`.
    roof_area_m2 : float
        Ground plan of the roof. [m²]
    tanks_l : sequence of float
        Sizes to try. [L]

    Returns
    -------
    tuple of TankSizing
        In the order of the sizes.

    Raises
    ------
    ValueError
        If a size or the roof is outside its permitted range.

    Source
    ------
    Roof: MARTIN_ROOF. Order of the day, own rule: water is drawn in the morning from what was there the
    evening before.

    Limits
    ------
    The tank starts each season empty. Frost, and the first dirty rain that is let run off, are left out.
    Roof water is for the soil, not for leaves to be eaten.
    """
    needed, rain = season.daily_l, season.conditions.rain_mm
    return tuple(_sizing(needed, rain, roof_area_m2, tank_l) for tank_l in tanks_l)


def _sizing(needed_l: FloatArray, rain_mm: FloatArray, roof_area_m2: float, tank_l: float) -> TankSizing:
    run = run_tank(needed_l, rain_mm, roof_area_m2=roof_area_m2, tank_l=tank_l)
    wanted, given = needed_l.sum(axis=0), run.given_l.sum(axis=0)
    shares = np.where(wanted > 0, given / np.where(wanted > 0, wanted, 1.0), 1.0)
    short = (needed_l - run.given_l) > 1e-6
    return TankSizing(
        tank_l=tank_l,
        roof_area_m2=roof_area_m2,
        covered_share=float(given.sum() / wanted.sum()) if wanted.sum() > 0 else 1.0,
        covered_share_dry_year=float(np.quantile(shares, DRY_YEAR_QUANTILE)),
        days_empty_per_season=float(short.sum(axis=0).mean()),
        mean_tap_l=float((wanted - given).mean()),
        mean_overflow_l=float(run.overflow_l.sum(axis=0).mean()),
        n_years=int(needed_l.shape[1]),
        origins=(
            Origin("roof_yield_share", ROOF_YIELD_SHARE, "low end of 0.80 to 0.85", (MARTIN_ROOF,), "weak"),
            Origin("covered_share", None, "tank followed day by day over the record", (FAO56,), "derived"),
        ),
    )
