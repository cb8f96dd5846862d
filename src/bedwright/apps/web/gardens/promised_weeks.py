"""Weeks short of hours: those within the time for which hours are promised, and those outside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from bedwright.model.estimate import WeekEstimate
from bedwright.model.work import WeekHours

Week = TypeVar("Week", WeekHours, WeekEstimate)


@dataclass(frozen=True, slots=True)
class ShortWeeks(Generic[Week]):
    """Weeks whose likely hours are more than those promised.

    A promise ends on a day; a bed of rye stands on. Weeks for which nobody has said anything are
    another matter than weeks in which too few come.
    """

    first: date | None
    """Monday of the first week with hours promised; None if there is none."""
    last: date | None
    within: tuple[Week, ...]
    """From the first to the last week with hours promised."""
    outside: tuple[Week, ...]

    @property
    def worst(self) -> Week | None:
        """The week within that lacks most."""
        return max(self.within, key=lambda week: week.short_h, default=None)

    @property
    def outside_h(self) -> float:
        """Likely hours of the weeks outside."""
        return sum(week.needed.likely_h for week in self.outside)

    @property
    def outside_most_h(self) -> float:
        """Likely hours of the fullest week outside."""
        return max((week.needed.likely_h for week in self.outside), default=0.0)


def short_weeks(weeks: Sequence[Week], short: Sequence[Week]) -> ShortWeeks[Week]:
    """Part the short weeks by whether they lie in the time for which hours are promised.

    Parameters
    ----------
    weeks
        All weeks looked at.
    short
        Those of them that are short.
    """
    promised = [week.week for week in weeks if week.promised_h > 0]
    first, last = (min(promised), max(promised)) if promised else (None, None)
    within = tuple(
        week for week in short if first is not None and last is not None and first <= week.week <= last
    )
    return ShortWeeks(first, last, within, tuple(week for week in short if week not in within))
