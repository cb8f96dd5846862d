"""Daily light on beds, and what taller crops take from lower ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.sunlight import (
    PLANT_LIGHT_MOL_MJ,
    bed_daylight,
    bed_light,
    clear_light,
    planting_daylight_mol_m2,
    sun_among_crops_h,
)
from bedwright.model.ground import Rectangle
from bedwright.model.season import Planting
from tests.plans import big_plan
from tests.unit.engine.sunlight.gardens import SITE, bed, site_with, wall

CLEAR = clear_light(SITE.latitude_deg, SITE.elevation_m, [1.0] * 12)


def test_an_open_bed_gets_all_the_light_of_open_ground() -> None:
    (light,) = bed_daylight(SITE, [bed()], [CLEAR])
    open_mol = (np.array(CLEAR.direct_mj_m2) + np.array(CLEAR.diffuse_mj_m2)) * PLANT_LIGHT_MOL_MJ
    assert np.nanmean(light.light_mol_m2[0], axis=(1, 2)) == pytest.approx(open_mol, rel=1e-3)


def test_a_wall_takes_sky_from_the_ground_beside_it_even_where_it_takes_no_sun() -> None:
    # To the north of the bed: no shadow ever falls south in winter, but half the sky is hidden.
    behind = site_with(wall((-5.0, 1.3), (9.0, 1.3), height_m=3.0))
    beside = bed(outline=Rectangle(4.0, 1.2, 0.0, 1.2, 90.0))
    (open_light,), (light,) = (bed_daylight(site, [beside], [CLEAR]) for site in (SITE, behind))
    (open_sun,), (sun,) = (bed_light(site, [beside]) for site in (SITE, behind))
    assert sun.sun_h[11] == pytest.approx(open_sun.sun_h[11], abs=0.02)
    assert (light.light_mol_m2[0, 11] < open_light.light_mol_m2[0, 11]).all()


def test_a_slope_to_the_south_gets_more_light_in_winter_and_one_to_the_north_less() -> None:
    level, south, north = (
        float(np.nanmean(bed_daylight(site, [bed()], [CLEAR])[0].light_mol_m2[0, 0]))
        for site in (
            SITE,
            replace(SITE, slope_deg=10.0, aspect_deg=180.0),
            replace(SITE, slope_deg=10.0, aspect_deg=0.0),
        )
    )
    assert north < level < south


def test_sun_observed_on_a_bed_counts_for_its_daily_light() -> None:
    (computed,), (observed,) = (
        bed_daylight(SITE, [each], [CLEAR]) for each in (bed(), replace(bed(), sun_h=8.15))
    )
    (hours,) = bed_light(SITE, [bed()])
    lost = 1 - 8.15 / float(np.nanmean(hours.sun_h[5]))
    direct_mol = CLEAR.direct_mj_m2[5] * PLANT_LIGHT_MOL_MJ
    difference = np.nanmean(computed.light_mol_m2[0, 5] - observed.light_mol_m2[0, 5])
    assert difference == pytest.approx(lost * direct_mol, rel=0.01)


def stand(code: str, of: Planting, along_m: tuple[float, float], height_m: float) -> Planting:
    return replace(
        of,
        code=code,
        bed_code="A",
        along_m=along_m,
        across_m=(0.0, 1.2),
        crop=replace(of.crop, height_m=height_m, water=None),
        dates=replace(
            of.dates,
            in_ground=date(2027, 4, 1),
            emerges=None,
            first_pick=date(2027, 6, 1),
            clear_by=date(2027, 9, 30),
        ),
        way="raise",
    )


def test_a_tall_crop_takes_sun_from_a_low_one_and_not_the_other_way_round() -> None:
    of = big_plan().plantings[0]
    beans, lettuce = stand("beans", of, (0.0, 2.0), 2.2), stand("lettuce", of, (2.0, 4.0), 0.3)
    found = sun_among_crops_h(SITE, [bed("A")], [beans, lettuce])
    alone_h, among_h = found["lettuce"]
    assert among_h < alone_h - 0.5
    assert found["beans"][0] == pytest.approx(found["beans"][1])
    assert sun_among_crops_h(SITE, [bed("A")], []) == {}


def test_light_over_its_own_weeks_lies_between_that_of_its_months() -> None:
    (light,) = bed_daylight(SITE, [bed("A")], [CLEAR])
    planting = stand("p", big_plan().plantings[0], (0.5, 3.0), 0.5)
    months = np.nanmean(light.light_mol_m2[0], axis=(1, 2))[3:9]
    (mol,) = planting_daylight_mol_m2(light, planting)
    assert months.min() < mol < months.max()
    outside = replace(planting, along_m=(8.0, 9.0))
    assert np.isnan(planting_daylight_mol_m2(light, outside)).all()
