"""One block moved by hand, and everything else in that bed decided again."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.placement.blocks import Spot, as_blocks, lanes, spot_at, whole_blocks
from bedwright.engine.placement.changes.bed_search import best_layout
from bedwright.engine.placement.changes.board import Board, clash
from bedwright.engine.placement.compiled.records import DIRECTIONS
from bedwright.engine.placement.pins import NEAR_DAYS
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.raw_manure import manure_words
from bedwright.engine.placement.rules import SMALL_M, STEP_M
from bedwright.engine.placement.value import at_date, own_terms
from bedwright.engine.placement.words import plain_day
from bedwright.model.weather import FloatArray

COMMON_LIMIT = 30_000
"""Places weighed at most in one search: some 0.015 s of a core."""

ENOUGH = 1e-4
"""Points below which two layouts are alike."""

MOST_NAMED = 5
"""Days named where the one wanted is none."""


class MoveRefusedError(ValueError):
    """A block cannot stand where it was moved to; the reason in words."""


@dataclass(frozen=True, slots=True)
class Settled:
    """A bed laid out again."""

    spots: tuple[Spot, ...]
    """The whole plan."""
    points: float
    """Of the whole plan."""
    at_most: float
    """Points that no layout of this bed round the moved block can exceed; infinite where that was
    not worked out: in an odd outline, where a block has other plants than those listed for it."""
    left_out: tuple[Spot, ...]
    """Blocks of the bed that found no ground in it, as they were."""
    n_weighed: int
    """Places weighed: the measure of work."""

    @property
    def proven(self) -> bool:
        """True where no layout of the bed round the moved block is worth more."""
        return self.at_most <= self.points + ENOUGH


def settle_bed(
    board: Board, moved: Spot, free: Sequence[Spot], *, days_stay: bool = True, limit: int = COMMON_LIMIT
) -> Settled:
    """Decide again where the other blocks of a bed stand, round one that stays put.

    Parameters
    ----------
    board
        The plan, with the block where it was moved to and without the free ones. Everything on
        the board stays; the free blocks are on it when this ends.
    moved
        The block that was moved.
    free
        Blocks of its bed to decide again, as they were.
    days_stay
        Each keeps its day and its shape or takes the full width, but for those that find no
        ground in the bed that way; False: days and shapes of all are decided again too.
    limit
        Places weighed at most; the best layout until then is given.

    Returns
    -------
    Settled
        A block that finds no ground in the bed is left out, and put into another bed where
        there is free ground for it.
    """
    begun = board.value
    everyone = frozenset(range(len(free)))
    laid, at_most, n_weighed = _laid_out(
        board, moved.bed, free, free, frozenset() if days_stay else everyone, limit
    )
    missing = frozenset(number for number, spot in enumerate(laid) if spot is None)
    if days_stay and missing:
        _take_up(board, laid)
        laid, at_most, more = _laid_out(board, moved.bed, free, laid, missing, limit)
        n_weighed += more
    in_bed = board.value
    out = tuple(spot for spot, now in zip(free, laid, strict=True) if now is None)
    for spot in out:
        offer = board.best(spot.request, spot.n_plants, floor=0.0)
        if offer is not None:
            board.put(offer[1])
    return Settled(board.spots, board.value, begun + at_most + board.value - in_bed, out, n_weighed)


def _take_up(board: Board, laid: Sequence[Spot | None]) -> None:
    for spot in laid:
        if spot is not None:
            board.take(spot)


def _laid_out(
    board: Board,
    bed: int,
    free: Sequence[Spot],
    begin: Sequence[Spot | None],
    reopened: frozenset[int],
    limit: int,
) -> tuple[list[Spot | None], float, int]:
    """Free blocks laid on the board; points that they cannot exceed together; places weighed.

    `begin` are places for them to begin with, as far as they are free; `reopened` are the
    numbers of those whose day and shape are decided again.
    """
    begun = board.value
    laid = _one_after_the_other(board, bed, free, begin, reopened)
    if not free:
        return laid, board.value - begun, 0
    if not all(_is_listed(board, spot) for spot in free):
        return laid, math.inf, 0
    return searched(board, bed, free, laid, reopened, limit)


def _is_listed(board: Board, spot: Spot) -> bool:
    """False for a block that is none of those listed for a bed of an odd outline."""
    if board.problem.beds[spot.bed].shape.rectangular:
        return True
    world = board.world
    at = int(world.head[0]["block_at"]) + (spot.request * len(world.beds) + spot.bed) * 2
    listed = world.blocks[world.ints[at] : world.ints[at + 1]]
    same = (listed["n"] == spot.n_plants) & (np.abs(listed["start"] - spot.along_m[0]) < SMALL_M)
    return bool((same & (np.abs(listed["end"] - spot.along_m[1]) < SMALL_M)).any())


def _one_after_the_other(
    board: Board,
    bed: int,
    free: Sequence[Spot],
    begin: Sequence[Spot | None],
    reopened: frozenset[int],
) -> list[Spot | None]:
    """Free blocks where they begin if that can be, else at their best, those worth most first."""
    placed: list[Spot | None] = [None] * len(free)
    order = sorted(range(len(free)), key=lambda n: (-_worth(board, free[n]), free[n]))
    for number in order:
        spot = begin[number]
        if spot is not None and board.is_free(spot):
            board.put(spot)
            placed[number] = spot
    for number in order:
        if placed[number] is None:
            spot = free[number]
            dates = None if number in reopened else (spot.date,)
            offer = board.best(spot.request, spot.n_plants, beds=(bed,), dates=dates, floor=0.0)
            if offer is not None:
                board.put(offer[1])
                placed[number] = offer[1]
    return placed


def _worth(board: Board, spot: Spot) -> float:
    facts = board.problem.requests[spot.request]
    return facts.worth * spot.n_plants / max(1, facts.request.n_plants)


def searched(
    board: Board,
    bed: int,
    free: Sequence[Spot],
    laid: list[Spot | None],
    reopened: frozenset[int],
    limit: int,
) -> tuple[list[Spot | None], float, int]:
    """The best layout, laid on the board; points of it that cannot be exceeded; places weighed."""
    after = board.value
    _take_up(board, laid)
    floor = after - board.value
    asked = board.world.asked
    items = np.array([spot.request for spot in free], dtype=np.int64)
    wanted = np.array([spot.n_plants for spot in free], dtype=np.int64)
    spans = np.array(
        [
            (asked[spot.request]["date0"], asked[spot.request]["date1"])
            if number in reopened
            else (asked[spot.request]["date0"] + spot.date, asked[spot.request]["date0"] + spot.date + 1)
            for number, spot in enumerate(free)
        ],
        dtype=np.int64,
    )
    shapes = np.array(
        [
            (*spot.across_m, DIRECTIONS.index(spot.direction), number in reopened)
            for number, spot in enumerate(free)
        ],
        dtype=np.float64,
    )
    found = np.full((len(free), 5), -1.0)
    _, most, n_weighed = best_layout(board.world, bed, items, wanted, spans, shapes, floor, limit, found)
    best = laid if (found < 0).all() else _spots(board, bed, free, found)
    for spot in best:
        if spot is not None:
            board.put(spot)
    return best, max(most, floor), n_weighed


def _spots(board: Board, bed: int, free: Sequence[Spot], found: FloatArray) -> list[Spot | None]:
    spots: list[Spot | None] = []
    for spot, (lane, day, start_m, end_m, is_laid) in zip(free, found.tolist(), strict=True):
        ground_m = (start_m, end_m)
        block = board.block_at(spot.request, bed, int(lane), int(day), ground_m, spot.n_plants)
        spots.append(block if is_laid else None)
    return spots


def moved_block(
    board: Board, spot: Spot, bed: int, along_m: float, day: date, *, among: Sequence[Spot] = ()
) -> Spot:
    """The block of a spot at another place and day.

    Parameters
    ----------
    board
        The plan, with what stays put.
    spot
        The block as it was.
    bed, along_m
        Where its ground is to start, to the nearest 5 cm.
    day
        Day to go in, to the nearest of its dates at most `NEAR_DAYS` away.
    among
        Blocks that cannot give way; each names itself where it is in the way.

    Raises
    ------
    MoveRefusedError
        If the block cannot stand there, with the reason in words.
    """
    problem = board.problem
    facts, code = problem.requests[spot.request], problem.beds[bed].bed.code
    dates = facts.dates.choices
    number = min(range(len(dates)), key=lambda n: (abs((dates[n].in_ground - day).days), n), default=None)
    if number is None or abs((dates[number].in_ground - day).days) > NEAR_DAYS:
        raise MoveRefusedError(_days_that_would_do(day, [one.in_ground for one in dates]))
    if bed not in facts.beds:
        why = facts.refused.get(code, "not allowed")
        raise MoveRefusedError(f"{facts.crop.name.capitalize()} may not stand in bed {code}: {why}.")
    if bed in facts.barred and facts.barred[bed][number]:
        why = manure_words(facts.crop, problem.beds[bed].raw_manure)
        raise MoveRefusedError(f"{facts.crop.name.capitalize()} may not stand in bed {code} then: {why}.")
    fits = _blocks_from(problem, spot, bed, along_m, number)
    if not fits:
        raise MoveRefusedError(
            f"From {along_m:.2f} m on, bed {code} has no room for {spot.n_plants} plants of "
            f"{facts.crop.name}."
        )
    free = [one for one in fits if not any(clash(one, other) for other in among)]
    if not free:
        hit = next(other for other in among if any(clash(one, other) for one in fits))
        name = problem.requests[hit.request]
        raise MoveRefusedError(
            f"{name.crop.name.capitalize()} ({name.request.code}) stands there and cannot give way."
        )
    return free[0]


def _days_that_would_do(day: date, days: Sequence[date]) -> str:
    """A refusal that names the days nearest to the one wanted."""
    nearest = sorted(sorted(days, key=lambda each: (abs((each - day).days), each))[:MOST_NAMED])
    if not nearest:
        return "There is no day on which it can still go in."
    known = ", ".join(plain_day(each) for each in nearest)
    return f"It cannot go in on {plain_day(day)} here. Days that would do: {known}."


def _blocks_from(
    problem: PlacementProblem, spot: Spot, bed: int, along_m: float, number: int
) -> tuple[Spot, ...]:
    """Blocks with all plants of a spot from a start, its own lane first, then the best."""
    facts = problem.requests[spot.request]
    ways = lanes(
        problem.beds[bed],
        facts.spacing,
        climber=facts.crop.climbs and facts.crop.support != "none",
        only_support=facts.needs_support_side,
        levels_m=spot.across_m,
    )
    found = []
    for order, lane in enumerate(ways):
        blocks = whole_blocks(problem, spot.request, bed, lane, spot.n_plants, (along_m,))
        if blocks is None:
            continue
        for at, start_m in enumerate(blocks.start_m):
            if abs(float(start_m) - along_m) <= STEP_M / 2 + SMALL_M and blocks.n_plants[at] == spot.n_plants:
                block = spot_at(problem, blocks, at, number)
                own = sum(at_date(points, number) for points in own_terms(problem, as_blocks(block)).values())
                found.append(((lane != spot.lane, -own, abs(float(start_m) - along_m), order), block))
    return tuple(block for _, block in sorted(found, key=lambda one: one[0]))
