"""What to leave out so that the work fits the hours promised."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from datetime import date

from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.work import Relief, SeasonHours

USUAL_PRIORITY = 3
"""Of a planting whose wish is no longer in the book, as the book has it for wishes."""
NOTHING_H = 1e-6
LEAST_FREED_H = 0.05
"""Leaving out a planting that frees less is not worth telling."""


def relief(plan: SeasonPlan, hours: SeasonHours) -> tuple[Relief, ...]:
    """Plantings to leave out, first the one that frees most hours for the priority lost.

    One planting after another is taken, always the one that frees most of the shortage still
    open for each point of priority, until no week is short or nothing that is left would
    free any. Hours in weeks that are not short do not count. The figures are the likely
    ones; `hours` must have been worked out for this plan.

    Limits
    ------
    A greedy list: it fits, but another list might lose a little less. Hours are those of the
    plan as it stands, so they are worked out again once plantings have been left out.
    """
    open_h = {week.week: week.short_h for week in hours.short_weeks}
    work = _by_planting(hours)
    plantings = {planting.code: planting for planting in plan.plantings}
    priority = {wish.code: wish.priority for wish in plan.book.wishes}
    left = {code: work[code] for code in plantings if code in work}
    found: list[Relief] = []
    while left and sum(open_h.values()) > NOTHING_H:
        best = min(
            left, key=lambda code: (-_worth(left[code], open_h, _rank(plantings[code], priority)), code)
        )
        freed = _freed(left.pop(best), open_h)
        freed_h = sum(freed.values())
        if freed_h < LEAST_FREED_H:
            break
        for week, part_h in freed.items():
            open_h[week] -= part_h
        found.append(_entry(plantings[best], _rank(plantings[best], priority), freed, work[best], open_h))
    return tuple(found)


def _by_planting(hours: SeasonHours) -> dict[str, dict[date, float]]:
    work: dict[str, dict[date, float]] = defaultdict(lambda: defaultdict(float))
    for share in hours.shares:
        if share.planting_code is not None:
            work[share.planting_code][share.week] += share.hours.likely_h
    return work


def _rank(planting: Planting, priority: Mapping[str, int]) -> int:
    return priority.get(planting.wish_code, USUAL_PRIORITY)


def _freed(work: Mapping[date, float], open_h: Mapping[date, float]) -> dict[date, float]:
    return {
        week: min(work[week], short_h)
        for week, short_h in open_h.items()
        if week in work and short_h > NOTHING_H
    }


def _worth(work: Mapping[date, float], open_h: Mapping[date, float], priority: int) -> float:
    return sum(_freed(work, open_h).values()) / priority


def _entry(
    planting: Planting,
    priority: int,
    freed: Mapping[date, float],
    work: Mapping[date, float],
    open_h: Mapping[date, float],
) -> Relief:
    freed_h, left_h = sum(freed.values()), sum(open_h.values())
    left_words = (
        "then the hours promised are enough" if left_h < LEAST_FREED_H else f"{left_h:.1f} h stay short"
    )
    weeks = "1 short week" if len(freed) == 1 else f"{len(freed)} short weeks"
    text = (
        f"Leave out {planting.crop.name} in bed {planting.bed_code} (row {planting.label_code}, priority "
        f"{priority}): frees {freed_h:.1f} h in {weeks}; {left_words}."
    )
    return Relief(
        planting_code=planting.code,
        bed_code=planting.bed_code,
        crop=planting.crop.name,
        priority=priority,
        freed_h=freed_h,
        freed_h_per_priority=freed_h / priority,
        saved_h=sum(work.values()),
        weeks=tuple(sorted(freed)),
        left_short_h=max(0.0, left_h),
        text=text,
    )
