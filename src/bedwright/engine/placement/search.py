"""Finding a good plan: first come, first served; then millions of small changes, some kept.

The answer depends on problem, seed and number of moves only, never on the clock.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.compiled.anneal import anneal, lists
from bedwright.engine.placement.compiled.first_fit import first_fit
from bedwright.engine.placement.compiled.records import Records, World
from bedwright.engine.placement.compiled.state import load_spots, read_spots
from bedwright.engine.placement.compiled.tables import build_world, copy_world
from bedwright.engine.placement.layout import IntArray
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.value import plan_terms
from bedwright.model.weather import FloatArray

HOT, COLD = 0.1, 0.003
"""Temperatures at the first and last move, as shares of the median worth of a planting."""

N_ROUNDS = 40
"""Rounds of moves: what is found is told, and a wish to stop is heard, after each."""

OnStep = Callable[[int, int, Sequence[Spot], float, str], None]
"""Called with moves done, moves in all, best spots so far, their value and what is tried."""


@dataclass(frozen=True, slots=True)
class Found:
    """Outcome of the search."""

    spots: tuple[Spot, ...]
    value: float
    first_value: float
    """Value of the plan before any move."""
    n_moves: int
    stopped: bool
    """True where it was asked to end early."""


def find_plan(
    problem: PlacementProblem,
    seed: int,
    effort: int,
    on_step: OnStep | None = None,
    *,
    start: Sequence[Spot] = (),
    stop: Callable[[], bool] | None = None,
) -> Found:
    """Place every request in order of priority, then improve for a number of moves.

    Parameters
    ----------
    seed
        The same problem, seed and effort give the same plan.
    effort
        Moves after the first plan; 0 for none.
    start
        Places of an earlier plan; what it lacks is put in first.
    stop
        Asked before each round; True ends the search.
    """
    empty = build_world(problem, seed)
    world = first_plan(problem, empty, start)
    best = world.slots.copy()
    first_value = value_of(problem, read_spots(world, best))
    values = np.array([first_value, first_value])
    movable = movable_requests(problem)
    stopped, done = False, 0
    ends = [round(effort * number / N_ROUNDS) for number in range(1, N_ROUNDS + 1)]
    for end in ends if len(movable) else ():
        if stop is not None and stop():
            stopped = True
            break
        if on_step is not None:
            trying = "first places" if done == 0 else "other beds, places and dates"
            on_step(done, effort, read_spots(world, best), float(values[1]), trying)
        if end > done:
            _round(problem, world, movable, best, values, (done, end - done, effort))
            done = end
    spots = read_spots(world, best)
    value = value_of(problem, spots)
    if on_step is not None and not stopped:
        on_step(effort, effort, spots, value, "")
    return Found(spots, value, first_value, done, stopped)


def _round(
    problem: PlacementProblem,
    world: World,
    movable: IntArray,
    best: Records,
    values: FloatArray,
    span: tuple[int, int, int],
) -> None:
    median = float(np.median([problem.requests[number].worth for number in movable]))
    anneal(*world, movable, best, values, *span, HOT * median, COLD * median, *lists())


def value_of(problem: PlacementProblem, spots: Sequence[Spot]) -> float:
    """Value of a plan by the reference, in points."""
    return sum(plan_terms(problem, spots).values())


def movable_requests(problem: PlacementProblem) -> IntArray:
    """Numbers of the requests that may be placed."""
    return np.array(
        [
            number
            for number, facts in enumerate(problem.requests)
            if not facts.fixed and facts.request.n_plants > 0 and facts.dates.choices and facts.beds
        ],
        dtype=np.int64,
    )


def first_plan(problem: PlacementProblem, empty: World, start: Sequence[Spot] = ()) -> World:
    """The better of two plans made first come, first served; or an earlier plan, filled up."""
    if start:
        return _fitted(problem, empty, (*fixed_spots(problem), *start), _orders(problem)[0])
    made = [_fitted(problem, empty, fixed_spots(problem), order) for order in _orders(problem)]
    return max(made, key=lambda world: value_of(problem, read_spots(world, world.slots)))


def _fitted(problem: PlacementProblem, empty: World, spots: Sequence[Spot], order: Sequence[int]) -> World:
    world = copy_world(empty)
    load_spots(problem, world, spots)
    preferred = [
        start + np.argsort(facts.dates.weeks_off, kind="stable")
        for start, facts in zip(world.asked["date0"], problem.requests, strict=True)
    ]
    by_preference = np.concatenate(preferred).astype(np.int64) if preferred else np.zeros(0, np.int64)
    if order:
        first_fit(*world, by_preference, np.array(order, dtype=np.int64))
    return world


def by_hand(problem: PlacementProblem) -> tuple[Spot, ...]:
    """The plan of a person who fits things in one by one: by priority, in the order of the book."""
    asked = [facts.request.priority for facts in problem.requests]
    order = sorted(movable_requests(problem).tolist(), key=lambda number: (-asked[number], number))
    world = _fitted(problem, build_world(problem, 0), fixed_spots(problem), order)
    return read_spots(world, world.slots)


def _orders(problem: PlacementProblem) -> tuple[list[int], ...]:
    """Two orders: large plantings first, which pack well, and those worth most for their ground."""

    def ground(number: int) -> float:
        facts = problem.requests[number]
        days = float(facts.dates.days.mean())
        return facts.request.n_plants * facts.spacing.in_row_m * facts.spacing.row_m * days

    def rank(number: int) -> tuple[bool, int, bool]:
        facts = problem.requests[number]
        return (
            facts.request.code not in problem.pinned,
            -facts.request.priority,
            not facts.needs_support_side,
        )

    placeable = movable_requests(problem).tolist()
    by_size = sorted(placeable, key=lambda number: (rank(number), -ground(number), number))
    by_yield = sorted(
        placeable,
        key=lambda number: (rank(number), -problem.requests[number].worth / ground(number), number),
    )
    return by_size, by_yield
