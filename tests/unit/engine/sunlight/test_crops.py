"""Height and shade of crops."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from bedwright.engine.sunlight import bed_light, crop_height_m, crop_obstacles
from bedwright.model.crop import WaterFacts
from bedwright.model.ground import Rectangle
from tests.builders import tiny_crop
from tests.plantings import DATES, planting
from tests.unit.engine.sunlight.gardens import SITE, bed

STAGES = WaterFacts(0.3, 1.0, 0.9, 0.15, 0.95, 0.85, 0.5, 0.8, stage_days=(20.0, 30.0, 30.0, 20.0))
TALL = replace(tiny_crop("sweetcorn"), height_m=2.0)
IN_STAGES = replace(TALL, water=STAGES)
N_DAYS = (DATES.clear_by - DATES.in_ground).days


def test_a_set_out_crop_without_stages_grows_evenly_up_to_its_first_picking() -> None:
    plants = planting(crop=replace(TALL, water=None), way="buy")
    assert crop_height_m(plants, DATES.in_ground) == pytest.approx(0.2)
    assert crop_height_m(plants, DATES.first_pick) == pytest.approx(2.0)
    half_way = DATES.in_ground + (DATES.first_pick - DATES.in_ground) / 2
    assert crop_height_m(plants, half_way) == pytest.approx(1.1)


def test_with_stages_height_stands_still_at_both_ends_of_development() -> None:
    plants = planting(crop=IN_STAGES, way="buy")
    heights_m = [
        crop_height_m(plants, DATES.in_ground + timedelta(days=round(N_DAYS * share)))
        for share in (0.0, 0.19, 0.35, 0.51, 1.0)
    ]
    assert heights_m[0] == heights_m[1] == pytest.approx(0.2)
    assert heights_m[2] == pytest.approx(1.1, abs=0.05)
    assert heights_m[3] == heights_m[4] == pytest.approx(2.0)


def test_a_sown_crop_has_no_height_before_it_is_up_nor_any_after_it_is_cleared() -> None:
    plants = planting(crop=TALL)
    assert DATES.emerges is not None
    assert crop_height_m(plants, DATES.emerges - timedelta(days=1)) == 0
    assert crop_height_m(plants, DATES.emerges) > 0
    assert crop_height_m(plants, DATES.clear_by) == pytest.approx(2.0)
    assert crop_height_m(plants, DATES.clear_by + timedelta(days=1)) == 0


def test_a_crop_stands_on_the_soil_of_a_raised_bed_over_its_own_ground() -> None:
    raised = bed(outline=Rectangle(4.0, 1.2, 10.0, 5.0, 90.0), raised_m=0.5)
    plants = replace(planting(crop=TALL), along_m=(1.0, 3.0), across_m=(0.0, 0.6))
    (body,) = crop_obstacles([plants], [raised], DATES.clear_by)
    easts_m, norths_m = np.array(body.outline_m).T
    # The line runs east from the peg at (10, 5); across is to the right of it, south.
    assert (easts_m.min(), easts_m.max()) == pytest.approx((11.0, 13.0))
    assert (norths_m.min(), norths_m.max()) == pytest.approx((4.4, 5.0))
    assert body.top_m == pytest.approx(2.5)
    assert body.name == plants.code


def test_seedlings_lower_than_five_centimetres_cast_no_shade() -> None:
    low = planting(crop=replace(TALL, height_m=0.3))
    assert DATES.emerges is not None
    assert crop_obstacles([low], [bed()], DATES.emerges) == ()


def test_tall_plants_to_the_south_shade_the_bed_behind_them() -> None:
    front = bed("B", outline=Rectangle(4.0, 0.8, -1.5, -0.3, 90.0))
    plants = replace(planting(crop=TALL, bed_code="B"), along_m=(0.0, 4.0), across_m=(0.0, 0.8))
    bodies = crop_obstacles([plants], [front], date(2027, 8, 1))
    (shaded,) = bed_light(SITE, [bed()], also=bodies)
    (open_light,) = bed_light(SITE, [bed()])
    assert np.nanmean(shaded.sun_h[8]) < np.nanmean(open_light.sun_h[8]) - 1


def test_a_planting_in_a_bed_that_is_not_there_is_an_error() -> None:
    with pytest.raises(KeyError):
        crop_obstacles([planting(crop=TALL, bed_code="Z")], [bed()], DATES.clear_by)
