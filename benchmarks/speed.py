"""How fast places are found, and how long light, packing, a pulled block and planning again take.

`python -m benchmarks speed`. Seconds are of one core, used by the process. The peer of the search is
the whole question given to CP-SAT with the plan by hand as a hint: the time it takes, over the time in
which this search has a plan as good. The other parts name their peers themselves.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.search import by_hand, find_plan, value_of
from benchmarks import changes, light, packing
from benchmarks.quality.gardens import made_garden
from benchmarks.quality.peers import by_cp_sat

SIZES = ((6, 25), (12, 60), (40, 250))
FIRST_PLAN_S = 2.0
MOVES = 200_000
PEER_WORK = 20.0
TRIED_MOVES = (0, 1_000, 3_000, 10_000, 30_000, 100_000, 300_000, 1_000_000)


def spent_s(work: Callable[[], object]) -> float:
    """Seconds of a core that some work takes."""
    started = time.process_time()
    work()
    return time.process_time() - started


def look_at_search(n_beds: int, n_plantings: int) -> None:
    """First plan and moves a second on a tight garden."""
    problem = made_garden(n_beds, n_plantings, 1).problem()
    first_s = spent_s(lambda: find_plan(problem, 1, 0))
    all_s = spent_s(lambda: find_plan(problem, 1, MOVES))
    print(
        f"{n_beds} beds, {n_plantings} plantings: first plan {first_s:.2f} s (to be shown within "
        f"{FIRST_PLAN_S:g} s), then {MOVES / max(1e-9, all_s - first_s):,.0f} moves a second"
    )


def look_at_peer() -> None:
    """Time to a plan as good as that of a general solver, on a tight garden of 6 beds."""
    problem = made_garden(6, 25, 1).problem()
    hand = by_hand(problem)
    started = time.process_time()
    theirs, state = by_cp_sat(problem, hand, PEER_WORK)
    peer_s = time.process_time() - started
    value = value_of(problem, theirs)
    ours_s, ours = time_to(problem, value)
    print(
        f"CP-SAT, whole model: {value:.1f} points in {peer_s:.1f} s ({state}); this search: "
        f"{ours:.1f} points in {ours_s:.2f} s, ratio {peer_s / ours_s:.0f}"
    )


def time_to(problem: PlacementProblem, value: float) -> tuple[float, float]:
    """Seconds, and points, of the shortest run tried that is worth as much."""
    took_s, reached = float("inf"), 0.0
    for moves in TRIED_MOVES:
        started = time.process_time()
        reached = find_plan(problem, 1, moves).value
        took_s = time.process_time() - started
        if reached >= value:
            break
    return took_s, reached


def main() -> None:
    find_plan(made_garden(6, 25, 2).problem(), 1, 100)
    for n_beds, n_plantings in SIZES:
        look_at_search(n_beds, n_plantings)
    look_at_peer()
    for words, part in (("light", light), ("packing", packing), ("changes", changes)):
        print(f"\n### {words}")
        part.main()


if __name__ == "__main__":
    main()
