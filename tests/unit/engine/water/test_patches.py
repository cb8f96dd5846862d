from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.water import METHODS, patches_of, sun_share, watering_in_l
from bedwright.engine.water.methods import cans, litres, method_within_reach, tap_minutes
from bedwright.engine.water.yield_response import yield_factor, yield_loss_share
from bedwright.model.crop import WaterFacts
from bedwright.model.water import WaterSupply
from tests.builders import tiny_crop
from tests.plans import demo_plan
from tests.unit.engine.water.waterings import patch

FACTS = WaterFacts(0.6, 1.15, 0.8, 0.15, 1.1, 0.7, 0.4, 0.7, (20, 30, 40, 10))


def test_plantings_become_patches_with_their_ground_and_soil() -> None:
    plan = demo_plan()
    planted = [replace(p, crop=replace(p.crop, water=FACTS)) for p in plan.plantings]
    made = patches_of(planted, plan.book.beds, sun_shares={"A": 0.5}, mulch_cover_shares={"bean": 1.0})
    assert [each.code for each in made] == [p.code for p in planted]
    first = made[0]
    assert first.area_m2 == pytest.approx(2.4 * 1.2)
    assert first.sun_share == 0.5
    assert first.soil.texture == plan.book.bed("A").texture
    assert next(each for each in made if each.code == "bean").mulch_cover_share == 1.0


def test_plantings_without_water_facts_are_left_out() -> None:
    plan = demo_plan()
    assert patches_of(plan.plantings, plan.book.beds) == ()


def test_an_unknown_bed_or_an_impossible_share_is_refused() -> None:
    plan = demo_plan()
    planted = [replace(p, crop=replace(p.crop, water=FACTS)) for p in plan.plantings]
    with pytest.raises(ValueError, match="there is no bed"):
        patches_of(planted, [])
    with pytest.raises(ValueError, match=r"sun share of A: got 1\.5; expected 0 to 1"):
        patches_of(planted, plan.book.beds, sun_shares={"A": 1.5})


def test_what_reaches_a_bed_decides_how_it_is_watered() -> None:
    assert method_within_reach("hose") is METHODS["hose"]
    assert method_within_reach("can") is METHODS["can"]
    assert method_within_reach("none") is METHODS["can"]


def test_sun_is_compared_with_the_open_over_the_months_asked_for() -> None:
    bed, in_the_open = [0.0] * 5 + [4.0] * 7, [8.0] * 12
    assert sun_share(bed, in_the_open, [6, 7]) == 0.5
    assert sun_share(in_the_open, bed, [6, 7]) == 1.0
    with pytest.raises(ValueError, match="no sun in the open"):
        sun_share(bed, [0.0] * 12, [6])


def test_young_plants_want_a_cup_each_where_the_surface_wants_less() -> None:
    few, many = patch(way="buy", n_plants=4), patch(way="buy", n_plants=400)
    assert watering_in_l(few) == pytest.approx(9 * 4 / 0.85)
    assert watering_in_l(many) == pytest.approx(400 * 0.25 / 0.85)
    assert watering_in_l(patch(way="sow", n_plants=400)) == pytest.approx(9 * 4 / 0.85)


def test_litres_minutes_and_cans() -> None:
    supply = WaterSupply(15.0, 10.0)
    assert litres(9.2, 5.0) == pytest.approx(46)
    assert tap_minutes(45.0, supply) == 3.0
    assert cans(46.0, supply) == 5
    assert cans(40.02, supply) == 4
    assert cans(0.0, supply) == 0
    with pytest.raises(ValueError, match="can_l: got 0"):
        cans(10.0, WaterSupply(15.0, 0.0))


@pytest.mark.parametrize(
    ("crop", "family", "stage", "ky", "of_stage", "standing"),
    [
        ("tomato", "Solanaceae", 2, 1.1, True, "weak"),
        ("cabbage", "Brassicaceae", 2, 0.95, False, "read"),
        ("kale", "Brassicaceae", 1, 0.95, False, "derived"),
        ("basil", "Lamiaceae", 1, 1.0, False, "derived"),
    ],
)
def test_yield_answers_by_stage_by_crop_by_family_or_by_one(
    crop: str, family: str, stage: int, ky: float, of_stage: bool, standing: str
) -> None:
    factor = yield_factor(tiny_crop(crop, family), stage)
    assert (factor.ky, factor.of_stage, factor.origin.standing) == (ky, of_stage, standing)


def test_impossible_stages_and_amounts_are_refused() -> None:
    with pytest.raises(ValueError, match="stage is 0 to 3"):
        yield_factor(tiny_crop(), 4)
    with pytest.raises(ValueError, match="not within"):
        yield_loss_share(1.0, 5.0, 4.0)
    assert yield_loss_share(1.0, 0.0, 0.0) == 0.0


def test_dates_of_the_demo_plan_are_taken_over() -> None:
    plan = demo_plan()
    planting = replace(plan.plantings[0], crop=replace(plan.plantings[0].crop, water=FACTS))
    made = patches_of([planting], plan.book.beds)[0]
    assert isinstance(made.in_ground, date)
    assert made.last_pick == planting.dates.last_pick
