"""What no plan can exceed: exact where nothing binds, and never below what a plan reaches."""

from __future__ import annotations

from datetime import timedelta

import pytest

from bedwright.engine.placement.bound import upper_bound
from bedwright.engine.placement.least_use import least_uses
from bedwright.engine.placement.plan import headroom
from bedwright.engine.placement.problem import build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, outline, planned, request

CABBAGE = crop("cabbage", "brassica", in_row_spacing_m=0.4, row_spacing_m=0.4, edible_parts=("head",))


def test_a_single_planting_with_room_is_as_good_as_can_be() -> None:
    made = planned(book(), request())
    assert made.bound is not None
    # Only the cost of even use is taken below its true curve, by tangents.
    assert made.value == pytest.approx(made.bound, abs=0.2)


def test_short_ground_lowers_what_can_be_reached() -> None:
    roomy = planned(book(bed(ground=outline(4.0))), request("cabbage-1", CABBAGE, 27)).bound
    tight = planned(book(bed(ground=outline(1.2))), request("cabbage-1", CABBAGE, 27)).bound
    assert roomy is not None
    assert tight is not None
    # Nine of 27 fit in 1.2 m; margins saved at the ends allow the bound no more than half again.
    assert tight < roomy * 0.5


def test_what_stands_takes_ground_from_the_bound() -> None:
    garden = book(bed(ground=outline(1.2)))
    stands = planned(garden, request("cabbage-1", CABBAGE, 9)).plantings
    onion = request("onion-1", crop("onion", "allium"), 40)
    alone = planned(garden, onion).bound
    beside = planned(garden, onion, standing=stands)
    assert alone is not None
    assert beside.bound is not None
    assert beside.value <= beside.bound + 1e-6
    assert beside.bound < alone + 40


def test_dates_that_free_the_ground_early_raise_the_bound() -> None:
    garden = book(bed(ground=outline(1.2)))
    first = request("cabbage-1", CABBAGE, 9)
    same = request("cabbage-2", CABBAGE, 9)
    after = request("cabbage-2", CABBAGE, 9, (choice(SPRING + timedelta(days=100)),))
    together, in_turn = planned(garden, first, same), planned(garden, first, after)
    assert together.bound is not None
    assert in_turn.bound is not None
    assert in_turn.bound > together.bound


def test_a_planting_larger_than_its_bed_may_stand_there_in_two_parts_in_turn() -> None:
    garden = book(bed(ground=outline(1.2)))
    dates = (choice(SPRING), choice(SPRING + timedelta(days=100)))
    made = planned(garden, request("cabbage-1", CABBAGE, 18, dates))
    assert [one.n_plants for one in made.plantings] == [9, 9]
    assert made.bound is not None
    assert made.value <= made.bound + 1e-6


def test_a_block_on_one_side_takes_at_least_half_of_its_length() -> None:
    lettuce = request("lettuce-1", crop("lettuce", "aster", in_row_spacing_m=0.25, row_spacing_m=0.25), 9)
    garden = book(bed(ground=outline(4.0, 0.9)))
    whole, side = least_uses(build_problem(garden, [lettuce], (), (), {}, COMMON_RULES), 0, 0)
    assert (whole.kind, side.kind) == ("whole", "side")
    # Three rows of three, over the full width of 0.9 m or in 0.75 m of it: 0.75 m of the bed's length.
    assert whole.length_m == pytest.approx(0.75 / 9)
    assert side.length_m == pytest.approx(0.75 / 9 / 2)
    # A single row of 0.25 m takes the least ground.
    assert whole.area_m2 == pytest.approx(0.75 * 0.9 / 9)
    assert side.area_m2 == pytest.approx(0.25 * 0.25)


def test_beds_alike_are_taken_together_where_the_question_is_large_and_lose_little() -> None:
    beds = [bed(code, outline(length_m)) for code, length_m in (("A", 2.0), ("B", 3.0), ("C", 4.0))]
    wanted = [request(f"cabbage-{number}", CABBAGE, 15) for number in range(1, 6)]
    problem = build_problem(book(*beds), wanted, (), (), {}, COMMON_RULES)
    one_by_one, together = upper_bound(problem), upper_bound(problem, 0)
    assert one_by_one is not None
    assert together is not None
    assert one_by_one - 1e-6 <= together < 1.02 * one_by_one
    assert upper_bound(problem, 0, 0) is None


def test_the_sentence_says_how_much_better_any_plan_could_be() -> None:
    assert headroom(100.0, 103.0) == (
        "No plan for this book can be more than 3.0 % better by the weights used.",
    )
    assert headroom(100.0, 100.0) == (
        "No plan for this book can be better than this one by the weights used.",
    )
    assert headroom(100.0, None) == ()


def test_a_plan_that_is_not_to_be_proved_has_no_bound() -> None:
    assert planned(book(), request(), prove=False).bound is None
