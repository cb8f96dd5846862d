from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.water.stages import established_from, stage_ends, stage_number, stage_on, stand_of
from tests.unit.engine.water.waterings import PLANTED, START, day, patch, steady


def test_a_planting_as_long_as_the_table_keeps_its_stages() -> None:
    # 100 days from planting to last pick, stages of 20, 30, 40 and 10
    assert stage_ends(patch()) == (20, 50, 90, 100)


def test_a_longer_planting_stretches_all_stages_alike() -> None:
    ends = stage_ends(patch(first_pick=day(150), last_pick=day(199)))
    assert ends == (40, 100, 180, 200)


def test_the_initial_stage_waits_for_seedlings_to_show() -> None:
    ends = stage_ends(patch(emerges=day(29)))
    assert ends[0] == 30
    assert ends[1] == 60


def test_leaves_close_by_the_first_pick() -> None:
    ends = stage_ends(patch(first_pick=day(39)))
    assert ends[1] == 40
    assert ends == tuple(sorted(ends))


def test_stages_never_run_backwards_however_short_the_planting() -> None:
    ends = stage_ends(patch(emerges=day(1), first_pick=day(2), last_pick=day(2)))
    assert ends == tuple(sorted(ends))
    assert ends[3] == 3


def test_a_last_pick_before_planting_is_refused() -> None:
    with pytest.raises(ValueError, match="comes before"):
        stage_ends(patch(last_pick=day(-5)))


def test_a_crop_without_water_facts_is_refused() -> None:
    bare = patch()
    with pytest.raises(ValueError, match="nothing is known"):
        stage_ends(replace(bare, crop=replace(bare.crop, water=None)))


def test_no_patch_is_refused() -> None:
    with pytest.raises(ValueError, match="no planting"):
        stand_of([], steady())


def test_a_seedbed_is_one_until_two_weeks_after_seedlings_show() -> None:
    sown = patch()
    assert established_from(sown) == day(24)
    assert stage_on(sown, day(23)) == "seedbed"
    assert stage_on(sown, day(24)) == "growing"


def test_young_plants_settle_in_for_two_weeks() -> None:
    set_out = patch(way="buy", emerges=None)
    assert stage_on(set_out, day(13)) == "settling in"
    assert stage_on(set_out, day(14)) == "growing"


def test_stages_of_water_follow_the_four_of_the_table() -> None:
    planting = patch()
    assert [stage_number(planting, day(k)) for k in (0, 19, 20, 49, 50, 89, 90, 99)] == [
        0, 0, 1, 1, 2, 2, 3, 3,
    ]  # fmt: skip
    assert stage_on(planting, day(60)) == "flowering and filling"
    assert stage_on(planting, day(95)) == "ripening"


def test_the_ground_is_bare_before_planting_and_after_the_last_pick() -> None:
    stand = stand_of([patch()], steady())
    first = (PLANTED - START).days
    kcb = stand.canopy.kcb[:, 0, 0]
    assert (kcb[:first] == 0).all()
    assert kcb[first] == pytest.approx(0.15)
    assert kcb[first + 99] == pytest.approx(0.7)
    assert (kcb[first + 100 :] == 0).all()
    assert kcb.max() == pytest.approx(1.1)
    assert stand.growing[:, 0, 0].sum() == 100
    assert stand.little_and_often[:, 0, 0].sum() == 24


def test_roots_go_down_to_the_table_or_to_the_bottom_of_the_soil() -> None:
    deep, shallow, tray = patch(), patch(soil_depth_m=0.3), patch(soil_depth_m=0.1)
    depth = stand_of([deep, shallow, tray], steady()).canopy.root_depth_m[:, :, 0]
    assert depth[0] == pytest.approx([0.2, 0.2, 0.1])
    assert depth[-1] == pytest.approx([0.7, 0.3, 0.1])
    assert (np.diff(depth, axis=0) >= 0).all()


def test_a_mid_season_beyond_the_days_at_hand_takes_the_mean_of_all() -> None:
    late = patch(in_ground=day(500), emerges=None, first_pick=day(560), last_pick=day(599))
    assert np.isfinite(stand_of([late], steady()).canopy.kc_max).all()
