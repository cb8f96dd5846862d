"""Weeks of a plan, from Monday to Sunday, as the pages step through them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.model.season import Planting

WEEK = timedelta(weeks=1)


@dataclass(frozen=True, slots=True)
class Weeks:
    """All weeks in which something stands."""

    first: date
    """A Monday."""
    count: int

    def __iter__(self) -> Iterator[date]:
        return (self.first + k * WEEK for k in range(self.count))

    @property
    def last(self) -> date:
        """Monday of the last week."""
        return self.first + (self.count - 1) * WEEK

    def nearest(self, day: date) -> date:
        """Monday of the week of a day, or of the end of the season that is nearer."""
        return min(max(monday_of(day), self.first), self.last)


def monday_of(day: date) -> date:
    """Monday of the week a day lies in."""
    return day - timedelta(days=day.weekday())


def weeks_of(plantings: Iterable[Planting]) -> Weeks | None:
    """From the first planting to the last clearing; None where nothing is planted."""
    dates = [planting.dates for planting in plantings]
    if not dates:
        return None
    first = monday_of(min(each.in_ground for each in dates))
    last = monday_of(max(each.clear_by for each in dates))
    return Weeks(first, (last - first).days // 7 + 1)


def stands_in(planting: Planting, monday: date) -> bool:
    """True if a planting holds its ground on any day of a week."""
    return planting.dates.in_ground < monday + WEEK and planting.dates.clear_by >= monday


def fullest(plantings: Iterable[Planting], weeks: Weeks) -> date:
    """The first week in which most plantings stand."""
    every = list(plantings)
    return max(weeks, key=lambda monday: sum(stands_in(each, monday) for each in every))
