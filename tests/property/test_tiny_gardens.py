"""Gardens so small that every plan can be looked at: none exceeds the bound, none is missed by the search."""

from __future__ import annotations

import pytest

from bedwright.engine.placement.bound import upper_bound
from bedwright.engine.placement.compiled.tables import build_world
from bedwright.engine.placement.search import find_plan, value_of
from benchmarks.quality.tiny import all_blocks, best_of_all, tiny_problem

FEW_BLOCKS = (1, 7, 12, 15, 18, 21, 22)
"""Seeds of gardens with so few places that all plans are looked at in an instant."""

MOVES = 20_000


@pytest.mark.parametrize("seed", FEW_BLOCKS)
def test_no_plan_of_a_tiny_garden_exceeds_the_bound_and_the_search_finds_the_best(seed: int) -> None:
    problem = tiny_problem(seed)
    world = build_world(problem, 0)
    gained, _ = best_of_all(*world, all_blocks(world))
    best = float(gained) + value_of(problem, ())
    bound, taken_together = upper_bound(problem), upper_bound(problem, 0)
    assert bound is not None
    assert taken_together is not None
    assert taken_together >= bound - 1e-6
    assert bound >= best - 1e-6
    assert find_plan(problem, seed, MOVES).value == pytest.approx(best, abs=1e-6)
