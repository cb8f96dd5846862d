"""What must hold of the water balance in any weather, on any soil, under any crop."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.engine.water.balance import Canopy, Ground, WateringRule, WaterState, run_days
from bedwright.engine.water.coefficients import covered_share, highest_coefficient, shade_factor
from bedwright.engine.water.soils import TABLE_19, soil_water
from bedwright.engine.water.tank import ROOF_YIELD_SHARE, run_tank
from bedwright.engine.water.yield_response import yield_loss_share
from bedwright.model.weather import FloatArray

N_LANES = 3


@dataclass
class Run:
    ground: Ground
    canopy: Canopy
    start: WaterState
    rain_mm: FloatArray
    reference_et_mm: FloatArray
    irrigation_mm: FloatArray
    rule: WateringRule | None
    early: bool


@st.composite
def runs(draw: st.DrawFn) -> Run:
    n_days = draw(st.integers(1, 40))
    random = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    soil = soil_water(draw(st.sampled_from(sorted(TABLE_19))))
    shape = (n_days, N_LANES)
    kcb = random.uniform(0, 1.3, shape)
    kc_max = highest_coefficient(kcb, random.uniform(0, 8, shape), random.uniform(5, 100, shape), 1.0)
    roots = np.maximum.accumulate(random.uniform(0.05, draw(st.floats(0.06, 1.5)), shape), axis=0)
    deepest = float(roots.max()) + draw(st.floats(0, 0.5))
    ground = Ground(
        available_mm_m=soil.available_mm_m,
        readily_evaporable_mm=soil.readily_evaporable_mm,
        total_evaporable_mm=soil.total_evaporable_mm,
        depletion_fraction=draw(st.floats(0.1, 0.7)),
        wetted_share=draw(st.floats(0.05, 1.0)),
        under_leaves=draw(st.sampled_from((0.0, 1.0))),
        evaporation_factor=draw(st.floats(0, 1)),
        demand_factor=draw(st.floats(0.3, 1)),
        runoff_share=draw(st.floats(0, 0.5)),
        deepest_root_m=deepest,
        adjust_fraction=draw(st.booleans()),
    )
    first = soil.available_mm_m * roots[0]
    start = WaterState(
        evaporated_mm=random.uniform(0, soil.total_evaporable_mm, N_LANES),
        depletion_mm=random.uniform(0, 1, N_LANES) * first,
        below_mm=random.uniform(0, 1, N_LANES) * (soil.available_mm_m * deepest - first),
        wetted_share=np.ones(N_LANES),
    )
    rule = None
    if draw(st.booleans()):
        yes = np.ones(shape, dtype=np.bool_)
        rule = WateringRule(yes, random.random(shape) < 0.3, random.random(shape) < 0.7)
    return Run(
        ground=ground,
        canopy=Canopy(kcb, kc_max, covered_share(kcb, kc_max, 1.0), roots),
        start=start,
        rain_mm=random.exponential(draw(st.floats(0.1, 40)), shape) * (random.random(shape) < 0.4),
        reference_et_mm=random.uniform(0, draw(st.floats(0.1, 14)), shape),
        irrigation_mm=random.exponential(20, shape) * (random.random(shape) < 0.1),
        rule=rule,
        early=draw(st.booleans()),
    )


@given(runs())
def test_the_balance_closes_every_day(case: Run) -> None:
    run = run_days(
        case.ground,
        case.canopy,
        case.start,
        rain_mm=case.rain_mm,
        reference_et_mm=case.reference_et_mm,
        irrigation_mm=case.irrigation_mm,
        rule=case.rule,
        early=case.early,
    )
    missing = run.depletion_mm + run.below_mm
    before = np.concatenate([(case.start.depletion_mm + case.start.below_mm)[None], missing[:-1]])
    gained = case.rain_mm + run.irrigation_mm - run.runoff_mm - run.percolation_mm - run.actual_et_mm
    assert np.abs(before - missing - gained).max() < 0.01
    # nothing runs uphill, and no layer holds more than it can
    for flow in (run.evaporation_mm, run.transpiration_mm, run.percolation_mm, run.runoff_mm):
        assert flow.min() >= -1e-9
    total = case.ground.available_mm_m * case.canopy.root_depth_m
    assert run.depletion_mm.min() >= -1e-9
    assert (run.depletion_mm <= total + 1e-6).all()
    assert run.below_mm.min() >= -1e-9
    assert run.evaporated_mm.min() >= -1e-9
    assert (run.evaporated_mm <= np.asarray(case.ground.total_evaporable_mm) + 1e-6).all()
    assert ((run.stress >= 0) & (run.stress <= 1)).all()
    assert (run.actual_et_mm <= run.crop_et_mm + 1e-6).all()


@given(runs())
def test_lanes_do_not_touch_each_other(case: Run) -> None:
    def lane(columns: slice) -> FloatArray:
        start = WaterState(
            case.start.evaporated_mm[columns],
            case.start.depletion_mm[columns],
            case.start.below_mm[columns],
            case.start.wetted_share[columns],
        )
        canopy = case.canopy
        return run_days(
            case.ground,
            Canopy(*(part[:, columns] for part in (
                canopy.kcb, canopy.kc_max, canopy.covered_share, canopy.root_depth_m,
            ))),
            start,
            rain_mm=case.rain_mm[:, columns],
            reference_et_mm=case.reference_et_mm[:, columns],
            irrigation_mm=case.irrigation_mm[:, columns],
            early=case.early,
        ).depletion_mm  # fmt: skip

    together = lane(slice(None))
    for index in range(N_LANES):
        assert (lane(slice(index, index + 1))[:, 0] == together[:, index]).all()


@given(runs(), st.integers(1, 39))
def test_stopping_and_going_on_changes_nothing(case: Run, cut: int) -> None:
    n_days = case.rain_mm.shape[0]
    cut = min(cut, n_days)

    def part(days: slice, start: WaterState) -> tuple[FloatArray, WaterState]:
        canopy = case.canopy
        run = run_days(
            case.ground,
            Canopy(
                canopy.kcb[days], canopy.kc_max[days], canopy.covered_share[days], canopy.root_depth_m[days]
            ),
            start,
            rain_mm=case.rain_mm[days],
            reference_et_mm=case.reference_et_mm[days],
            irrigation_mm=case.irrigation_mm[days],
            early=case.early,
        )
        return run.depletion_mm, run.last

    # without water missing below, roots growing across the cut bring none with them
    start = WaterState(
        case.start.evaporated_mm, case.start.depletion_mm, np.zeros(N_LANES), case.start.wetted_share
    )
    whole, _ = part(slice(None), start)
    first, state = part(slice(0, cut), start)
    assert (first == whole[:cut]).all()
    if cut < n_days:
        second, _ = part(slice(cut, None), state)
        assert second == pytest.approx(whole[cut:], abs=1e-9)


@given(
    st.integers(0, 2**32 - 1),
    st.floats(1, 5000),
    st.floats(0.1, 500),
    st.floats(0, 1),
)
def test_a_tank_neither_makes_nor_loses_water(seed: int, tank_l: float, roof_m2: float, full: float) -> None:
    random = np.random.default_rng(seed)
    rain = random.exponential(4, (60, 4)) * (random.random((60, 4)) < 0.4)
    needed = random.exponential(40, (60, 4)) * (random.random((60, 4)) < 0.5)
    run = run_tank(needed, rain, roof_area_m2=roof_m2, tank_l=tank_l, start_l=full * tank_l)
    caught = ROOF_YIELD_SHARE * roof_m2 * rain
    before = np.concatenate([np.full((1, 4), full * tank_l), run.stored_l[:-1]])
    kept = caught - run.given_l - run.overflow_l
    assert before + kept == pytest.approx(run.stored_l, abs=1e-6 * max(1.0, tank_l))
    assert (run.given_l <= needed + 1e-9).all()
    assert ((run.stored_l >= -1e-9) & (run.stored_l <= tank_l + 1e-9)).all()


@given(st.integers(0, 2**32 - 1), st.floats(1, 2000), st.floats(1.0, 3.0))
def test_a_larger_tank_never_gives_less(seed: int, tank_l: float, times: float) -> None:
    random = np.random.default_rng(seed)
    rain = random.exponential(4, (60, 4)) * (random.random((60, 4)) < 0.4)
    needed = random.exponential(40, (60, 4)) * (random.random((60, 4)) < 0.5)
    small = run_tank(needed, rain, roof_area_m2=10, tank_l=tank_l).given_l.sum(axis=0)
    large = run_tank(needed, rain, roof_area_m2=10, tank_l=tank_l * times).given_l.sum(axis=0)
    assert (large >= small - 1e-6).all()


@given(st.floats(0, 2), st.floats(0, 500), st.floats(0, 1))
def test_loss_of_yield_is_a_share_and_grows_with_what_is_missing(
    ky: float, full_mm: float, share: float
) -> None:
    loss = yield_loss_share(ky, share * full_mm, full_mm)
    assert 0 <= loss <= 1
    assert yield_loss_share(ky, 0, full_mm) >= loss - 1e-12
    assert yield_loss_share(ky, full_mm, full_mm) == pytest.approx(0, abs=1e-12)


@given(st.floats(0, 1), st.floats(0, 1))
def test_more_shade_never_raises_the_demand(one: float, other: float) -> None:
    low, high = sorted((one, other))
    assert shade_factor(low) <= shade_factor(high) + 1e-12
    assert 1 / 3 - 1e-9 <= shade_factor(low) <= 1 + 1e-9
