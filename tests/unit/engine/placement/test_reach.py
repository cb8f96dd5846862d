"""No plant stands farther than an arm's length from where one can stand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.placement import Placement, check
from bedwright.engine.placement.check_reach import farthest_m, nothing_in_reach
from bedwright.engine.placement.check_rows import plants_m
from bedwright.engine.placement.layout import area_beyond_m2
from bedwright.engine.placement.problem import pinned_beyond
from bedwright.engine.placement.shape import bed_shape
from bedwright.model.book import Bed, Pin
from bedwright.model.ground import Circle, Polygon, Rectangle, Side
from tests.unit.engine.placement.gardens import bed, book, crop, l_shape, outline, planned, request

ARM_M = 0.75
LEEK = crop("leek", "allium", in_row_spacing_m=0.2, row_spacing_m=0.3)
WIDE = bed("A", outline(4.0, 2.0), reach=("north", "south"))


def farthest(made: Placement, of: Bed) -> float:
    plants = [plants_m(one) for one in made.plantings]
    return farthest_m(of, np.concatenate(plants))


@pytest.mark.parametrize(
    "reach", [("north", "south"), ("south",), ("west",), ("north", "east", "south", "west")]
)
def test_wide_beds_are_planted_along_the_sides_one_can_stand_at(
    reach: tuple[Side, ...],
) -> None:
    of = bed("A", outline(4.0, 2.0), reach=reach)
    made = planned(book(of), request("leek-1", LEEK, 400), effort=20_000)
    assert sum(one.n_plants for one in made.plantings) >= 30
    assert 0.5 < farthest(made, of) <= ARM_M + 1e-6
    assert check(book(of), made.plantings, [request("leek-1", LEEK, 400)]) == ()


def test_both_sides_of_a_wide_bed_are_used_in_full() -> None:
    made = planned(book(WIDE), request("leek-1", LEEK, 200, priority=5), effort=20_000)
    # Rows 0.1, 0.4 and 0.7 m from each side, 20 stations in each.
    assert sum(one.n_plants for one in made.plantings) == 2 * 3 * 20


def test_boards_to_step_on_open_the_middle() -> None:
    of = replace(WIDE, stepping_boards=True)
    made = planned(book(of), request("leek-1", LEEK, 130), effort=4_000)
    assert not made.shortfalls
    assert made.terms["reach"] == 0
    assert not any("arm" in one or "stand" in one for one in made.warnings)


@pytest.mark.parametrize(
    ("ground", "reach"),
    [
        (Circle(1.2, 0.0, 0.0, 90.0), ("north", "east", "south", "west")),
        (Circle(1.2, 0.0, 0.0, 90.0), ("south",)),
        (l_shape(), ("north", "south")),
        (Polygon(((0.0, 0.0), (4.0, 0.0), (4.0, 1.8), (2.0, 2.6), (0.0, 1.8)), 90.0), ("east", "south")),
    ],
)
def test_odd_outlines_leave_out_what_no_arm_reaches(
    ground: Circle | Polygon, reach: tuple[Side, ...]
) -> None:
    of = bed("A", ground, reach=reach)
    asked = request("leek-1", LEEK, 400)
    made = planned(book(of), asked, effort=4_000)
    assert 0.4 < farthest(made, of) <= ARM_M + 1e-6
    assert check(book(of), made.plantings, [asked]) == ()


def test_ground_out_of_reach_is_measured() -> None:
    assert area_beyond_m2(bed_shape(WIDE, ARM_M)) == pytest.approx(4.0 * 0.5)
    assert area_beyond_m2(bed_shape(WIDE)) == 0
    # A circle of 1.2 m: what is out of reach is a circle of 0.45 m.
    middle = area_beyond_m2(bed_shape(bed("A", Circle(1.2, 0.0, 0.0, 90.0)), ARM_M))
    assert middle == pytest.approx(np.pi * 0.45**2, rel=0.03)
    # Reached from the end of the baseline only: all but 0.75 m.
    one_end = bed_shape(bed("A", outline(4.0, 1.2), reach=("west",)), ARM_M)
    assert area_beyond_m2(one_end) == pytest.approx(3.25 * 1.2)


def test_the_checker_finds_plants_out_of_reach() -> None:
    asked = request("leek-1", LEEK, 130)
    made = planned(book(replace(WIDE, stepping_boards=True)), asked)
    (fault,) = check(book(WIDE), made.plantings, [asked])
    assert fault.kind == "out of reach"
    assert isinstance(fault.actual, float)
    assert 0.75 < fault.actual <= 1.0


def test_what_stands_out_of_reach_stays_and_is_told() -> None:
    asked = request("leek-1", LEEK, 130)
    stands = planned(book(replace(WIDE, stepping_boards=True)), asked).plantings
    made = planned(book(WIDE), asked, standing=stands)
    assert made.plantings[0].rows == stands[0].rows
    assert check(book(WIDE), made.plantings, [asked], standing=stands) == ()
    assert any("Leek (leek-1) stands up to 0.9" in one or "up to 1.0" in one for one in made.warnings)


def test_an_earlier_plan_is_begun_with_as_far_as_it_is_in_reach() -> None:
    asked = request("leek-1", LEEK, 130)
    before = planned(book(replace(WIDE, stepping_boards=True)), asked).plantings
    made = planned(book(WIDE), asked, start=before)
    assert check(book(WIDE), made.plantings, [asked]) == ()


def test_a_pin_beyond_the_arm_is_kept_and_told() -> None:
    of = bed("A", Rectangle(4.0, 1.2, 0.0, 0.0, 90.0), reach=("west",))
    asked, pin = request("leek-1", LEEK, 12), Pin("leek-1", bed_code="A", along_m=2.0)
    made = planned(book(of), asked, pins=(pin,))
    (leek,) = made.plantings
    assert leek.along_m[0] == pytest.approx(2.0)
    assert check(book(of), made.plantings, [asked], pins=(pin,)) == ()
    assert any(why.text.startswith("Pinned to where no arm reaches") for why in leek.reasons)


ROUND = Circle(1.5, 0.0, 0.0, 90.0)
PENTAGON = Polygon(((0.0, 0.0), (4.0, 0.0), (4.0, 1.8), (2.0, 2.6), (0.0, 1.8)), 90.0)


@pytest.mark.parametrize("ground", [ROUND, PENTAGON])
def test_a_pin_beyond_the_arm_is_kept_in_odd_beds_too(ground: Circle | Polygon) -> None:
    of = bed("A", ground, reach=("west",))
    asked, pin = request("leek-1", LEEK, 5), Pin("leek-1", bed_code="A", along_m=2.0)
    made = planned(book(of), asked, pins=(pin,))
    (leek,) = made.plantings
    assert leek.along_m[0] == pytest.approx(2.0)
    assert leek.n_plants == 5
    assert check(book(of), made.plantings, [asked], pins=(pin,)) == ()
    away_m = farthest(made, of)
    assert away_m > ARM_M
    told = f"Leek (leek-1) is pinned up to {away_m:.2f} m from where one can stand at bed A; an arm reaches"
    assert any(one.startswith(told) for one in made.warnings)


def test_a_pin_in_an_odd_bed_is_kept_in_reach_where_it_can_be() -> None:
    of = bed("A", ROUND)
    asked, pin = request("leek-1", LEEK, 8), Pin("leek-1", bed_code="A", along_m=1.2)
    made = planned(book(of), asked, pins=(pin,))
    assert made.plantings[0].along_m[0] == pytest.approx(1.2)
    assert farthest(made, of) <= ARM_M + 1e-6
    assert not any("pinned" in one for one in made.warnings)


@pytest.mark.parametrize("ground", [ROUND, PENTAGON, Rectangle(4.0, 1.2, 0.0, 0.0, 90.0)])
@pytest.mark.parametrize("reach", [("west",), ("south", "east"), ("north", "south")])
def test_the_checker_and_the_search_agree_where_nothing_is_in_reach(
    ground: Circle | Polygon | Rectangle, reach: tuple[Side, ...]
) -> None:
    of = bed("A", ground, reach=reach)
    length_m = of.frame.length_m
    for start_m in (0.0, 0.3, 0.65, 0.85, 1.5, length_m - 0.85, length_m - 0.6, length_m - 0.1):
        at_m = round(start_m, 2)
        assert pinned_beyond(bed_shape(of, ARM_M), (at_m,)) == nothing_in_reach(of, at_m, ARM_M), at_m


def test_a_pin_to_a_place_with_ground_in_reach_is_no_leave_to_stand_out_of_it() -> None:
    asked, pin = request("leek-1", LEEK, 130), Pin("leek-1", bed_code="A", along_m=0.0)
    made = planned(book(replace(WIDE, stepping_boards=True)), asked, pins=(pin,))
    (fault,) = check(book(WIDE), made.plantings, [asked], pins=(pin,))
    assert fault.kind == "out of reach"


def test_a_pin_in_a_wide_bed_is_kept_beside_the_path() -> None:
    asked, pin = request("leek-1", LEEK, 12), Pin("leek-1", bed_code="A", along_m=2.0)
    made = planned(book(WIDE), asked, pins=(pin,))
    assert made.plantings[0].along_m[0] == pytest.approx(2.0)
    assert farthest(made, WIDE) <= ARM_M + 1e-6


def test_what_is_short_names_the_row_out_of_reach() -> None:
    made = planned(book(WIDE), request("leek-1", LEEK, 400), effort=4_000)
    (short,) = made.shortfalls
    # 2 m2 in rows 0.3 m apart.
    assert (
        "Out of reach: some 6.7 m of row in bed A, farther than 0.75 m from where one can stand." in short.why
    )
    assert any("Bed A: 2.0 m² lie farther than 0.75 m" in one for one in made.warnings)
    narrow = planned(book(), request("leek-1", LEEK, 400), effort=4_000)
    assert "Out of reach" not in narrow.shortfalls[0].why


@pytest.mark.parametrize("length_m", [1.55, 1.6, 1.714, 1.877, 2.3])
def test_no_block_spans_the_middle_of_a_bed_that_is_square_or_nearly_so(length_m: float) -> None:
    # Of 0.05 to 0.8 m out of reach along the bed, the margins of two blocks span a part.
    of = bed("A", outline(length_m, 1.57))
    kale = crop("kale", "brassica", in_row_spacing_m=0.3, row_spacing_m=0.45)
    made = planned(book(of), request("kale-1", kale, 40), effort=4_000)
    assert farthest(made, of) <= ARM_M + 1e-6


@pytest.mark.parametrize(("width_m", "reach"), [(1.2192, ("north", "south")), (0.762, ("south",))])
def test_beds_of_4_ft_and_of_30_in_are_not_called_too_wide(width_m: float, reach: tuple[Side, ...]) -> None:
    of = bed("A", outline(6.0, width_m), reach=reach)
    made = planned(book(of), request("leek-1", LEEK, 12), effort=0)
    assert not any("wide" in one or "farther" in one for one in made.warnings)


def test_a_bed_with_ground_out_of_reach_is_told_of_once() -> None:
    made = planned(book(bed("A", outline(6.0, 0.9), reach=("south",))), request("leek-1", LEEK, 12), effort=0)
    (told,) = [
        one for one in made.warnings if one.startswith("Bed A") and ("wide" in one or "farther" in one)
    ]
    assert told.startswith("Bed A: 0.9 m² lie farther than 0.75 m from where one can stand")
