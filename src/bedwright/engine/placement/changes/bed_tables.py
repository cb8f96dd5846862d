"""What every place of a block in one bed is worth beside what is fixed there, compiled.

Places of one block are kept by date, lane and start on the 5 cm raster, one after the other in a
pool. A date is worked out when the search first comes to it.
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.changes.scan import pinned_elsewhere
from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.places import (
    at_step,
    clashes,
    fill_in,
    free_gaps,
    same_time,
    snug,
    step_up,
)
from bedwright.engine.placement.compiled.records import BARRED_POINTS, MOST_IN_BED
from bedwright.engine.placement.compiled.value import (
    KEPT_PLACE,
    ROTATION,
    SIDE_OF_BED,
    SUPPORT,
    gain_of,
    gaps_filled,
    judge,
    spare_of,
)
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.terms import TALLER_BY_M
from bedwright.engine.placement.value import SEASON_DAYS

TRIED, UNDONE = 7, 6
"""Scratch slots: the block tried, and one taken out again."""

EPS = 1e-6
NEVER = -1e9

ANCHORED, BRIGHTER = 1, 2
"""A start better than 5 cm nearer to the peg in itself, and one that only has more sun to spare."""


@compiled
def is_full_width(lane, bed):  # type: ignore[no-untyped-def]
    """True for a lane from one side of the bed to the other."""
    return lane.low <= SMALL_M and lane.high >= bed.width - SMALL_M


@compiled
def suits_shape(shape, lane, bed):  # type: ignore[no-untyped-def]
    """True for the lane a block had, for full width and a support; for any where its shape is open."""
    full = is_full_width(lane, bed)
    same = (
        abs(lane.low - shape[0]) < SMALL_M
        and abs(lane.high - shape[1]) < SMALL_M
        and lane.direction == shape[2]
    )
    return full or same or lane.side != 0 or shape[3] > 0


@numba.njit(cache=True)
def list_lanes(head, all_asked, bed, lanes, ints, items, shapes):  # type: ignore[no-untyped-def]
    """Lanes each block may take, by number in the table, and how many."""
    n_items = items.size
    counts = np.zeros(n_items, dtype=np.int64)
    most = 1
    for item in range(n_items):
        at = head.lane_at + (all_asked[items[item]].geometry * head.n_forms + bed.form) * 3
        most = max(most, ints[at + 2] - ints[at])
    found = np.zeros((n_items, most), dtype=np.int64)
    for item in range(n_items):
        at = head.lane_at + (all_asked[items[item]].geometry * head.n_forms + bed.form) * 3
        for way in range(ints[at], ints[at + 2]):
            if suits_shape(shapes[item], lanes[way], bed):
                found[item, counts[item]] = way
                counts[item] += 1
    return found, counts


@compiled
def kept_ceiling(asked, marks, number, lane, date):  # type: ignore[no-untyped-def]
    """How much of an earlier plan's bed, place and date any start in a lane can keep, 0 to 1."""
    best = 0.0
    for at in range(asked.kept0, asked.kept1):
        if marks[at].bed == number:
            found = 0.5
            if abs(lane.low - marks[at].low) < SMALL_M:
                found += 0.25
            if date.in_ground == marks[at].in_ground:
                found += 0.25
            best = max(best, found)
    return best


@compiled
def ceiling_of(head, asked, marks, date, bed, number, lane, wanted, ints, floats):  # type: ignore[no-untyped-def]
    """Points that no start in a lane on a date can exceed, pairs left out."""
    worth = asked.plant_worth * wanted
    share = 1.0 - date.cost - bed.watering + KEPT_PLACE * kept_ceiling(asked, marks, number, lane, date)
    if asked.support >= 2 and lane.side != 0:
        share += SUPPORT
    elif asked.support == 3:
        share -= SUPPORT
    if lane.side == 0 and lane.high - lane.low < bed.width - SMALL_M:
        share -= SIDE_OF_BED
    if asked.rotation >= 0:
        last = ints[head.last_grown + number * head.n_rotations + asked.rotation]
        share -= ROTATION * max(0, head.rotation_years - (date.year - last))
    return worth * share + asked.bonus * wanted + gaps_filled(head, asked, date, wanted, floats)


@compiled
def pair_ceiling(head, one, other, my_worth, their_worth, floats):  # type: ignore[no-untyped-def]
    """Points two blocks can gain at most by standing side by side."""
    gain = floats[head.neighbour + one.name * head.n_names + other.name]
    back = floats[head.neighbour + other.name * head.n_names + one.name]
    return max(0.0, gain) * my_worth + max(0.0, back) * their_worth


@compiled
def hoped_beside_fixed(head, asked, bed, number, slots, ints, floats, worth):  # type: ignore[no-untyped-def]
    """Points a block can gain at most beside what is fixed in the bed."""
    total = 0.0
    first = head.bed_slots + number * MOST_IN_BED
    for at in range(bed.n_spots):
        other = slots[ints[first + at]]
        total += pair_ceiling(head, asked, other, worth, other.worth, floats)
    return total


@compiled
def weigh(head, asked, date, bed, marks, slots, one, ints, floats):  # type: ignore[no-untyped-def]
    """Points of the block tried beside what is in the bed; NEVER where it may not stand."""
    judge(head, asked, date, bed, marks, one, ints, floats)
    gain = gain_of(head, asked, date, bed, slots, one, ints, floats)
    return gain if gain > -BARRED_POINTS / 2 else NEVER


@numba.njit(cache=True)
def fill_lane(  # type: ignore[no-untyped-def]
    head, asked, dates, bed, lanes, marks, slots, ints, floats, request, number, lane, date, wanted, static,
    ends
):  # fmt: skip
    """Points and ends of a block at each start of a lane of a rectangle, beside what is fixed."""
    static[:], ends[:] = NEVER, 0.0
    one, way, days = slots[TRIED], lanes[lane], dates[date]
    n_gaps = free_gaps(head, bed, number, way, days, slots, ints, floats)
    for gap in range(n_gaps):
        low, high = floats[head.gaps + 4 * gap], floats[head.gaps + 4 * gap + 1]
        for step in range(step_up(low), static.size):
            start = at_step(step)
            if start >= high - SMALL_M:
                break
            fill_in(one, request, number, way, date, start, 0.0, 0)
            if not snug(one, asked, bed, way, low, high, wanted, 2) or one.n < wanted:
                if way.side < 3:
                    break
                continue
            if way.side >= 3 and abs(one.start - start) > SMALL_M:
                continue
            if pinned_elsewhere(asked, marks, number, one.start):
                continue
            static[step] = weigh(head, asked, days, bed, marks, slots, one, ints, floats)
            ends[step] = one.end


@numba.njit(cache=True)
def fill_blocks(  # type: ignore[no-untyped-def]
    head, asked, dates, bed, lanes, blocks, marks, slots, ints, floats, request, number, lane, date, wanted,
    static, ends, listed,
):  # fmt: skip
    """`fill_lane` for an odd outline, whose blocks are listed."""
    static[:], ends[:], listed[:] = NEVER, 0.0, -1
    one, days = slots[TRIED], dates[date]
    at = head.block_at + (request * head.n_beds + number) * 2
    none = np.zeros(0, dtype=np.int64)
    for block in range(ints[at], ints[at + 1]):
        if blocks[block].lane != lane or blocks[block].n != wanted:
            continue
        step = step_up(blocks[block].start)
        if pinned_elsewhere(asked, marks, number, blocks[block].start):
            continue
        fill_in(one, request, number, lanes[lane], date, blocks[block].start, blocks[block].end, wanted)
        one.rows, one.reach = blocks[block].rows, blocks[block].reach
        if clashes(head, bed, days, one, slots, ints, none) == 0:
            static[step] = weigh(head, asked, days, bed, marks, slots, one, ints, floats)
            ends[step], listed[step] = one.end, block


@numba.njit(cache=True)
def fill_anchors(  # type: ignore[no-untyped-def]
    head,
    bed,
    lanes,
    blocks,
    slots,
    floats,
    number,
    lane,
    date,
    need_h,
    static,
    ends,
    listed,
    anchored,
    shaded,
):
    """Starts worth more, taking less ground or, where `shaded`, with more sun to spare than 5 cm nearer.

    In an odd outline all of them.
    """
    for step in range(static.size):
        here = static[step]
        before = static[step - 1] if step > 0 else NEVER
        anchored[step] = ANCHORED if here > NEVER and here > before + EPS else 0
        if here <= NEVER or anchored[step]:
            continue
        shorter = ends[step] - at_step(step) < ends[step - 1] - at_step(step - 1) - SMALL_M
        if not bed.rectangular or shorter or ends[step - 1] > ends[step] + SMALL_M:
            anchored[step] = ANCHORED
        elif shaded:
            one = slots[TRIED]
            fill_in(one, 0, number, lanes[lane], date, at_step(step), ends[step], 0)
            one.need_h = need_h
            spare = spare_of(head, bed, one, floats)
            one.start, one.end = at_step(step - 1), ends[step - 1]
            if spare > spare_of(head, bed, one, floats) + EPS:
                anchored[step] = BRIGHTER


@numba.njit(cache=True)
def fill_best_from(static, best_from):  # type: ignore[no-untyped-def]
    """Points of the best start from each one on."""
    best = NEVER
    for step in range(static.size - 1, -1, -1):
        best = max(best, static[step])
        best_from[step] = best


@numba.njit(cache=True)
def fill_free_ground(bed, number, head, slots, ints, day, free):  # type: ignore[no-untyped-def]
    """Ground that is free on a day from each start on, in m²."""
    first = head.bed_slots + number * MOST_IN_BED
    for step in range(free.size):
        from_m = at_step(step)
        free[step] = max(0.0, bed.length - from_m) * bed.width
        for at in range(bed.n_spots):
            one = slots[ints[first + at]]
            if same_time(one, day, day):
                free[step] -= max(0.0, one.end - max(one.start, from_m)) * (one.high - one.low)


@compiled
def use_of(area, date, bed):  # type: ignore[no-untyped-def]
    """Share of ground and season of a bed that a block takes."""
    return area * (date.clear_by - date.taken_from + 1.0) / (bed.area * SEASON_DAYS)


@numba.njit(cache=True)
def low_blocks(all_asked, items):  # type: ignore[no-untyped-def]
    """Blocks that another of them may take sun from."""
    low = np.zeros(items.size, dtype=np.bool_)
    for one in range(items.size):
        for other in range(items.size):
            taller_by_m = all_asked[items[other]].height - all_asked[items[one]].height
            low[one] = low[one] or taller_by_m > TALLER_BY_M
    return low


@numba.njit(cache=True)
def only_full_width(bed, lanes, lanes_of, n_lanes):  # type: ignore[no-untyped-def]
    """Blocks for which no lane but full width comes into question."""
    full = np.ones(n_lanes.size, dtype=np.bool_)
    for item in range(n_lanes.size):
        for way in range(n_lanes[item]):
            full[item] = full[item] and is_full_width(lanes[lanes_of[item, way]], bed)
    return full
