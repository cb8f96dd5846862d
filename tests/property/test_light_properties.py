"""What must hold of light whatever stands on the site."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.sunlight import (
    Obstacle,
    Places,
    SunDay,
    bed_light,
    obstacles_of,
    sun_day,
    survey_site,
)
from bedwright.engine.sunlight.remaining import hidden_by, remaining
from bedwright.engine.sunlight.skylines import skyline
from bedwright.engine.sunlight.sun_table import day_table
from bedwright.model.book import Bed, Feature, FeatureKind, Site
from bedwright.model.ground import Rectangle
from bedwright.model.weather import FloatArray

WALL_KINDS: tuple[FeatureKind, ...] = ("wall", "hedge")
ROUNDING_H = 1e-4
"""Shares of sun let through are kept in single precision."""
BED = Bed("A", "", Rectangle(2.0, 1.0, 0.0, 0.0, 30.0), "loam")
POINTS_M = np.array([[0.0, 0.0], [1.0, 2.0], [-3.0, 1.0], [2.5, -2.5]])
PLACES = Places(POINTS_M, np.array([0.0, 0.3, 0.0, 0.8]))

latitudes = st.floats(-85, 85)
offsets = st.floats(-12, 12).map(lambda value: round(value, 2))
heights = st.floats(0.3, 15).map(lambda value: round(value, 2))
months = st.lists(st.integers(1, 12), max_size=4).map(tuple)
days = st.integers(0, 364).map(lambda n: date.fromordinal(date(2026, 1, 1).toordinal() + n))


@st.composite
def trees(draw: st.DrawFn) -> Feature:
    """A tree anywhere, crown on the ground or raised."""
    height_m = draw(heights)
    return Feature(
        "T",
        "tree",
        "tree",
        ((draw(offsets), draw(offsets)),),
        height_m=height_m,
        radius_m=draw(st.floats(0.3, 5)),
        crown_base_m=draw(st.sampled_from([0.0, 0.3 * height_m])),
        leafless_months=draw(months),
    )


@st.composite
def walls(draw: st.DrawFn) -> Feature:
    """A wall or hedge of two or three points, which may fold back on itself."""
    points = draw(st.lists(st.tuples(offsets, offsets), min_size=2, max_size=3, unique=True))
    kind: FeatureKind = draw(st.sampled_from(WALL_KINDS))
    return Feature(
        "W", kind, "", tuple(points), height_m=draw(heights), radius_m=0.4, leafless_months=draw(months)
    )


@st.composite
def houses(draw: st.DrawFn) -> Feature:
    """A house with an arm: six corners, not convex."""
    east_m, north_m = draw(offsets), draw(offsets)
    length_m, width_m, arm_m = (draw(st.floats(1, 8)) for _ in range(3))
    corners = (
        (0.0, 0.0),
        (length_m + arm_m, 0.0),
        (length_m + arm_m, width_m),
        (length_m, width_m),
        (length_m, width_m + arm_m),
        (0.0, width_m + arm_m),
    )
    points = tuple((east_m + x, north_m + y) for x, y in corners)
    return Feature("H", "building", "house", points, height_m=draw(heights))


features = st.one_of(trees(), walls(), houses())
sites = st.lists(features, max_size=3)


def month_h(latitude_deg: float, bodies: list[Feature]) -> FloatArray:
    site = Site("Any", latitude_deg, 0.0, 0.0, "UTC", features=tuple(bodies))
    return bed_light(site, [BED], cell_m=0.5)[0].sun_h


@settings(max_examples=20)
@given(latitude_deg=latitudes, before=sites, added=features)
def test_one_more_body_never_adds_sun(latitude_deg: float, before: list[Feature], added: Feature) -> None:
    assert np.all(month_h(latitude_deg, [*before, added]) <= month_h(latitude_deg, before) + ROUNDING_H)


@settings(max_examples=20)
@given(latitude_deg=latitudes, others=sites, wall=walls(), higher_m=st.floats(0, 5))
def test_a_higher_wall_never_adds_sun(
    latitude_deg: float, others: list[Feature], wall: Feature, higher_m: float
) -> None:
    raised = replace(wall, height_m=wall.height_m + higher_m)
    assert np.all(
        month_h(latitude_deg, [*others, raised]) <= month_h(latitude_deg, [*others, wall]) + ROUNDING_H
    )


@settings(max_examples=20)
@given(latitude_deg=latitudes, bodies=sites)
def test_hours_lie_between_none_and_those_of_open_ground(latitude_deg: float, bodies: list[Feature]) -> None:
    shaded_h, open_h = month_h(latitude_deg, bodies), month_h(latitude_deg, [])
    assert np.all(shaded_h >= 0)
    assert np.all(shaded_h <= open_h + ROUNDING_H)
    assert np.all(open_h <= 24 + ROUNDING_H)


@settings(max_examples=20)
@given(latitude_deg=latitudes, bodies=sites)
def test_the_order_of_bodies_does_not_matter(latitude_deg: float, bodies: list[Feature]) -> None:
    there, back = month_h(latitude_deg, bodies), month_h(latitude_deg, bodies[::-1])
    assert np.allclose(there, back, atol=ROUNDING_H)


@settings(max_examples=15)
@given(before=sites, after=sites)
def test_a_chain_of_edits_ends_where_a_new_survey_ends(before: list[Feature], after: list[Feature]) -> None:
    def site(bodies: list[Feature]) -> Site:
        return Site("Any", 52.0, 0.0, 0.0, "UTC", features=tuple(bodies))

    box_m = (-2.0, -2.0, 2.0, 2.0)
    first = survey_site(site(before), [], box_m=box_m, cell_m=1.0, months=(4, 12))
    edited = survey_site(site(after), [], box_m=box_m, cell_m=1.0, months=(4, 12), before=first)
    anew = survey_site(site(after), [], box_m=box_m, cell_m=1.0, months=(4, 12))
    assert np.array_equal(edited.sun_h(), anew.sun_h())


def along_path_h(bodies: list[Obstacle], places: Places, path: SunDay, month: int) -> FloatArray:
    table, directions_rad = day_table(path, month)
    skylines = [skyline(body, places, directions_rad) for body in bodies]
    return remaining(hidden_by(skylines, len(table.lowest), len(places.eye_m)), table)[:, 0]


def mirrored(bodies: list[Obstacle]) -> list[Obstacle]:
    return [
        replace(body, outline_m=tuple((-east_m, north_m) for east_m, north_m in body.outline_m))
        for body in bodies
    ]


@settings(max_examples=40)
@given(latitude_deg=latitudes, day=days, bodies=sites)
def test_a_mirrored_site_under_a_mirrored_sun_has_the_same_hours(
    latitude_deg: float, day: date, bodies: list[Feature]
) -> None:
    path = sun_day(day, latitude_deg, 0.0)
    swapped = SunDay(path.elevation_deg, (360 - path.azimuth_deg) % 360, path.step_h)
    solid = list(obstacles_of(bodies))
    here_h = along_path_h(solid, PLACES, path, day.month)
    there = Places(PLACES.places_m * [-1, 1], PLACES.eye_m)
    there_h = along_path_h(mirrored(solid), there, swapped, day.month)
    # A ray on an edge to the last digit may fall to either side: at most some looks of 5 minutes.
    assert np.all(np.abs(here_h - there_h) <= 3 * path.step_h)


@settings(max_examples=20)
@given(latitude_deg=st.floats(-60, 60), bodies=sites)
def test_a_site_mirrored_east_to_west_swaps_morning_and_evening(
    latitude_deg: float, bodies: list[Feature]
) -> None:
    turned = [
        replace(body, vertices_m=tuple((-east_m, north_m) for east_m, north_m in body.vertices_m))
        for body in bodies
    ]
    here_h, there_h = (
        survey_site(
            Site("Any", latitude_deg, 0.0, 0.0, "UTC", features=tuple(features)),
            [],
            box_m=(-3.0, -3.0, 3.0, 3.0),
            cell_m=1.5,
        ).sun_h()
        for features in (bodies, turned)
    )
    # Day by day the halves differ, since the sun moves north or south by up to 0.4 degrees; over a
    # month little of that is left.
    assert np.all(np.abs(here_h - there_h[:, :, ::-1]) < 0.3)
