"""The plan found depends on problem, seed and number of moves only."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.search import Found, by_hand, find_plan, value_of
from tests.unit.engine.placement.gardens import bed, book, crop, outline, request

MOVES = 3_000


def _problem() -> PlacementProblem:
    garden = book(bed("A", outline(2.4)), bed("B", outline(3.0, 0.9)))
    wanted = [
        request(f"crop-{number}", crop(f"crop {number}", in_row_spacing_m=0.1 + 0.05 * number), 30)
        for number in range(6)
    ]
    return build_problem(garden, wanted, (), (), {}, COMMON_RULES)


def test_a_search_begun_while_another_runs_changes_neither() -> None:
    problem = _problem()
    alone, other_alone = find_plan(problem, 1, MOVES), find_plan(problem, 2, MOVES)
    between: list[Found] = []

    def search_again(done: int, total: int, spots: Sequence[Spot], value: float, trying: str) -> None:
        if len(between) < 3:
            between.append(find_plan(problem, 2, MOVES))

    assert find_plan(problem, 1, MOVES, search_again) == alone
    assert between == [other_alone] * 3


def test_the_plan_found_is_no_worse_than_the_first_one_nor_than_one_fitted_in_by_hand() -> None:
    problem = _problem()
    found = find_plan(problem, 1, MOVES)
    assert found.value >= found.first_value
    assert value_of(problem, by_hand(problem)) <= found.value
