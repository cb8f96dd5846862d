"""The best other bed and date of a planting, in points and words, and what would help a short wish."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from bedwright.engine.placement.changes import board_of, with_alternatives, with_what_would_help
from bedwright.engine.placement.changes.weighing import differences
from bedwright.engine.placement.value import plan_terms
from bedwright.engine.placement.weekly import hours_of
from bedwright.model.book import HelpingHands
from tests.unit.engine.placement.changes.plans import CABBAGE, LETTUCE, ONION, problem_of
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, outline, planned, request, sun

LATER = choice(SPRING + timedelta(days=14), chance=0.8)
SHADY = bed("B")


def test_a_darker_bed_says_how_many_hours_it_lacks_and_what_that_costs() -> None:
    # Lettuce needs 4 h here. Bed B has 2 h: 2 h short x 8 % of the worth of 40 points = 6.4 points.
    garden = book(bed("A"), SHADY)
    light = (sun(garden.beds[0], 6.0), sun(SHADY, 2.0))
    asked = request("lettuce-1", LETTUCE, 12)
    plantings = planned(garden, asked, light=light).plantings
    problem = problem_of(garden, asked, light=light)
    (one,) = with_alternatives(board_of(problem, plantings), plantings)
    (elsewhere,) = one.alternatives
    assert (elsewhere.kind, elsewhere.bed_code) == ("another bed", "B")
    assert elsewhere.points == pytest.approx(-6.4)
    assert "2.0 h a day less of the sun it needs, April to July" in elsewhere.text
    assert elsewhere.text.endswith("Costs 6.4 points.")


def test_another_date_says_in_how_many_years_it_works_and_how_far_it_is_from_the_best() -> None:
    # 10 points of chance at 40 points = 4.0, two weeks off at 0.4 % a week = 0.32.
    garden = book(bed("A"))
    asked = request("lettuce-1", LETTUCE, 12, (choice(), LATER))
    plantings = planned(garden, asked).plantings
    (one,) = with_alternatives(board_of(problem_of(garden, asked), plantings), plantings)
    (then,) = one.alternatives
    assert (then.kind, then.in_ground) == ("another date", LATER.in_ground)
    assert then.points == pytest.approx(-4.32)
    assert "works in 80% of years, not 90%" in then.text
    assert "2 weeks farther from the date that suits it best" in then.text


def test_full_beds_are_no_alternative() -> None:
    garden = book(bed("A", outline(1.2)), bed("B", outline(1.2)))
    asked = (request("cabbage-1", CABBAGE, 9), request("cabbage-2", CABBAGE, 9))
    plantings = planned(garden, *asked).plantings
    found = with_alternatives(board_of(problem_of(garden, *asked), plantings), plantings)
    assert [one.alternatives for one in found] == [(), ()]


def test_points_of_an_alternative_are_the_difference_in_value_of_the_two_plans() -> None:
    garden = book(bed("A"), bed("B", outline(3.0, 0.9)))
    asked = (
        request("cabbage-1", CABBAGE, 12),
        request("onion-1", ONION, 40, (choice(), LATER)),
        request("lettuce-1", LETTUCE, 12, (choice(), LATER)),
    )
    plantings = planned(garden, *asked).plantings
    problem = problem_of(garden, *asked)
    board = board_of(problem, plantings)
    before = sum(plan_terms(problem, board.spots).values())
    for spot in board.spots:
        board.take(spot)
        others = board.spots
        offer = board.best(spot.request, spot.n_plants, dates=(1 - spot.date,) if spot.date else None)
        assert offer is not None
        after = sum(plan_terms(problem, (*others, offer[1])).values())
        told = sum(one.points for one in differences(problem, spot, offer[1], others))
        # What is too small to be told is left out: at most 0.05 points a term.
        assert told == pytest.approx(after - before, abs=0.2)
        assert board.value + offer[0] == pytest.approx(after)
        board.put(spot)
    assert board.value == pytest.approx(before)


def test_what_stands_has_no_alternatives() -> None:
    garden = book(bed("A"), bed("B"))
    asked = request("cabbage-1", CABBAGE, 9)
    stands = planned(garden, asked).plantings
    problem = problem_of(garden, asked, standing=stands)
    assert with_alternatives(board_of(problem, stands), stands)[0].alternatives == ()


def test_a_wish_without_ground_says_how_many_metres_it_lacks_and_what_could_give_way() -> None:
    garden = book(bed("A", outline(1.2)))
    asked = (request("cabbage-1", CABBAGE, 9, priority=4), request("onion-1", ONION, 40, priority=2))
    made = planned(garden, *asked)
    board = board_of(problem_of(garden, *asked), made.plantings)
    (short,) = with_what_would_help(board, made.shortfalls)
    # 40 onions at 10 cm: 4 rows of 12 across, 0.9 m from first to last and 5 cm to either end.
    assert short.would_help[0].startswith("1.00 m more of bed A from 12 April 2027")
    assert any("weeks after the last date that works" in line for line in short.would_help)
    assert short.would_help[-1].startswith("Cabbage (cabbage-1, 9 plants, priority 4) giving way in bed A")
    # 70 points of cabbage against 20 of onions, each less a tenth for the chance of its date.
    assert "That costs" in short.would_help[-1]


def test_a_wish_that_only_lacks_hours_says_how_many() -> None:
    people = (HelpingHands("one person", 0.01, SPRING - timedelta(days=200), SPRING + timedelta(days=400)),)
    garden = book(bed("A", outline(10.0)), people=people)
    # Some 12 m2 at 0.6 h/m2 is 7 h of work, 14 points, for a wish of 10.
    asked = request("onion-1", ONION, 400, priority=1)
    made = planned(garden, asked)
    assert made.plantings == ()
    problem = problem_of(garden, asked, hours=hours_of(garden))
    (short,) = with_what_would_help(board_of(problem, ()), made.shortfalls)
    assert "h more would have to be promised" in short.would_help[0]


def test_boards_to_stand_on_are_named_with_what_they_would_add() -> None:
    # The middle half metre of bed A is out of reach, nothing of bed B.
    garden = book(bed("A", outline(4.0, 2.0), reach=("north", "south")), bed("B", outline(1.2, 0.6)))
    asked = request("onion-1", ONION, 700)
    made = planned(garden, asked, effort=20_000)
    board = board_of(problem_of(garden, asked), made.plantings)
    before = board.spots
    (short,) = with_what_would_help(board, made.shortfalls)
    (told,) = [line for line in short.would_help if "boards" in line]
    assert told.startswith("With boards to stand on inside bed A (key stepping_boards) ")
    more = int(told.split(") ")[1].split()[0])
    with_boards = book(replace(garden.beds[0], stepping_boards=True), garden.beds[1])
    again = planned(with_boards, asked, effort=20_000)
    assert (
        0 < more <= sum(one.n_plants for one in again.plantings) - sum(one.n_plants for one in made.plantings)
    )
    assert told.endswith(f" {more} plants more would find ground there, {more * 0.1:.1f} m of row.")
    assert board.spots == before


def test_boards_are_not_named_where_they_add_nothing() -> None:
    garden = book(bed("A", outline(1.2)))
    asked = request("onion-1", ONION, 400)
    made = planned(garden, asked)
    (short,) = with_what_would_help(board_of(problem_of(garden, asked), made.plantings), made.shortfalls)
    assert not any("boards" in line for line in short.would_help)


def test_a_few_left_over_are_said_to_be_left_over_not_to_find_no_ground() -> None:
    # 0.9 m holds three rows of 12.
    garden = book(bed("A", outline(0.9)), bed("B", outline(6.0)))
    asked = request("onion-1", ONION, 39, (choice(),), only_beds=("A",))
    made = planned(garden, asked)
    (short,) = made.shortfalls
    assert short.placed_plants == 36
    assert short.why == "3 of 39 plants (0.3 m of row) are left over: fewer than 8 get no place of their own."
    (short,) = with_what_would_help(board_of(problem_of(garden, asked), made.plantings), made.shortfalls)
    assert short.would_help == ("Set the 3 plants left over by hand, wherever there is room.",)
