"""Water the season needs, worked out on every recorded year before it begins."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import numpy as np

from bedwright.engine.water.balance import WateringRule, WaterRun, field_capacity, run_days
from bedwright.engine.water.methods import check_supply, tap_minutes
from bedwright.engine.water.patches import PLANT_WATERING_IN_L, ground_of, patch_origins
from bedwright.engine.water.stages import stand_of
from bedwright.model.source import Origin
from bedwright.model.water import (
    BedWater,
    DailyConditions,
    SeasonWater,
    WateredPatch,
    WaterSupply,
    WaterWeek,
)
from bedwright.model.weather import FloatArray

WEEK_DAYS = 7
EVERY_DAY = (1, 2, 3, 4, 5, 6, 7)
SAFE_SHARE = 0.8


def season_demand(
    patches: Sequence[WateredPatch],
    seasons: DailyConditions,
    supply: WaterSupply,
    *,
    watering_weekdays: Sequence[int] = EVERY_DAY,
    leave_mm: float = 0.0,
) -> SeasonWater:
    """Water each bed needs week by week, beyond rain, in 50 and 80 % of the recorded years.

    Parameters
    ----------
    patches : sequence of WateredPatch
        All plantings of the season, at least one.
    seasons : DailyConditions
        Recorded seasons side by side, arrays (n_days, n_years).
    supply : WaterSupply
        Flow of the tap. [L/min], above 0
    watering_weekdays : sequence of int
        ISO weekdays of the planned season on which someone waters, Monday = 1.
    leave_mm : float
        Left empty for rain when the root zone is refilled. [mm], not negative

    Returns
    -------
    SeasonWater
        Beds, whole garden, and the litres of each day of each recorded season.

    Raises
    ------
    ValueError
        If there is no patch, no permitted weekday, no flow, or the weather has impossible values.

    Source
    ------
    Balance: `run_days`. Rule: refill when the readily available water is gone (FAO56 p. 171); seedbeds
    and young plants when the surface looks dry (`wanted`). Water is put on early in the day, before it is
    lost. A watering is booked on the days whose loss it makes good (`needed_mm`), so that a week between
    two waterings does not count as a week without need; a week's amount is the plain quantile over the
    years.

    Limits
    ------
    Each patch starts the season at field capacity, on bare soil. What an earlier crop took from the same
    ground is not carried over. Water is put on in full or not at all.
    """
    check_supply(supply)
    if not patches:
        raise ValueError("there is no planting to water")
    if not set(watering_weekdays) & set(EVERY_DAY):
        raise ValueError("watering_weekdays names no day; expected ISO weekdays 1 to 7")
    run = demand_run(patches, seasons, watering_weekdays=watering_weekdays, leave_mm=leave_mm)
    area = np.array([p.area_m2 for p in patches])
    efficiency = np.array([p.method.efficiency for p in patches])
    factor = (area / efficiency)[None, :, None]
    litres = run.irrigation_mm * factor
    needed = needed_mm(run, patches, seasons) * factor
    beds = []
    for code in sorted({p.bed_code for p in patches}):
        chosen = np.array([p.bed_code == code for p in patches])
        mine = [p for p in patches if p.bed_code == code]
        beds.append(_bed_water(code, mine, needed[:, chosen].sum(axis=1), seasons, supply))
    fullest_m2 = _fullest_m2(patches, seasons)
    return SeasonWater(
        beds=tuple(beds),
        weeks=_weeks(needed.sum(axis=1), fullest_m2, seasons, supply),
        conditions=seasons,
        daily_l=litres.sum(axis=1),
    )


def demand_run(
    patches: Sequence[WateredPatch],
    conditions: DailyConditions,
    *,
    watering_weekdays: Sequence[int] = EVERY_DAY,
    leave_mm: float = 0.0,
) -> WaterRun:
    """All patches through all days, watered by rule; arrays (n_days, n_patches, n_years)."""
    stand = stand_of(patches, conditions)
    weekdays = (conditions.dates.astype("datetime64[D]").astype(np.int64) + 3) % 7 + 1
    permitted = np.isin(weekdays, list(watering_weekdays))[:, None, None]
    rain = conditions.rain_mm.reshape(conditions.n_days, 1, -1)
    return run_days(
        ground_of(patches, stand),
        stand.canopy,
        field_capacity((len(patches), rain.shape[2])),
        rain_mm=rain,
        reference_et_mm=conditions.reference_et_mm.reshape(rain.shape),
        irrigation_mm=watering_in_mm(patches, conditions),
        rule=WateringRule(stand.growing, stand.little_and_often, permitted, leave_mm),
    )


def needed_mm(run: WaterRun, patches: Sequence[WateredPatch], conditions: DailyConditions) -> FloatArray:
    """Each watering of a run spread over the days since the one before, as the water was lost.

    Parameters
    ----------
    run : WaterRun
        Arrays (n_days, n_patches, n_years).
    patches : sequence of WateredPatch
        Its patches.
    conditions : DailyConditions
        Its days.

    Returns
    -------
    (n_days, n_patches, n_years)
        Sums to the irrigation of the run. [mm/day]

    Source
    ------
    Own rule: in proportion to the evapotranspiration of each day under crop since the last watering.
    """
    planted = np.array([p.in_ground for p in patches], dtype="datetime64[D]")
    under_crop = (conditions.dates[:, None] >= planted[None, :])[:, :, None]
    lost = np.where(under_crop, run.actual_et_mm, 0.0)
    since = np.zeros(lost.shape[1:])
    rate = np.zeros_like(lost)
    watered = run.irrigation_mm > 0
    for day in range(lost.shape[0]):
        rate[day] = np.where(
            watered[day] & (since > 0), run.irrigation_mm[day] / np.maximum(since, 1e-12), 0.0
        )
        # a watering that follows no loss makes good the day's own
        since = np.where(watered[day], 0.0, since) + lost[day]
    needed = np.where(watered & (rate == 0), run.irrigation_mm, 0.0)
    current = np.zeros(lost.shape[1:])
    for day in range(lost.shape[0] - 1, -1, -1):
        needed[day] += current * lost[day]
        current = np.where(watered[day], rate[day], current)
    return needed


def watering_in_mm(patches: Sequence[WateredPatch], conditions: DailyConditions) -> FloatArray:
    """Net water given to young plants on planting day, (n_days, n_patches, 1).

    Seed is left to the rule of the moist surface.
    """
    given = np.zeros((conditions.n_days, len(patches), 1))
    first = conditions.dates[0].astype(date)
    for index, patch in enumerate(patches):
        day = (patch.in_ground - first).days
        if patch.way != "sow" and 0 <= day < conditions.n_days:
            given[day, index] = PLANT_WATERING_IN_L * patch.n_plants / patch.area_m2
    return given


def season_days(patches: Sequence[WateredPatch], season_start: date) -> int:
    """Days from the season's start to the last pick of all patches, at least 1."""
    last = max(patch.last_pick for patch in patches)
    return max(1, (last - season_start).days + 1)


def _bed_water(
    code: str,
    patches: Sequence[WateredPatch],
    daily_l: FloatArray,
    seasons: DailyConditions,
    supply: WaterSupply,
) -> BedWater:
    area_m2 = _fullest_m2(patches, seasons)
    totals = daily_l.sum(axis=0)
    origins: dict[Origin, None] = {}
    for patch in patches:
        origins.update(dict.fromkeys(patch_origins(patch)))
    origins.update(dict.fromkeys(seasons.origins))
    return BedWater(
        bed_code=code,
        planted_area_m2=area_m2,
        weeks=_weeks(daily_l, area_m2, seasons, supply),
        season_median_l=float(np.quantile(totals, 0.5)),
        season_safe_l=float(np.quantile(totals, SAFE_SHARE)),
        n_years=int(daily_l.shape[1]),
        origins=tuple(origins),
    )


def _weeks(
    daily_l: FloatArray, area_m2: float, seasons: DailyConditions, supply: WaterSupply
) -> tuple[WaterWeek, ...]:
    """Weeks from Monday, as everywhere in the plan; the first and the last may be short of days."""
    start = seasons.dates[0].astype(date)
    monday = start - timedelta(days=start.weekday())
    n_days = daily_l.shape[0]
    n_weeks = -(-(n_days + start.weekday()) // WEEK_DAYS)
    padded = np.zeros((n_weeks * WEEK_DAYS, daily_l.shape[1]))
    padded[start.weekday() : start.weekday() + n_days] = daily_l
    weekly = padded.reshape(n_weeks, WEEK_DAYS, -1).sum(axis=1)
    median, safe = np.quantile(weekly, (0.5, SAFE_SHARE), axis=1)
    return tuple(
        WaterWeek(
            start=monday + timedelta(days=WEEK_DAYS * week),
            median_mm=float(median[week]) / area_m2,
            safe_mm=float(safe[week]) / area_m2,
            median_l=float(median[week]),
            safe_l=float(safe[week]),
            safe_tap_min=tap_minutes(float(safe[week]), supply),
        )
        for week in range(n_weeks)
    )


def _fullest_m2(patches: Sequence[WateredPatch], seasons: DailyConditions) -> float:
    """Largest area under crop on one day."""
    covered = np.zeros(seasons.n_days)
    for patch in patches:
        start, end = np.datetime64(patch.in_ground), np.datetime64(patch.last_pick)
        covered[(seasons.dates >= start) & (seasons.dates <= end)] += patch.area_m2
    # a patch wholly outside the days at hand still has its ground
    return float(covered.max()) or sum(patch.area_m2 for patch in patches)
