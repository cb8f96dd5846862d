"""What holds for every garden: rules kept, nothing outside, no gain from wider spacing, no compass luck."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from bedwright.engine.placement import Placement, check, place
from bedwright.engine.placement.check_rows import stations_m
from bedwright.engine.placement.compiled.state import load_spots, read_spots
from bedwright.engine.placement.compiled.tables import build_world
from bedwright.engine.placement.layout import count_plants, lay_rows, spacing_of
from bedwright.engine.placement.problem import build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.search import find_plan, value_of
from bedwright.engine.placement.shape import bed_shape
from bedwright.engine.placement.weekly import WeekMeasures, hours_of
from bedwright.model.book import Bed, GardenBook, HelpingHands, History, Period, Support, WaterLimit
from bedwright.model.crop import Crop, NeighbourFinding, SupportNeed
from bedwright.model.ground import Circle, Outline, Point, Polygon, Rectangle, Side, local_vertices_m
from bedwright.model.light import BedLight
from bedwright.model.season import MonthClimate, PlantingRequest, RowDirection
from bedwright.model.supplies import TrayUse
from tests.unit.engine.placement.gardens import bed, book, choice, crop, lead, request

SLOW = settings(max_examples=25)
SIDES: tuple[Side, ...] = ("north", "east", "south", "west")
GROUPS = ("umbel", "allium", "brassica", "legume", "solanum")


def _star(radii_m: list[float]) -> tuple[Point, ...]:
    """A simple polygon: corners at equal angles round a centre, each at its own distance."""
    step_rad = 2 * math.pi / len(radii_m)
    return tuple(
        (radius * math.cos(number * step_rad), radius * math.sin(number * step_rad))
        for number, radius in enumerate(radii_m)
    )


def outlines() -> st.SearchStrategy[Outline]:
    bearing_deg = st.sampled_from([0.0, 30.0, 90.0, 201.5])
    rectangles = st.builds(
        Rectangle, st.floats(0.5, 5), st.floats(0.4, 2), st.just(3.0), st.just(-2.0), bearing_deg
    )
    circles = st.builds(Circle, st.floats(0.3, 1.5), st.just(1.0), st.just(1.0), bearing_deg)
    stars = st.lists(st.floats(0.4, 2), min_size=3, max_size=8).map(_star)
    return st.one_of(rectangles, circles, st.builds(Polygon, stars, bearing_deg))


@st.composite
def crops(draw: st.DrawFn, name: str) -> Crop:
    in_row_m = draw(st.sampled_from([0.05, 0.1, 0.25, 0.4, 0.9]))
    support: SupportNeed = draw(st.sampled_from(["none", "netting", "trellis"]))
    return crop(
        name,
        draw(st.sampled_from(GROUPS)),
        in_row_spacing_m=in_row_m,
        row_spacing_m=max(in_row_m, draw(st.sampled_from([0.2, 0.3, 0.6]))),
        height_m=draw(st.sampled_from([0.2, 0.6, 1.8])),
        support=support,
        climbs=support != "none",
        edible_parts=draw(st.sampled_from([("root",), ("fruit",)])),
    )


@st.composite
def gardens(draw: st.DrawFn, ground: st.SearchStrategy[Outline]) -> tuple[GardenBook, list[PlantingRequest]]:
    beds: list[Bed] = []
    for code in "AB"[: draw(st.integers(1, 2))]:
        supports = tuple(
            Support("trellis", side, 1.8) for side in draw(st.sets(st.sampled_from(SIDES), max_size=1))
        )
        test = draw(st.sampled_from([None, lead(40.0), lead(320.0)]))
        reach = draw(st.sampled_from([SIDES, SIDES, ("south",), ("east", "west")]))
        boards = draw(st.sampled_from([False, False, True]))
        made = bed(code, draw(ground), supports=supports, soil_test=test, reach=reach)
        beds.append(replace(made, stepping_boards=boards))
    wanted: list[PlantingRequest] = []
    for number in range(draw(st.integers(1, 5))):
        starts = draw(st.lists(st.integers(0, 12), min_size=1, max_size=3, unique=True))
        choices = [
            choice(date(2027, 4, 1) + timedelta(weeks=week), draw(st.sampled_from([50, 120])), 0.85)
            for week in sorted(starts)
        ]
        wanted.append(
            request(
                f"wish-{number}",
                draw(crops(f"crop {number}")),
                draw(st.integers(1, 60)),
                choices,
                priority=draw(st.integers(1, 5)),
                not_beds=draw(st.sampled_from([(), (), ("A",)])),
            )
        )
    history = (History("A", 2026, (wanted[0].crop.name,)),)
    return book(*beds, history=history), wanted


def plan(garden: GardenBook, wanted: list[PlantingRequest], **options: float) -> Placement:
    names = [one.crop.name for one in wanted]
    finding = NeighbourFinding(names[0], names[-1], "beneficial", "A", "helps", "S", "", "read")
    known = {one.crop.name: one.crop for one in wanted}
    bearing_deg = options.get("noon_sun_bearing_deg")
    return place(
        garden,
        wanted,
        [light_of(each) for each in garden.beds],
        (finding,),
        known,
        seed=3,
        effort=2000,
        noon_sun_bearing_deg=bearing_deg,
    )


def light_of(each: Bed) -> BedLight:
    """More sun toward the end of the baseline; part of the grid outside the bed does not matter."""
    n_along = max(1, math.ceil(each.frame.length_m / 0.25 - 1e-6))
    n_across = max(1, math.ceil(each.frame.width_m / 0.25 - 1e-6))
    hours = np.broadcast_to(np.linspace(3, 6, n_along)[None, :, None], (12, n_along, n_across))
    return BedLight(each.code, 0.25, hours.copy())


@SLOW
@given(gardens(outlines()))
def test_every_plan_keeps_every_rule(case: tuple[GardenBook, list[PlantingRequest]]) -> None:
    garden, wanted = case
    made = plan(garden, wanted)
    assert check(garden, made.plantings, wanted) == ()
    assert made.value == pytest.approx(sum(made.terms.values()))
    assert made.value >= made.first_value - 1e-6
    assert made.bound is not None
    assert made.value <= made.bound + 1e-6


def _raised(wanted: PlantingRequest) -> PlantingRequest:
    choices = [replace(one, sow_under_cover=one.in_ground - timedelta(weeks=6)) for one in wanted.choices]
    return replace(wanted, way="raise", choices=tuple(choices))


@SLOW
@given(gardens(outlines()), st.integers(0, 5))
def test_the_compiled_value_is_the_value_of_the_reference(
    case: tuple[GardenBook, list[PlantingRequest]], seed: int
) -> None:
    garden, wanted = case
    garden = replace(
        garden,
        people=(HelpingHands("group", 0.3, date(2027, 4, 1), date(2027, 9, 1)),),
        goals=replace(garden.goals, quiet_weeks=(Period("closed", date(2027, 7, 5), date(2027, 7, 18)),)),
        water_limits=(WaterLimit("permit", 15.0, date(2027, 5, 1), date(2027, 7, 31)),),
    )
    names = [one.crop.name for one in wanted]
    finding = NeighbourFinding(names[0], names[-1], "harmful", "B", "hinders", "S", "", "read")
    wanted = [replace(one, wish_code="wish-0") if one.code == "wish-1" else one for one in wanted]
    lit = [light_of(each) for each in garden.beds]
    crops_by_name = {one.crop.name: one.crop for one in wanted}
    # Every second planting is raised for six weeks, in trays of which two at a time find room.
    wanted = [_raised(one) if number % 2 else one for number, one in enumerate(wanted)]
    months = tuple(MonthClimate(month, 8, 18, 40, 12, 100, 150) for month in range(1, 13))
    uses = {(name, ""): TrayUse(1.3, 10) for name in names}
    problem = build_problem(
        garden,
        wanted,
        lit,
        (finding,),
        crops_by_name,
        COMMON_RULES,
        hours=hours_of(garden),
        measures=WeekMeasures(uses, 2, months),
    )
    spots = find_plan(problem, seed, 40 * seed).spots
    world = build_world(problem, 0)
    gained = value_of(problem, spots) - value_of(problem, ())
    assert load_spots(problem, world, spots) == pytest.approx(gained, abs=1e-9)
    assert read_spots(world, world.slots) == spots


@SLOW
@given(gardens(outlines()))
def test_what_is_placed_and_what_is_short_make_up_what_is_wanted(
    case: tuple[GardenBook, list[PlantingRequest]],
) -> None:
    garden, wanted = case
    made = plan(garden, wanted)
    for asked in wanted:
        placed = sum(one.n_plants for one in made.plantings if one.request_code == asked.code)
        short = [one for one in made.shortfalls if one.planting_code == asked.code]
        assert placed + sum(one.wanted_plants - one.placed_plants for one in short) == asked.n_plants


@SLOW
@given(gardens(outlines()))
def test_the_same_seed_gives_the_same_plan(case: tuple[GardenBook, list[PlantingRequest]]) -> None:
    assert plan(*case) == plan(*case)


@settings(max_examples=150)
@given(
    outlines(),
    st.sampled_from(["along", "across"]),
    st.floats(0.03, 0.8),
    st.floats(0.05, 1.0),
    st.floats(0, 0.5),
    st.floats(0, 0.5),
)
def test_wider_spacing_never_fits_more_plants(
    ground: Outline,
    direction: RowDirection,
    in_row_m: float,
    row_m: float,
    wider_in_row_m: float,
    wider_row_m: float,
) -> None:
    shape = bed_shape(bed(ground=ground))
    whole = (np.array([0.0]), np.array([shape.length_m]))

    def count(in_row: float, row: float) -> int:
        of = spacing_of(crop(in_row_spacing_m=in_row, row_spacing_m=row), COMMON_RULES)
        return int(count_plants(shape, direction, whole, (0.0, shape.width_m), of)[0])

    close = count(in_row_m, row_m)
    assert count(in_row_m + wider_in_row_m, row_m) <= close
    assert count(in_row_m, row_m + wider_row_m) <= close
    assert count(in_row_m + wider_in_row_m, row_m + wider_row_m) <= close


@settings(max_examples=100)
@given(
    outlines(), st.sampled_from(["along", "across"]), st.sampled_from([0.05, 0.2, 0.45]), st.integers(1, 200)
)
def test_no_plant_stands_outside_the_outline_and_rows_hold_what_was_counted(
    ground: Outline, direction: RowDirection, in_row_m: float, n_wanted: int
) -> None:
    place_of = bed(ground=ground)
    shape = bed_shape(place_of)
    of = spacing_of(crop(in_row_spacing_m=in_row_m, row_spacing_m=max(0.2, in_row_m)), COMMON_RULES)
    whole = (np.array([0.0]), np.array([shape.length_m]))
    most = int(count_plants(shape, direction, whole, (0.0, shape.width_m), of)[0])
    spans = lay_rows(shape, direction, (0.0, shape.length_m), (0.0, shape.width_m), of, n_wanted)
    assert sum(span.n_plants for span in spans) == min(most, n_wanted)
    outline = shapely.Polygon(local_vertices_m(place_of.outline))
    assume(outline.is_valid)
    for span in spans:
        stations = np.linspace(span.start_m, span.end_m, span.n_plants)
        assert shapely.distance(shapely.points(stations), outline).max() < 1e-6
        assert shapely.distance(shapely.points(stations), outline.exterior).min() >= of.edge_m - 1e-4


def turned(garden: GardenBook, angle_deg: float) -> GardenBook:
    """The garden turned clockwise round the site datum; sides by quarter turns only."""
    sine, cosine = math.sin(math.radians(angle_deg)), math.cos(math.radians(angle_deg))

    def spin(point: Point) -> Point:
        return point[0] * cosine + point[1] * sine, point[1] * cosine - point[0] * sine

    def turn(ground: Outline) -> Outline:
        bearing_deg = (ground.bearing_deg + angle_deg) % 360
        if isinstance(ground, Polygon):
            return Polygon(tuple(spin(vertex) for vertex in ground.vertices_m), bearing_deg)
        east_m, north_m = spin((ground.east_m, ground.north_m))
        return replace(ground, east_m=east_m, north_m=north_m, bearing_deg=bearing_deg)

    quarters = round(angle_deg / 90)

    def side(of: Side) -> Side:
        return SIDES[(SIDES.index(of) + quarters) % 4]

    beds = tuple(
        replace(
            each,
            outline=turn(each.outline),
            supports=tuple(replace(one, side=side(one.side)) for one in each.supports),
            reach=tuple(side(one) for one in each.reach),
        )
        for each in garden.beds
    )
    return replace(garden, beds=beds)


def drawn(made: Placement) -> list[tuple[object, ...]]:
    return [
        (
            one.code,
            one.bed_code,
            one.dates.in_ground,
            one.along_m,
            one.across_m,
            one.direction,
            [(row.code, row.n_plants, *np.round(stations_m(row), 5).ravel().tolist()) for row in one.rows],
        )
        for one in made.plantings
    ]


def straight_beds() -> st.SearchStrategy[Outline]:
    """Beds with right angles: a polygon turned by an odd angle keeps its corners to a micrometre only."""
    bearing_deg = st.sampled_from([0.0, 90.0, 180.0])
    return st.builds(
        Rectangle, st.floats(0.5, 5), st.floats(0.4, 2), st.just(3.0), st.just(-2.0), bearing_deg
    )


@SLOW
@given(gardens(straight_beds()), st.sampled_from([90.0, 180.0, 270.0]))
def test_turning_site_and_sun_together_changes_nothing_in_the_bed(
    case: tuple[GardenBook, list[PlantingRequest]], angle_deg: float
) -> None:
    garden, wanted = case
    before = plan(garden, wanted)
    after = plan(turned(garden, angle_deg), wanted, noon_sun_bearing_deg=(180 + angle_deg) % 360)
    assert drawn(after) == drawn(before)


@SLOW
@given(gardens(straight_beds()), st.floats(-40, 40))
def test_turning_site_and_sun_by_any_angle_changes_nothing_either(
    case: tuple[GardenBook, list[PlantingRequest]], angle_deg: float
) -> None:
    garden, wanted = case
    before = plan(garden, wanted)
    after = plan(turned(garden, angle_deg), wanted, noon_sun_bearing_deg=180 + angle_deg)
    assert drawn(after) == drawn(before)
