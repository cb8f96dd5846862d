"""The best way to lay out blocks whose dates are settled, all of them, compiled.

Depth first from the peg outward: blocks are laid in order of where they start. A block may start
where another one ends, or where the ground itself suits it better than 5 cm nearer to the peg (in
better light, or so that it takes less ground). Any layout can be pushed together into one of these
without losing points, but for blocks to which it matters how far they stand apart (good and bad
neighbours, tall over low, one family twice on the same ground): those may start anywhere that is
worth more than 5 cm nearer to the peg beside what is laid, or beside what is still to be laid.
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.changes.bed_bounds import BAD, FOLLOWS, GOOD, SHADES
from bedwright.engine.placement.changes.bed_tables import (
    ANCHORED,
    BRIGHTER,
    EPS,
    NEVER,
    TRIED,
    UNDONE,
    is_full_width,
    weigh,
)
from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.places import at_step, fill_in, step_down, step_up
from bedwright.engine.placement.compiled.state import put, take
from bedwright.engine.placement.compiled.value import EVEN_USE, TOGETHER, pair_points
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.value import TOUCHING_M

MOST_CHILDREN = 2000
MOST_OPEN = 50
"""Layouts looked at that may be worth more with blocks farther apart, before that is looked into."""

SEARCHED, FOUND, STOPPED = 0, 1, 2
"""All layouts were looked through; one that may lead to more was found; the limit ended it."""


@compiled
def prepare(one, block, blocks, request, number, lane, day, step, end, n):  # type: ignore[no-untyped-def]
    """Write a place into a record."""
    start = at_step(step) if block < 0 else blocks[block].start
    fill_in(one, request, number, lane, day, start, end, n)
    if block >= 0:
        one.rows, one.reach = blocks[block].rows, blocks[block].reach


@compiled
def same_strip(one, lane):  # type: ignore[no-untyped-def]
    """True if a block and a lane share ground across the bed."""
    return one.low < lane.high - SMALL_M and one.high > lane.low + SMALL_M


@compiled
def first_free(slots, laid, at_once, item, lane, step):  # type: ignore[no-untyped-def]
    """The first start from a step on that no laid block is in the way of, and if it touches one there.

    Laid blocks start no later than that step, so only their ends count.
    """
    found, touches = step, False
    for other in range(laid.size):
        if laid[other] >= 0 and at_once[item, other] and same_strip(slots[laid[other]], lane):
            end = step_up(slots[laid[other]].end)
            if end >= found:
                found, touches = end, True
    return found, touches


@compiled
def room_left(  # type: ignore[no-untyped-def]
    dates, spans, slots, chosen, laid, area, free_ground, step
):
    """False if blocks still to be laid take more ground on some day than is free from a step on."""
    from_m = at_step(step)
    for one in range(chosen.size):
        if chosen[one] < 0 or laid[one] >= 0:
            continue
        day = dates[spans[one, 0] + chosen[one]].taken_from
        need = 0.0
        for other in range(chosen.size):
            if chosen[other] < 0:
                continue
            date = dates[spans[other, 0] + chosen[other]]
            if not date.taken_from <= day <= date.clear_by:
                continue
            if laid[other] < 0:
                need += area[other, chosen[other]]
            else:
                there = slots[laid[other]]
                need += max(0.0, there.end - max(there.start, from_m)) * (there.high - there.low)
        if need > free_ground[one, chosen[one], min(step, free_ground.shape[2] - 1)] + SMALL_M:
            return False
    return True


@compiled
def most_of_each(  # type: ignore[no-untyped-def]
    lanes, slots, lanes_of, n_lanes, base, n_steps, best_from, chosen, laid, at_once, step, most
):
    """Points of the best place left to each block still to be laid, into `most`; False if one has none."""
    for item in range(chosen.size):
        if chosen[item] < 0 or laid[item] >= 0:
            continue
        best = NEVER
        for way in range(n_lanes[item]):
            lane = lanes[lanes_of[item, way]]
            first, _ = first_free(slots, laid, at_once, item, lane, step)
            if first < n_steps:
                at = base[item] + (chosen[item] * n_lanes[item] + way) * n_steps
                best = max(best, best_from[at + first])
        if best <= NEVER:
            return False
        most[item] = best
    return True


@compiled
def added_together(items, chosen, laid, families, hoped, forced, use, split):  # type: ignore[no-untyped-def]
    """Points by which what is still to be laid can gain at most beyond each alone; mostly negative."""
    total = 0.0
    for one in range(chosen.size):
        if chosen[one] < 0 or laid[one] >= 0:
            continue
        of_family, of_request = False, False
        for other in range(chosen.size):
            if chosen[other] < 0 or other == one or (laid[other] < 0 and other > one):
                continue
            total += hoped[one, other] - forced[one, other]
            total -= 2 * EVEN_USE * use[one, chosen[one]] * use[other, chosen[other]]
            of_family = of_family or (families[one] >= 0 and families[one] == families[other])
            of_request = of_request or items[one] == items[other]
        if of_family:
            total += TOGETHER
        if of_request:
            total -= split[one]
    return total


@compiled
def shade_beside(head, bed, slots, laid, matters, item, ints, floats):  # type: ignore[no-untyped-def]
    """Points that the block tried gives or costs beside those laid that shade it or that it shades."""
    total = 0.0
    for other in range(laid.size):
        if laid[other] >= 0 and matters[item, other] & SHADES:
            total += pair_points(head, bed, slots[TRIED], slots[laid[other]], ints, floats)
    return total


@compiled
def hoped_in_vain(slots, laid, hoped, item):  # type: ignore[no-untyped-def]
    """Points hoped for beside laid blocks that the block tried does not touch."""
    one, total = slots[TRIED], 0.0
    for other in range(laid.size):
        if laid[other] >= 0 and hoped[item, other] > 0:
            there = slots[laid[other]]
            along = max(one.start - there.end, there.start - one.end)
            across = max(one.low - there.high, there.low - one.high)
            if not (max(along, across) <= TOUCHING_M and min(along, across) < -TOUCHING_M):
                total += hoped[item, other]
    return total


@compiled
def any_start_may_do(laid, matters, full_width, item, lane_is_full, all_asked, items):  # type: ignore[no-untyped-def]
    """True if a block may gain by standing farther from the peg because of one still to be laid.

    That one will start no nearer to the peg. Farther from it a block is shaded less and shades less,
    and has no bad neighbour, but where a narrow block throws its shade sideways.
    """
    for other in range(laid.size):
        if laid[other] >= 0:
            continue
        if matters[item, other] & GOOD:
            return True
        if matters[item, other] & SHADES:
            i_am_taller = all_asked[items[item]].height > all_asked[items[other]].height
            if not (lane_is_full if i_am_taller else full_width[other]):
                return True
    return False


@compiled
def mark_ends(slots, laid, matters, item, marked):  # type: ignore[no-untyped-def]
    """Mark starts just clear of laid bad neighbours and the same family, and level with good neighbours."""
    for step in range(marked.size):
        marked[step] = False
    for other in range(laid.size):
        if laid[other] < 0:
            continue
        end = slots[laid[other]].end
        if matters[item, other] & FOLLOWS and step_up(end) < marked.size:
            marked[step_up(end)] = True
        if matters[item, other] & GOOD:
            marked[step_up(slots[laid[other]].start)] = True
        if matters[item, other] & BAD:
            for step in (step_up(end - TOUCHING_M), step_down(end + TOUCHING_M) + 1):
                if 0 <= step < marked.size:
                    marked[step] = True


@compiled
def list_starts(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, chosen,
    laid,
    matters, full_width, static, ends, anchored, best_from, listed, item, lane, day, free, touches, least,
    relaxed, starts, marked,
):  # fmt: skip
    """Starts of a block in a lane that are worth at least so much; returns how many, and places weighed."""
    n, weighed, n_steps = 0, 0, static.size
    anyhow, shaded = False, False
    if not relaxed:
        anyhow = any_start_may_do(laid, matters, full_width, item, is_full_width(lane, bed), all_asked, items)
        mark_ends(slots, laid, matters, item, marked)
        for other in range(laid.size):
            shaded = shaded or (laid[other] >= 0 and matters[item, other] & SHADES > 0)
    asked, date, one = all_asked[items[item]], dates[day], slots[TRIED]
    for step in range(free, n_steps):
        if best_from[step] < least:
            break
        if static[step] <= NEVER or static[step] < least:
            continue
        held = anchored[step] == ANCHORED or (touches and step == free)
        if not relaxed:
            held = held or anyhow or marked[step] or anchored[step] == BRIGHTER
        if not held and shaded:
            prepare(one, listed[step], blocks, items[item], number, lane, day, step, ends[step], wanted[item])
            weigh(head, asked, date, bed, marks, slots, one, ints, floats)
            here = shade_beside(head, bed, slots, laid, matters, item, ints, floats)
            prepare(
                one, listed[step - 1], blocks, items[item], number, lane, day, step - 1, ends[step - 1],
                wanted[item],
            )  # fmt: skip
            weigh(head, asked, date, bed, marks, slots, one, ints, floats)
            held = here > shade_beside(head, bed, slots, laid, matters, item, ints, floats) + EPS
            weighed += 4
        if held:
            starts[n] = step
            n += 1
    return n, weighed + n


@compiled
def reach_of(  # type: ignore[no-untyped-def]
    dates, lanes, slots, items, spans, lanes_of, n_lanes, base, n_steps, best_from, chosen, laid, at_once,
    hoped,
    forced, families, split, use, area, free_ground, last_step, value, plain, relaxed, most,
):  # fmt: skip
    """Points that a layout can reach at most with what is laid; NEVER if the rest finds no ground.

    `value` is of what is laid, `plain` the ceiling of the whole less what each still to be laid can
    reach alone, which is written into `most`.
    """
    if not room_left(dates, spans, slots, chosen, laid, area, free_ground, last_step):
        return NEVER
    if not most_of_each(
        lanes, slots, lanes_of, n_lanes, base, n_steps, best_from, chosen, laid, at_once, last_step, most
    ):
        return NEVER
    reach = plain
    if not relaxed:
        added = added_together(items, chosen, laid, families, hoped, forced, use, split)
        reach = min(plain, value + added)
    for item in range(chosen.size):
        if chosen[item] >= 0 and laid[item] < 0:
            reach += most[item]
    return reach


@numba.njit(cache=True)
def add_children(  # type: ignore[no-untyped-def]
    slots, blocks, number, request, wanted, lane, day, laid, hoped, static, ends, listed, item, way, rest,
    above, relaxed, starts, n_starts, children, hopes, n, missed,
):  # fmt: skip
    """Enter starts of a block in a lane with what a layout with each can reach, as far as there is room.

    Returns how many there are now, and the most that found no room.
    """
    for step in starts[:n_starts]:
        hope = rest + static[step]
        if not relaxed:
            prepare(slots[TRIED], listed[step], blocks, request, number, lane, day, step, ends[step], wanted)
            hope -= hoped_in_vain(slots, laid, hoped, item)
        if hope <= above:
            continue
        if n >= children.shape[0]:
            missed = max(missed, hope)
            continue
        children[n, 0], children[n, 1], children[n, 2] = item, way, step
        hopes[n] = hope
        n += 1
    return n, missed


@numba.njit(cache=True)
def list_children(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, chosen, laid, at_once, hoped,
    forced, matters, full_width, families, split, use, area, free_ground, last_item, last_step, value, plain,
    above, relaxed, children, hopes, most, starts, marked, weighed,
):  # fmt: skip
    """Blocks that may be laid next, the most promising first, with what a layout with each can reach.

    Only what can exceed `above` is listed. Returns how many, the most that was not listed for lack
    of room, and places weighed so far.
    """
    n, missed = 0, NEVER
    weighed += 1
    reach = reach_of(
        dates, lanes, slots, items, spans, lanes_of, n_lanes, base, n_steps, best_from, chosen, laid, at_once,
        hoped, forced, families, split, use, area, free_ground, last_step, value, plain, relaxed, most,
    )  # fmt: skip
    if reach <= above:
        return n, missed, weighed
    for item in range(chosen.size):
        if chosen[item] < 0 or laid[item] >= 0:
            continue
        day = spans[item, 0] + chosen[item]
        first = last_step if item > last_item else last_step + 1
        rest = reach - most[item]
        for way in range(n_lanes[item]):
            lane = lanes[lanes_of[item, way]]
            free, touches = first_free(slots, laid, at_once, item, lane, first)
            at = base[item] + (chosen[item] * n_lanes[item] + way) * n_steps
            to = at + n_steps
            if free >= n_steps or rest + best_from[at + free] <= above:
                continue
            n_starts, more = list_starts(
                head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
                chosen, laid, matters, full_width, static[at:to], ends[at:to], anchored[at:to],
                best_from[at:to], listed[at:to], item, lane, day, free, touches, above - rest, relaxed,
                starts,
                marked,
            )  # fmt: skip
            weighed += more
            n, missed = add_children(
                slots, blocks, number, items[item], wanted[item], lane, day, laid, hoped, static[at:to],
                ends[at:to], listed[at:to], item, way, rest, above, relaxed, starts, n_starts, children,
                hopes,
                n, missed,
            )  # fmt: skip
    order = np.argsort(-hopes[:n], kind="mergesort")
    hopes[:n], children[:n] = hopes[:n][order], children[:n][order]
    return n, missed, weighed


@numba.njit(cache=True)
def write_down(spans, lanes_of, listed, ends, blocks, base, n_lanes, n_steps, chosen, depth, path, found):  # type: ignore[no-untyped-def]
    """Keep the layout as laid so far."""
    found[:, :] = 0
    for at in range(1, depth + 1):
        item, way, step = path[at]
        place = base[item] + (chosen[item] * n_lanes[item] + way) * n_steps + step
        start = at_step(step) if listed[place] < 0 else blocks[listed[place]].start
        found[item, 0], found[item, 1] = lanes_of[item, way], spans[item, 0] + chosen[item]
        found[item, 2], found[item, 3], found[item, 4] = start, ends[place], 1


@compiled
def lay(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, ends, listed, chosen, laid, item, way, step,
):  # fmt: skip
    """Lay a block; returns the points gained and the number of its place."""
    asked, day = all_asked[items[item]], spans[item, 0] + chosen[item]
    place = base[item] + (chosen[item] * n_lanes[item] + way) * n_steps + step
    prepare(
        slots[TRIED], listed[place], blocks, items[item], number, lanes[lanes_of[item, way]], day, step,
        ends[place], wanted[item],
    )  # fmt: skip
    gain = weigh(head, asked, dates[day], bed, marks, slots, slots[TRIED], ints, floats)
    laid[item] = put(head, asked, dates[day], bed, slots, TRIED, ints, floats)
    return gain, place


@numba.njit(cache=True)
def lay_out(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, chosen, at_once, hoped,
    forced,
    matters, full_width, families, split, use, area, free_ground, ceiling, later, relaxed, best, children,
    hopes,
    weighed, limit, found,
):  # fmt: skip
    """Lay all chosen blocks as well as can be.

    Parameters
    ----------
    ceiling
        What the blocks gain together beyond each alone at most.
    later
        What others may add; where more than 0, one layout that leads to more than `best` ends the search.
    relaxed
        Place blocks as if it mattered to none how far it stands from another. What such layouts
        reach no layout exceeds.

    Returns
    -------
    best points, how it ended, the most that what was left unsearched could reach, places weighed
    """
    n_items = items.size
    laid = np.full(n_items, -1, dtype=np.int64)
    most, starts = np.zeros(n_items), np.zeros(n_steps, dtype=np.int64)
    marked = np.zeros(n_steps, dtype=np.bool_)
    path = np.zeros((n_items + 1, 3), dtype=np.int64)
    turn, n_children = np.zeros(n_items + 1, dtype=np.int64), np.zeros(n_items + 1, dtype=np.int64)
    values, plain = np.zeros(n_items + 1), np.zeros(n_items + 1)
    plain[0], path[0, 0] = ceiling, -1
    n_chosen = (chosen >= 0).sum()
    depth, state, unsearched, n_open, most_open = 0, SEARCHED, NEVER, 0, NEVER
    arrived = True
    while True:
        above = best + EPS - later
        if arrived and depth < n_chosen:
            n_children[depth], missed, weighed = list_children(
                head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
                spans, lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, chosen,
                laid,
                at_once, hoped, forced, matters, full_width, families, split, use, area, free_ground,
                path[depth, 0], path[depth, 2], values[depth], plain[depth], above, relaxed, children[depth],
                hopes[depth], most, starts, marked, weighed,
            )  # fmt: skip
            unsearched = max(unsearched, missed)
        arrived = False
        child = turn[depth]
        goes_on = child < n_children[depth] and hopes[depth, child] > above and state != FOUND
        if goes_on and weighed > limit:
            unsearched, goes_on = max(unsearched, hopes[depth, child]), False
        if not goes_on:
            if depth == 0:
                break
            item = path[depth, 0]
            date = dates[spans[item, 0] + chosen[item]]
            take(head, all_asked[items[item]], date, bed, slots, laid[item], UNDONE, ints, floats)
            laid[item] = -1
            depth -= 1
            continue
        turn[depth] += 1
        depth, arrived = depth + 1, True
        path[depth] = children[depth - 1, child]
        gain, place = lay(
            head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
            spans,
            lanes_of, n_lanes, base, n_steps, ends, listed, chosen, laid, path[depth, 0], path[depth, 1],
            path[depth, 2],
        )  # fmt: skip
        weighed += 1
        values[depth], plain[depth] = values[depth - 1] + gain, plain[depth - 1] + static[place]
        turn[depth], n_children[depth] = 0, 0
        if depth == n_chosen:
            if values[depth] > best + EPS:
                best = values[depth]
                write_down(
                    spans, lanes_of, listed, ends, blocks, base, n_lanes, n_steps, chosen, depth, path, found
                )
            if relaxed and plain[depth] + later > best + EPS:
                n_open, most_open = n_open + 1, max(most_open, plain[depth])
                state = FOUND if later > 0 or n_open >= MOST_OPEN else state
    return best, ended(state, best - later, most_open, unsearched), unsearched + later, weighed


@numba.njit(cache=True)
def ended(state, best, most_open, unsearched):  # type: ignore[no-untyped-def]
    """How a search ended that was not ended by what it found."""
    if state == SEARCHED and most_open > best + EPS:
        return FOUND
    if state == SEARCHED and unsearched > best + EPS:
        return STOPPED
    return state
