"""Sun and sky over a whole site, edits of it, and single days."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.sunlight import (
    Places,
    Slope,
    bed_light,
    day_sun_h,
    obstacles_of,
    site_light,
    survey_site,
)
from bedwright.model.book import Feature
from bedwright.model.ground import Rectangle
from tests.unit.engine.sunlight.gardens import SITE, at, bed, naive_day_h, site_with, tree, wall

BOX_M = (-3.0, -3.0, 5.0, 5.0)
HOUSE = Feature(
    "H", "building", "h", ((-9.0, -4.0), (-3.5, -4.0), (-3.5, 2.0), (-5.0, 2.0), (-5.0, -2.0)), height_m=4.0
)


def test_a_cell_of_the_site_has_the_sun_of_the_bed_there() -> None:
    site = site_with(HOUSE, tree((4.0, 7.0), base_m=1.5, leafless=(1, 12)))
    grid = site_light(site, [bed()], box_m=(0.0, 0.0, 1.0, 2.0))
    (light,) = bed_light(site, [bed()])
    # The bed's line runs north, so its cells are the grid's.
    assert np.allclose(grid.sun_h, light.sun_h, atol=1e-9)


def test_without_a_box_the_beds_and_two_metres_round_them_are_covered() -> None:
    light = site_light(SITE, [bed()], cell_m=0.5, months=(6,))
    assert (light.west_m, light.south_m) == (-2.0, -2.0)
    assert light.sun_h.shape == (1, 12, 10)
    assert light.months == (6,)


def test_open_ground_has_all_its_sun_and_sky() -> None:
    light = site_light(SITE, [], box_m=BOX_M, cell_m=1.0)
    assert light.sun_share == pytest.approx(1.0)
    assert light.sky_share == pytest.approx(1.0)


def test_a_long_wall_takes_half_its_cosine_from_the_sky() -> None:
    # Beside an endless wall that ends at the angle e, level ground sees (1 + cos e) / 2 of the sky.
    endless = wall((-900.0, -1.0), (900.0, -1.0), height_m=2.0)
    light = site_light(site_with(endless), [], box_m=(-0.05, -0.05, 0.05, 0.05), cell_m=0.1, months=(6,))
    # The face is 0.9 m away, the wall being 0.2 m thick.
    angle_rad = np.arctan2(2.0, 0.9)
    assert float(light.sky_share[0, 0, 0]) == pytest.approx((1 + np.cos(angle_rad)) / 2, abs=0.002)


def test_an_edit_gives_bit_for_bit_what_a_new_survey_gives() -> None:
    before = survey_site(site_with(HOUSE, tree((4.0, 7.0), base_m=1.5)), [bed()], box_m=BOX_M)
    moved = site_with(HOUSE, tree((5.0, 6.0), base_m=1.5))
    edited = survey_site(moved, [bed()], box_m=BOX_M, before=before)
    anew = survey_site(moved, [bed()], box_m=BOX_M)
    assert np.array_equal(edited.sun_h(), anew.sun_h())
    assert np.array_equal(edited.light().sky_share, anew.light().sky_share)


def test_an_edit_works_out_the_moved_body_only() -> None:
    before = survey_site(site_with(HOUSE, tree((4.0, 7.0))), [bed()], box_m=BOX_M)
    after = survey_site(site_with(HOUSE, tree((5.0, 7.0))), [bed()], box_m=BOX_M, before=before)
    (house,) = obstacles_of([HOUSE])
    assert after.skylines.by_obstacle[house] is before.skylines.by_obstacle[house]
    assert after.tables is before.tables
    assert len(before.skylines.by_obstacle) == len(after.skylines.by_obstacle) == 2


def test_other_ground_is_not_taken_for_the_same() -> None:
    before = survey_site(site_with(HOUSE), [bed()], box_m=BOX_M)
    sloping_site = replace(site_with(HOUSE), slope_deg=5.0, aspect_deg=0.0)
    sloping = survey_site(sloping_site, [bed()], box_m=BOX_M, before=before)
    north = survey_site(replace(site_with(HOUSE), latitude_deg=60.0), [bed()], box_m=BOX_M, before=before)
    assert not np.array_equal(sloping.sun_h(), before.sun_h())
    assert not np.array_equal(north.sun_h(), before.sun_h())


def test_soil_of_a_raised_bed_sees_over_its_own_sides() -> None:
    raised = bed("R", outline=Rectangle(2.0, 1.0, 0.0, 0.0, 0.0), raised_m=0.8)
    light = site_light(SITE, [raised], box_m=(-1.0, -1.0, 2.0, 3.0), months=(12,))
    on_soil = light.sun_h[0, 4:12, 4:8]
    assert float(np.ptp(on_soil)) == 0
    assert light.sun_h[0, 13, 5] < on_soil[0, 0]


def test_a_site_without_extent_and_one_too_large_are_refused() -> None:
    with pytest.raises(ValueError, match="no extent"):
        site_light(SITE, [])
    with pytest.raises(ValueError, match="at most"):
        site_light(SITE, [], box_m=(0.0, 0.0, 1000.0, 1000.0))
    with pytest.raises(ValueError, match="no cells"):
        site_light(SITE, [], box_m=(0.0, 0.0, 0.0, 10.0))


@pytest.mark.parametrize("latitude_deg", [52.0, 3.0, -35.0])
@pytest.mark.parametrize("day", [date(2026, 1, 14), date(2026, 3, 21), date(2026, 6, 20)])
def test_a_single_day_agrees_with_a_ray_cast(latitude_deg: float, day: date) -> None:
    bodies = obstacles_of(
        [HOUSE, tree((4.0, 6.0), base_m=1.5, leafless=(1,)), wall((-4.0, -2.0), (6.0, -2.0))]
    )
    place_m = (0.3, 0.2)
    ours_h = float(day_sun_h(bodies, at(place_m), day, latitude_deg, 0.0, step_min=6.0)[0])
    # The same moments are looked at, so only a ray within 0.03 degrees of an edge may differ: one look.
    assert ours_h == pytest.approx(naive_day_h(bodies, place_m, day, latitude_deg, 6.0), abs=0.1001)


def test_a_single_day_without_sun_has_none() -> None:
    assert float(day_sun_h([], at((0.0, 0.0)), date(2026, 12, 21), 80.0, 0.0)[0]) == 0


def test_a_single_day_on_ground_that_falls_away_from_the_sun_is_shorter() -> None:
    level = at((0.0, 0.0))
    north_facing = Places(level.places_m, level.eye_m, Slope(10.0, 0.0))
    day = date(2026, 12, 21)
    assert day_sun_h([], north_facing, day, 52.0, 0.0)[0] < day_sun_h([], level, day, 52.0, 0.0)[0]
