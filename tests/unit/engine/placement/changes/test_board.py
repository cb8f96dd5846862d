"""A plan on the table, some of it placed anew."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from bedwright.engine.placement.changes import Board, board_of
from bedwright.engine.placement.value import plan_terms
from tests.unit.engine.placement.changes.plans import CABBAGE, LETTUCE, ONION, problem_of
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, planned, request

LATER = choice(SPRING + timedelta(days=28))
GARDEN = book(bed("A"), bed("B"))
ASKED = (
    request("cabbage-1", CABBAGE, 9, (choice(), LATER)),
    request("onion-1", ONION, 60, (choice(), LATER)),
    request("lettuce-1", LETTUCE, 12, (choice(), LATER)),
)


@pytest.fixture
def board() -> Board:
    """The plan with the onions late and at the far end of a bed, where they are worth less."""
    problem = problem_of(GARDEN, *ASKED)
    board = board_of(problem, planned(GARDEN, *ASKED).plantings)
    (onion,) = board.of_request(1)
    board.take(onion)
    offer = board.best(1, onion.n_plants, dates=(1,))
    assert offer is not None
    board.put(offer[1])
    return board


def test_some_are_placed_better_while_the_rest_stays(board: Board) -> None:
    before, rest = board.value, [spot for spot in board.spots if spot.request != 1]
    board.improve([1], 2_000)
    assert board.value > before
    assert [spot for spot in board.spots if spot.request != 1] == rest
    assert board.value == pytest.approx(sum(plan_terms(board.problem, board.spots).values()))


def test_the_same_board_and_moves_give_the_same_plan(board: Board) -> None:
    other = board.copy()
    board.improve([0, 1], 500)
    other.improve([0, 1], 500)
    assert board.spots == other.spots


def test_what_has_no_date_is_passed_over() -> None:
    asked = (*ASKED[:2], replace(ASKED[2], choices=(), best=None))
    problem = problem_of(GARDEN, *asked)
    board = board_of(problem, planned(GARDEN, *asked).plantings)
    before = board.spots
    board.improve([2], 500)
    assert board.spots == before
