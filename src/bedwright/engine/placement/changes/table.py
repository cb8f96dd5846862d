"""An earlier plan laid out anew: what stands, what stays, and the question for the rest."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.changes.alternatives import key_of, key_of_spot
from bedwright.engine.placement.changes.requests import requests_again
from bedwright.engine.placement.changes.situation import Situation, situation_after
from bedwright.engine.placement.pins import PinRefusedError, pinned_requests
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES, SMALL_M, PlantingRules
from bedwright.engine.placement.standing import start_spots
from bedwright.engine.placement.weekly import NOTHING_KNOWN, BedHours, WeekMeasures, hours_of
from bedwright.model.book import GardenBook, Pin
from bedwright.model.changes import Event
from bedwright.model.crop import Crop, NeighbourFinding
from bedwright.model.light import BedLight
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan


@dataclass(frozen=True, slots=True, eq=False)
class Ground:
    """What is known of the site beside the book."""

    light: tuple[BedLight, ...]
    neighbours: tuple[NeighbourFinding, ...]
    crops: Mapping[str, Crop]
    rules: PlantingRules = COMMON_RULES
    hours: BedHours | None = None
    """None: the common table with the people of the book."""
    measures: WeekMeasures = NOTHING_KNOWN
    """For limits by the week."""


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """An earlier plan laid out anew."""

    situation: Situation
    requests: tuple[PlantingRequest, ...]
    """With the dates that are left."""
    pins: tuple[Pin, ...]
    """Those that can still be kept."""
    problem: PlacementProblem
    kept: tuple[Spot, ...]
    """Spots of all that is planned and untouched."""


def lay_out(
    plan: SeasonPlan,
    book: GardenBook,
    dated: Sequence[PlantingRequest],
    ground: Ground,
    events: Sequence[Event],
    *,
    today: date,
    heed_pins: bool = True,
) -> Table:
    """Lay an earlier plan out anew; parameters as for `replan`.

    Parameters
    ----------
    heed_pins
        False: places and dates are not narrowed to what is pinned.
    """
    situation = situation_after(plan, book, events, today)
    requests = requests_again(plan, situation, dated)
    pins = pins_left(situation, requests) if heed_pins else ()

    def problem_of(now: Situation) -> PlacementProblem:
        return build_problem(
            now.book,
            requests,
            ground.light,
            ground.neighbours,
            ground.crops,
            ground.rules,
            standing=now.standing,
            pins=pins,
            closed_beds=now.closed_beds,
            keep=now.rest,
            hours=_hours(ground, now.book),
            measures=ground.measures,
        )

    situation, problem, kept = _settled(situation, problem_of, ground.rules)
    return Table(situation, requests, pins, problem, kept)


def _hours(ground: Ground, book: GardenBook) -> BedHours | None:
    """Work that ground takes, with the hours promised as they are now."""
    if ground.hours is None:
        return hours_of(book)
    return replace(ground.hours, people=book.people) if book.people else None


def _settled(
    situation: Situation, problem_of: Callable[[Situation], PlacementProblem], rules: PlantingRules
) -> tuple[Situation, PlacementProblem, tuple[Spot, ...]]:
    """The problem, and spots of all that is untouched.

    What is untouched but would no longer be allowed is held fixed; what now shares its ground
    with something that stands longer is lost.
    """
    while True:
        problem = problem_of(situation)
        kept = start_spots(problem, situation.rest)
        found = {key_of_spot(problem, spot) for spot in kept}
        refused = [one for one in situation.rest if key_of(one) not in found]
        if not refused:
            return situation, problem, kept
        hit = [one for one in refused if any(_same_ground(one, other, rules) for other in situation.standing)]
        codes = {one.code for one in refused}
        why = dict(situation.why)
        why.update({one.code: "What stands on its ground is cleared too late for it." for one in hit})
        situation = replace(
            situation,
            standing=(*situation.standing, *(one for one in refused if one not in hit)),
            rest=tuple(one for one in situation.rest if one.code not in codes),
            lost=(*situation.lost, *hit),
            why=why,
        )


def _same_ground(one: Planting, other: Planting, rules: PlantingRules) -> bool:
    before = rules.preparation_days
    return (
        one.bed_code == other.bed_code
        and one.dates.in_ground.toordinal() - before <= other.dates.clear_by.toordinal()
        and other.dates.in_ground.toordinal() - before <= one.dates.clear_by.toordinal()
        and min(one.along_m[1], other.along_m[1]) - max(one.along_m[0], other.along_m[0]) > SMALL_M
        and min(one.across_m[1], other.across_m[1]) - max(one.across_m[0], other.across_m[0]) > SMALL_M
    )


def pins_left(situation: Situation, requests: Sequence[PlantingRequest]) -> tuple[Pin, ...]:
    """Pins of the book that can still be kept."""
    left = []
    for pin in situation.book.pins:
        try:
            pinned_requests(situation.book, requests, (pin,))
        except PinRefusedError:
            continue
        if pin.bed_code not in situation.closed_beds:
            left.append(pin)
    return tuple(left)
