"""What each bed wants this morning, and when it will want water next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bedwright.engine.water.balance import (
    Canopy,
    CanopyDay,
    Ground,
    Wanted,
    WaterRun,
    WaterState,
    field_capacity,
    run_days,
    wanted,
)
from bedwright.engine.water.methods import cans, check_supply, litres, tap_minutes
from bedwright.engine.water.patches import ground_of, patch_origins, watering_in_l
from bedwright.engine.water.sources import AGRILIFE_FLOYD, OSU_PENHALLEGON, UCANR_MARIN, VCE_426_322
from bedwright.engine.water.stages import Stand, stage_ends, stage_number, stage_on, stand_of
from bedwright.engine.water.yield_response import yield_factor, yield_loss_share
from bedwright.model.source import Origin
from bedwright.model.units import mm_to_inches
from bedwright.model.water import (
    DailyConditions,
    PatchDue,
    WateredPatch,
    Watering,
    WateringDue,
    WaterStage,
    WaterSupply,
    WaterToday,
)
from bedwright.model.weather import BoolArray, FloatArray

LOOK_AHEAD_DAYS = 14
"""Days searched for the next watering; a typed forecast seldom reaches further. Chosen here."""

WITHOUT_WATER_DAYS = 7
"""Span for which the loss is told if a patch gets nothing; chosen here."""

PRIORITY: dict[WaterStage, int] = {
    "seedbed": 1,
    "settling in": 1,
    "flowering and filling": 2,
    "growing": 3,
    "ripening": 3,
}
"""Who comes first when water is short. Own rule: young plants die (VCE_426_322, UCANR_MARIN), flowering
and filling lose most (AGRILIFE_FLOYD, OSU_PENHALLEGON, FAO-56 p. 176), the rest can wait."""

_PRIORITY_ORIGIN = Origin(
    "priority",
    None,
    "young plants first, then flowering and filling, then the rest",
    (VCE_426_322, UCANR_MARIN, AGRILIFE_FLOYD, OSU_PENHALLEGON),
    "derived",
)


@dataclass(frozen=True, slots=True, eq=False)
class _Garden:
    """Patches with their canopies over the days at hand, and their state on the morning asked about."""

    patches: tuple[WateredPatch, ...]
    conditions: DailyConditions
    stand: Stand
    ground: Ground
    now: int
    """Index of today."""
    state: WaterState
    given_mm: FloatArray
    """Given this morning already, (n_patches,)."""

    @property
    def today(self) -> date:
        day: date = self.conditions.dates[self.now].astype(date)
        return day


def water_today(
    patches: Sequence[WateredPatch],
    conditions: DailyConditions,
    waterings: Sequence[Watering],
    supply: WaterSupply,
    today: date,
    *,
    rain_if_mm: float = 10.0,
) -> WaterToday:
    """What each bed wants this morning, how long that takes, and when it wants water next.

    Parameters
    ----------
    patches : sequence of WateredPatch
        Plantings in the ground, or to come.
    conditions : DailyConditions
        One run of days from before the first planting to at least 14 days from today, by
        `season_so_far`: record, rain gauge, forecast.
    waterings : sequence of Watering
        What was given so far; those of today count as given this morning.
    supply : WaterSupply
        Tap and can.
    today : date
        Morning asked about.
    rain_if_mm : float
        Rain for the question "and if it rains today?". [mm], not negative

    Returns
    -------
    WaterToday
        Beds with a planting in the ground, due ones first.

    Raises
    ------
    ValueError
        If today or the days to come are not covered, the tap gives nothing, rain is negative, or a
        watering names no patch, is negative, or is given twice for one patch and day.

    Source
    ------
    Balance and rule as in `season_demand`. Loss: FAO56 Eq. 90 with `yield_factor`, for seven days
    without water or rain.

    Limits
    ------
    The soil is taken to be at field capacity on the first day of `conditions`. Loss is told for crops that
    have taken root; a seedbed that dries out is lost whole, so its loss is not told.
    """
    check_supply(supply)
    if not (np.isfinite(rain_if_mm) and rain_if_mm >= 0):
        raise ValueError(f"rain_if_mm: got {rain_if_mm}; rain is 0 mm or more")
    garden = _garden(patches, conditions, waterings, today)
    if garden is None:
        return WaterToday(today, (), 0.0, rain_if_mm, ("Nothing is planted yet.",))
    dry = _ahead(garden, garden.conditions.rain_mm[garden.now :])
    if_rain = garden.conditions.rain_mm[garden.now :].copy()
    if_rain[0] += rain_if_mm
    wet = _ahead(garden, if_rain)
    without = np.zeros_like(if_rain)
    losses = _losses(garden, _carry(garden, without))
    dues = [
        _patch_due(garden, index, dry, wet, losses[index])
        for index, patch in enumerate(garden.patches)
        if patch.in_ground <= today <= patch.last_pick
    ]
    beds = tuple(
        sorted(
            (_bed(code, [due for due in dues if due.bed_code == code], supply) for code in _codes(dues)),
            key=lambda bed: (not bed.due, bed.priority, bed.bed_code),
        )
    )
    notes = () if beds else ("Nothing is planted yet.",)
    return WaterToday(today, beds, sum(bed.water_l for bed in beds), rain_if_mm, notes)


@dataclass(frozen=True, slots=True, eq=False)
class _Ahead:
    """Mornings from today on if nothing is given; arrays (n_mornings, n_patches)."""

    due: BoolArray
    want_mm: FloatArray
    """Net water that would be put on."""
    want: Wanted


def _garden(
    patches: Sequence[WateredPatch], conditions: DailyConditions, waterings: Sequence[Watering], today: date
) -> _Garden | None:
    if not patches:
        return None
    now = int((np.datetime64(today) - conditions.dates[0]).astype(np.int64))
    if now < 0 or now + LOOK_AHEAD_DAYS > conditions.n_days:
        raise ValueError(
            f"conditions run from {conditions.dates[0]} to {conditions.dates[-1]};"
            f" they must cover {today} and {LOOK_AHEAD_DAYS} days from it"
        )
    stand = stand_of(patches, conditions)
    ground = ground_of(patches, stand)
    given = given_mm(patches, conditions, waterings)
    start = field_capacity((len(patches), 1))
    state = start
    if now > 0:
        state = run_days(
            ground,
            _cut(stand.canopy, slice(0, now)),
            start,
            rain_mm=_column(conditions.rain_mm[:now]),
            reference_et_mm=_column(conditions.reference_et_mm[:now]),
            irrigation_mm=given[:now],
        ).last
    # water given this morning is in the ground before anyone asks
    today_mm = given[now]
    state = WaterState(
        evaporated_mm=np.maximum(state.evaporated_mm - today_mm / ground.wetted_share, 0.0),
        depletion_mm=np.maximum(state.depletion_mm - today_mm, 0.0),
        below_mm=state.below_mm,
        wetted_share=np.where(today_mm > 0, ground.wetted_share, state.wetted_share),
    )
    return _Garden(tuple(patches), conditions, stand, ground, now, state, today_mm[:, 0])


def given_mm(
    patches: Sequence[WateredPatch], conditions: DailyConditions, waterings: Sequence[Watering]
) -> FloatArray:
    """Net depth given to each patch on each day, (n_days, n_patches, 1).

    Raises
    ------
    ValueError
        If a watering names no patch, is not a number of litres from 0, or stands twice.
    """
    index = {patch.code: k for k, patch in enumerate(patches)}
    depth = np.zeros((conditions.n_days, len(patches), 1))
    seen: set[tuple[date, str]] = set()
    for watering in waterings:
        if watering.patch_code not in index:
            raise ValueError(f"watering of {watering.day}: there is no planting {watering.patch_code}")
        if not (np.isfinite(watering.water_l) and watering.water_l >= 0):
            raise ValueError(f"watering of {watering.day}: got {watering.water_l} L; expected 0 L or more")
        if (watering.day, watering.patch_code) in seen:
            raise ValueError(f"watering of {watering.patch_code} on {watering.day} is given twice")
        seen.add((watering.day, watering.patch_code))
        day = int((np.datetime64(watering.day) - conditions.dates[0]).astype(np.int64))
        if 0 <= day < conditions.n_days:
            k = index[watering.patch_code]
            patch = patches[k]
            depth[day, k] = watering.water_l * patch.method.efficiency / patch.area_m2
    return depth


def _carry(garden: _Garden, rain_mm: FloatArray) -> WaterRun:
    """From this morning on, with nothing given."""
    ahead = slice(garden.now, None)
    return run_days(
        garden.ground,
        _cut(garden.stand.canopy, ahead),
        garden.state,
        rain_mm=_column(rain_mm),
        reference_et_mm=_column(garden.conditions.reference_et_mm[ahead]),
    )


def _ahead(garden: _Garden, rain_mm: FloatArray) -> _Ahead:
    run = _carry(garden, rain_mm)
    ahead = slice(garden.now, None)
    canopy = _cut(garden.stand.canopy, ahead)
    ground = garden.ground
    evenings = WaterState(
        evaporated_mm=np.concatenate([garden.state.evaporated_mm[None], run.evaporated_mm[:-1]]),
        depletion_mm=np.concatenate([garden.state.depletion_mm[None], run.depletion_mm[:-1]]),
        below_mm=np.concatenate([garden.state.below_mm[None], run.below_mm[:-1]]),
        wetted_share=np.concatenate([garden.state.wetted_share[None], run.wetted_share[:-1]]),
    )
    mornings = CanopyDay(
        kcb=canopy.kcb,
        kc_max=canopy.kc_max,
        covered_share=canopy.covered_share,
        available_mm=np.asarray(ground.available_mm_m * canopy.root_depth_m),
        root_share=np.zeros_like(canopy.root_depth_m),
    )
    want = wanted(ground, mornings, evenings, _column(garden.conditions.reference_et_mm[ahead]))
    growing, often = garden.stand.growing[ahead], garden.stand.little_and_often[ahead]
    deep, surface = growing & want.deep, growing & often & want.dry_surface
    depth = np.maximum(np.where(deep, want.deep_mm, 0.0), np.where(surface, want.surface_mm, 0.0))
    return _Ahead(due=(deep | surface)[..., 0], want_mm=depth[..., 0], want=want)


def _patch_due(garden: _Garden, index: int, dry: _Ahead, wet: _Ahead, loss_share: float | None) -> PatchDue:
    patch, today = garden.patches[index], garden.today
    stage = stage_on(patch, today)
    due = bool(dry.due[0, index])
    water_l = litres(float(dry.want_mm[0, index]), patch.area_m2) / patch.method.efficiency
    if patch.in_ground == today and garden.given_mm[index] <= 0:
        water_l = max(water_l, _watering_in_l(garden, index))
        due = water_l > 0
    missing = float(garden.state.depletion_mm[index, 0])
    threshold = float(dry.want.threshold_mm[0, index, 0])
    factor = yield_factor(patch.crop, stage_number(patch, today))
    return PatchDue(
        patch_code=patch.code,
        bed_code=patch.bed_code,
        crop=patch.crop.name,
        stage=stage,
        due=due,
        water_l=water_l if due else 0.0,
        water_mm=water_l / patch.area_m2 if due else 0.0,
        depletion_mm=missing,
        readily_available_mm=threshold,
        next_due=today if due else _first(dry.due[:, index], today),
        next_due_if_rain=_first(wet.due[1:, index], today + timedelta(days=1)),
        loss_pct=0.0 if loss_share is None else 100 * loss_share,
        priority=PRIORITY[stage],
        why=_why(patch, stage, due, missing, threshold),
        origins=(*patch_origins(patch), factor.origin, _PRIORITY_ORIGIN, *garden.conditions.origins),
    )


def _watering_in_l(garden: _Garden, index: int) -> float:
    """Water on planting day: seed wants a wet surface, young plants a cupful each besides."""
    patch = garden.patches[index]
    if patch.way != "sow":
        return watering_in_l(patch)
    surface_mm = float(garden.state.evaporated_mm[index, 0]) * patch.method.wetted_share
    return litres(surface_mm, patch.area_m2) / patch.method.efficiency


def _why(patch: WateredPatch, stage: WaterStage, due: bool, missing_mm: float, threshold_mm: float) -> str:
    young = {
        "seedbed": "The surface of a seedbed must not dry out.",
        "settling in": "Young plants have few roots yet; the surface must not dry out.",
    }
    state = (
        f"{_depth(missing_mm)} are missing from the root zone; growth suffers from {_depth(threshold_mm)} on."
    )
    if stage in young:
        return f"{young[stage]} {state}" if due else state
    if stage == "flowering and filling":
        name = patch.crop.name.capitalize()
        return f"{state} {name} is in full leaf, flowering or filling, and loses most now."
    return state


def _depth(depth_mm: float) -> str:
    """Both units, since the reader's are not known here."""
    return f"{depth_mm:.0f} mm ({mm_to_inches(depth_mm):.1f} in)"


def _losses(garden: _Garden, without: WaterRun) -> list[float | None]:
    """Share of the yield each patch loses in a week without water; None before it has taken root."""
    days = slice(0, WITHOUT_WATER_DAYS)
    lack_mm = (without.crop_et_mm[days] - without.actual_et_mm[days]).sum(axis=0)[:, 0]
    demand = (
        garden.stand.canopy.kcb[..., 0]
        * garden.conditions.reference_et_mm[:, None]
        * np.asarray(garden.ground.demand_factor)[:, 0]
    )
    result: list[float | None] = []
    for index, patch in enumerate(garden.patches):
        if (
            PRIORITY[stage_on(patch, garden.today)] == 1
            or not patch.in_ground <= garden.today <= patch.last_pick
        ):
            result.append(None)
            continue
        stage = stage_number(patch, garden.today)
        factor = yield_factor(patch.crop, stage)
        full_mm = _full_et_mm(garden, index, stage if factor.of_stage else None, demand[:, index])
        lack = min(float(lack_mm[index]), full_mm)
        result.append(yield_loss_share(factor.ky, full_mm - lack, full_mm))
    return result


def _full_et_mm(garden: _Garden, index: int, stage: int | None, demand_mm: FloatArray) -> float:
    """Water the crop would use over a stage, or over its whole season, were it short of nothing."""
    patch = garden.patches[index]
    ends = (0.0, *stage_ends(patch))
    low, high = (ends[0], ends[4]) if stage is None else (ends[stage], ends[stage + 1])
    number = (garden.conditions.dates - np.datetime64(patch.in_ground)).astype(np.int64) + 1
    inside = (number > low) & (number <= high)
    if not inside.any():
        return 0.0
    # days past the end of those at hand count as the mean of those that are
    return float(demand_mm[inside].mean() * (high - low))


def _bed(code: str, dues: Sequence[PatchDue], supply: WaterSupply) -> WateringDue:
    water_l = sum(due.water_l for due in dues)
    return WateringDue(
        bed_code=code,
        due=any(due.due for due in dues),
        water_l=water_l,
        tap_min=tap_minutes(water_l, supply),
        n_cans=cans(water_l, supply),
        next_due=_earliest([due.next_due for due in dues]),
        next_due_if_rain=_earliest([due.next_due_if_rain for due in dues]),
        patches=tuple(sorted(dues, key=lambda due: (not due.due, due.priority, due.patch_code))),
    )


def _codes(dues: Sequence[PatchDue]) -> list[str]:
    return sorted({due.bed_code for due in dues})


def _earliest(days: Sequence[date | None]) -> date | None:
    return min((day for day in days if day is not None), default=None)


def _first(due: BoolArray, start: date) -> date | None:
    found = np.flatnonzero(due[:LOOK_AHEAD_DAYS])
    return start + timedelta(days=int(found[0])) if found.size else None


def _cut(canopy: Canopy, days: slice) -> Canopy:
    return Canopy(
        canopy.kcb[days], canopy.kc_max[days], canopy.covered_share[days], canopy.root_depth_m[days]
    )


def _column(values: FloatArray) -> FloatArray:
    return values[:, None, None]
