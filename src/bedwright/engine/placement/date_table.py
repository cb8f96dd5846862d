"""The dates tried for a planting, as arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.placement.layout import IntArray
from bedwright.engine.placement.rules import PlantingRules
from bedwright.engine.placement.weekly import quiet_share
from bedwright.model.book import Period
from bedwright.model.season import DateChoice, PlantingRequest
from bedwright.model.weather import BoolArray, FloatArray

MOST_DATES = 12
"""Dates tried for one planting: the preferred one and others spread evenly over the window."""


@dataclass(frozen=True, slots=True, eq=False)
class DateTable:
    """The dates tried for one request; arrays of shape (n_dates,), days as ordinals."""

    choices: tuple[DateChoice, ...]
    taken_from: IntArray
    clear_by: IntArray
    year: IntArray
    month_share: FloatArray
    """(n_dates, 12): share of the days from going in to the last pick."""
    stands: BoolArray
    """(n_dates, 12): months in any part of which its ground is taken."""
    days: IntArray
    chance: FloatArray
    """nan where it is not known."""
    weeks_off: FloatArray
    """From the preferred date."""
    quiet_share: FloatArray
    """Share of the days of picking that fall in quiet weeks."""


def date_table(request: PlantingRequest, rules: PlantingRules, quiet: Sequence[Period]) -> DateTable:
    """Dates of a request, thinned to so many, with what each brings."""
    choices = _thinned(request)
    best = request.choices[request.best].in_ground if request.best is not None else None
    first = best or (choices[0].in_ground if choices else date.min)
    return DateTable(
        choices=choices,
        taken_from=np.array(
            [one.in_ground.toordinal() - rules.preparation_days for one in choices], np.int64
        ),
        clear_by=np.array([one.clear_by.toordinal() for one in choices], np.int64),
        year=np.array([one.in_ground.year for one in choices], np.int64),
        month_share=np.array([_month_share(one.in_ground, one.last_pick) for one in choices]).reshape(-1, 12),
        stands=np.array([_months(one, rules) for one in choices], np.bool_).reshape(-1, 12),
        days=np.array([(one.clear_by - one.in_ground).days + 1 for one in choices], np.int64),
        chance=np.array([np.nan if one.chance is None else one.chance for one in choices], np.float64),
        weeks_off=np.array([abs((one.in_ground - first).days) / 7 for one in choices], np.float64),
        quiet_share=np.array([quiet_share(one, quiet) for one in choices], np.float64),
    )


def _thinned(request: PlantingRequest) -> tuple[DateChoice, ...]:
    n_choices = len(request.choices)
    if n_choices <= MOST_DATES:
        return request.choices
    kept = {round(number * (n_choices - 1) / (MOST_DATES - 2)) for number in range(MOST_DATES - 1)}
    if request.best is not None:
        kept.add(request.best)
    return tuple(request.choices[number] for number in sorted(kept))


def _months(choice: DateChoice, rules: PlantingRules) -> list[bool]:
    first, last = choice.in_ground.toordinal() - rules.preparation_days, choice.clear_by.toordinal()
    begins, ends = date.fromordinal(max(1, first)), date.fromordinal(max(1, first, last))
    months = range(begins.year * 12 + begins.month - 1, ends.year * 12 + ends.month)
    return [month in {number % 12 for number in months} for month in range(12)]


def _month_share(start: date, end: date) -> list[float]:
    days = [0] * 12
    for ordinal in range(start.toordinal(), max(start, end).toordinal() + 1):
        days[date.fromordinal(ordinal).month - 1] += 1
    total = sum(days)
    return [number / total for number in days]
