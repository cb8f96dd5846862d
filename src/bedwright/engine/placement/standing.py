"""Plantings that are there already: fixed in place and time, or a plan to start from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from bedwright.engine.placement.blocks import Spot, in_reach
from bedwright.engine.placement.problem import PlacementProblem, RequestFacts
from bedwright.engine.placement.rules import SMALL_M
from bedwright.model.ground import LocalSide
from bedwright.model.season import Planting, Shortfall


def fixed_spots(problem: PlacementProblem) -> tuple[Spot, ...]:
    """Spots of all standing plantings of a problem."""
    first = len(problem.requests) - len(problem.standing)
    return tuple(
        _spot(problem, first + number, planting, date=0) for number, planting in enumerate(problem.standing)
    )


def start_spots(problem: PlacementProblem, start: Sequence[Planting]) -> tuple[Spot, ...]:
    """Spots of an earlier plan that the problem still allows; the others are passed over.

    A place is passed over if its bed, date or amount is no longer allowed, or its ground is
    taken by what stands or by another place of the same plan.
    """
    numbers = {facts.request.code: number for number, facts in enumerate(problem.requests) if not facts.fixed}
    beds = {facts.bed.code for facts in problem.beds}
    taken = list(fixed_spots(problem))
    left = {number: problem.requests[number].request.n_plants for number in numbers.values()}
    kept: list[Spot] = []
    for planting in start:
        number = numbers.get(planting.request_code or planting.code)
        if number is None or planting.bed_code not in beds:
            continue
        spot = _allowed_spot(problem, number, planting)
        if spot is None or spot.n_plants > left[number] or any(_clash(spot, other) for other in taken):
            continue
        left[number] -= spot.n_plants
        taken.append(spot)
        kept.append(spot)
    return tuple(kept)


def _allowed_spot(problem: PlacementProblem, number: int, planting: Planting) -> Spot | None:
    facts = problem.requests[number]
    date = next(
        (
            index
            for index, choice in enumerate(facts.dates.choices)
            if choice.in_ground == planting.dates.in_ground and choice.clear_by == planting.dates.clear_by
        ),
        None,
    )
    if date is None:
        return None
    spot = _spot(problem, number, planting, date)
    if spot.bed in facts.barred and facts.barred[spot.bed][date]:
        return None
    if spot.bed not in facts.beds or (facts.needs_support_side and spot.side is None):
        return None
    if not in_reach(problem, spot):
        return None
    starts_m = facts.starts_m.get(spot.bed)
    if starts_m and not any(abs(spot.along_m[0] - start_m) < SMALL_M for start_m in starts_m):
        return None
    return spot


def _spot(problem: PlacementProblem, number: int, planting: Planting, date: int) -> Spot:
    facts = problem.requests[number]
    bed = next(index for index, one in enumerate(problem.beds) if one.bed.code == planting.bed_code)
    return Spot(
        bed=bed,
        taken_from=int(facts.dates.taken_from[date]),
        clear_by=int(facts.dates.clear_by[date]),
        along_m=planting.along_m,
        across_m=planting.across_m,
        request=number,
        n_plants=planting.n_plants,
        date=date,
        direction=planting.direction,
        side=_support_side(problem, facts, bed, planting),
    )


def _support_side(
    problem: PlacementProblem, facts: RequestFacts, bed: int, planting: Planting
) -> LocalSide | None:
    """The lasting support that a single row of a climber stands at."""
    if not (facts.crop.climbs and facts.crop.support != "none"):
        return None
    shape = problem.beds[bed].shape
    positions = {row.start_m[1] if planting.direction == "along" else row.start_m[0] for row in planting.rows}
    if len(positions) != 1:
        return None
    along = planting.direction == "along"
    at_side: dict[LocalSide, bool] = {
        "left": along and planting.across_m[0] <= SMALL_M,
        "right": along and planting.across_m[1] >= shape.width_m - SMALL_M,
        "start": not along and planting.along_m[0] <= SMALL_M,
        "end": not along and planting.along_m[1] >= shape.length_m - SMALL_M,
    }
    return next((side for side in problem.beds[bed].support_sides if at_side[side]), None)


def _clash(one: Spot, other: Spot) -> bool:
    """True if two spots want the same ground at the same time."""
    return (
        one.bed == other.bed
        and one.taken_from <= other.clear_by
        and other.taken_from <= one.clear_by
        and one.along_m[0] < other.along_m[1] - SMALL_M
        and other.along_m[0] < one.along_m[1] - SMALL_M
        and one.across_m[0] < other.across_m[1] - SMALL_M
        and other.across_m[0] < one.across_m[1] - SMALL_M
    )


def with_standing(
    shortfalls: Sequence[Shortfall], standing: Mapping[str, int], wanted: Mapping[str, int]
) -> tuple[Shortfall, ...]:
    """Shortfalls counted against all that was wanted, with what stands as placed.

    Parameters
    ----------
    standing, wanted
        Plants by request code.
    """
    return tuple(
        replace(
            one,
            wanted_plants=wanted[one.planting_code],
            placed_plants=one.placed_plants + standing.get(one.planting_code, 0),
        )
        for one in shortfalls
    )
