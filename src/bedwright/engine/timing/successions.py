"""Sowing days spaced so that picking, not sowing, is even."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.engine.timing.choices import picking_days_inside
from bedwright.model.season import DateChoice

MOST_SUCCESSIONS = 20
"""As many as a book may ask for."""


@dataclass(frozen=True, slots=True)
class Succession:
    """One sowing of a row of successions."""

    choices: tuple[DateChoice, ...]
    """Dates that keep its place in the row, earliest first."""
    best: int
    """Index of the date whose first picking comes nearest to its turn."""


def successions(
    choices: Sequence[DateChoice], wanted: int | Literal["keep picking"], harvest_span_days: float
) -> tuple[Succession, ...]:
    """Choose sowings so that each begins to yield when the one before it ends.

    Parameters
    ----------
    choices
        Allowed dates, one for each day that may be sown on.
    wanted
        Number of sowings, 1 to 20; or as many as keep picking going to the end of the season.
    harvest_span_days
        From first to last picking of one sowing. [days], above 0.

    Returns
    -------
    tuple[Succession, ...]
        In order of picking; fewer than wanted where the season is too short to tell so many
        apart, empty if there is no date.

    Source
    ------
    The map from sowing day to first picking is read backwards: first pickings are set a
    harvest span apart, closer where a given number would otherwise not fit, and each is given
    the day whose median first picking comes nearest. Common practice is a fixed number of
    days between sowings; spacing the pickings instead is chosen here.
    """
    if not choices:
        return ()
    span_days = max(1, round(harvest_span_days))
    ordered = sorted(choices, key=lambda choice: (choice.first_pick, choice.in_ground))
    if wanted == "keep picking":
        turns = _turns(ordered, span_days, MOST_SUCCESSIONS)
    else:
        turns = _turns(ordered, span_days, wanted)
        while len(turns) < wanted and span_days > 1:
            span_days -= 1
            turns = _turns(ordered, span_days, wanted)
    return tuple(_succession(ordered, turn, span_days) for turn in turns)


def _turns(ordered: Sequence[DateChoice], apart_days: int, most: int) -> list[DateChoice]:
    """Dates whose first pickings lie at least so far apart, each as soon as the last allows."""
    turns = [_latest_sown(ordered, ordered[0].first_pick)]
    for choice in ordered:
        if len(turns) == most:
            break
        if (choice.first_pick - turns[-1].first_pick).days >= apart_days:
            turns.append(_latest_sown(ordered, choice.first_pick))
    return turns


def _latest_sown(ordered: Sequence[DateChoice], first_pick: date) -> DateChoice:
    """Of the dates that begin to yield on one day, the surest, then the last."""
    same = [choice for choice in ordered if choice.first_pick == first_pick]
    return max(same, key=lambda choice: (choice.chance or 0.0, choice.in_ground))


def _succession(ordered: Sequence[DateChoice], turn: DateChoice, apart_days: int) -> Succession:
    """The turn's own date, and the Mondays that begin to yield within half a turn of it."""
    near = {
        choice.in_ground: choice
        for choice in ordered
        if choice is turn
        or (
            choice.in_ground.weekday() == 0
            and 2 * abs((choice.first_pick - turn.first_pick).days) < apart_days
        )
    }
    found = tuple(near[day] for day in sorted(near))
    return Succession(found, found.index(turn))


def inside_weeks(
    choices: Sequence[DateChoice], harvest_from: date | None, harvest_to: date | None
) -> tuple[DateChoice, ...]:
    """Choices that give at least one day of picking in the weeks wanted; all where none are named."""
    if harvest_from is None and harvest_to is None:
        return tuple(choices)
    return tuple(choice for choice in choices if picking_days_inside(choice, harvest_from, harvest_to))
