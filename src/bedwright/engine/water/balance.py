"""The daily balance of surface layer, root zone and soil below, all lanes at once.

A lane is one patch in one year. Every array of lanes broadcasts to one shape, such as
(n_patches, n_years); series of days have the days first, so that a day is one block of memory.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from bedwright.engine.water.coefficients import (
    SIGNIFICANT_RAIN_MM,
    Number,
    depletion_fraction,
    evaporation_coefficient,
    evaporation_reduction,
    exposed_wetted_share,
    stress_coefficient,
)
from bedwright.model.weather import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What does not change from day to day, per lane."""

    available_mm_m: Number
    """Available water per metre of soil."""
    readily_evaporable_mm: Number
    total_evaporable_mm: Number
    depletion_fraction: Number
    """Of Table 22."""
    wetted_share: Number = 1.0
    """By watering; rain wets all."""
    under_leaves: Number = 0.0
    """1 where water is let out beneath the plants."""
    evaporation_factor: Number = 1.0
    """Share of evaporation that a mulch lets through."""
    demand_factor: Number = 1.0
    """Share of reference evapotranspiration that is left in shade."""
    runoff_share: Number = 0.0
    """Of the rain. 0 by FAO-56 p. 153, and since beds are level and their sides hold water."""
    deepest_root_m: Number = 0.0
    """Depth followed below the root zone; 0: the deepest root of the canopy."""
    adjust_fraction: bool = True
    """False: the depletion fraction of Table 22 as it stands, whatever the demand."""


@dataclass(frozen=True, slots=True, eq=False)
class Canopy:
    """The crop from day to day; arrays broadcast to (n_days, *lanes)."""

    kcb: FloatArray
    kc_max: FloatArray
    covered_share: FloatArray
    root_depth_m: FloatArray
    """Above 0; never less than on the day before."""


@dataclass(frozen=True, slots=True, eq=False)
class WaterState:
    """Water missing at the end of a day, per lane."""

    evaporated_mm: FloatArray
    """From the exposed and wetted surface layer, as a depth over that share."""
    depletion_mm: FloatArray
    """From the root zone."""
    below_mm: FloatArray
    """From the soil between the roots and the deepest root to come."""
    wetted_share: FloatArray
    """Share of the ground the last wetting wetted."""


@dataclass(frozen=True, slots=True, eq=False)
class Flows:
    """What moved on one day, as depths over the patch, per lane."""

    evaporation_mm: FloatArray
    transpiration_mm: FloatArray
    crop_et_mm: FloatArray
    """Evapotranspiration had the roots been short of nothing."""
    runoff_mm: FloatArray
    percolation_mm: FloatArray
    """Out of the bottom of the soil followed."""
    stress: FloatArray
    """Ks."""


@dataclass(frozen=True, slots=True, eq=False)
class CanopyDay:
    """One day of a canopy, with the water its roots reach, per lane."""

    kcb: Number
    kc_max: Number
    covered_share: Number
    available_mm: FloatArray
    """In the root zone."""
    root_share: FloatArray
    """Share of the soil below that the roots grow into today."""


def field_capacity(lanes: tuple[int, ...]) -> WaterState:
    """State of lanes after soaking rain: nothing missing anywhere."""
    return WaterState(np.zeros(lanes), np.zeros(lanes), np.zeros(lanes), np.ones(lanes))


def advance_day(
    ground: Ground,
    day: CanopyDay,
    state: WaterState,
    *,
    rain_mm: Number,
    reference_et_mm: Number,
    irrigation_mm: Number,
    early: bool,
) -> tuple[WaterState, Flows]:
    """Carry every lane over one day.

    Parameters
    ----------
    ground, day, state
        Lanes, their canopy today, and their state at the end of yesterday.
    rain_mm, reference_et_mm : lanes
        Of the day. [mm], not negative
    irrigation_mm : lanes
        Net depth over the whole patch. [mm], not negative
    early : bool
        True: rain and water come before the day's evaporation, which then starts from a wet soil
        (FAO-56 Examples 35 and 38, Annex 8). False: they come after it (Eqs. 74 and 84 as
        printed, with the depletion of yesterday evening).

    Returns
    -------
    tuple
        State at the end of the day, and what moved.

    Source
    ------
    FAO56 Eqs. 71, 74, 75, 77 to 80, 84 to 86 and 88; the wetted share by the rules of p. 149.

    Limits
    ------
    Capillary rise is left out. Two cuts keep the balance closed where FAO-56 only bounds the
    depletions (Eqs. 78 and 86): the surface layer gives no more than it holds, and neither
    evaporation nor roots go past the wilting point of the root zone.
    """
    reference_et_mm = np.asarray(reference_et_mm * ground.demand_factor)
    runoff = np.asarray(ground.runoff_share * np.asarray(rain_mm))
    soaked = rain_mm - runoff
    watered = np.asarray(irrigation_mm) > 0
    wetted = np.where(
        watered, ground.wetted_share, np.where(rain_mm >= SIGNIFICANT_RAIN_MM, 1.0, state.wetted_share)
    )
    exposed = exposed_wetted_share(day.covered_share, wetted, ground.under_leaves)

    # surface layer
    after_wetting = np.maximum(state.evaporated_mm - soaked - irrigation_mm / ground.wetted_share, 0.0)
    judged = after_wetting if early else state.evaporated_mm
    kr = evaporation_reduction(judged, ground.readily_evaporable_mm, ground.total_evaporable_mm)
    ke = evaporation_coefficient(kr, day.kc_max, day.kcb, exposed) * ground.evaporation_factor
    evaporation = np.minimum(ke * reference_et_mm, exposed * (ground.total_evaporable_mm - after_wetting))

    # root zone, with what it grows into
    grown = state.below_mm * day.root_share
    depletion, below = state.depletion_mm + grown, state.below_mm - grown
    supply = soaked + irrigation_mm
    demand = day.kcb * reference_et_mm
    fraction = ground.depletion_fraction
    if ground.adjust_fraction:
        fraction = depletion_fraction(fraction, demand + evaporation)
    wet = np.maximum(depletion - supply, 0.0) if early else depletion
    stress = stress_coefficient(wet, day.available_mm, fraction)
    transpiration = stress * demand
    if early:
        drained = np.maximum(supply - depletion, 0.0)
        depletion = wet + evaporation + transpiration
    else:
        depletion = depletion - supply + evaporation + transpiration
        drained = np.maximum(-depletion, 0.0)
        depletion = depletion + drained
    too_much = np.maximum(depletion - day.available_mm, 0.0)
    cut = np.minimum(evaporation, too_much)
    evaporation = evaporation - cut
    transpiration = transpiration - (too_much - cut)
    below = below - drained
    percolation = np.maximum(-below, 0.0)
    return (
        WaterState(
            evaporated_mm=after_wetting + evaporation / exposed,
            depletion_mm=depletion - too_much,
            below_mm=below + percolation,
            wetted_share=wetted,
        ),
        Flows(
            evaporation_mm=evaporation,
            transpiration_mm=transpiration,
            crop_et_mm=demand + evaporation,
            runoff_mm=runoff,
            percolation_mm=percolation,
            stress=stress,
        ),
    )


@dataclass(frozen=True, slots=True, eq=False)
class WateringRule:
    """When water is put on in a run, and how much; arrays broadcast to (n_days, *lanes).

    Established crops are watered on the first permitted morning on which the readily available water
    is gone, and the root zone is refilled to `leave_mm`. Seedbeds and young plants are watered when
    the surface has lost its readily evaporable water, and the surface layer is refilled.
    """

    growing: BoolArray
    """Days on which the patch may be watered at all."""
    little_and_often: BoolArray
    """Days on which the surface must stay moist."""
    permitted: BoolArray
    """Mornings on which someone waters."""
    leave_mm: Number = 0.0
    """Left empty for rain to come."""


@dataclass(frozen=True, slots=True, eq=False)
class WaterRun:
    """Days of all lanes; arrays of shape (n_days, *lanes), in mm."""

    irrigation_mm: FloatArray
    evaporation_mm: FloatArray
    transpiration_mm: FloatArray
    crop_et_mm: FloatArray
    percolation_mm: FloatArray
    runoff_mm: FloatArray
    depletion_mm: FloatArray
    """Missing from the root zone at the end of the day."""
    below_mm: FloatArray
    """Missing from the soil below the roots at the end of the day."""
    evaporated_mm: FloatArray
    """Missing from the surface layer at the end of the day."""
    wetted_share: FloatArray
    """Share of the ground the last wetting wetted."""
    stress: FloatArray
    last: WaterState

    @property
    def actual_et_mm(self) -> FloatArray:
        """Evaporation and transpiration of each day."""
        return self.evaporation_mm + self.transpiration_mm


def run_days(
    ground: Ground,
    canopy: Canopy,
    start: WaterState,
    *,
    rain_mm: FloatArray,
    reference_et_mm: FloatArray,
    irrigation_mm: FloatArray | None = None,
    rule: WateringRule | None = None,
    early: bool = True,
) -> WaterRun:
    """Carry every lane through all days.

    Parameters
    ----------
    ground, canopy, start
        Lanes, their canopy, and their state on the evening before the first day.
    rain_mm, reference_et_mm : broadcasts to (n_days, *lanes)
        Not negative. [mm/day]
    irrigation_mm : broadcasts to (n_days, *lanes), or None
        Net water given. [mm/day], not negative
    rule : WateringRule or None
        Adds water of its own where the rule asks for it on days without given water.
    early : bool
        See `advance_day`.

    Returns
    -------
    WaterRun
        Of the shape of `start`.

    Raises
    ------
    ValueError
        If rain, evapotranspiration or water given is negative or not a number, or the total
        evaporable water does not exceed the readily evaporable.
    """
    _refuse_impossible(ground, rain_mm, reference_et_mm, irrigation_mm)
    lanes = start.depletion_mm.shape
    n_days = canopy.kcb.shape[0]
    season = _Season(ground, canopy)
    kept = {name: np.empty((n_days, *lanes)) for name in ("irrigation_mm", *_FLOWS_KEPT, *_STATES_KEPT)}
    state = start
    for index in range(n_days):
        day = season.day(index)
        water: Number = 0.0 if irrigation_mm is None else irrigation_mm[index]
        if rule is not None:
            water = water + _asked_mm(rule, index, ground, day, state, reference_et_mm[index])
        state, flows = advance_day(
            ground,
            day,
            state,
            rain_mm=rain_mm[index],
            reference_et_mm=reference_et_mm[index],
            irrigation_mm=water,
            early=early,
        )
        kept["irrigation_mm"][index] = water
        for name in _FLOWS_KEPT:
            kept[name][index] = getattr(flows, name)
        for name in _STATES_KEPT:
            kept[name][index] = getattr(state, name)
    return WaterRun(**kept, last=_full_shape(state, lanes))


_FLOWS_KEPT = (
    "evaporation_mm", "transpiration_mm", "crop_et_mm", "percolation_mm", "runoff_mm", "stress",
)  # fmt: skip
_STATES_KEPT = ("depletion_mm", "below_mm", "evaporated_mm", "wetted_share")


@dataclass(frozen=True, slots=True, eq=False)
class Wanted:
    """What lanes want on a morning."""

    threshold_mm: FloatArray
    """Missing water at which the readily available is gone."""
    deep: BoolArray
    """The root zone is down to it."""
    dry_surface: BoolArray
    """The surface layer has lost its readily evaporable water."""
    deep_mm: FloatArray
    """Net water that refills the root zone."""
    surface_mm: FloatArray
    """Net water that refills the surface layer."""


def wanted(
    ground: Ground,
    day: CanopyDay,
    state: WaterState,
    reference_et_mm: Number,
    *,
    leave_mm: Number = 0.0,
) -> Wanted:
    """What lanes want on a morning, from what was missing the evening before.

    Parameters
    ----------
    ground : Ground
        Lanes.
    day : CanopyDay
        Canopy of the day; may carry leading days, as long as `state` and demand do.
    state : WaterState
        Of the evening before. [mm]
    reference_et_mm : lanes
        Of the day. [mm]
    leave_mm : lanes
        To leave empty for rain. [mm]

    Returns
    -------
    Wanted
        Thresholds and net depths over the whole patch.

    Source
    ------
    Root zone: FAO56 p. 171, water when the readily available water is used up, and no more than
    refills the root zone. Surface layer: own rule, since FAO56 p. 145 calls a surface that has lost
    its readily evaporable water visibly dry.
    """
    fraction = ground.depletion_fraction
    if ground.adjust_fraction:
        exposed = exposed_wetted_share(day.covered_share, state.wetted_share, ground.under_leaves)
        kr = evaporation_reduction(
            state.evaporated_mm, ground.readily_evaporable_mm, ground.total_evaporable_mm
        )
        ke = evaporation_coefficient(kr, day.kc_max, day.kcb, exposed) * ground.evaporation_factor
        fraction = depletion_fraction(fraction, (day.kcb + ke) * reference_et_mm * ground.demand_factor)
    threshold = np.asarray(fraction * day.available_mm)
    return Wanted(
        threshold_mm=threshold,
        deep=state.depletion_mm >= threshold,
        dry_surface=state.evaporated_mm >= ground.readily_evaporable_mm,
        deep_mm=np.maximum(state.depletion_mm - leave_mm, 0.0),
        surface_mm=np.asarray(state.evaporated_mm * ground.wetted_share),
    )


def _asked_mm(
    rule: WateringRule,
    index: int,
    ground: Ground,
    day: CanopyDay,
    state: WaterState,
    reference_et_mm: FloatArray,
) -> FloatArray:
    """Net water the rule asks for this morning."""
    want = wanted(ground, day, state, reference_et_mm, leave_mm=rule.leave_mm)
    permitted = rule.growing[index] & rule.permitted[index]
    often = permitted & rule.little_and_often[index]
    deep_mm = np.where(permitted & want.deep, want.deep_mm, 0.0)
    return np.maximum(deep_mm, np.where(often & want.dry_surface, want.surface_mm, 0.0))


class _Season:
    """The canopy with the soil its roots reach, day by day."""

    def __init__(self, ground: Ground, canopy: Canopy) -> None:
        depth = canopy.root_depth_m
        deepest = np.maximum(ground.deepest_root_m, depth[-1])
        self._canopy = canopy
        self._available = np.asarray(ground.available_mm_m * depth)
        below = ground.available_mm_m * (deepest - depth)
        before = np.concatenate([below[:1], below[:-1]])
        empty = before <= 0
        self._root_share = np.where(empty, 0.0, 1 - below / np.where(empty, 1.0, before))

    def day(self, index: int) -> CanopyDay:
        canopy = self._canopy
        return CanopyDay(
            kcb=canopy.kcb[index],
            kc_max=canopy.kc_max[index],
            covered_share=canopy.covered_share[index],
            available_mm=self._available[index],
            root_share=self._root_share[index],
        )


def _full_shape(state: WaterState, lanes: tuple[int, ...]) -> WaterState:
    return replace(
        state,
        evaporated_mm=np.broadcast_to(state.evaporated_mm, lanes).copy(),
        wetted_share=np.broadcast_to(state.wetted_share, lanes).copy(),
    )


def _refuse_impossible(
    ground: Ground, rain_mm: FloatArray, reference_et_mm: FloatArray, irrigation_mm: FloatArray | None
) -> None:
    for name, values in (
        ("rain_mm", rain_mm),
        ("reference_et_mm", reference_et_mm),
        ("irrigation_mm", irrigation_mm),
    ):
        if values is not None and not (np.min(values, initial=0.0) >= 0 and np.isfinite(values).all()):
            raise ValueError(f"{name} must be a number of mm, not negative, on every day")
    if not np.all(np.asarray(ground.total_evaporable_mm) > ground.readily_evaporable_mm):
        raise ValueError("total_evaporable_mm must exceed readily_evaporable_mm")
