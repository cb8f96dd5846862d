"""Hours of sun on beds, on cases that can be checked by hand or by naive geometry."""

import sys
from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.sunlight import CELL_M, Slope, bed_light, bed_weeks, obstacles_of
from bedwright.model.book import Feature
from bedwright.model.ground import Circle, Polygon, Rectangle
from tests.unit.engine.sunlight.gardens import SITE, bed, naive_day_h, site_with, tree, wall


def test_an_open_bed_has_sun_from_rise_to_set() -> None:
    (light,) = bed_light(SITE, [bed()])
    # FAO-56 Eq. 34 for 52 N in mid June: 16.3 h; geometric horizon, so the same definition.
    assert float(np.nanmean(light.sun_h[5])) == pytest.approx(16.3, abs=0.15)
    assert float(np.nanmax(light.sun_h[5]) - np.nanmin(light.sun_h[5])) == 0


def test_a_wall_to_the_north_takes_only_morning_and_evening_sun_of_summer() -> None:
    wall = Feature("W", "wall", "wall", ((-50.0, 2.5), (50.0, 2.5)), height_m=3.0)
    (light,) = bed_light(site_with(wall), [bed()])
    (open_light,) = bed_light(SITE, [bed()])
    lost_h = open_light.sun_h - light.sun_h
    assert np.nanmax(lost_h[11]) == 0
    assert np.nanmin(lost_h[5]) > 3


def test_a_long_wall_to_the_south_hides_the_low_winter_sun_all_day() -> None:
    wall = Feature("W", "wall", "wall", ((-200.0, -1.0), (200.0, -1.0)), height_m=3.0)
    (light,) = bed_light(site_with(wall), [bed()])
    assert np.nanmax(light.sun_h[11]) < 0.2
    assert np.nanmin(light.sun_h[5]) > 5


def test_in_the_southern_hemisphere_the_wall_to_the_north_is_the_dark_one() -> None:
    wall = Feature("W", "wall", "wall", ((-200.0, 4.0), (200.0, 4.0)), height_m=3.0)
    (light,) = bed_light(site_with(wall, latitude_deg=-52.0), [bed()])
    assert np.nanmax(light.sun_h[5]) < 0.2


def test_a_high_crown_lets_the_low_sun_pass_beneath() -> None:
    low = Feature("T", "tree", "tree", ((0.5, -6.0),), height_m=8.0, radius_m=3.0, crown_base_m=0.0)
    high = Feature("T", "tree", "tree", ((0.5, -6.0),), height_m=8.0, radius_m=3.0, crown_base_m=5.0)
    (under_low,) = bed_light(site_with(low), [bed()])
    (under_high,) = bed_light(site_with(high), [bed()])
    assert np.nanmean(under_high.sun_h[11]) > np.nanmean(under_low.sun_h[11]) + 1


def test_a_leafless_tree_takes_part_of_the_sun_only() -> None:
    tree = Feature("T", "tree", "tree", ((0.5, -6.0),), height_m=8.0, radius_m=3.0, leafless_months=(12,))
    evergreen = Feature("T", "tree", "tree", ((0.5, -6.0),), height_m=8.0, radius_m=3.0)
    (bare,) = bed_light(site_with(tree), [bed()])
    (leafy,) = bed_light(site_with(evergreen), [bed()])
    assert np.nanmean(bare.sun_h[11]) > np.nanmean(leafy.sun_h[11])
    assert np.array_equal(bare.sun_h[5], leafy.sun_h[5], equal_nan=True)


def test_a_raised_bed_sees_over_a_low_fence() -> None:
    fence = Feature("F", "fence", "fence", ((-50.0, -0.5), (50.0, -0.5)), height_m=0.8)
    ground, raised = bed_light(site_with(fence), [bed("A"), bed("B", raised_m=0.8)])
    assert np.nanmean(raised.sun_h[11]) > np.nanmean(ground.sun_h[11])


def test_an_observation_sets_the_level_and_keeps_the_pattern() -> None:
    wall = Feature("W", "wall", "wall", ((-50.0, -1.0), (50.0, -1.0)), height_m=2.0)
    computed, observed = bed_light(site_with(wall), [bed("A"), bed("B", sun_h=5.0)])
    assert float(np.nanmean(observed.sun_h[5])) == pytest.approx(5.0)
    assert observed.observed
    ratio = observed.sun_h[4:7] / computed.sun_h[4:7]
    assert np.nanmax(ratio) == pytest.approx(np.nanmin(ratio))


def test_cells_outside_a_round_bed_are_not_counted() -> None:
    (light,) = bed_light(SITE, [bed(outline=Circle(1.0, 0.0, 0.0))])
    assert np.isnan(light.sun_h[0, 0, 0])
    assert np.isfinite(light.sun_h[0, 4, 4])


def test_flat_features_cast_no_shade() -> None:
    path = Feature("P", "path", "path", ((0.0, -1.0), (5.0, -1.0)), radius_m=0.5)
    assert obstacles_of([path]) == ()


def test_month_means_agree_with_a_ray_cast_on_every_third_day() -> None:
    house = Feature(
        "H", "building", "house", ((-6.0, -9.0), (4.0, -11.0), (6.0, -5.0), (-4.0, -3.0)), height_m=5.0
    )
    crown = Feature("T", "tree", "tree", ((6.0, 2.0),), height_m=6.0, radius_m=2.0, crown_base_m=2.0)
    site = site_with(house, crown)
    bodies = obstacles_of(site.features)
    (light,) = bed_light(site, [bed()])
    for month in (3, 6, 12):
        days = [date(2026, month, day) for day in range(2, 31, 3)]
        naive_h = np.mean([naive_day_h(bodies, (0.125, 0.125), day, 52.0, 6.0) for day in days])
        # Stated error of the light model for means of a month.
        assert float(light.sun_h[month - 1, 0, 0]) == pytest.approx(naive_h, abs=0.1)


def test_the_two_hemispheres_mirror_each_other() -> None:
    (north,) = bed_light(site_with(wall((-9.0, -1.0), (9.0, -1.0))), [bed()])
    mirrored = bed(outline=Rectangle(2.0, 1.0, 1.0, 0.0, 180.0))
    (south,) = bed_light(site_with(wall((-9.0, 1.0), (9.0, 1.0)), latitude_deg=-52.0), [mirrored])
    # Months round the solstices; round the equinoxes the sun moves on by 0.4 degrees a day, and the
    # seasons of the hemispheres differ by some days since the earth is fastest in January.
    for ours, theirs in ((5, 11), (11, 5)):
        assert float(north.sun_h[ours].mean()) == pytest.approx(float(south.sun_h[theirs].mean()), abs=0.1)


def test_beyond_the_polar_circle_winter_is_dark_and_summer_has_no_night() -> None:
    (light,) = bed_light(site_with(wall((-9.0, -1.0), (9.0, -1.0)), latitude_deg=78.0), [bed()])
    assert np.nanmax(light.sun_h[[0, 10, 11]]) == 0
    (open_light,) = bed_light(site_with(latitude_deg=78.0), [bed()])
    assert np.nanmin(open_light.sun_h[5]) == pytest.approx(24)
    assert np.isfinite(light.sun_h).all()


@pytest.mark.parametrize("latitude_deg", [-90.0, 0.0, 90.0])
def test_poles_and_equator_have_finite_hours(latitude_deg: float) -> None:
    (light,) = bed_light(site_with(tree((3.0, 3.0)), latitude_deg=latitude_deg), [bed()])
    assert np.isfinite(light.sun_h).all()
    assert light.sun_h.min() >= 0
    assert light.sun_h.max() <= 24


def test_at_the_equator_an_open_bed_has_twelve_hours_all_year() -> None:
    (light,) = bed_light(site_with(latitude_deg=0.0), [bed()])
    # Half a sample (3 min) at each end of the day.
    assert np.abs(light.sun_h - 12).max() < 0.06


def test_under_a_high_crown_only_the_low_sun_comes_in() -> None:
    (light,) = bed_light(site_with(tree((0.5, 1.0), base_m=3.0)), [bed()])
    # The edge of the crown is 3 m off and its base 3 m up: sun higher than about 45 degrees is cut off.
    bodies = obstacles_of([tree((0.5, 1.0), base_m=3.0)])
    naive_h = np.mean(
        [naive_day_h(bodies, (0.625, 1.125), date(2026, 6, day), 52.0, 6.0) for day in range(2, 31, 4)]
    )
    assert float(light.sun_h[5, 4, 2]) == pytest.approx(naive_h, abs=0.1)
    assert 0 < naive_h < 16


def test_a_bed_inside_a_building_is_dark() -> None:
    house = Feature("H", "building", "h", ((-5.0, -5.0), (5.0, -5.0), (5.0, 5.0), (-5.0, 5.0)), height_m=3.0)
    (light,) = bed_light(site_with(house), [bed()])
    assert np.nanmax(light.sun_h) == 0


def test_in_the_notch_of_an_angled_house_the_open_sides_let_the_sun_in() -> None:
    # An L round the north and east of the bed; its hull would cover the bed.
    house = Feature(
        "H",
        "building",
        "h",
        ((-4.0, 3.0), (3.0, 3.0), (3.0, -4.0), (6.0, -4.0), (6.0, 6.0), (-4.0, 6.0)),
        height_m=4.0,
    )
    (light,) = bed_light(site_with(house), [bed()])
    naive_h = np.mean(
        [
            naive_day_h(obstacles_of([house]), (0.125, 0.125), date(2026, 12, day), 52.0, 6.0)
            for day in range(2, 31, 4)
        ]
    )
    assert float(light.sun_h[11, 0, 0]) == pytest.approx(naive_h, abs=0.1)
    assert naive_h > 3


@pytest.mark.parametrize(
    "feature",
    [
        Feature("D", "building", "one line", ((0.0, -2.0), (4.0, -2.0), (2.0, -2.0)), height_m=3.0),
        Feature("D", "building", "one point", ((0.0, -2.0),), height_m=3.0),
        Feature("D", "fence", "one point", ((0.0, -2.0), (0.0, -2.0)), height_m=3.0),
        Feature("D", "tree", "no crown", ((0.0, -2.0),), height_m=3.0),
        Feature(
            "D", "tree", "crown upside down", ((0.0, -2.0),), height_m=3.0, radius_m=1.0, crown_base_m=4.0
        ),
    ],
    ids=lambda feature: str(feature.name),
)
def test_an_outline_without_a_body_casts_no_shade(feature: Feature) -> None:
    assert obstacles_of([feature]) == ()


def test_an_outline_that_crosses_itself_shades_with_both_its_parts() -> None:
    bow = Feature("X", "shed", "bow", ((-2.0, -3.0), (2.0, -1.0), (2.0, -3.0), (-2.0, -1.0)), height_m=3.0)
    assert len(obstacles_of([bow])) == 2
    (light,) = bed_light(site_with(bow), [bed()])
    (open_light,) = bed_light(SITE, [bed()])
    assert np.nanmean(light.sun_h[11]) < np.nanmean(open_light.sun_h[11])


def test_a_fence_that_closes_on_itself_keeps_its_inside_open() -> None:
    ring = ((-6.0, -6.0), (7.0, -6.0), (7.0, 8.0), (-6.0, 8.0), (-6.0, -6.0))
    (light,) = bed_light(site_with(Feature("F", "fence", "fence", ring, height_m=1.2)), [bed()])
    assert 10 < np.nanmin(light.sun_h[5]) < 16


def test_a_raised_bed_shades_its_neighbour() -> None:
    tall = bed("R", outline=Rectangle(2.0, 1.0, 0.0, -2.2, 0.0), raised_m=0.9)
    beside = bed_light(SITE, [bed(), tall])
    (alone,) = bed_light(SITE, [bed()])
    assert np.nanmean(beside[0].sun_h[11]) < np.nanmean(alone.sun_h[11]) - 0.3
    assert np.array_equal(beside[1].sun_h, bed_light(SITE, [tall])[0].sun_h)


def test_two_bare_crowns_in_line_let_through_the_product() -> None:
    one = site_with(tree((0.5, -6.0), leafless=(12,)))
    both = site_with(tree((0.5, -6.0), leafless=(12,)), tree((0.5, -6.0), leafless=(12,), code="U"))
    open_h, one_h, both_h = (
        float(np.nanmean(bed_light(site, [bed()])[0].sun_h[11])) for site in (SITE, one, both)
    )
    # 40 % taken by the first, 40 % of the rest by the second.
    assert open_h - both_h == pytest.approx((open_h - one_h) * (1 - 0.6**2) / 0.4, rel=1e-4)


def test_a_bare_hedge_with_a_corner_counts_once_where_its_arms_overlap() -> None:
    hedge = Feature(
        "H", "hedge", "h", ((-8.0, -1.0), (0.5, -2.0), (9.0, -1.0)), height_m=2.0, leafless_months=(12,)
    )
    raised = Feature(
        "H",
        "hedge",
        "h",
        ((-8.0, -1.0), (0.5, -2.0), (9.0, -1.0)),
        height_m=2.0,
        crown_base_m=0.01,
        leafless_months=(12,),
    )
    (standing,) = bed_light(site_with(hedge), [bed()])
    (lifted,) = bed_light(site_with(raised), [bed()])
    assert lifted.sun_h == pytest.approx(standing.sun_h, abs=0.05)


def test_ground_that_falls_to_the_north_loses_the_low_sun() -> None:
    (level,) = bed_light(SITE, [bed()])
    (north,) = bed_light(replace(SITE, slope_deg=20.0, aspect_deg=0.0), [bed()])
    # At 52 N the noon sun of mid December stands 14.7 degrees high, lower than the ground rises.
    assert np.nanmax(north.sun_h[11]) == 0
    assert np.nanmean(north.sun_h[2]) < np.nanmean(level.sun_h[2])


def test_a_house_uphill_stands_higher_than_on_level_ground() -> None:
    house = Feature(
        "H", "building", "h", ((-3.0, -9.0), (4.0, -9.0), (4.0, -6.0), (-3.0, -6.0)), height_m=2.5
    )
    (level,) = bed_light(site_with(house), [bed()])
    (downhill,) = bed_light(replace(site_with(house), slope_deg=8.0, aspect_deg=0.0), [bed()])
    assert np.nanmean(downhill.sun_h[1]) < np.nanmean(level.sun_h[1])


def test_a_slope_steeper_than_a_garden_is_refused() -> None:
    with pytest.raises(ValueError, match="0 to 45"):
        Slope(60.0, 0.0)


def test_weeks_of_a_month_average_to_the_month() -> None:
    features = (wall((-5.0, -1.0), (5.0, -1.0), height_m=1.5), tree((4.0, 1.0), leafless=(1, 2)))
    site = site_with(*features)
    (months,) = bed_light(site, [bed()])
    (weeks,) = bed_weeks(site, [bed()])
    # The first 12 weeks and 6 days are January to March: 90 days.
    days = np.array([7.0] * 12 + [6.0])
    of_weeks = np.tensordot(days, weeks.sun_h[:13], axes=1) / 90
    of_months = np.tensordot(np.array([31.0, 28.0, 31.0]), months.sun_h[:3], axes=1) / 90
    # The thirteenth week's last day is 1 April.
    assert of_weeks == pytest.approx(of_months, abs=0.02)


def test_an_observation_scales_the_weeks_as_it_scales_the_months() -> None:
    site = site_with(wall((-5.0, -1.0), (5.0, -1.0)))
    (months,) = bed_light(site, [bed(sun_h=5.0)])
    (weeks,) = bed_weeks(site, [bed(sun_h=5.0)])
    assert weeks.observed
    assert weeks.sun_h[22:26].mean() == pytest.approx(float(months.sun_h[5].mean()), abs=0.1)


def test_many_beds_worked_out_in_groups_come_out_as_each_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    site = site_with(tree((4.0, 1.0), base_m=2.0), wall((-5.0, -1.0), (5.0, -1.0)))
    beds = [bed(code, outline=Rectangle(2.0, 1.0, 2.0 * k, 0.0, 0.0)) for k, code in enumerate("ABC")]
    together = bed_light(site, beds)
    monkeypatch.setattr(sys.modules[bed_light.__module__], "MOST_CELLS_AT_ONCE", 1)
    for one, other in zip(together, bed_light(site, beds), strict=True):
        assert np.array_equal(one.sun_h, other.sun_h, equal_nan=True)


def test_no_beds_give_no_light() -> None:
    assert bed_light(SITE, []) == ()


def test_a_bed_smaller_than_a_cell_keeps_one() -> None:
    sliver = bed(outline=Polygon(((0.0, 0.0), (0.1, 0.0), (0.05, 0.1)), 0.0))
    (light,) = bed_light(SITE, [sliver])
    assert np.isfinite(light.sun_h[5]).sum() == 1
    assert light.cell_m == CELL_M
