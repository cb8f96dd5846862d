"""How good plans are: against fitting in by hand, two general solvers, and what no plan can exceed.

`python -m benchmarks quality` looks at a few gardens; `python -m benchmarks.quality NAME ...` at all seeds
of the parts named (see `PARTS`), or of all parts. Work is counted in moves, so the same garden gets the same
plan on any machine; seconds of one core are printed beside it.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.bound import upper_bound
from bedwright.engine.placement.check import check
from bedwright.engine.placement.plan import plantings_of
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.search import by_hand, find_plan, value_of
from benchmarks.quality import many, tiny
from benchmarks.quality.gardens import Garden, made_garden
from benchmarks.quality.peers import by_cp_sat, by_milp
from benchmarks.quality.sites import written_gardens

PEER_WORK = 20.0


@dataclass(frozen=True, slots=True)
class Size:
    """One kind and size of garden, and the work spent on it."""

    kind: str
    n_beds: int
    n_plantings: int
    moves: int
    longer: int
    """Times the moves of the longest run, whose plan counts as the best known; 1: no longer run."""
    n_seeds: int
    n_peers: int
    """Seeds on which the two solvers are tried too."""
    bounded: bool = True


SIZES = {
    "roomy-6": Size("roomy", 6, 25, 5_000_000, 1, 10, 2),
    "tight-6": Size("tight", 6, 25, 5_000_000, 1, 10, 2),
    "roomy-12": Size("roomy", 12, 60, 2_500_000, 2, 10, 1),
    "tight-12": Size("tight", 12, 60, 2_500_000, 2, 10, 2),
    "tight-40": Size("tight", 40, 250, 3_200_000, 2, 10, 1),
    "tight-200": Size("tight", 200, 1200, 3_000_000, 2, 2, 0, bounded=False),
}


@dataclass(frozen=True, slots=True)
class Line:
    """What was found for one garden, in points."""

    hand: float
    ours: float
    best: float
    bound: float | None

    def times_less(self, against: float) -> float:
        """How many times less is lost than by hand, against a value."""
        lost = against - self.ours
        return (against - self.hand) / lost if lost > 1e-6 else float("inf")


def _timed(work: Callable[[], tuple[Spot, ...]]) -> tuple[tuple[Spot, ...], float]:
    started = time.process_time()
    spots = work()
    return spots, time.process_time() - started


def look_at(garden: Garden, moves: int, longer: int, *, peers: bool, bounded: bool) -> Line:
    """Plan one garden every way and print what came of it."""
    problem = garden.problem()
    hand, hand_s = _timed(lambda: by_hand(problem))
    first, first_s = _timed(lambda: find_plan(problem, 1, 0).spots)
    plan, plan_s = _timed(lambda: find_plan(problem, 1, moves).spots)
    values = [value_of(problem, plan)]
    told = [
        f"hand {_told(garden, problem, hand)} ({hand_s:.1f} s)",
        f"first {_told(garden, problem, first)} ({first_s:.1f} s)",
        f"found {_told(garden, problem, plan)} ({plan_s:.1f} s)",
    ]
    if longer > 1:
        best = find_plan(problem, 2, longer * moves).spots
        values.append(value_of(problem, best))
        told.append(f"longer {values[-1]:.1f}")
    if peers:
        cp_sat, state = by_cp_sat(problem, hand, PEER_WORK)
        told.append(f"CP-SAT {_told(garden, problem, cp_sat)} ({state})")
        linear, state = by_milp(problem, PEER_WORK)
        told.append(f"MILP {_told(garden, problem, linear)} ({state})")
        values += [value_of(problem, cp_sat), value_of(problem, linear)]
    bound = upper_bound(problem) if bounded else None
    line = Line(value_of(problem, hand), values[0], max(values), bound)
    told.append(f"lost {line.times_less(line.best):.1f} times less than by hand against the best known")
    if bound is not None:
        told.append(
            f"bound {bound:.1f}: gap {bound / line.ours - 1:.2%}, {line.times_less(bound):.1f} times less"
        )
    print(f"{garden.name}: " + ", ".join(told), flush=True)
    return line


def _told(garden: Garden, problem: PlacementProblem, spots: Sequence[Spot]) -> str:
    faults = check(garden.book, plantings_of(problem, spots, with_reasons=False), garden.requests)
    assert not faults, faults[0]
    return f"{value_of(problem, spots):.1f}"


def look_at_size(name: str, n_seeds: int | None = None) -> None:
    """Plan gardens of one size and print medians and worst."""
    size = SIZES[name]
    lines = [
        look_at(
            made_garden(size.n_beds, size.n_plantings, seed, size.kind),
            size.moves,
            size.longer,
            peers=seed <= size.n_peers,
            bounded=size.bounded,
        )
        for seed in range(1, (n_seeds or size.n_seeds) + 1)
    ]
    _summary(name, lines)


def _summary(name: str, lines: Sequence[Line]) -> None:
    known = [line.times_less(line.best) for line in lines]
    median, worst = statistics.median(known), min(known)
    print(f"{name}: lost against the best known, times less: median {median:.1f}, worst {worst:.1f}")
    bounded = [(line, line.bound) for line in lines if line.bound is not None]
    if bounded:
        times = [line.times_less(bound) for line, bound in bounded]
        gaps = [bound / line.ours - 1 for line, bound in bounded]
        median, worst = statistics.median(times), min(times)
        print(f"{name}: against the bound, times less: median {median:.1f}, worst {worst:.1f}")
        median, worst = statistics.median(gaps), max(gaps)
        print(f"{name}: proven gap: median {median:.2%}, worst {worst:.2%}", flush=True)


def look_at_sites() -> None:
    """Plan the five gardens written by hand."""
    _summary("sites", [look_at(one, 1_000_000, 2, peers=False, bounded=True) for one in written_gardens()])


def look_at_tiny(n_gardens: int = tiny.N_GARDENS) -> None:
    """Compare with every plan of tiny gardens."""
    met, seen, worst, weighed = tiny.compare(n_gardens)
    print(f"tiny: the best of all plans in {met} of {seen}, largest loss {worst:.2g}, {weighed} sets weighed")


def look_at_many(n_gardens: int = 10_000) -> None:
    """Put the plans of random gardens to the checker."""
    faults = many.check_many(n_gardens)
    print(f"many: {len(faults)} faults in two plans each of {n_gardens} gardens", *faults[:5], sep="\n")


def look_at_repeats(n_repeats: int = 100) -> None:
    """Make one plan again and again, alone and beside other work."""
    alone, all_together = many.repeat(n_repeats)
    print(f"repeats: {alone} different plan in {n_repeats} on one core, {all_together} with two under load")


PARTS: dict[str, Callable[[], None]] = {
    "sites": look_at_sites,
    "tiny": look_at_tiny,
    **{name: (lambda name=name: look_at_size(name)) for name in SIZES},  # type: ignore[misc]
    "many": look_at_many,
    "repeats": look_at_repeats,
}


def main() -> None:
    """A few gardens of each kind, in some minutes."""
    look_at_size("roomy-6", 1)
    look_at_size("tight-12", 1)
    look_at_sites()
    look_at_tiny(20)
    look_at_many(200)
    look_at_repeats(6)
