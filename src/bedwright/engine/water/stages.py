"""Growth stages of a planting on its own dates, and the canopy that follows from them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bedwright.engine.water.balance import Canopy
from bedwright.engine.water.coefficients import (
    adjusted_coefficient,
    coefficient_on_day,
    covered_share,
    highest_coefficient,
)
from bedwright.engine.water.soils import SEEDLING_ROOTS_M, rootable_depth_m
from bedwright.model.crop import Crop, WaterFacts
from bedwright.model.water import DailyConditions, WateredPatch, WaterStage
from bedwright.model.weather import BoolArray, FloatArray

ESTABLISHING_DAYS = 14
"""Two weeks from coming up, or setting out, for the roots to take: Virginia Cooperative Extension."""

STAKED_FROM_M = 1.5
"""Height from which a plant on a support counts as staked: FAO-56 Tables 12 and 17, footnote 2."""
STAKED_KCB_MID: Mapping[str, float] = {
    "cucumber": 1.10, "pea": 1.15, "pole bean": 1.10, "sweet pepper": 1.10, "tomato": 1.15,
}  # fmt: skip
"""Kcb of the mid-season of staked plants: FAO-56 Table 17, footnote 2."""

StageEnds = tuple[float, float, float, float]
"""Last day of the initial, development, mid-season and late stage, planting day = 1."""


def stage_ends(patch: WateredPatch) -> StageEnds:
    """Ends of the four growth stages of a planting, on its own dates.

    Parameters
    ----------
    patch : WateredPatch
        With its dates and a crop that has stage lengths.

    Returns
    -------
    tuple
        Last day of each stage; planting day is day 1, the last stage ends on the last pick.

    Raises
    ------
    ValueError
        If the crop has no water facts, or its last pick comes before planting.

    Source
    ------
    Proportions: FAO56 Table 11. Own rule for moving them: the four lengths are stretched or shrunk alike
    so that they end on the last pick; the initial stage lasts at least until seedlings show; and
    leaves close (the end of development) no later than the first pick. The dates themselves come from
    the site's recorded weather.

    Limits
    ------
    The dates of the plan serve every recorded year.
    """
    facts = water_facts(patch)
    total = _day(patch, patch.last_pick)
    if total < 1:
        raise ValueError(f"{patch.code}: last pick {patch.last_pick} comes before {patch.in_ground}")
    first = max(1, min(_day(patch, patch.first_pick), total))
    shown = 1 if patch.emerges is None else max(1, min(_day(patch, patch.emerges), total))
    stretch = total / sum(facts.stage_days)
    initial = max(min(stretch * facts.stage_days[0], first), shown)
    closed = max(min(initial + stretch * facts.stage_days[1], first), initial)
    ripe = max(total - stretch * facts.stage_days[3], closed)
    return (float(initial), float(closed), float(ripe), float(total))


def established_from(patch: WateredPatch) -> date:
    """First day on which a planting no longer needs a moist surface.

    Source
    ------
    Virginia Cooperative Extension 426-322: the first two weeks of growth establish the plant. Counted
    here from coming up, or from setting out.
    """
    start = patch.emerges if patch.way == "sow" and patch.emerges is not None else patch.in_ground
    return start + timedelta(days=ESTABLISHING_DAYS)


def stage_on(patch: WateredPatch, day: date) -> WaterStage:
    """Stage of a planting on a day, as far as water is concerned."""
    if day < established_from(patch):
        return "seedbed" if patch.way == "sow" else "settling in"
    ends = stage_ends(patch)
    number = _day(patch, day)
    if number <= ends[1]:
        return "growing"
    return "flowering and filling" if number <= ends[2] else "ripening"


def stage_number(patch: WateredPatch, day: date) -> int:
    """FAO-56 stage on a day: 0 initial, 1 development, 2 mid-season, 3 late."""
    number = _day(patch, day)
    return int(np.searchsorted(np.array(stage_ends(patch)[:3]), number))


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """Canopies of patches over days, and the days on which they may be watered.

    Arrays broadcast to (n_days, n_patches, n_years).
    """

    canopy: Canopy
    growing: BoolArray
    little_and_often: BoolArray
    deepest_root_m: FloatArray
    """(n_patches, 1)"""


def stand_of(patches: Sequence[WateredPatch], conditions: DailyConditions) -> Stand:
    """Canopies of patches through a run of days or through recorded seasons.

    Parameters
    ----------
    patches : sequence of WateredPatch
        At least one.
    conditions : DailyConditions
        Days in a row.

    Returns
    -------
    Stand
        Bare soil (Kcb 0) before planting and after the last pick.

    Raises
    ------
    ValueError
        If there is no patch, or a crop has no water facts.

    Source
    ------
    Kcb: FAO56 Eqs. 66 and 70, Tables 11 and 17, plants on tall supports by footnote 2 of the latter.
    Height and rooting depth follow Kcb from planting to mid-season: FAO56 Annex 8, Eq. 8.1 and footnotes 3
    and 8; roots start at 0.20 m (Annex 8).
    """
    if not patches:
        raise ValueError("there is no planting to water")
    number = _season_days(patches, conditions)
    ends = [np.array(column)[:, None] for column in zip(*(stage_ends(p) for p in patches), strict=True)]
    alive = (number >= 1) & (number <= ends[3])
    facts = [water_facts(patch) for patch in patches]
    initial, end = (np.array([getattr(f, name) for f in facts])[:, None] for name in ("kcb_ini", "kcb_end"))
    middle = np.array([kcb_mid_season(p.crop, f) for p, f in zip(patches, facts, strict=True)])[:, None]
    height = np.array([max(p.crop.height_m, 0.05) for p in patches])[:, None]
    climate = _mid_season_climate(number, ends[1], ends[2], conditions)
    middle_here = adjusted_coefficient(middle, *climate, height)
    end_here = adjusted_coefficient(end, *climate, height, end=True)
    stages = (ends[0], ends[1], ends[2], ends[3])
    kcb = np.where(alive, coefficient_on_day(number, stages, initial, middle_here, end_here), 0.0)
    grown = coefficient_on_day(number, stages, 0.0, 1.0, 1.0)
    height_now = np.where(alive, height * (initial + (middle - initial) * grown) / middle, 0.0)
    deepest = np.array(
        [rootable_depth_m(f.rooting_depth_m, p.soil_depth_m) for f, p in zip(facts, patches, strict=True)]
    )[:, None]
    youngest = np.minimum(SEEDLING_ROOTS_M, deepest)
    kc_max = highest_coefficient(
        kcb, _by_year(conditions.wind_2m_m_s), _by_year(conditions.humidity_min_pct), height_now
    )
    moist_until = np.array([_day(p, established_from(p)) for p in patches])[:, None]
    return Stand(
        canopy=Canopy(
            kcb=kcb,
            kc_max=kc_max,
            covered_share=covered_share(kcb, kc_max, height_now),
            root_depth_m=youngest + (deepest - youngest) * grown,
        ),
        growing=alive,
        little_and_often=alive & (number < moist_until),
        deepest_root_m=deepest,
    )


def _season_days(patches: Sequence[WateredPatch], conditions: DailyConditions) -> FloatArray:
    """Day of each patch's season on each day, (n_days, n_patches, 1); planting day is 1."""
    planted = np.array([p.in_ground for p in patches], dtype="datetime64[D]")
    since = (conditions.dates[:, None] - planted[None, :]).astype(np.float64)
    return np.asarray(since[:, :, None] + 1)


def _mid_season_climate(
    number: FloatArray, first: FloatArray, last: FloatArray, conditions: DailyConditions
) -> tuple[FloatArray, FloatArray]:
    """Mean wind and least humidity over each patch's mid-season, each (n_patches, n_years)."""
    inside = ((number > first) & (number <= last))[:, :, 0]
    # a mid-season outside the days at hand, or of no day, takes the mean of all days
    inside[:, ~inside.any(axis=0)] = True
    wind, humidity = (
        np.stack([_by_year(values)[chosen, 0].mean(axis=0) for chosen in inside.T])
        for values in (conditions.wind_2m_m_s, conditions.humidity_min_pct)
    )
    return wind, humidity


def _by_year(values: FloatArray) -> FloatArray:
    """Days of conditions as (n_days, 1, n_years)."""
    return values.reshape(values.shape[0], 1, -1)


def _day(patch: WateredPatch, day: date) -> int:
    return (day - patch.in_ground).days + 1


def kcb_mid_season(crop: Crop, facts: WaterFacts) -> float:
    """Kcb of the mid-season before the climate's share; more for plants led up tall supports.

    Source
    ------
    FAO56 Table 17 and its footnote 2: on stalks of 1.5 to 2 m green beans, peppers and cucumbers take
    1.10, tomatoes, dry beans and peas 1.15.
    """
    staked = STAKED_KCB_MID.get(crop.name, 0.0) if crop.support != "none" else 0.0
    return max(facts.kcb_mid, staked if crop.height_m >= STAKED_FROM_M else 0.0)


def water_facts(patch: WateredPatch) -> WaterFacts:
    """What is known of the water needs of a patch's crop.

    Raises
    ------
    ValueError
        If nothing is.
    """
    if patch.crop.water is None:
        raise ValueError(f"{patch.code}: nothing is known of the water needs of {patch.crop.name}")
    return patch.crop.water
