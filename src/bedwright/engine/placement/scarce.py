"""What weeks have too little of, in words: hours, room for trays, water."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from bedwright.engine.placement.blocks import Spot
from bedwright.engine.placement.compiled.records import LEAST_PATCH, LEAST_PATCH_M
from bedwright.engine.placement.problem import PlacementProblem, RequestFacts
from bedwright.engine.placement.terms import TERMS, share
from bedwright.engine.placement.value import week_needs
from bedwright.engine.placement.weekly import HOURS, RAISING, WATER, WeekLimit
from bedwright.engine.placement.words import plain_day, plain_span
from bedwright.model.weather import FloatArray

SMALL = 1e-6


@dataclass(frozen=True, slots=True)
class LimitWords:
    """How a limit is spoken of."""

    lack: str
    """What there is not enough of."""
    there_is: str
    """What there is."""
    told_from: float
    """Less than this is not told, in the limit's own unit."""
    unit: str
    """Of one week, with `{}` for the number; one and several."""
    units: str
    over: str
    """What is over a limit, weeks added up."""
    more: str
    """What would have to be found."""

    def of_week(self, amount: float) -> str:
        """So much in a week."""
        number = _number(amount)
        return (self.unit if number == "1" else self.units).format(number)

    def counted(self, amount: float) -> str:
        """So much over a limit."""
        return self.over.format(_number(amount))

    def wanted(self, amount: float) -> str:
        """What would have to be found."""
        return self.more.format(_number(amount))


LIMIT_WORDS: Mapping[str, LimitWords] = MappingProxyType(
    {
        HOURS: LimitWords(
            lack="hours promised",
            there_is="the hours promised",
            told_from=0.05,
            unit="{} h",
            units="{} h",
            over="{} h",
            more="{} h more would have to be promised",
        ),
        RAISING: LimitWords(
            lack="room on the bench",
            there_is="the room for trays",
            told_from=0.5,
            unit="{} tray",
            units="{} trays",
            over="{} tray-weeks",
            more="room on the bench for {} tray-weeks more would be wanted",
        ),
        WATER: LimitWords(
            lack="water",
            there_is="the water there is",
            told_from=1.0,
            unit="{} L",
            units="{} L",
            over="{} L",
            more="{} L more water would have to be had",
        ),
    }
)


def _number(amount: float) -> str:
    if amount >= 100 or abs(amount - round(amount)) < 0.05:
        return f"{round(amount)}"
    return f"{amount:.0f}" if amount >= 10 else f"{amount:.1f}"


@dataclass(frozen=True, slots=True, eq=False)
class Scarcity:
    """The limit that keeps plants of a request out."""

    limit: WeekLimit
    weeks: tuple[int, ...]
    """Weeks that would be over it, on the preferred date."""
    worst: int
    """The one that would be over it most."""
    wanted: float
    """What the plants kept out would ask for in that week."""
    left: float
    """What is left in it."""

    def words(self, problem: PlacementProblem) -> str:
        """Half a sentence."""
        words = LIMIT_WORDS[self.limit.term]
        free = "none left" if self.left < words.told_from else f"{words.of_week(self.left)} left"
        return (
            f"not enough {words.lack} in {weeks_words(problem, self.weeks)} "
            f"({words.of_week(self.wanted)} wanted, {free}"
            f"{'' if len(self.weeks) == 1 else ', in the worst of them'})"
        )


def scarcity(
    problem: PlacementProblem, request: int, missing: int, preferred: int, spots: Sequence[Spot]
) -> Scarcity | None:
    """The limit that keeps missing plants out, whatever their date; None if they lack something else.

    A limit keeps plants out if, on every date, going over it costs more than the least of them that
    would be placed are worth.

    Parameters
    ----------
    missing
        Plants without a place.
    preferred
        Number of the date that is told of.
    spots
        The plan.
    """
    limits = problem.weeks.limits
    facts = problem.requests[request]
    if not limits or not missing:
        return None
    least = min(missing, least_patch(facts))
    taken = {limit.term: week_needs(problem, limit, spots) for limit in limits}

    def over(limit: WeekLimit, date_number: int) -> FloatArray:
        return _more_over(limit, taken[limit.term], _need(problem, limit, request, date_number, least))

    def cost(limit: WeekLimit, date_number: int) -> float:
        return TERMS[limit.term].weight * float(over(limit, date_number).sum())

    for date_number in range(len(facts.dates.choices)):
        if sum(cost(limit, date_number) for limit in limits) < _most_worth(facts, date_number, least):
            return None
    limit = max(limits, key=lambda one: cost(one, preferred))
    more = over(limit, preferred)
    weeks = tuple(np.flatnonzero(more > SMALL).tolist())
    if not weeks:
        return None
    worst = int(np.argmax(more))
    wanted = float(_need(problem, limit, request, preferred, missing)[worst])
    left = max(0.0, float(limit.most[worst] - taken[limit.term][worst]))
    return Scarcity(limit, weeks, worst, wanted, left)


def least_patch(facts: RequestFacts) -> int:
    """Fewest plants of a request that are given a place of their own."""
    least = min(LEAST_PATCH * facts.request.n_plants, LEAST_PATCH_M / facts.spacing.in_row_m)
    return max(1, math.ceil(least - SMALL))


def _most_worth(facts: RequestFacts, date_number: int, n_plants: int) -> float:
    """Points that plants are worth on a date, wherever they stand."""
    dates = facts.dates
    chance = float(dates.chance[date_number])
    factor = 1.0 if math.isnan(chance) else chance
    factor -= share("date preference") * float(dates.weeks_off[date_number])
    factor -= share("quiet weeks") * float(dates.quiet_share[date_number])
    return facts.worth * n_plants / facts.request.n_plants * max(0.0, factor)


def _need(
    problem: PlacementProblem, limit: WeekLimit, request: int, date_number: int, n_plants: int
) -> FloatArray:
    """What plants ask of a limit in each week, on the least ground they take."""
    spacing = problem.requests[request].spacing
    area_m2 = n_plants * spacing.in_row_m * spacing.row_m
    needs = limit.needs[request][date_number]
    total = np.zeros(problem.weeks.n_weeks)
    start = int(limit.start[request][date_number])
    total[start : start + len(needs)] = needs * problem.weeks.taken(limit, request, n_plants, area_m2)
    return total


def _more_over(limit: WeekLimit, taken: FloatArray, need: FloatArray) -> FloatArray:
    """What a need adds beyond a limit in each week."""
    before = taken - limit.most
    more: FloatArray = np.maximum(0.0, before + need) - np.maximum(0.0, before)
    return more


def who_could_give(problem: PlacementProblem, found: Scarcity, spots: Sequence[Spot]) -> Iterator[Spot]:
    """Spots that would leave enough of a limit in the worst week by giving way."""
    for spot in spots:
        if not problem.requests[spot.request].fixed:
            freed = float(week_needs(problem, found.limit, (spot,))[found.worst])
            if freed > SMALL and found.left + freed >= found.wanted - SMALL:
                yield spot


def weeks_words(problem: PlacementProblem, weeks: Sequence[int]) -> str:
    """The week of 7 June 2027; the weeks of 7 June to 5 July 2027."""
    days = [problem.weeks.monday(week) for week in weeks]
    if len(days) == 1:
        return f"the week of {plain_day(days[0])}"
    return f"the weeks of {plain_span(days[0], days[-1])}"


def limit_warnings(problem: PlacementProblem, spots: Sequence[Spot]) -> Iterator[str]:
    """Weeks in which a plan is over the room for trays or the water there is."""
    for limit in problem.weeks.limits:
        if limit.term == HOURS:
            # Hours have a sheet of their own, with what to leave out.
            continue
        over = np.maximum(0.0, week_needs(problem, limit, spots) - limit.most)
        words = LIMIT_WORDS[limit.term]
        for first, last in _runs(np.flatnonzero(over >= words.told_from).tolist()):
            most = float(over[first : last + 1].max())
            weeks = (first, last) if last > first else (first,)
            yield (
                f"Not enough {words.lack} in {weeks_words(problem, weeks)}: the plan asks for up to "
                f"{words.of_week(most)} more than there is, by its first measure."
            )
    if problem.book.water_limits and problem.weeks.limit(WATER) is None:
        yield "No weather record: the limit on water was not weighed."


def _runs(weeks: Sequence[int]) -> Iterator[tuple[int, int]]:
    """First and last of each run of weeks that follow one another."""
    first = last = None
    for week in weeks:
        if first is None or last is None:
            first = last = week
        elif week == last + 1:
            last = week
        else:
            yield first, last
            first = last = week
    if first is not None and last is not None:
        yield first, last
