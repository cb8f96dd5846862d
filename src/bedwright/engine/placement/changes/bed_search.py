"""The best way to lay out one bed, compiled: branch and bound from the peg outwards.

Blocks are laid in order of where they start. A block may start where another one ends, or
where the ground itself suits it better than 5 cm nearer to the peg (after something fixed, in
better light), or as far along as something fixed allows. Any other layout can be pushed
together into one of these without losing points, but for good neighbours pushed apart by it.
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.changes.scan import pinned_elsewhere
from bedwright.engine.placement.compiled.places import at_step, fill_in, free_gaps, same_time, snug, step_up
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.compiled.state import put, take
from bedwright.engine.placement.compiled.value import (
    KEPT_PLACE,
    ROTATION,
    SIDE_OF_BED,
    SUPPORT,
    TOGETHER,
    gain_of,
    gaps_filled,
    judge,
)
from bedwright.engine.placement.rules import SMALL_M, STEP_M

TRIED, UNDONE = 7, 6
"""Scratch slots: the block tried, and one taken out again."""

EPS = 1e-6
MOST_CHILDREN = 1500
STARTS_A_PLACE = 5
"""Starts looked at beside what is fixed, for each place weighed in the search at most."""
NEVER = -1e9


@numba.njit(cache=True)
def ceiling_of(head, asked, date, bed, number, lane, wanted, ints, floats):  # type: ignore[no-untyped-def]
    """Points that no start in a lane on a date can exceed, pairs left out."""
    worth = asked.plant_worth * wanted
    share = 1.0 - date.cost - bed.watering
    if asked.kept1 > asked.kept0:
        share += KEPT_PLACE
    if lane.side != 0:
        share += SUPPORT
    elif lane.high - lane.low < bed.width - SMALL_M:
        share -= SIDE_OF_BED
    if asked.rotation >= 0:
        last = ints[head.last_grown + number * head.n_rotations + asked.rotation]
        share -= ROTATION * max(0, head.rotation_years - (date.year - last))
    return worth * share + gaps_filled(head, asked, date, wanted, floats)


@numba.njit(cache=True)
def fill_profile(  # type: ignore[no-untyped-def]
    head, asked, dates, bed, lanes, marks, slots, ints, floats, request, number, mode, wanted, static, ends
):
    """Points and ends of a block at each start beside what is fixed; returns the best of them."""
    static[:], ends[:] = NEVER, 0.0
    date = mode[1]
    one, way, days = slots[TRIED], lanes[mode[0]], dates[date]
    n_gaps = free_gaps(head, bed, number, way, days, slots, ints, floats)
    best = NEVER
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
            judge(head, asked, days, bed, marks, one, ints, floats)
            static[step] = gain_of(head, asked, days, bed, slots, one, ints, floats)
            ends[step] = one.end
            best = max(best, static[step])
    return best


@numba.njit(cache=True)
def pair_ceiling(head, one, other, my_worth, their_worth, floats):  # type: ignore[no-untyped-def]
    """Points two blocks can gain at most by standing side by side."""
    gain = floats[head.neighbour + one.name * head.n_names + other.name]
    back = floats[head.neighbour + other.name * head.n_names + one.name]
    return max(0.0, gain) * my_worth + max(0.0, back) * their_worth


@numba.njit(cache=True)
def suits_shape(shape, lane, bed):  # type: ignore[no-untyped-def]
    """True for the lane a block had, for full width and a support; for any where its shape is open."""
    full = lane.low <= SMALL_M and lane.high >= bed.width - SMALL_M
    same = (
        abs(lane.low - shape[0]) < SMALL_M
        and abs(lane.high - shape[1]) < SMALL_M
        and lane.direction == shape[2]
    )
    return full or same or lane.side != 0 or shape[3] > 0


@numba.njit(cache=True)
def list_modes(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, ints, floats, items, wanted, spans, shapes, number, item, modes,
    ceilings,
):  # fmt: skip
    """Lanes with dates of one block, the most promising first; returns how many."""
    asked = all_asked[items[item]]
    at = head.lane_at + (asked.geometry * head.n_forms + bed.form) * 3
    n = 0
    for way in range(ints[at], ints[at + 2]):
        if not suits_shape(shapes[item], lanes[way], bed):
            continue
        for day in range(spans[item, 0], spans[item, 1]):
            modes[item, n, 0], modes[item, n, 1] = way, day
            ceilings[item, n] = ceiling_of(
                head, asked, dates[day], bed, number, lanes[way], wanted[item], ints, floats
            )
            n += 1
    order = np.argsort(-ceilings[item, :n], kind="mergesort")
    modes[item, :n], ceilings[item, :n] = modes[item, :n][order], ceilings[item, :n][order]
    return n


@numba.njit(cache=True)
def hoped_beside_fixed(head, asked, bed, number, slots, ints, floats, worth):  # type: ignore[no-untyped-def]
    """Points a block can gain at most beside what is fixed in the bed."""
    total = 0.0
    first = head.bed_slots + number * MOST_IN_BED
    for at in range(bed.n_spots):
        other = slots[ints[first + at]]
        total += pair_ceiling(head, asked, other, worth, other.worth, floats)
    return total


@numba.njit(cache=True)
def chain_families(all_asked, bed, number, slots, ints, head, items, pairs):  # type: ignore[no-untyped-def]
    """Points that blocks of one family save by sharing the bed, from each to the next of them.

    A family costs once for a bed, and each block alone counts that in full. However many of
    them are laid, a chain gives back at least what all but one of them save.
    """
    first = head.bed_slots + number * MOST_IN_BED
    for item in range(items.size):
        rotation = all_asked[items[item]].rotation
        there = rotation < 0
        for at in range(bed.n_spots):
            if slots[ints[first + at]].rotation == rotation:
                there = True
        if there:
            continue
        for other in range(item - 1, -1, -1):
            if all_asked[items[other]].rotation == rotation:
                pairs[item, other] += TOGETHER
                pairs[other, item] += TOGETHER
                break


@numba.njit(cache=True)
def conflicts(one, date, lane, start, end):  # type: ignore[no-untyped-def]
    """True if a placed block shares ground and time with a lane, days and stretch."""
    return (
        same_time(one, date.taken_from, date.clear_by)
        and one.low < lane.high - SMALL_M
        and one.high > lane.low + SMALL_M
        and one.start < end - SMALL_M
        and one.end > start + SMALL_M
    )


@numba.njit(cache=True)
def best_layout(  # type: ignore[no-untyped-def]
    heads, all_asked, dates, beds, lanes, blocks, marks, slots, ints, floats,
    number, items, wanted, spans, shapes, floor, limit, found,
):  # fmt: skip
    """The best layout of some blocks in a bed that holds what is fixed only.

    Parameters
    ----------
    items, wanted
        Requests and plants of the blocks.
    spans
        (n_items, 2): dates of each that may be taken, first and last excluded, by number in the table.
    shapes
        (n_items, 4): from, to and direction of the lane of each, and 1 where any lane will do.
    floor
        Points known to be possible; only more is of interest.
    limit
        Places weighed at most in the search.
    found
        (n_items, 5): lane, date, start, end and 1 where placed, of each block; changed only where
        something better than `floor` is found.

    Returns
    -------
    best points, points that cannot be exceeded, places weighed
    """
    head, bed = heads[0], beds[number]
    n_items = items.size
    n_steps = int(np.ceil(bed.length / STEP_M - SMALL_M))
    most = 1
    for item in range(n_items):
        asked = all_asked[items[item]]
        at = head.lane_at + (asked.geometry * head.n_forms + bed.form) * 3
        most = max(most, (ints[at + 2] - ints[at]) * (spans[item, 1] - spans[item, 0]))
    modes = np.zeros((n_items, most, 2), dtype=np.int64)
    ceilings = np.zeros((n_items, most))
    n_modes = np.zeros(n_items, dtype=np.int64)
    static = np.full((n_items, most, n_steps), NEVER)
    ends = np.zeros((n_items, most, n_steps))
    tops = np.zeros(n_items)
    worth = np.zeros(n_items)
    hoped = np.zeros(n_items)
    for item in range(n_items):
        asked = all_asked[items[item]]
        worth[item] = asked.plant_worth * wanted[item]
        hoped[item] = hoped_beside_fixed(head, asked, bed, number, slots, ints, floats, worth[item])
        n_modes[item] = list_modes(
            head,
            all_asked,
            dates,
            bed,
            lanes,
            ints,
            floats,
            items,
            wanted,
            spans,
            shapes,
            number,
            item,
            modes,
            ceilings,
        )
    pairs = np.zeros((n_items, n_items))
    for one in range(n_items):
        for other in range(n_items):
            if one != other:
                pairs[one, other] = pair_ceiling(
                    head, all_asked[items[one]], all_asked[items[other]], worth[one], worth[other], floats
                )
    chain_families(all_asked, bed, number, slots, ints, head, items, pairs)
    done = np.zeros(n_items, dtype=np.int64)
    for item in range(n_items):
        asked = all_asked[items[item]]
        top = NEVER
        while done[item] < n_modes[item] and ceilings[item, done[item]] + hoped[item] > max(top, 0.0):
            mode = done[item]
            best = fill_profile(
                head, asked, dates, bed, lanes, marks, slots, ints, floats, items[item], number,
                modes[item, mode], wanted[item], static[item, mode], ends[item, mode],
            )  # fmt: skip
            top = max(top, best)
            done[item] += 1
        tops[item] = max(top, 0.0)
    bound = tops.sum() + pairs.sum() / 2
    if bound <= floor + EPS:
        return floor, floor, 0
    # A block so much worse than its best cannot be part of a better layout.
    slack, seen, missed = bound - floor, 0, NEVER
    for item in range(n_items):
        asked = all_asked[items[item]]
        while done[item] < n_modes[item] and ceilings[item, done[item]] + hoped[item] > tops[item] - slack:
            if seen > limit * STARTS_A_PLACE:
                missed = max(missed, bound - tops[item] + ceilings[item, done[item]] + hoped[item])
                break
            seen += n_steps
            mode = done[item]
            fill_profile(
                head, asked, dates, bed, lanes, marks, slots, ints, floats, items[item], number,
                modes[item, mode], wanted[item], static[item, mode], ends[item, mode],
            )  # fmt: skip
            done[item] += 1
    best, open_bound, weighed = search_layout(
        head, all_asked, dates, bed, lanes, marks, slots, ints, floats, number, items, wanted, floor, limit,
        found, modes, done, static, ends, pairs,
    )  # fmt: skip
    return best, min(bound, max(best, open_bound, missed)), weighed


@numba.njit(cache=True)
def crowding_tables(dates, lanes, n_items, modes, n_modes, static, ends):  # type: ignore[no-untyped-def]
    """Days on which ground may run out, the least ground each block takes then, and its points without.

    The days are those on which the best date of some block begins or ends.
    """
    days = np.zeros(2 * n_items, dtype=np.int64)
    ground = np.zeros((n_items, days.size))
    without = np.zeros((n_items, days.size))
    tops = np.full((n_items, static.shape[1]), NEVER)
    areas = np.zeros((n_items, static.shape[1]))
    for item in range(n_items):
        best = NEVER
        for mode in range(n_modes[item]):
            lane = lanes[modes[item, mode, 0]]
            least = np.inf
            for step in range(static.shape[2]):
                if static[item, mode, step] > NEVER:
                    tops[item, mode] = max(tops[item, mode], static[item, mode, step])
                    least = min(least, ends[item, mode, step] - at_step(step))
            areas[item, mode] = least * (lane.high - lane.low)
            if tops[item, mode] > best:
                best = tops[item, mode]
                date = dates[modes[item, mode, 1]]
                days[2 * item], days[2 * item + 1] = date.taken_from, date.clear_by
    for item in range(n_items):
        for at in range(days.size):
            least = np.inf
            for mode in range(n_modes[item]):
                date = dates[modes[item, mode, 1]]
                if date.taken_from <= days[at] <= date.clear_by:
                    if tops[item, mode] > NEVER:
                        least = min(least, areas[item, mode])
                else:
                    without[item, at] = max(without[item, at], tops[item, mode])
            ground[item, at] = 0.0 if least == np.inf else least
    return days, ground, without


@numba.njit(cache=True)
def free_ground(bed, number, head, slots, ints, from_m, day):  # type: ignore[no-untyped-def]
    """Ground of a bed beyond a distance from the peg that is free on a day."""
    first = head.bed_slots + number * MOST_IN_BED
    free = (bed.length - from_m) * bed.width
    for other in range(bed.n_spots):
        one = slots[ints[first + other]]
        if one.taken_from <= day <= one.clear_by:
            free -= max(0.0, one.end - max(one.start, from_m)) * (one.high - one.low)
    return free


@numba.njit(cache=True)
def crowding_loss(bed, number, head, slots, ints, days, ground, without, tops, step, laid):  # type: ignore[no-untyped-def]
    """Points that blocks still to be laid must lose at least, because ground runs out on some day."""
    worst, from_m = 0.0, at_step(step)
    n_items = laid.size
    out = np.zeros(n_items, dtype=np.bool_)
    for at in range(days.size):
        need = 0.0
        for item in range(n_items):
            if laid[item] < 0:
                need += ground[item, at]
        over = need - free_ground(bed, number, head, slots, ints, from_m, days[at])
        if over <= SMALL_M:
            continue
        loss = 0.0
        out[:] = False
        while over > SMALL_M:
            chosen, rate = -1, np.inf
            for item in range(n_items):
                if laid[item] < 0 and not out[item] and ground[item, at] > 0:
                    gives = max(0.0, tops[item] - without[item, at]) / ground[item, at]
                    if gives < rate:
                        chosen, rate = item, gives
            if chosen < 0:
                break
            out[chosen] = True
            loss += rate * min(over, ground[chosen, at])
            over -= ground[chosen, at]
        worst = max(worst, loss)
    return worst


@numba.njit(cache=True)
def anchors_of(static, anchored):  # type: ignore[no-untyped-def]
    """Starts that are better than 5 cm nearer to the peg, or the last before something fixed."""
    for step in range(static.size):
        here = static[step]
        before = static[step - 1] if step > 0 else NEVER
        after = static[step + 1] if step + 1 < static.size else NEVER
        anchored[step] = here > NEVER and (here > before + EPS or after <= NEVER)


@numba.njit(cache=True)
def search_layout(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, marks, slots, ints, floats, number, items, wanted, floor, limit,
    found, modes, n_modes, static, ends, pairs,
):  # fmt: skip
    """Depth first through all layouts that may be better than the best so far.

    Returns the best points, the most that what was left unsearched could reach, places weighed.
    """
    n_items, n_steps = items.size, static.shape[2]
    anchored = np.zeros((n_items, static.shape[1], n_steps), dtype=np.bool_)
    for item in range(n_items):
        for mode in range(n_modes[item]):
            anchors_of(static[item, mode], anchored[item, mode])
    places, counts = ranked(n_items, n_modes, static)
    days, ground, without = crowding_tables(dates, lanes, n_items, modes, n_modes, static, ends)
    children = np.zeros((n_items + 1, MOST_CHILDREN, 3), dtype=np.int64)
    hopes = np.full((n_items + 1, MOST_CHILDREN), NEVER)
    n_children = np.zeros(n_items + 1, dtype=np.int64)
    turn = np.zeros(n_items + 1, dtype=np.int64)
    values = np.zeros(n_items + 1)
    laid = np.full(n_items, -1, dtype=np.int64)
    path = np.zeros((n_items + 1, 3), dtype=np.int64)
    best, unsearched, weighed, depth = floor, NEVER, 0, 0
    path[0, 0] = -1
    n_children[0], weighed, unsearched = list_children(
        head, all_asked, dates, bed, lanes, marks, slots, ints, floats, number, items, wanted, modes, n_modes,
        static, ends, anchored, places, counts, days, ground, without, pairs, laid, 0.0, path[0], best,
        children[0], hopes[0], weighed, unsearched,
    )  # fmt: skip
    while True:
        child = turn[depth]
        if child < n_children[depth] and hopes[depth, child] > best + EPS and weighed > limit:
            unsearched = max(unsearched, hopes[depth, child])
            child = n_children[depth]
        if child >= n_children[depth] or hopes[depth, child] <= best + EPS:
            if depth == 0:
                break
            item = path[depth, 0]
            date = dates[slots[laid[item]].date]
            take(head, all_asked[items[item]], date, bed, slots, laid[item], UNDONE, ints, floats)
            laid[item] = -1
            depth -= 1
            continue
        turn[depth] += 1
        depth += 1
        path[depth] = children[depth - 1, child]
        item = path[depth, 0]
        gain, laid[item] = lay(
            head, all_asked[items[item]], dates, bed, lanes, marks, slots, ints, floats, number, items[item],
            wanted[item], modes[item, path[depth, 1]], path[depth, 2], ends[item, path[depth, 1]],
        )  # fmt: skip
        values[depth] = values[depth - 1] + gain
        if values[depth] > best + EPS:
            best = values[depth]
            write_down(path, depth, modes, ends, found)
        turn[depth] = 0
        n_children[depth], weighed, unsearched = list_children(
            head, all_asked, dates, bed, lanes, marks, slots, ints, floats, number, items, wanted, modes,
            n_modes, static, ends, anchored, places, counts, days, ground, without, pairs, laid,
            values[depth], path[depth], best, children[depth], hopes[depth], weighed, unsearched,
        )  # fmt: skip
    return best, unsearched, weighed


@numba.njit(cache=True)
def lay(  # type: ignore[no-untyped-def]
    head, asked, dates, bed, lanes, marks, slots, ints, floats, number, request, wanted, mode, step, ends
):
    """Lay a block; returns the points gained and its slot."""
    one, date = slots[TRIED], dates[mode[1]]
    fill_in(one, request, number, lanes[mode[0]], mode[1], at_step(step), ends[step], wanted)
    judge(head, asked, date, bed, marks, one, ints, floats)
    gain = gain_of(head, asked, date, bed, slots, one, ints, floats)
    return gain, put(head, asked, date, bed, slots, TRIED, ints, floats)


@numba.njit(cache=True)
def write_down(path, depth, modes, ends, found):  # type: ignore[no-untyped-def]
    """Keep the layout as laid so far."""
    found[:, :] = 0
    for at in range(1, depth + 1):
        item, mode, step = path[at]
        found[item, 0], found[item, 1] = modes[item, mode, 0], modes[item, mode, 1]
        found[item, 2], found[item, 3], found[item, 4] = at_step(step), ends[item, mode, step], 1


@numba.njit(cache=True)
def ranked(n_items, n_modes, static):  # type: ignore[no-untyped-def]
    """Places of each block from the best down: (mode, start) in rows, and how many there are."""
    n_steps = static.shape[2]
    counts = np.zeros(n_items, dtype=np.int64)
    places = np.zeros((n_items, static.shape[1] * n_steps, 2), dtype=np.int64)
    for item in range(n_items):
        flat = static[item, : n_modes[item]].ravel()
        order = np.argsort(-flat, kind="mergesort")
        for at in range(order.size):
            if flat[order[at]] <= 0.0:
                break
            places[item, at, 0], places[item, at, 1] = order[at] // n_steps, order[at] % n_steps
            counts[item] += 1
    return places, counts


@numba.njit(cache=True)
def hope_of_rest(  # type: ignore[no-untyped-def]
    dates, lanes, slots, modes, static, ends, places, counts, pairs, laid, step, tops
):
    """Points that blocks still to be laid can gain at most beside those laid; each alone into `tops`."""
    hoped = 0.0
    for item in range(laid.size):
        tops[item] = 0.0
        if laid[item] < 0:
            for other in range(laid.size):
                hoped += pairs[item, other] / 2 if laid[other] < 0 else pairs[item, other]
            for at in range(counts[item]):
                mode, start = places[item, at]
                if start < step:
                    continue
                way, end = modes[item, mode], ends[item, mode, start]
                if not in_the_way(slots, laid, dates[way[1]], lanes[way[0]], at_step(start), end):
                    tops[item] = static[item, mode, start]
                    break
            hoped += tops[item]
    return hoped


@numba.njit(cache=True)
def list_starts(  # type: ignore[no-untyped-def]
    dates, bed, lanes, slots, modes, anchored, laid, first, starts, seen
):
    """Starts for one lane and date: where the ground suits better, and where laid blocks end."""
    date, lane = dates[modes[1]], lanes[modes[0]]
    n, n_steps = 0, anchored.size
    seen[:] = False
    for step in range(first, n_steps):
        if anchored[step]:
            starts[n], seen[step] = step, True
            n += 1
    for other in range(laid.size):
        if laid[other] >= 0:
            there = slots[laid[other]]
            step = step_up(there.end)
            if first <= step < n_steps and not seen[step] and conflicts(there, date, lane, 0.0, bed.length):
                starts[n], seen[step] = step, True
                n += 1
    return n


@numba.njit(cache=True)
def in_the_way(slots, laid, date, lane, start, end):  # type: ignore[no-untyped-def]
    """True if a laid block has the ground."""
    for other in range(laid.size):
        if laid[other] >= 0 and conflicts(slots[laid[other]], date, lane, start, end):
            return True
    return False


@numba.njit(cache=True)
def list_children(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, marks, slots, ints, floats, number, items, wanted, modes, n_modes,
    static, ends, anchored, places, counts, days, ground, without, pairs, laid, value, last, best, children,
    hopes, weighed, unsearched,
):  # fmt: skip
    """Blocks that may be laid next, the most promising first, with what a layout with each can reach.

    `last` is item, mode and start of the block laid last; item -1 where there is none.
    """
    n, n_steps = 0, static.shape[2]
    tops = np.zeros(items.size)
    hoped = hope_of_rest(dates, lanes, slots, modes, static, ends, places, counts, pairs, laid, last[2], tops)
    if value + hoped <= best + EPS:
        return n, weighed, unsearched
    loss = crowding_loss(bed, number, head, slots, ints, days, ground, without, tops, last[2], laid)
    if value + hoped - loss <= best + EPS:
        return n, weighed, unsearched
    starts, seen = np.zeros(n_steps, dtype=np.int64), np.zeros(n_steps, dtype=np.bool_)
    for item in range(items.size):
        if laid[item] >= 0:
            continue
        asked = all_asked[items[item]]
        rest = value + hoped - tops[item]
        with_laid = 0.0
        for other in range(items.size):
            if laid[other] >= 0:
                with_laid += pairs[item, other]
        first = last[2] if item > last[0] else last[2] + 1
        for mode in range(n_modes[item]):
            way = modes[item, mode]
            date, lane = dates[way[1]], lanes[way[0]]
            n_starts = list_starts(
                dates, bed, lanes, slots, way, anchored[item, mode], laid, first, starts, seen
            )
            for step in starts[:n_starts]:
                if static[item, mode, step] <= NEVER or rest + static[item, mode, step] <= best + EPS:
                    continue
                start, end = at_step(step), ends[item, mode, step]
                if in_the_way(slots, laid, date, lane, start, end):
                    continue
                one = slots[TRIED]
                fill_in(one, items[item], number, lane, way[1], start, end, wanted[item])
                judge(head, asked, date, bed, marks, one, ints, floats)
                hope = rest - with_laid + gain_of(head, asked, date, bed, slots, one, ints, floats)
                weighed += 1
                if hope > best + EPS:
                    n, unsearched = note(children, hopes, n, item, mode, step, hope, unsearched)
    order = np.argsort(-hopes[:n], kind="mergesort")
    hopes[:n], children[:n] = hopes[:n][order], children[:n][order]
    return n, weighed, unsearched


@numba.njit(cache=True)
def note(children, hopes, n, item, mode, step, hope, unsearched):  # type: ignore[no-untyped-def]
    """Enter a block that may be laid next; where there is no room for it, say what is missed."""
    if n >= children.shape[0]:
        return n, max(unsearched, hope)
    children[n, 0], children[n, 1], children[n, 2] = item, mode, step
    hopes[n] = hope
    return n + 1, unsearched
