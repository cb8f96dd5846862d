"""What would have to give for a wish that fell short: other plantings, metres, weeks, hours or boards."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from datetime import date

from bedwright.engine.placement.blocks import Lane, Spot, whole_blocks
from bedwright.engine.placement.changes.board import Board, Offer
from bedwright.engine.placement.changes.weighing import spot_terms
from bedwright.engine.placement.layout import area_beyond_m2
from bedwright.engine.placement.problem import PlacementProblem, RequestFacts
from bedwright.engine.placement.rules import MOST_PATCHES, SMALL_M
from bedwright.engine.placement.scarce import LIMIT_WORDS, least_patch
from bedwright.engine.placement.shape import bed_shape
from bedwright.engine.placement.terms import TERMS
from bedwright.engine.placement.words import counted, listed, plain_day
from bedwright.model.season import Shortfall

WEEKS_LOOKED_AHEAD = 26
DAYS_A_WEEK = 7


def with_what_would_help(board: Board, shortfalls: Sequence[Shortfall]) -> tuple[Shortfall, ...]:
    """Shortfalls of a plan with what would have to give for each."""
    problem = board.problem
    numbers = {one.request.code: number for number, one in enumerate(problem.requests) if not one.fixed}
    wanted = {short.planting_code: numbers.get(short.planting_code) for short in shortfalls}
    open_to = {number for number in wanted.values() if number is not None and _has_ground(problem, number)}
    boarded = _with_boards(board, open_to)
    found = []
    for short in shortfalls:
        number = wanted[short.planting_code]
        helps: tuple[str, ...] = ()
        if number in open_to and number is not None:
            helps = tuple(_helps(board, boarded, number))
        found.append(replace(short, would_help=helps))
    return tuple(found)


def _has_ground(problem: PlacementProblem, request: int) -> bool:
    facts = problem.requests[request]
    return bool(facts.dates.choices and facts.beds)


def _helps(board: Board, boarded: Board | None, request: int) -> Iterator[str]:
    facts, missing = board.problem.requests[request], board.missing(request)
    if len(board.of_request(request)) >= MOST_PATCHES:
        yield f"It stands in {MOST_PATCHES} places already; a fourth is not sought."
        yield from _boards(board, boarded, request)
        return
    if board.of_request(request) and missing < least_patch(facts):
        yield f"Set the {counted(missing, 'plant')} left over by hand, wherever there is room."
        return
    free = board.best(request, missing)
    if free is not None:
        yield _why_not_taken(board, free)
        return
    yield from _metres(board.problem, board.spots, request, missing)
    yield from _weeks(board.problem, board.spots, request, missing)
    yield from _boards(board, boarded, request)
    yield from _instead(board, request, facts, missing)


def _with_boards(board: Board, requests: Collection[int]) -> Board | None:
    """The same plan where one could stand inside all beds of which some is out of reach; None if none is.

    Beds that are not asked about are left out of the question, save where something stands.
    """
    problem = board.problem
    open_to = {bed for number in requests for bed in problem.requests[number].beds}
    wide = {bed for bed in open_to if area_beyond_m2(problem.beds[bed].shape) > 0}
    if not wide:
        return None
    changed = [
        replace(facts, bed=(bed := replace(facts.bed, stepping_boards=True)), shape=bed_shape(bed))
        if number in wide
        else facts
        for number, facts in enumerate(problem.beds)
    ]
    used = {(spot.request, spot.bed) for spot in board.spots}
    asked = [
        replace(
            facts,
            beds=tuple(
                bed for bed in facts.beds if (number, bed) in used or (number in requests and bed in wide)
            ),
        )
        for number, facts in enumerate(problem.requests)
    ]
    return Board(replace(problem, beds=tuple(changed), requests=tuple(asked)), board.spots)


def _boards(board: Board, boarded: Board | None, request: int) -> Iterator[str]:
    """Plants more that a bed would hold with boards to stand on, placed again with all else as it is."""
    facts = board.problem.requests[request]
    if boarded is None or facts.anywhere:
        return
    for bed in facts.beds:
        if area_beyond_m2(board.problem.beds[bed].shape) > 0:
            more = _more_with_boards(boarded, request, bed)
            if more:
                row_m = more * facts.spacing.in_row_m
                yield (
                    f"With boards to stand on inside bed {board.problem.beds[bed].bed.code} (key "
                    f"stepping_boards) {counted(more, 'plant')} more would find ground there, "
                    f"{row_m:.1f} m of row."
                )


def _more_with_boards(boarded: Board, request: int, bed: int) -> int:
    """Plants of a request that find a place in one bed beyond those there now; the board stays as it was."""
    least = least_patch(boarded.problem.requests[request])
    before = [spot for spot in boarded.of_request(request) if spot.bed == bed]
    for spot in before:
        boarded.take(spot)
    put: list[Spot] = []
    while offer := boarded.best(request, boarded.missing(request), beds=(bed,), least=least, floor=0.0):
        boarded.put(offer[1])
        put.append(offer[1])
    for spot in put:
        boarded.take(spot)
    for spot in before:
        boarded.put(spot)
    return sum(spot.n_plants for spot in put) - sum(spot.n_plants for spot in before)


def _why_not_taken(board: Board, free: Offer) -> str:
    """There is ground, but it costs more than the planting is worth."""
    problem, spot = board.problem, free[1]
    terms = spot_terms(problem, spot, board.spots)
    bed = problem.beds[spot.bed].bed.code
    day = plain_day(problem.requests[spot.request].dates.choices[spot.date].in_ground)
    wanted = [
        words.wanted(amount)
        for name, words in LIMIT_WORDS.items()
        if (amount := -terms.get(name, 0.0) / TERMS[name].weight) >= words.told_from
    ]
    if wanted:
        return f"Bed {bed} has ground for it from {day}; {listed(wanted)}."
    worst = min(terms, key=lambda name: terms[name])
    return f"Bed {bed} has ground for it, but there it costs more than it is worth ({worst})."


def _full_width(problem: PlacementProblem, request: int, bed: int, n_plants: int) -> float | None:
    """Length of bed that so many plants take over its full width; None if it cannot hold them [m]."""
    shape = problem.beds[bed].shape
    lengths = []
    for direction in ("across", "along"):
        lane = Lane("across" if direction == "across" else "along", (0.0, shape.width_m))
        blocks = whole_blocks(problem, request, bed, lane, n_plants)
        if blocks is not None:
            whole = blocks.n_plants >= n_plants
            lengths += list((blocks.end_m - blocks.start_m)[whole])
    return float(min(lengths)) if lengths else None


def _stretches(spots: Sequence[Spot], bed: int, length_m: float, first: int, last: int) -> list[float]:
    """Lengths of a bed that are free over its full width in a span of days [m]."""
    there = sorted(
        one.along_m for one in spots if one.bed == bed and one.taken_from <= last and first <= one.clear_by
    )
    lengths, reached = [], 0.0
    for low, high in there:
        if low > reached + SMALL_M:
            lengths.append(low - reached)
        reached = max(reached, high)
    if length_m > reached + SMALL_M:
        lengths.append(length_m - reached)
    return lengths


def _preferred(facts: RequestFacts) -> int:
    best = facts.request.choices[facts.request.best or 0].in_ground
    return next((n for n, one in enumerate(facts.dates.choices) if one.in_ground == best), 0)


def _metres(problem: PlacementProblem, spots: Sequence[Spot], request: int, missing: int) -> Iterator[str]:
    """The bed that lacks the fewest metres at the preferred date."""
    facts = problem.requests[request]
    number = _preferred(facts)
    first, last = int(facts.dates.taken_from[number]), int(facts.dates.clear_by[number])
    lacks: list[tuple[float, int, float, float]] = []
    for bed in facts.beds:
        shape = problem.beds[bed].shape
        need_m = _full_width(problem, request, bed, missing)
        if need_m is not None and shape.rectangular:
            free_m = max(_stretches(spots, bed, shape.length_m, first, last), default=0.0)
            lacks.append((need_m - free_m, bed, free_m, need_m))
    if lacks and min(lacks)[0] > SMALL_M:
        lack_m, bed, free_m, need_m = min(lacks)
        day = plain_day(facts.dates.choices[number].in_ground)
        yield (
            f"{lack_m:.2f} m more of bed {problem.beds[bed].bed.code} from {day}: "
            f"{need_m:.2f} m of its full width are needed, {free_m:.2f} m are free in one piece."
        )


def _weeks(problem: PlacementProblem, spots: Sequence[Spot], request: int, missing: int) -> Iterator[str]:
    """The first week after its last date in which there is ground for as long as it stands."""
    facts = problem.requests[request]
    last_choice = len(facts.dates.choices) - 1
    start, days = int(facts.dates.taken_from[last_choice]), int(facts.dates.days[last_choice])
    needs = {
        bed: need_m
        for bed in facts.beds
        if problem.beds[bed].shape.rectangular
        and (need_m := _full_width(problem, request, bed, missing)) is not None
    }
    for week in range(1, WEEKS_LOOKED_AHEAD + 1):
        first = start + week * DAYS_A_WEEK
        for bed, need_m in needs.items():
            length_m = problem.beds[bed].shape.length_m
            free_m = max(_stretches(spots, bed, length_m, first, first + days), default=0.0)
            if free_m >= need_m - SMALL_M:
                day = plain_day(date.fromordinal(first))
                yield (
                    f"Bed {problem.beds[bed].bed.code} has ground for it from {day}, "
                    f"{counted(week, 'week')} after the last date that works."
                )
                return


def _instead(board: Board, request: int, facts: RequestFacts, missing: int) -> Iterator[str]:
    """The one planting whose giving way costs least, with what that costs."""
    problem = board.problem
    best: tuple[float, Spot, Spot] | None = None
    for spot in board.spots:
        if spot.bed not in facts.beds or spot.request == request or problem.requests[spot.request].fixed:
            continue
        lost = board.take(spot)
        offer = board.best(request, missing, beds=(spot.bed,))
        board.put(spot)
        if offer is not None and (best is None or offer[0] - lost > best[0] + SMALL_M):
            best = (offer[0] - lost, spot, offer[1])
    if best is None:
        yield "No single planting would make room for all of it by giving way."
        return
    points, spot, _ = best
    other = problem.requests[spot.request]
    day = plain_day(other.dates.choices[spot.date].in_ground)
    metres = spot.along_m[1] - spot.along_m[0]
    weeks = (spot.clear_by - spot.taken_from + 1) / DAYS_A_WEEK
    yield (
        f"{other.crop.name.capitalize()} ({other.request.code}, {counted(spot.n_plants, 'plant')}, priority "
        f"{other.request.priority}) giving way in bed {problem.beds[spot.bed].bed.code}: "
        f"{metres:.2f} m for {weeks:.0f} weeks from {day}. "
        + ("That would be worth " if points > 0 else "That costs ")
        + f"{abs(points):.1f} points{' more' if points > 0 else ''}."
    )
