"""Finding a good plan: one planting after the other, then taking some out and trying again.

Knows the problem, the places and the value; may be replaced without touching them. The
answer depends on problem, seed and amount of work only, never on the clock.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from bedwright.engine.placement.blocks import Blocks, Lane, Spot, gap_blocks, lanes, spot_at, whole_blocks
from bedwright.engine.placement.layout import Span
from bedwright.engine.placement.problem import PlacementProblem, RequestFacts
from bedwright.engine.placement.rules import MOST_PATCHES, SMALL_M
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.terms import TERMS, share
from bedwright.engine.placement.value import (
    bed_terms,
    days_together,
    own_terms,
    pair_terms,
    share_ground,
    split_points,
    spot_worth,
    spots_use,
    use_share,
)
from bedwright.model.weather import FloatArray

LEAST_PATCH = 0.2
LEAST_PATCH_M = 1.0
"""A patch smaller than this share of its request and than this length of row is not worth the walk."""
CLOSE_PACKING = 0.02
"""Points given, in the search only, for lying against a neighbour or an end: keeps ground in one piece."""

GAIN = 1e-9
Bed = tuple[Spot, ...]
Plan = tuple[Bed, ...]
OnStep = Callable[[int, int, Sequence[Spot], float], None]
"""Called with steps done, steps in all, best spots so far and their value."""


@dataclass(frozen=True, slots=True)
class Found:
    """Outcome of the search."""

    spots: tuple[Spot, ...]
    value: float
    first_value: float
    """Value before improvement."""
    n_looked_up: int
    """Beds looked through for a place: the measure of work."""
    stopped: bool
    """True where it was asked to end early."""


@dataclass(slots=True)
class Searcher:
    """A search under way: the problem and what has been worked out so far."""

    problem: PlacementProblem
    n_looked_up: int = 0
    _best: dict[tuple[int, int, bool, int, Bed], tuple[float, Spot] | None] = field(default_factory=dict)
    _bed_value: dict[Bed, float] = field(default_factory=dict)
    _own: dict[tuple[int, int, int, Lane], tuple[Blocks, FloatArray] | None] = field(default_factory=dict)

    def value(self, plan: Plan) -> float:
        """Value of a whole plan."""
        patches: dict[int, int] = {}
        total = 0.0
        for bed in plan:
            total += self._value_of_bed(bed)
            for spot in bed:
                patches[spot.request] = patches.get(spot.request, 0) + 1
        return total + sum(split_points(self.problem, one, number) for one, number in patches.items())

    def _value_of_bed(self, bed: Bed) -> float:
        if not bed:
            return 0.0
        if bed not in self._bed_value:
            self._bed_value[bed] = sum(bed_terms(self.problem, bed[0].bed, bed).values())
        return self._bed_value[bed]

    def insert(self, plan: Plan, request: int) -> Plan:
        """The plan with a request placed as fully as pays, in few patches."""
        facts = self.problem.requests[request]
        missing = facts.request.n_plants
        for patch in range(MOST_PATCHES):
            spot = self._place_for(plan, request, missing, patch)
            if spot is None:
                break
            plan = with_spot(plan, spot)
            missing -= spot.n_plants
            if missing <= 0:
                break
        return plan

    def _place_for(self, plan: Plan, request: int, n_plants: int, patch: int) -> Spot | None:
        facts = self.problem.requests[request]
        least = min(LEAST_PATCH * facts.request.n_plants, LEAST_PATCH_M / facts.spacing.in_row_m)
        for partly in (False, True):
            best: tuple[float, Spot] | None = None
            for bed in facts.beds:
                found = self._best_in_bed(request, n_plants, partly, bed, plan[bed])
                if found is not None and (best is None or found[0] > best[0] + GAIN):
                    best = found
            if best is not None:
                cost = split_points(self.problem, request, patch + 1) - split_points(
                    self.problem, request, patch
                )
                pays = best[0] + (cost if patch else 0.0) > 0
                return best[1] if pays and best[1].n_plants >= least else None
        return None

    def _best_in_bed(
        self, request: int, n_plants: int, partly: bool, bed: int, spots: Bed
    ) -> tuple[float, Spot] | None:
        key = (request, n_plants, partly, bed, spots)
        if key not in self._best:
            self.n_looked_up += 1
            self._best[key] = self._look_through(request, n_plants, partly, bed, spots)
        return self._best[key]

    def _look_through(
        self, request: int, n_plants: int, partly: bool, bed: int, spots: Bed
    ) -> tuple[float, Spot] | None:
        facts, bed_facts = self.problem.requests[request], self.problem.beds[bed]
        levels = sorted({edge for spot in spots for edge in spot.across_m})
        ready = []
        for lane in lanes(
            bed_facts,
            facts.spacing,
            climber=facts.crop.climbs and facts.crop.support != "none",
            only_support=facts.needs_support_side,
            levels_m=levels,
        ):
            look = self._gaps if partly else self._whole
            blocks_and_own = look(request, bed, lane, n_plants, spots)
            if blocks_and_own is not None:
                ready.append((float(blocks_and_own[1].max()), *blocks_and_own))
        # Lanes that promise most come first, so that the others need not be looked at.
        ready.sort(key=lambda one: -one[0])
        hoped = self._most_from_neighbours(request, spots)
        used = spots_use(self.problem, bed, spots)
        together = [days_together(self.problem, request, spot) for spot in spots]
        best: tuple[float, Spot] | None = None
        for promise, blocks, own in ready:
            if best is not None and promise + hoped <= best[0]:
                break
            found = self._best_of(blocks, own, spots, together, used)
            if found is not None and (best is None or found[0] > best[0] + GAIN):
                best = found
        return best

    def _most_from_neighbours(self, request: int, spots: Bed) -> float:
        """Upper bound of what a place can gain beyond its own terms."""
        problem, mine = self.problem, self.problem.requests[request]
        hoped = 2 * CLOSE_PACKING
        for spot in spots:
            other = problem.requests[spot.request].crop
            name = other.name
            if other.rotation_group == mine.crop.rotation_group:
                hoped += share("families together") * min(mine.worth, spot_worth(problem, spot))
            gain = problem.neighbour_gain.get((mine.crop.name, name), 0.0) * mine.worth
            back = problem.neighbour_gain.get((name, mine.crop.name), 0.0) * spot_worth(problem, spot)
            hoped += max(0.0, gain) + max(0.0, back)
        return hoped

    def _whole(
        self, request: int, bed: int, lane: Lane, n_plants: int, spots: Bed
    ) -> tuple[Blocks, FloatArray] | None:
        rectangular = self.problem.beds[bed].shape.rectangular
        if not rectangular:
            ends = sorted({spot.along_m[1] for spot in spots})
            return self._with_own(whole_blocks(self.problem, request, bed, lane, n_plants, ends))
        key = (request, bed, n_plants, lane)
        if key not in self._own:
            self._own[key] = self._with_own(whole_blocks(self.problem, request, bed, lane, n_plants))
        return self._own[key]

    def _gaps(
        self, request: int, bed: int, lane: Lane, n_plants: int, spots: Bed
    ) -> tuple[Blocks, FloatArray] | None:
        gaps = sorted(set(self._free_stretches(request, bed, lane, spots)))
        return self._with_own(gap_blocks(self.problem, request, bed, lane, n_plants, gaps))

    def _free_stretches(self, request: int, bed: int, lane: Lane, spots: Bed) -> list[Span]:
        dates = self.problem.requests[request].dates
        in_lane = [
            spot
            for spot in spots
            if spot.across_m[0] < lane.across_m[1] - SMALL_M and spot.across_m[1] > lane.across_m[0] + SMALL_M
        ]
        patterns = {
            tuple(spot for spot in in_lane if spot.taken_from <= clear_by and spot.clear_by >= taken_from)
            for taken_from, clear_by in zip(dates.taken_from.tolist(), dates.clear_by.tolist(), strict=True)
        }
        length_m = self.problem.beds[bed].shape.length_m
        stretches: list[Span] = []
        for pattern in patterns:
            at = 0.0
            for low, high in sorted(spot.along_m for spot in pattern):
                if low > at + SMALL_M:
                    stretches.append((at, low))
                at = max(at, high)
            if length_m > at + SMALL_M:
                stretches.append((at, length_m))
        return stretches

    def _with_own(self, blocks: Blocks | None) -> tuple[Blocks, FloatArray] | None:
        if blocks is None:
            return None
        n_dates = len(self.problem.requests[blocks.request].dates.choices)
        total = np.zeros((n_dates, len(blocks.start_m)))
        for points in own_terms(self.problem, blocks).values():
            total = total + points
        return blocks, total

    def _best_of(
        self, blocks: Blocks, own: FloatArray, spots: Bed, together: list[FloatArray], used: float
    ) -> tuple[float, Spot] | None:
        free = np.ones(own.shape, dtype=np.bool_)
        for spot, days in zip(spots, together, strict=True):
            if days.any() and (hit := share_ground(blocks, spot)).any():
                free &= ~((days > 0)[:, None] & hit[None, :])
        if not free.any():
            return None
        length_m = self.problem.beds[blocks.bed].shape.length_m
        contact = (blocks.start_m <= SMALL_M) * 1.0 + (blocks.end_m >= length_m - SMALL_M)
        total = own
        for spot, days in zip(spots, together, strict=True):
            for points in pair_terms(self.problem, blocks, spot, days).values():
                total = total + points
            contact = contact + (np.abs(blocks.start_m - spot.along_m[1]) < SMALL_M)
            contact = contact + (np.abs(blocks.end_m - spot.along_m[0]) < SMALL_M)
        total = total + self._use_change(blocks, used) + CLOSE_PACKING * np.minimum(contact, 2)[None, :]
        total = np.where(free, total, -np.inf)
        date, block = divmod(int(total.argmax()), total.shape[1])
        return float(total[date, block]), spot_at(self.problem, blocks, block, date)

    def _use_change(self, blocks: Blocks, before: float) -> FloatArray:
        low, high = blocks.lane.across_m
        area = ((blocks.end_m - blocks.start_m) * (high - low))[None, :]
        dates = self.problem.requests[blocks.request].dates
        days: FloatArray = (dates.clear_by - dates.taken_from + 1).astype(np.float64)[:, None]
        after = before + use_share(self.problem, blocks.bed, area, days)
        change: FloatArray = -TERMS["even use"].weight * (after**2 - before**2)
        return change


def with_spot(plan: Plan, spot: Spot) -> Plan:
    """The plan with one spot more."""
    changed = tuple(sorted((*plan[spot.bed], spot)))
    return (*plan[: spot.bed], changed, *plan[spot.bed + 1 :])


def without(plan: Plan, requests: frozenset[int]) -> Plan:
    """The plan without some requests."""
    return tuple(
        bed
        if not any(spot.request in requests for spot in bed)
        else tuple(spot for spot in bed if spot.request not in requests)
        for bed in plan
    )


def find_plan(
    problem: PlacementProblem,
    seed: int,
    effort: int,
    on_step: OnStep | None = None,
    *,
    start: Sequence[Spot] = (),
    stop: Callable[[], bool] | None = None,
) -> Found:
    """Place every request in order of priority, then improve for a bounded number of tries.

    Parameters
    ----------
    seed
        The same problem, seed and effort give the same plan.
    effort
        Tries at improving the plan; 0 for none.
    start
        Places of an earlier plan; what it lacks is put in first.
    stop
        Asked before each try; True ends the search.
    """
    searcher = Searcher(problem)
    empty = _planted(problem, fixed_spots(problem))
    by_size, by_yield = _orders(problem)
    if start:
        begun = _planted(problem, (*fixed_spots(problem), *start))
        whole = {spot.request for spot in start}
        best = _one_after_the_other(searcher, begun, [one for one in by_size if one not in whole])
    else:
        best = _one_after_the_other(searcher, empty, by_size)
        if _short(problem, best[1]):
            best = max(best, _one_after_the_other(searcher, empty, by_yield), key=lambda found: found[0])
    first_value = best[0]
    rng = random.Random(seed)  # noqa: S311 - a repeatable choice, nothing secret
    report_every = max(1, effort // 20)
    stopped = False
    for step in range(effort):
        if stop is not None and stop():
            stopped = True
            break
        if on_step is not None and step % report_every == 0:
            on_step(step, effort, _spots(best[1]), best[0])
        best = _try_again(searcher, best, rng)
    if on_step is not None:
        on_step(effort, effort, _spots(best[1]), best[0])
    return Found(_spots(best[1]), best[0], first_value, searcher.n_looked_up, stopped)


def _planted(problem: PlacementProblem, spots: Sequence[Spot]) -> Plan:
    return tuple(tuple(sorted(spot for spot in spots if spot.bed == bed)) for bed in range(len(problem.beds)))


def _spots(plan: Plan) -> tuple[Spot, ...]:
    return tuple(spot for bed in plan for spot in bed)


def _one_after_the_other(searcher: Searcher, plan: Plan, order: Sequence[int]) -> tuple[float, Plan]:
    for request in order:
        plan = searcher.insert(plan, request)
    return searcher.value(plan), plan


def _short(problem: PlacementProblem, plan: Plan) -> list[int]:
    """Requests with a date and a bed that are not placed in full."""
    placed: dict[int, int] = {}
    for spot in _spots(plan):
        placed[spot.request] = placed.get(spot.request, 0) + spot.n_plants
    return [
        number
        for number, facts in enumerate(problem.requests)
        if _placeable(facts) and placed.get(number, 0) < facts.request.n_plants
    ]


def _placeable(facts: RequestFacts) -> bool:
    return bool(not facts.fixed and facts.request.n_plants > 0 and facts.dates.choices and facts.beds)


def _orders(problem: PlacementProblem) -> tuple[list[int], ...]:
    """Two orders: large plantings first, which pack well, and those worth most for their ground."""

    def ground(number: int) -> float:
        facts = problem.requests[number]
        days = float(facts.dates.days.mean())
        return facts.request.n_plants * facts.spacing.in_row_m * facts.spacing.row_m * days

    placeable = [number for number, facts in enumerate(problem.requests) if _placeable(facts)]
    bound = {
        number: (
            problem.requests[number].request.code not in problem.pinned,
            not problem.requests[number].needs_support_side,
        )
        for number in placeable
    }
    priority = {number: -problem.requests[number].request.priority for number in placeable}
    by_size = sorted(placeable, key=lambda n: (bound[n][0], priority[n], bound[n], -ground(n), n))
    by_yield = sorted(
        placeable,
        key=lambda n: (bound[n][0], priority[n], bound[n], -problem.requests[n].worth / ground(n), n),
    )
    return by_size, by_yield


def _try_again(searcher: Searcher, best: tuple[float, Plan], rng: random.Random) -> tuple[float, Plan]:
    """Take two to four plantings out, put them and what is missing back in another order."""
    value, plan = best
    placed = sorted({spot.request for spot in _spots(plan) if _free_to_move(searcher.problem, spot.request)})
    if not placed:
        return best
    out = _chosen(searcher.problem, plan, placed, _short(searcher.problem, plan), rng)
    order = [*out]
    rng.shuffle(order)
    trial = without(plan, frozenset(out))
    for request in order:
        trial = searcher.insert(trial, request)
    trial_value = searcher.value(trial)
    return (trial_value, trial) if trial_value > value + GAIN else best


def _free_to_move(problem: PlacementProblem, request: int) -> bool:
    facts = problem.requests[request]
    return not facts.fixed and facts.request.code not in problem.pinned


def _chosen(
    problem: PlacementProblem, plan: Plan, placed: Sequence[int], short: Sequence[int], rng: random.Random
) -> list[int]:
    """One planting and up to three that stand in a bed it could use."""
    lead = rng.choice(short) if short and rng.random() < 0.6 else rng.choice(placed)
    bed = rng.choice(problem.requests[lead].beds)
    others = sorted({spot.request for spot in plan[bed]}.intersection(placed) - {lead})
    if rng.random() < 0.3:
        others = sorted(set(placed) - {lead})
    picked = rng.sample(others, min(len(others), rng.randint(1, 3)))
    return [lead, *picked]
