from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.water.balance import (
    Canopy,
    Ground,
    WateringRule,
    WaterRun,
    WaterState,
    field_capacity,
    run_days,
)

LOAM = Ground(
    available_mm_m=130.0, readily_evaporable_mm=9.0, total_evaporable_mm=19.0, depletion_fraction=0.4
)


def canopy(n_days: int, kcb: float = 1.0, covered: float = 0.99, roots_m: float = 0.5) -> Canopy:
    ones = np.ones((n_days, 1))
    return Canopy(kcb * ones, max(1.2, kcb + 0.05) * ones, covered * ones, roots_m * ones)


def run(
    n_days: int = 10, ground: Ground | None = None, plants: Canopy | None = None, **series: float
) -> WaterRun:
    return run_days(
        ground or LOAM,
        plants or canopy(n_days),
        field_capacity((1,)),
        rain_mm=np.full((n_days, 1), series.get("rain_mm", 0.0)),
        reference_et_mm=np.full((n_days, 1), series.get("et_mm", 5.0)),
        irrigation_mm=np.full((n_days, 1), series.get("irrigation_mm", 0.0)),
    )


def test_a_crop_under_full_leaf_empties_the_root_zone_by_its_demand() -> None:
    dry = run(4)
    assert dry.transpiration_mm[:, 0] == pytest.approx([5, 5, 5, 5])


def test_rain_beyond_what_is_missing_runs_out_at_the_bottom() -> None:
    wet = run(3, rain_mm=50)
    assert wet.percolation_mm[0, 0] == pytest.approx(50)
    assert wet.percolation_mm[1, 0] == pytest.approx(50 - wet.actual_et_mm[0, 0])


def test_soil_that_is_dry_below_takes_up_what_runs_out_of_the_root_zone() -> None:
    start = WaterState(np.zeros(1), np.zeros(1), np.full(1, 30.0), np.ones(1))
    ground = Ground(130.0, 9.0, 19.0, 0.4, deepest_root_m=1.0)
    result = run_days(
        ground,
        canopy(2),
        start,
        rain_mm=np.array([[20.0], [20.0]]),
        reference_et_mm=np.zeros((2, 1)),
    )
    assert result.percolation_mm[:, 0] == pytest.approx([0, 10])
    assert result.below_mm[:, 0] == pytest.approx([10, 0])


def test_roots_that_grow_into_dry_soil_find_it_dry() -> None:
    roots = np.array([[0.5], [0.75], [1.0]])
    plants = canopy(3)
    growing = Canopy(plants.kcb, plants.kc_max, plants.covered_share, roots)
    start = WaterState(np.zeros(1), np.zeros(1), np.full(1, 40.0), np.ones(1))
    result = run_days(LOAM, growing, start, rain_mm=np.zeros((3, 1)), reference_et_mm=np.zeros((3, 1)))
    assert result.depletion_mm[:, 0] == pytest.approx([0, 20, 40])
    assert result.below_mm[:, 0] == pytest.approx([40, 20, 0])


def test_mulch_cuts_evaporation_from_open_soil_in_half() -> None:
    bare = canopy(1, kcb=0.15, covered=0.0)
    open_soil = run(1, plants=bare)
    mulched = run(1, ground=Ground(130.0, 9.0, 19.0, 0.4, evaporation_factor=0.5), plants=bare)
    assert mulched.evaporation_mm[0, 0] == pytest.approx(open_soil.evaporation_mm[0, 0] / 2)


def test_shade_lowers_the_whole_demand() -> None:
    shaded = run(1, ground=Ground(130.0, 9.0, 19.0, 0.4, demand_factor=0.5))
    assert shaded.crop_et_mm[0, 0] == pytest.approx(run(1).crop_et_mm[0, 0] / 2)


def test_wetting_part_of_the_ground_saves_evaporation() -> None:
    bare = canopy(5, kcb=0.15, covered=0.1)
    start = WaterState(np.full(1, 19.0), np.full(1, 20.0), np.zeros(1), np.ones(1))

    def evaporated(share: float) -> float:
        ground = Ground(130.0, 9.0, 19.0, 0.4, wetted_share=share)
        water = np.zeros((5, 1))
        water[0] = 10.0
        zero = np.zeros((5, 1))
        return float(
            run_days(
                ground, bare, start, rain_mm=zero, reference_et_mm=zero + 5.0, irrigation_mm=water
            ).evaporation_mm.sum()
        )

    assert evaporated(0.3) < evaporated(1.0)


def test_the_rule_waters_when_the_readily_available_water_is_gone_and_fills_up() -> None:
    yes = np.ones((30, 1), dtype=np.bool_)
    result = run_days(
        LOAM,
        canopy(30),
        field_capacity((1,)),
        rain_mm=np.zeros((30, 1)),
        reference_et_mm=np.full((30, 1), 5.0),
        rule=WateringRule(yes, ~yes, yes),
    )
    watered = np.flatnonzero(result.irrigation_mm[:, 0])
    assert watered.size > 0
    # TAW 65 mm, p 0.4 at 5 mm/day: 26 mm
    before = result.depletion_mm[watered - 1, 0]
    assert (before >= 26 - 1e-9).all()
    assert result.irrigation_mm[watered, 0] == pytest.approx(before)
    assert result.stress.min() == 1.0


def test_the_rule_leaves_room_for_rain_if_asked() -> None:
    yes = np.ones((12, 1), dtype=np.bool_)
    result = run_days(
        LOAM,
        canopy(12),
        field_capacity((1,)),
        rain_mm=np.zeros((12, 1)),
        reference_et_mm=np.full((12, 1), 5.0),
        rule=WateringRule(yes, ~yes, yes, leave_mm=10.0),
    )
    first = int(np.flatnonzero(result.irrigation_mm[:, 0])[0])
    assert result.irrigation_mm[first, 0] == pytest.approx(result.depletion_mm[first - 1, 0] - 10)


@pytest.mark.parametrize("series", ["rain_mm", "et_mm", "irrigation_mm"])
@pytest.mark.parametrize("value", [-0.1, float("nan")])
def test_negative_or_missing_amounts_are_refused(series: str, value: float) -> None:
    with pytest.raises(ValueError, match="must be a number of mm"):
        run(1, None, None, **{series: value})


def test_a_surface_layer_without_a_falling_stage_is_refused() -> None:
    with pytest.raises(ValueError, match="must exceed"):
        run(1, ground=Ground(130.0, 9.0, 9.0, 0.4))
