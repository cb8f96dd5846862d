"""A plan made again after something happened: what stands stays, what was lost is put back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.placement.changes.alternatives import key_of, key_of_spot
from bedwright.engine.placement.changes.board import Board
from bedwright.engine.placement.changes.giving import with_what_would_help
from bedwright.engine.placement.changes.listing import changes_between
from bedwright.engine.placement.changes.records import plantings_again
from bedwright.engine.placement.changes.repair import Repair
from bedwright.engine.placement.changes.situation import Situation, request_of
from bedwright.engine.placement.changes.table import Ground, Table, lay_out
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import COMMON_RULES, SMALL_M, PlantingRules
from bedwright.engine.placement.shortage import shortfalls_of
from bedwright.engine.placement.standing import fixed_spots, with_standing
from bedwright.engine.placement.terms import WORTH_BY_PRIORITY
from bedwright.engine.placement.value import plan_terms, work_points
from bedwright.engine.placement.weekly import NOTHING_KNOWN, BedHours, WeekMeasures
from bedwright.model.book import GardenBook, Pin
from bedwright.model.changes import BedOpened, Change, Event, HoursChanged
from bedwright.model.crop import Crop, NeighbourFinding
from bedwright.model.light import BedLight
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan, Shortfall

MOVED_SHARE = 0.10
"""Of what was not lost, at most so much is moved."""


@dataclass(frozen=True, slots=True)
class Replanned:
    """A plan made again, with how it differs from the one before."""

    book: GardenBook
    """With beds left alone and hours as they are now."""
    plantings: tuple[Planting, ...]
    shortfalls: tuple[Shortfall, ...]
    changes: tuple[Change, ...]
    happened: tuple[str, ...]
    value: float
    terms: Mapping[str, float]
    standing: tuple[Planting, ...]
    """What was held fixed."""
    requests: tuple[PlantingRequest, ...]
    """What was asked for, with the dates left, as the checker takes it."""
    pins: tuple[Pin, ...]
    """Pins that still can be kept."""
    n_lost: int
    """Plantings to be put back."""
    put_back_share: float
    """Share of them put back, plant by plant, each planting weighed by what its wish is worth; 1 if
    nothing was lost."""
    n_rest: int
    """Plantings that were not lost."""
    n_moved: int
    """Of them, moved or given up to make room."""
    board: Board
    """The plan on the table, for looking at other places."""


def replan(
    plan: SeasonPlan,
    book: GardenBook,
    dated: Sequence[PlantingRequest],
    light: Sequence[BedLight],
    neighbours: Sequence[NeighbourFinding],
    crops: Mapping[str, Crop],
    events: Sequence[Event],
    *,
    today: date,
    rules: PlantingRules = COMMON_RULES,
    hours: BedHours | None = None,
    measures: WeekMeasures = NOTHING_KNOWN,
) -> Replanned:
    """Make a plan again after something happened.

    Parameters
    ----------
    plan
        The plan before.
    book
        The garden book as it is now.
    dated
        Requests of that book worked out without regard to the day.
    light, neighbours, crops
        As for `place`.
    events
        What happened, by codes of the plan. None: nothing changes but what the book asks anew.
    today
        What went into the ground before it stands.
    rules
        Distances, years and limits that bind.
    hours
        Work that ground takes; None: the common table with the people of the book.
    measures
        Trays that plants take and room for them, and the climate, for limits by the week.

    Returns
    -------
    Replanned
        The same inputs give the same plan.

    Raises
    ------
    EventRefusedError
        If an event names what is not there or cannot be.
    """
    ground = Ground(tuple(light), tuple(neighbours), crops, rules, hours, measures)
    table = lay_out(plan, book, dated, ground, events, today=today)
    situation, problem, kept = table.situation, table.problem, table.kept
    board = Board(problem, (*fixed_spots(problem), *kept))
    n_rest = len(situation.rest) + len(situation.standing)
    repairs = []
    # Room made before or after what was lost lies at its best: neither is the better way always.
    for lies_first in (False, True) if situation.lost else (False,):
        repair = Repair(board.copy(), set(kept), int(MOVED_SHARE * n_rest + SMALL_M))
        _repair(plan, problem, repair, situation, events, lies_first=lies_first)
        repairs.append(repair)
    repair = max(repairs, key=lambda one: one.board.value)
    situation = replace(situation, why=_reasons(situation, problem, repair))
    made = repair.board.plain()
    return _outcome(plan, replace(table, situation=situation), made, n_rest, len(repair.moved))


def _reasons(situation: Situation, problem: PlacementProblem, repair: Repair) -> dict[str, str]:
    """Planting code to what brought about its change; further places share the reason of the first."""
    codes = {key_of(one): one.code for one in situation.rest}
    told = {key_of_spot(problem, spot): text for spot, text in repair.why.items()}
    why = {codes[key]: text for key, text in told.items() if key in codes}
    why.update(situation.why)
    return why


def _repair(
    plan: SeasonPlan,
    problem: PlacementProblem,
    repair: Repair,
    situation: Situation,
    events: Sequence[Event],
    *,
    lies_first: bool,
) -> None:
    numbers = {one.request.code: number for number, one in enumerate(problem.requests) if not one.fixed}
    lost = sorted({numbers[code] for one in situation.lost if (code := request_of(one)) in numbers})
    planned = {one.wish_code for one in plan.plantings} | {short.wish_code for short in plan.shortfalls}
    new = [number for number in numbers.values() if problem.requests[number].request.wish_code not in planned]
    repair.put_in(lost)
    if lies_first:
        repair.settle(lost)
    repair.make_room(lost)
    repair.put_in(new)
    if lost:
        repair.settle([*lost, *new])
    if situation.lost or any(isinstance(event, BedOpened) for event in events):
        # Ground may have come free, so what found none before is looked at again.
        repair.put_in(list(numbers.values()))
    if any(isinstance(event, HoursChanged) for event in events) and work_points(problem, repair.board.spots):
        repair.movable.update(spot for spot in repair.board.spots if not problem.requests[spot.request].fixed)
        repair.fit_hours()


def _outcome(plan: SeasonPlan, table: Table, board: Board, n_rest: int, n_moved: int) -> Replanned:
    situation, requests, pins = table.situation, table.requests, table.pins
    problem, spots = board.problem, board.spots
    plantings = plantings_again(problem, spots, plan.plantings)
    terms = plan_terms(problem, spots)
    gone = {one.code for one in situation.lost if one.dates.in_ground < situation.today}
    return Replanned(
        book=situation.book,
        plantings=plantings,
        shortfalls=shortfalls_again(board, requests),
        changes=changes_between(plan.plantings, plantings, gone=gone, why=situation.why),
        happened=situation.happened,
        value=sum(terms.values()),
        terms=terms,
        standing=situation.standing,
        requests=tuple(requests),
        pins=tuple(pins),
        n_lost=len(situation.lost),
        put_back_share=_put_back_share(situation, plantings),
        n_rest=n_rest,
        n_moved=n_moved,
        board=board,
    )


def _put_back_share(situation: Situation, plantings: Sequence[Planting]) -> float:
    priority = {wish.code: WORTH_BY_PRIORITY[wish.priority] for wish in situation.book.wishes}
    lost = _plants(situation.lost)
    stood = {one.code for one in (*situation.standing, *situation.rest)}
    back = _plants([one for one in plantings if one.code not in stood])
    worth = {request_of(one): priority.get(one.wish_code, 0.0) for one in situation.lost}
    total = sum(worth.values())
    shares = {code: min(1.0, back.get(code, 0) / number) for code, number in lost.items()}
    return sum(worth[code] * share for code, share in shares.items()) / total if total else 1.0


def _plants(plantings: Sequence[Planting]) -> dict[str, int]:
    """Plants by request."""
    found: dict[str, int] = {}
    for one in plantings:
        found[request_of(one)] = found.get(request_of(one), 0) + one.n_plants
    return found


def shortfalls_again(board: Board, requests: Sequence[PlantingRequest]) -> tuple[Shortfall, ...]:
    """What a plan on the table lacks of all that was asked for, with what would help."""
    problem = board.problem
    met: dict[str, int] = {}
    for planting in problem.standing:
        met[request_of(planting)] = met.get(request_of(planting), 0) + planting.n_plants
    found = with_standing(
        shortfalls_of(problem, board.spots), met, {one.code: one.n_plants for one in requests}
    )
    return with_what_would_help(board, found)
