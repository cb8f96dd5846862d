"""What found no ground, why, and what would have to give."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from bedwright.engine.placement.blocks import Spot, lanes, whole_blocks
from bedwright.engine.placement.layout import area_beyond_m2
from bedwright.engine.placement.problem import NOT_ALLOWED, PlacementProblem, RequestFacts
from bedwright.engine.placement.rules import MOST_PATCHES
from bedwright.engine.placement.scarce import Scarcity, least_patch, scarcity, who_could_give
from bedwright.engine.placement.words import counted, listed, plain_day, plain_span
from bedwright.model.season import DateChoice, Shortfall

MOST_NAMED = 4


def shortfalls_of(problem: PlacementProblem, spots: Sequence[Spot]) -> tuple[Shortfall, ...]:
    """One record for each request that is not met in full."""
    placed: dict[int, int] = {}
    for spot in spots:
        placed[spot.request] = placed.get(spot.request, 0) + spot.n_plants
    found = []
    for number, facts in enumerate(problem.requests):
        got = placed.get(number, 0)
        if not facts.fixed and got < facts.request.n_plants:
            found.append(_shortfall(problem, number, facts, got, spots))
    return tuple(found)


def _shortfall(
    problem: PlacementProblem, number: int, facts: RequestFacts, got: int, spots: Sequence[Spot]
) -> Shortfall:
    request, crop = facts.request, facts.crop
    choice = _preferred(facts)
    if choice is None:
        weeks = (sum(crop.days_to_maturity_days) / 2 + crop.harvest_span_days) / 7
        why = request.no_window_reason or "No date in this season gives it time to crop here."
    else:
        weeks = ((choice.clear_by - choice.in_ground).days + 1) / 7
        why = _why(problem, number, facts, got, choice, spots)
    missing = request.n_plants - got
    return Shortfall(
        wish_code=request.wish_code,
        planting_code=request.code,
        crop=crop.name,
        wanted_plants=request.n_plants,
        placed_plants=got,
        missing_row_m=round(missing * crop.in_row_spacing_m, 2),
        missing_weeks=round(weeks, 1),
        why=why,
    )


def _preferred(facts: RequestFacts) -> DateChoice | None:
    request = facts.request
    if not request.choices:
        return None
    return request.choices[request.best if request.best is not None else 0]


def _why(
    problem: PlacementProblem,
    number: int,
    facts: RequestFacts,
    got: int,
    choice: DateChoice,
    spots: Sequence[Spot],
) -> str:
    request, crop = facts.request, facts.crop
    missing = request.n_plants - got
    if not facts.beds:
        return "No bed may take it: " + "; ".join(_refused(facts)) + "."
    metres = missing * crop.in_row_spacing_m
    scarce = scarcity(problem, number, missing, _preferred_number(facts, choice), spots)
    if scarce is not None:
        return (
            f"{missing} of {counted(request.n_plants, 'plant')} ({metres:.1f} m of row) were left out: "
            f"{scarce.words(problem)}, nor on the other dates that would do. "
            f"{_who_would_give(problem, facts, scarce, spots)}"
        )
    least = least_patch(facts)
    part = f"{missing} of {counted(request.n_plants, 'plant')} ({metres:.1f} m of row)"
    if got and missing < least:
        are = "is" if missing == 1 else "are"
        return f"{part} {are} left over: fewer than {least} get no place of their own."
    head = (
        f"{part} found no ground "
        f"{plain_span(choice.in_ground, choice.clear_by)}, nor on the other dates that would do."
    )
    small, full = _by_bed(problem, number, facts, choice, spots)
    parts = [head]
    if full:
        shown = full[:MOST_NAMED]
        more = (
            f", and so are {counted(len(full) - MOST_NAMED, 'other bed')}" if len(full) > MOST_NAMED else ""
        )
        parts.append("Taken by then: " + "; ".join(shown) + more + ".")
    if small:
        parts.append(f"Too small or narrow for its spacing: bed {listed(small)}.")
    parts += _beyond_reach(problem, facts)
    refused = _refused(facts)
    if refused and len(refused) <= MOST_NAMED:
        parts.append("Not allowed: " + "; ".join(refused) + ".")
    places = sum(spot.request == number for spot in spots)
    if places >= MOST_PATCHES:
        parts.append(f"It stands in {places} places already, the most for one planting.")
    parts.append(_what_would_give(problem, facts, choice, spots))
    return " ".join(parts)


def _preferred_number(facts: RequestFacts, choice: DateChoice) -> int:
    """Number of a date among those tried; of the first where it is not."""
    return next(
        (number for number, one in enumerate(facts.dates.choices) if one.in_ground == choice.in_ground), 0
    )


def _who_would_give(
    problem: PlacementProblem, facts: RequestFacts, scarce: Scarcity, spots: Sequence[Spot]
) -> str:
    """The planting wanted least that would leave enough by giving way."""
    rivals = list(who_could_give(problem, scarce, spots))
    if not rivals:
        return "No single planting would leave enough for all of it by giving way."
    weakest = min(
        rivals, key=lambda spot: (problem.requests[spot.request].request.priority, -spot.area_m2, spot)
    )
    other = problem.requests[weakest.request].request
    if other.priority > facts.request.priority:
        return "Whatever would leave enough by giving way is wanted more."
    return (
        f"To make room, {other.crop.name} ({other.code}, priority {other.priority}) would have to give way."
    )


def _refused(facts: RequestFacts) -> list[str]:
    # Which beds the wish itself leaves out is known; it is told where there is no other reason.
    told = {code: why for code, why in facts.refused.items() if why != NOT_ALLOWED} or facts.refused
    return [f"bed {code}: {why}" for code, why in told.items()]


def _by_bed(
    problem: PlacementProblem, number: int, facts: RequestFacts, choice: DateChoice, spots: Sequence[Spot]
) -> tuple[list[str], list[str]]:
    """Codes of beds that cannot hold one plant; and beds with what stands in them at the time."""
    small, full = [], []
    for bed in facts.beds:
        code = problem.beds[bed].bed.code
        ways = lanes(
            problem.beds[bed],
            facts.spacing,
            climber=facts.crop.climbs and facts.crop.support != "none",
            only_support=facts.needs_support_side,
        )
        if all(whole_blocks(problem, number, bed, lane, 1) is None for lane in ways):
            small.append(code)
            continue
        names = [
            problem.requests[spot.request].crop.name
            for spot in spots
            if spot.bed == bed and spot.request != number and _meets(spot, choice)
        ]
        full.append(f"bed {code} ({listed(sorted(set(names)))})" if names else f"bed {code}")
    return small, full


def _beyond_reach(problem: PlacementProblem, facts: RequestFacts) -> Iterator[str]:
    """Row that would find ground in the beds allowed, were it not out of reach."""
    arm_m = problem.rules.arms_length_m
    for bed in facts.beds:
        row_m = area_beyond_m2(problem.beds[bed].shape) / facts.spacing.row_m
        if row_m >= facts.spacing.in_row_m and not facts.anywhere:
            yield (
                f"Out of reach: some {row_m:.1f} m of row in bed {problem.beds[bed].bed.code}, farther than "
                f"{arm_m:.2f} m from where one can stand."
            )


def _meets(spot: Spot, choice: DateChoice) -> bool:
    return spot.taken_from <= choice.clear_by.toordinal() and spot.clear_by >= choice.in_ground.toordinal()


def _what_would_give(
    problem: PlacementProblem, facts: RequestFacts, choice: DateChoice, spots: Sequence[Spot]
) -> str:
    """The planting wanted least that stands on ground it could use."""
    rivals = [
        spot
        for spot in spots
        if spot.bed in facts.beds
        and _meets(spot, choice)
        and problem.requests[spot.request].request is not facts.request
        and not problem.requests[spot.request].fixed
    ]
    if not rivals:
        return "Fewer plants, closer dates or another bed would help."
    weakest = min(
        rivals, key=lambda spot: (problem.requests[spot.request].request.priority, -spot.area_m2, spot)
    )
    other = problem.requests[weakest.request].request
    from_day = max(weakest.taken_from, choice.in_ground.toordinal())
    if other.priority > facts.request.priority:
        return "Everything that stands there is wanted more."
    return (
        f"To make room, {other.crop.name} ({other.code}, priority {other.priority}) in bed "
        f"{problem.beds[weakest.bed].bed.code} would have to give way from "
        f"{plain_day(date.fromordinal(from_day))}."
    )
