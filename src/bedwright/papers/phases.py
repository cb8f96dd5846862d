"""Which days of the season are drawn.

Rule. A drawing shows the beds as they stand on one day. First the fewest days are taken
such that every planting stands in the ground on at least one of them (earliest clearing
first; the day is the one on which the last planting of that set has gone in). Then, up to
four drawings, the day that differs most from its nearest neighbour is added, as long as at
least a fifth of the ground ever planted at once has changed hands. Days on which less than a
third of that ground is planted are not added: such a drawing would be mostly empty.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.model.season import Planting

N_DRAWINGS_WANTED = 4
LEAST_CHANGE = 0.2
LEAST_PLANTED = 1 / 3

_SEASON_OF_MONTH = (
    "winter", "late winter", "early spring", "spring", "late spring", "early summer",
    "high summer", "late summer", "early autumn", "autumn", "late autumn", "early winter",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Phase:
    """One day that is drawn."""

    day: date
    name: str
    """Time of year in words, by hemisphere."""
    standing: tuple[Planting, ...]
    new_codes: frozenset[str]
    """Plantings that no earlier drawing shows."""


def season_phases(plantings: Sequence[Planting], *, southern: bool = False) -> tuple[Phase, ...]:
    """Days to draw, in order; empty without plantings."""
    days = _fewest_days(plantings)
    while days and len(days) < N_DRAWINGS_WANTED:
        extra = _day_of_most_change(plantings, days)
        if extra is None:
            break
        days = sorted({*days, extra})
    phases: list[Phase] = []
    shown: set[str] = set()
    for day in days:
        standing = tuple(p for p in plantings if stands_on(p, day))
        new = frozenset(p.code for p in standing) - shown
        shown |= new
        phases.append(Phase(day, _name(day, southern=southern), standing, new))
    return tuple(phases)


def stands_on(planting: Planting, day: date) -> bool:
    """True while a planting holds its ground."""
    return planting.dates.in_ground <= day <= planting.dates.clear_by


def ground_m2(planting: Planting) -> float:
    """Ground a planting takes [m2]."""
    (a0, a1), (c0, c1) = planting.along_m, planting.across_m
    return (a1 - a0) * (c1 - c0)


def _name(day: date, *, southern: bool) -> str:
    month = (day.month + 5) % 12 + 1 if southern else day.month
    return _SEASON_OF_MONTH[month - 1]


def _fewest_days(plantings: Sequence[Planting]) -> list[date]:
    days: list[date] = []
    left = sorted(plantings, key=lambda p: (p.dates.clear_by, p.dates.in_ground, p.code))
    while left:
        latest = left[0].dates.clear_by
        caught = [p for p in left if p.dates.in_ground <= latest]
        days.append(max(p.dates.in_ground for p in caught))
        left = [p for p in left if p.dates.in_ground > latest]
    return sorted(days)


def _day_of_most_change(plantings: Sequence[Planting], days: list[date]) -> date | None:
    candidates = sorted({p.dates.in_ground for p in plantings} - set(days))
    planted = {day: sum(ground_m2(p) for p in plantings if stands_on(p, day)) for day in [*candidates, *days]}
    peak = max(planted.values())
    best, best_change = None, LEAST_CHANGE * peak
    for day in (day for day in candidates if planted[day] >= LEAST_PLANTED * peak):
        change = min(
            sum(ground_m2(p) for p in plantings if stands_on(p, day) != stands_on(p, other)) for other in days
        )
        if change > best_change + 1e-9:
            best, best_change = day, change
    return best
