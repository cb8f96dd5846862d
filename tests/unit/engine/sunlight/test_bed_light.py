"""Hours of sun on beds, on cases that can be checked by hand or by naive geometry."""

from datetime import date

import numpy as np
import pytest
from shapely.geometry import LineString, Polygon

from bedwright.engine.sunlight import bed_light, obstacles_of, sun_day
from bedwright.model.book import Bed, Feature, Site
from bedwright.model.ground import Circle, Rectangle

SITE = Site("Test ground", 52.0, 0.0, 20.0, "UTC")


def bed(code: str = "A", **changes: object) -> Bed:
    settings: dict[str, object] = {
        "code": code,
        "name": "",
        "outline": Rectangle(2.0, 1.0, 0.0, 0.0, 0.0),
        "texture": "loam",
    }
    return Bed(**(settings | changes))  # type: ignore[arg-type]


def site_with(*features: Feature, latitude_deg: float = 52.0) -> Site:
    return Site("Test ground", latitude_deg, 0.0, 20.0, "UTC", features=features)


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


def test_hours_agree_with_a_ray_cast_for_every_minute() -> None:
    # Naive geometry: for each minute of the day a ray is cut with each outline by shapely.
    house = Feature(
        "H", "building", "house", ((-6.0, -9.0), (4.0, -11.0), (6.0, -5.0), (-4.0, -3.0)), height_m=5.0
    )
    tree = Feature("T", "tree", "tree", ((6.0, 2.0),), height_m=6.0, radius_m=2.0, crown_base_m=2.0)
    site = site_with(house, tree)
    (light,) = bed_light(site, [bed()])
    for month in (3, 6, 12):
        naive_h = np.mean([_naive_h(site, (0.125, 0.125), date(2026, month, day)) for day in (4, 12, 20, 28)])
        # Stated error of the light model.
        assert float(light.sun_h[month - 1, 0, 0]) == pytest.approx(naive_h, abs=0.1)


def _naive_h(site: Site, place_m: tuple[float, float], day: date) -> float:
    path = sun_day(day, site.latitude_deg, site.longitude_deg, step_min=4.0)
    bodies = [(Polygon(each.outline_m), each.base_m, each.top_m) for each in obstacles_of(site.features)]
    lit = 0
    for elevation_deg, azimuth_deg in zip(path.elevation_deg, path.azimuth_deg, strict=True):
        east, north = np.sin(np.radians(azimuth_deg)), np.cos(np.radians(azimuth_deg))
        ray = LineString([place_m, (place_m[0] + 300 * east, place_m[1] + 300 * north)])
        rise = np.tan(np.radians(elevation_deg))
        hidden = False
        for outline, base_m, top_m in bodies:
            piece = ray.intersection(outline)
            if piece.is_empty:
                continue
            distances_m = [np.hypot(x - place_m[0], y - place_m[1]) for x, y in piece.coords]
            hidden |= min(distances_m) * rise < top_m and max(distances_m) * rise > base_m
        lit += not hidden
    return lit * path.step_h
