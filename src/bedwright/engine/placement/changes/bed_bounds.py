"""What blocks can reach together at most, compiled.

Points of each block beside what is fixed, added up, are too hopeful where costs grow faster than
what causes them (weeks that run short, a bed used more and more, a planting split): such costs are
counted here for the least ground the blocks take. They are too low where blocks gain by each
other (good neighbours, one family in few beds).
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.changes.bed_tables import NEVER, UNDONE
from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.compiled.state import sum_weeks
from bedwright.engine.placement.compiled.value import (
    EVEN_USE,
    ROTATION_IN_SEASON,
    SPLIT,
    TOGETHER,
    week_points,
)
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.terms import LEAST_DAYS_TOGETHER, TALLER_BY_M

GOOD, BAD, SHADES, FOLLOWS = 1, 2, 4, 8
"""Why it matters how far two blocks stand apart: neighbours, tall over low, one family twice on the
same ground."""

OUT, OPEN = -1, -2
"""A block left out, and one not decided yet, in place of the number of a date."""


@compiled
def days_together(one, other):  # type: ignore[no-untyped-def]
    """Days two dates stand at once; 0 or less if never."""
    return min(one.clear_by, other.clear_by) - max(one.taken_from, other.taken_from) + 1


@numba.njit(cache=True)
def touching_points(head, all_asked, items, wanted, floats):  # type: ignore[no-untyped-def]
    """Points two blocks give or cost by standing side by side for long enough, for each two."""
    n_items = items.size
    points = np.zeros((n_items, n_items))
    for one in range(n_items):
        mine = all_asked[items[one]]
        for other in range(n_items):
            theirs = all_asked[items[other]]
            if one != other:
                gain = floats[head.neighbour + mine.name * head.n_names + theirs.name]
                back = floats[head.neighbour + theirs.name * head.n_names + mine.name]
                points[one, other] = gain * mine.plant_worth * wanted[one] * (
                    wanted[other] / theirs.n
                ) + back * theirs.plant_worth * wanted[other] * (wanted[one] / mine.n)
    return points


@numba.njit(cache=True)
def families_of(all_asked, bed, number, slots, ints, head, items):  # type: ignore[no-untyped-def]
    """Rotation group of each block; -1 where what is fixed has brought it into the bed already."""
    first = head.bed_slots + number * MOST_IN_BED
    found = np.full(items.size, -1, dtype=np.int64)
    for item in range(items.size):
        found[item] = all_asked[items[item]].rotation
        for at in range(bed.n_spots):
            if slots[ints[first + at]].rotation == found[item]:
                found[item] = -1
                break
    return found


@numba.njit(cache=True)
def split_costs(all_asked, items):  # type: ignore[no-untyped-def]
    """Points each block costs if another of its request is laid as well, beyond what is counted."""
    costs = np.zeros(items.size)
    for item in range(items.size):
        asked = all_asked[items[item]]
        costs[item] = asked.worth * SPLIT if asked.n_patches == 0 else 0.0
    return costs


@compiled
def fill_pairs(  # type: ignore[no-untyped-def]
    all_asked, dates, bed, items, wanted, spans, chosen, touching, area, at_once, hoped, forced, matters
):
    """What each two blocks with dates have to do with each other.

    If they stand at once, points hoped for side by side, points that their ground must cost because
    there is too little for both, and why it matters where one stands from the other.
    """
    for one in range(items.size):
        for other in range(items.size):
            at_once[one, other], hoped[one, other], forced[one, other] = False, 0.0, 0.0
            matters[one, other] = 0
            if one == other or chosen[one] < 0 or chosen[other] < 0:
                continue
            mine, theirs = all_asked[items[one]], all_asked[items[other]]
            together = days_together(
                dates[spans[one, 0] + chosen[one]], dates[spans[other, 0] + chosen[other]]
            )
            at_once[one, other] = together > 0
            if together >= LEAST_DAYS_TOGETHER and touching[one, other] != 0:
                hoped[one, other] = max(0.0, touching[one, other])
                matters[one, other] |= GOOD if touching[one, other] > 0 else BAD
            if together > 0 and abs(mine.height - theirs.height) > TALLER_BY_M:
                matters[one, other] |= SHADES
            if together <= 0 and mine.rotation == theirs.rotation and mine.rotation >= 0:
                matters[one, other] |= FOLLOWS
                if area[one, chosen[one]] + area[other, chosen[other]] > bed.length * bed.width + SMALL_M:
                    worth = mine.plant_worth * wanted[one] + theirs.plant_worth * wanted[other]
                    forced[one, other] = worth / 2 * ROTATION_IN_SEASON


@compiled
def week_cost(  # type: ignore[no-untyped-def]
    head, all_asked, dates, slots, ints, floats, items, wanted, spans, chosen, area
):
    """Points that weeks cost all chosen blocks together beyond what they cost each alone."""
    one, total = slots[UNDONE], 0.0
    for item in range(items.size):
        if chosen[item] >= 0:
            date = dates[spans[item, 0] + chosen[item]]
            one.start, one.end, one.low, one.high = 0.0, area[item, chosen[item]], 0.0, 1.0
            one.n = wanted[item]
            total += week_points(head, all_asked[items[item]], date, one, ints, floats)
    for item in range(items.size):
        if chosen[item] >= 0:
            date = dates[spans[item, 0] + chosen[item]]
            one.end, one.n = area[item, chosen[item]], wanted[item]
            total -= week_points(head, all_asked[items[item]], date, one, ints, floats)
            sum_weeks(head, all_asked[items[item]], date, one, ints, floats, 1.0)
    for item in range(items.size - 1, -1, -1):
        if chosen[item] >= 0:
            one.end, one.n = area[item, chosen[item]], wanted[item]
            date = dates[spans[item, 0] + chosen[item]]
            sum_weeks(head, all_asked[items[item]], date, one, ints, floats, -1.0)
    return total


@compiled
def cost_together(items, chosen, use, split, forced):  # type: ignore[no-untyped-def]
    """Points that blocks cost each other at least: use of the bed, split plantings, ground used twice."""
    total = 0.0
    for one in range(items.size):
        if chosen[one] < 0:
            continue
        again = False
        for other in range(one):
            if chosen[other] >= 0:
                total += 2 * EVEN_USE * use[one, chosen[one]] * use[other, chosen[other]]
                total += forced[one, other]
                again = again or items[one] == items[other]
        if again:
            total += split[one]
    return total


@compiled
def gain_together(families, chosen, hoped):  # type: ignore[no-untyped-def]
    """Points that chosen blocks can gain by each other at most."""
    total = 0.0
    for one in range(chosen.size):
        if chosen[one] < 0:
            continue
        again = False
        for other in range(one):
            if chosen[other] >= 0:
                total += hoped[one, other]
                again = again or (families[one] >= 0 and families[one] == families[other])
        if again:
            total += TOGETHER
    return total


@compiled
def hope_of_open(tops, families, touching, chosen, all_of_them):  # type: ignore[no-untyped-def]
    """Points that blocks not decided yet, or all that are not left out, can add at most."""
    total = 0.0
    for one in range(chosen.size):
        if chosen[one] == OUT or (chosen[one] != OPEN and not all_of_them):
            continue
        best, again = NEVER, False
        for date in range(tops.shape[1]):
            if chosen[one] < 0 or chosen[one] == date:
                best = max(best, tops[one, date])
        for other in range(chosen.size):
            if other != one and chosen[other] != OUT:
                best += max(0.0, touching[one, other]) * (
                    0.5 if chosen[other] == OPEN or all_of_them else 1.0
                )
                again = again or (families[one] >= 0 and families[one] == families[other])
        total += max(0.0, best + (TOGETHER if again else 0.0))
    return total


@compiled
def ground_suffices(dates, spans, chosen, area, free_ground):  # type: ignore[no-untyped-def]
    """False if chosen blocks take more ground on the first day of one than is free then."""
    for one in range(chosen.size):
        if chosen[one] < 0:
            continue
        day = dates[spans[one, 0] + chosen[one]].taken_from
        need = 0.0
        for other in range(chosen.size):
            if chosen[other] >= 0:
                date = dates[spans[other, 0] + chosen[other]]
                if date.taken_from <= day <= date.clear_by:
                    need += area[other, chosen[other]]
        if need > free_ground[one, chosen[one], 0] + SMALL_M:
            return False
    return True
