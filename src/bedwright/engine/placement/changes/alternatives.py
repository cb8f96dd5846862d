"""The best other bed and the best other date of every planting, the rest of the plan as it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.board import Board
from bedwright.engine.placement.changes.weighing import cost_words, differences, in_words
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.standing import fixed_spots, start_spots
from bedwright.engine.placement.words import plain_day
from bedwright.model.changes import Alternative, AlternativeKind
from bedwright.model.season import Planting

Key = tuple[str, str, tuple[float, float], tuple[float, float], int]


def board_of(problem: PlacementProblem, plantings: Sequence[Planting]) -> Board:
    """A plan on the table.

    Parameters
    ----------
    problem
        The question that the plan answers.
    plantings
        The plan, with what stands.
    """
    stands = {planting.code for planting in problem.standing}
    movable = [planting for planting in plantings if planting.code not in stands]
    return Board(problem, (*fixed_spots(problem), *start_spots(problem, movable)))


def with_alternatives(board: Board, plantings: Sequence[Planting]) -> tuple[Planting, ...]:
    """Plantings with the best other places and dates; what stands has none.

    Parameters
    ----------
    board
        The plan.
    plantings
        The same plan as records.
    """
    problem = board.problem
    stands = {planting.code for planting in problem.standing}
    by_key = {key_of_spot(problem, spot): spot for spot in board.spots}
    found = []
    for planting in plantings:
        spot = None if planting.code in stands else by_key.get(key_of(planting))
        others = () if spot is None else alternatives_of(board, spot)
        found.append(replace(planting, alternatives=others))
    return tuple(found)


def key_of(planting: Planting) -> Key:
    """What names one block of a plan: request, bed, ground and day."""
    code = planting.request_code or planting.code
    day = planting.dates.in_ground.toordinal()
    return code, planting.bed_code, planting.along_m, planting.across_m, day


def key_of_spot(problem: PlacementProblem, spot: Spot) -> Key:
    """The same for a spot."""
    facts = problem.requests[spot.request]
    day = facts.dates.choices[spot.date].in_ground.toordinal()
    return facts.request.code, problem.beds[spot.bed].bed.code, spot.along_m, spot.across_m, day


def alternatives_of(board: Board, spot: Spot) -> tuple[Alternative, ...]:
    """Best place in another bed and best other date of one spot of a plan; the plan stays as it is."""
    facts = board.problem.requests[spot.request]
    board.take(spot)
    others = board.spots
    dates = [date for date in range(len(facts.dates.choices)) if date != spot.date]
    beds = [bed for bed in facts.beds if bed != spot.bed]
    elsewhere = board.best(spot.request, spot.n_plants, beds=beds)
    then = board.best(spot.request, spot.n_plants, dates=dates)
    board.put(spot)
    found = []
    if elsewhere is not None:
        found.append(_alternative(board.problem, "another bed", spot, elsewhere[1], others))
    if then is not None and (elsewhere is None or then[1] != elsewhere[1]):
        found.append(_alternative(board.problem, "another date", spot, then[1], others))
    return tuple(found)


def _alternative(
    problem: PlacementProblem, kind: AlternativeKind, was: Spot, now: Spot, others: Sequence[Spot]
) -> Alternative:
    weighed = differences(problem, was, now, others)
    points = sum(one.points for one in weighed)
    choice = problem.requests[now.request].dates.choices[now.date]
    words = in_words(weighed)
    return Alternative(
        kind=kind,
        bed_code=problem.beds[now.bed].bed.code,
        along_m=now.along_m,
        across_m=now.across_m,
        in_ground=choice.in_ground,
        points=round(points, 2) + 0.0,
        text=f"{_where(problem, was, now)}{': ' + words if words else ''}. {cost_words(points)}",
    )


def _where(problem: PlacementProblem, was: Spot, now: Spot) -> str:
    bed = problem.beds[now.bed].bed.code
    place = f"Bed {bed}, {now.along_m[0]:.2f} to {now.along_m[1]:.2f} m along"
    if was.bed == now.bed and (was.along_m, was.across_m) == (now.along_m, now.across_m):
        place = "The same ground"
    if was.date == now.date:
        return place
    return f"{place}, {plain_day(problem.requests[now.request].dates.choices[now.date].in_ground)}"
