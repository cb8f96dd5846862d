"""A block moved by hand: what it costs, in plain words, and what else changes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.alternatives import key_of, key_of_spot
from bedwright.engine.placement.changes.board import Board
from bedwright.engine.placement.changes.listing import changes_between
from bedwright.engine.placement.changes.records import plantings_again
from bedwright.engine.placement.changes.settle import (
    COMMON_LIMIT,
    MoveRefusedError,
    Settled,
    moved_block,
    settle_bed,
)
from bedwright.engine.placement.changes.situation import request_of
from bedwright.engine.placement.changes.table import Ground, Table, lay_out
from bedwright.engine.placement.changes.weighing import TOLD_POINTS, differences, in_words
from bedwright.engine.placement.pins import request_code_of
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.words import counted, plain_day
from bedwright.model.changes import Change
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan


@dataclass(frozen=True, slots=True, eq=False)
class MoveTable:
    """A plan ready to have blocks moved in it; made once, used for every move."""

    plan: SeasonPlan
    table: Table
    board: Board
    """The plan as it is, what was planned before worth keeping; never changed."""
    plain: Board
    """The same, as a plan made afresh would be judged; never changed."""
    pinned: frozenset[str]
    """Codes of requests about which something is settled: they do not give way."""


@dataclass(frozen=True, slots=True, eq=False)
class Moved:
    """A plan with one block moved by hand."""

    plantings: tuple[Planting, ...]
    """Those that changed come without reasons, which are worked out when the move is kept."""
    changes: tuple[Change, ...]
    points: float
    """What the plan gains by it; negative: loses."""
    text: str
    """What it costs and what else changes, in plain sentences."""
    proven: bool
    """True where no layout of the bed round the moved block is better, what was planned before
    counting as worth keeping (term "kept place")."""
    n_weighed: int
    """Places weighed: the measure of work."""
    left_out: tuple[str, ...]
    """Codes of requests that found no ground in this bed any more."""
    board: Board
    """The changed plan on the table."""


def move_table(
    plan: SeasonPlan, dated: Sequence[PlantingRequest], ground: Ground, *, today: date
) -> MoveTable:
    """A plan ready to have blocks moved in it.

    Parameters
    ----------
    plan
        A season plan.
    dated
        Requests of its book worked out without regard to the day.
    ground
        Light, findings about neighbours, crops and rules.
    today
        What went into the ground before it stands and cannot be moved.
    """
    table = lay_out(plan, plan.book, dated, ground, (), today=today, heed_pins=False)
    board = Board(table.problem, (*fixed_spots(table.problem), *table.kept))
    known = {request.code: request for request in table.requests}
    pinned = frozenset(request_code_of(pin.planting_code, known) or "" for pin in plan.book.pins)
    return MoveTable(plan, table, board, board.plain(), pinned)


def move_planting(
    ready: MoveTable,
    planting_code: str,
    bed_code: str,
    along_m: float,
    in_ground: date | None = None,
    *,
    days_stay: bool = True,
    limit: int = COMMON_LIMIT,
) -> Moved:
    """Move one planting by hand and decide again everything else in the bed it comes to.

    Parameters
    ----------
    ready
        The plan.
    planting_code
        Code of a planting that is not in the ground yet.
    bed_code, along_m
        Where its ground is to start [m from the peg], to the nearest 5 cm.
    in_ground
        Day it is to go in; None: as planned.
    days_stay, limit
        As for `settle_bed`.

    Raises
    ------
    MoveRefusedError
        If it cannot be moved, or cannot stand there; the reason in words.
    """
    problem, spot = ready.board.problem, _spot_of(ready, planting_code)
    bed = next((n for n, facts in enumerate(problem.beds) if facts.bed.code == bed_code), None)
    if bed is None:
        raise MoveRefusedError(f"There is no bed {bed_code}.")
    day = in_ground or problem.requests[spot.request].dates.choices[spot.date].in_ground
    board = ready.board.copy()
    board.take(spot)
    stays = {number for number, facts in enumerate(problem.requests) if _stays(ready, number, facts.fixed)}
    here = [one for one in board.in_bed(bed) if one.request not in stays and one.request != spot.request]
    for one in here:
        board.take(one)
    moved = moved_block(board, spot, bed, along_m, day, among=board.in_bed(bed))
    board.put(moved)
    settled = settle_bed(board, moved, here, days_stay=days_stay, limit=limit)
    plain = ready.plain.with_spots(settled.spots)
    plantings = plantings_again(plain.problem, settled.spots, ready.plan.plantings, only_changed=True)
    changes = changes_between(ready.plan.plantings, plantings)
    points = plain.value - ready.plain.value
    return Moved(
        plantings=plantings,
        changes=changes,
        points=round(points, 2) + 0.0,
        text=_text(ready, spot, moved, settled, changes, points),
        proven=settled.proven,
        n_weighed=settled.n_weighed,
        left_out=tuple(problem.requests[one.request].request.code for one in settled.left_out),
        board=plain,
    )


def _stays(ready: MoveTable, number: int, fixed: bool) -> bool:
    return fixed or ready.board.problem.requests[number].request.code in ready.pinned


def _spot_of(ready: MoveTable, code: str) -> Spot:
    planting = next((one for one in ready.plan.plantings if one.code == code), None)
    if planting is None:
        raise MoveRefusedError(f"There is no planting {code} in the plan.")
    problem = ready.board.problem
    if any(one.code == code for one in problem.standing):
        day = plain_day(planting.dates.in_ground)
        raise MoveRefusedError(f"{planting.crop.name.capitalize()} ({code}) stands since {day}.")
    return next(spot for spot in ready.board.spots if key_of_spot(problem, spot) == key_of(planting))


def _text(
    ready: MoveTable,
    was: Spot,
    now: Spot,
    settled: Settled,
    changes: Sequence[Change],
    points: float,
) -> str:
    """What a move costs and why, what else moves, and whether more could be had."""
    problem = ready.plain.problem
    code = problem.requests[was.request].request.code
    amount = f"{abs(points):.0f}" if abs(points) >= 10 else f"{abs(points):.1f}"
    if abs(points) < TOLD_POINTS:
        head = "This costs nothing."
    else:
        head = f"This costs {amount} points." if points < 0 else f"This is worth {amount} points more."
    others = [spot for spot in settled.spots if spot != now]
    words = in_words(differences(problem, was, now, others))
    parts = [head + (f" For {problem.requests[was.request].crop.name} itself: {words}." if words else "")]
    rest = [one for one in changes if _request(ready, one) != code and one.kind != "dropped"]
    gone = [one for one in changes if one.kind == "dropped"]
    if rest:
        names = ", ".join(one.planting_code for one in rest)
        parts.append(f"{counted(len(rest), 'other planting')} changed: {names}.")
    if gone:
        parts.append("No ground is left for " + ", ".join(one.planting_code for one in gone) + ".")
    if math.isinf(settled.at_most):
        parts.append("In a bed of this shape it is not known whether more could be had.")
    elif not settled.proven:
        parts.append(f"At most {settled.at_most - settled.points:.1f} points more could be had in this bed.")
    return " ".join(parts)


def _request(ready: MoveTable, change: Change) -> str:
    planting = next((one for one in ready.plan.plantings if one.code == change.planting_code), None)
    return change.planting_code if planting is None else request_of(planting)
