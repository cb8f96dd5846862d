"""Every place a planting could take beside what stands, looked through in order, compiled.

Free stretches are filled from both ends and at every cell of the light grid in between, so
that a place against each neighbour and each level of light is tried; odd outlines have
their places listed beforehand.
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.compiled.places import (
    at_step,
    clashes,
    fill_in,
    free_gaps,
    snug,
    step_down,
    step_up,
)
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.compiled.state import take
from bedwright.engine.placement.compiled.value import (
    KEPT_PLACE,
    ROTATION,
    SUPPORT,
    gain_of,
    gaps_filled,
    judge,
)
from bedwright.engine.placement.rules import SMALL_M

STRIDE = 5
"""Steps between starts inside a free stretch: 25 cm, the light grid's cell."""

LOOKED, KEPT, OUT = 4, 5, 6
"""Scratch slots: the place looked at, the best one so far, and what was taken out."""

GAIN = 1e-9


@numba.njit(cache=True)
def look_at(head, asked, date, bed, marks, slots, least, best, ints, floats):  # type: ignore[no-untyped-def]
    """Keep the place looked at if it holds enough plants and gains more than the best so far."""
    one = slots[LOOKED]
    if one.n < least or pinned_elsewhere(asked, marks, one.bed, one.start):
        return best
    judge(head, asked, date, bed, marks, one, ints, floats)
    gain = gain_of(head, asked, date, bed, slots, one, ints, floats)
    if gain > best + GAIN:
        slots[KEPT] = slots[LOOKED]
        return gain
    return best


@numba.njit(cache=True)
def pinned_elsewhere(asked, marks, bed, start):  # type: ignore[no-untyped-def]
    """True if pins name other starts in this bed."""
    named = False
    for number in range(asked.pin0, asked.pin1):
        if marks[number].bed == bed:
            if abs(marks[number].start - start) < SMALL_M:
                return False
            named = True
    return named


@numba.njit(cache=True)
def best_block(head, asked, date, bed, lanes, blocks, marks, slots, wanted, least, best, ints, floats):  # type: ignore[no-untyped-def]
    """`best_on_date` for an odd outline."""
    one = slots[LOOKED]
    at = head.block_at + (one.request * head.n_beds + one.bed) * 2
    none = np.zeros(0, dtype=np.int64)
    for number in range(ints[at], ints[at + 1]):
        block = blocks[number]
        if block.n > wanted or block.n < least:
            continue
        lane = lanes[block.lane]
        fill_in(one, one.request, one.bed, lane, one.date, block.start, block.end, block.n)
        one.rows, one.reach = block.rows, block.reach
        if clashes(head, bed, date, one, slots, ints, none) == 0:
            best = look_at(head, asked, date, bed, marks, slots, least, best, ints, floats)
    return best


@numba.njit(cache=True)
def best_on_date(head, asked, date, bed, lanes, blocks, marks, slots, wanted, least, best, ints, floats):  # type: ignore[no-untyped-def]
    """Points of the best place for request, bed and date of slot LOOKED; `best` if none is better."""
    if not bed.rectangular:
        return best_block(
            head, asked, date, bed, lanes, blocks, marks, slots, wanted, least, best, ints, floats
        )
    one = slots[LOOKED]
    at = head.lane_at + (asked.geometry * head.n_forms + bed.form) * 3
    pinned = asked.pin1 > asked.pin0
    for number in range(ints[at], ints[at + 2]):
        lane = lanes[number]
        n_gaps = free_gaps(head, bed, one.bed, lane, date, slots, ints, floats)
        for gap in range(n_gaps):
            low, high = floats[head.gaps + 4 * gap], floats[head.gaps + 4 * gap + 1]
            fill_in(one, one.request, one.bed, lane, one.date, 0.0, 0.0, 0)
            if not snug(one, asked, bed, lane, low, high, wanted, 0) or one.n < least:
                continue
            spare = high - one.end
            best = look_at(head, asked, date, bed, marks, slots, least, best, ints, floats)
            if lane.side >= 3 or spare < SMALL_M:
                continue
            if snug(one, asked, bed, lane, low, high, wanted, 1):
                best = look_at(head, asked, date, bed, marks, slots, least, best, ints, floats)
            for step in range(step_up(low) + 1, step_down(low + spare) + 1):
                if step % STRIDE and not pinned:
                    continue
                one.start = at_step(step)
                if snug(one, asked, bed, lane, low, high, wanted, 2):
                    best = look_at(head, asked, date, bed, marks, slots, least, best, ints, floats)
    return best


@numba.njit(cache=True)
def hoped_in(head, asked, bed, number, slots, ints, floats):  # type: ignore[no-untyped-def]
    """Points a place in a bed can gain at most beyond its worth on its date."""
    hoped = asked.worth * (SUPPORT + KEPT_PLACE)
    first = head.bed_slots + number * MOST_IN_BED
    for at in range(bed.n_spots):
        other = slots[ints[first + at]]
        gain = floats[head.neighbour + asked.name * head.n_names + other.name]
        back = floats[head.neighbour + other.name * head.n_names + asked.name]
        hoped += max(0.0, gain) * asked.worth + max(0.0, back) * other.worth
    return hoped


@numba.njit(cache=True)
def best_in_bed(  # type: ignore[no-untyped-def]
    heads, all_asked, dates, beds, lanes, blocks, marks, slots, ints, floats,
    request, number, wanted, least, date0, date1, floor,
):  # fmt: skip
    """Points of the best place in a bed over some of the request's dates; `floor` if none is better.

    The place is left in the slot KEPT.
    """
    head, asked, bed = heads[0], all_asked[request], beds[number]
    hoped = hoped_in(head, asked, bed, number, slots, ints, floats)
    worth = asked.plant_worth * wanted
    last_grown = -10000
    if asked.rotation >= 0:
        last_grown = ints[head.last_grown + number * head.n_rotations + asked.rotation]
    best = floor
    order = np.argsort(dates[date0:date1].cost)
    for at in range(order.size):
        date = dates[date0 + order[at]]
        years = max(0, head.rotation_years - (date.year - last_grown))
        ceiling = worth * (1.0 - date.cost - bed.watering - ROTATION * years) + hoped
        ceiling += gaps_filled(head, asked, date, wanted, floats)
        if asked.bonus == 0 and ceiling <= best:
            continue
        one = slots[LOOKED]
        one.request, one.bed, one.date = request, number, date0 + order[at]
        best = best_on_date(
            head, asked, date, bed, lanes, blocks, marks, slots, wanted, least, best, ints, floats
        )
    return best


@numba.njit(cache=True)
def take_out(heads, all_asked, dates, beds, slots, ints, floats, number):  # type: ignore[no-untyped-def]
    """Take a spot out of the plan; returns the points lost by it."""
    one = slots[number]
    head, asked, date, bed = heads[0], all_asked[one.request], dates[one.date], beds[one.bed]
    take(head, asked, date, bed, slots, number, OUT, ints, floats)
    return gain_of(head, asked, date, bed, slots, slots[OUT], ints, floats)
