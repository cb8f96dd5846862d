"""The best way to lay out one bed, compiled: which blocks, on which dates, and where.

Blocks are taken one by one, those that can be worth most first: on each date that may do, the most
promising first, or left out. After each it is looked whether all taken so far find ground with
enough points for the rest to lead to more than the best layout known (`bed_layout`); if not, what
comes after is not looked at. The work is limited by places weighed, so that the answer depends on
the plan alone.
"""

# ruff: noqa: PLR0917 - compiled code takes tables one by one

from __future__ import annotations

import math

import numba
import numpy as np

from bedwright.engine.placement.changes.bed_bounds import (
    OPEN,
    OUT,
    cost_together,
    families_of,
    fill_pairs,
    gain_together,
    ground_suffices,
    hope_of_open,
    split_costs,
    touching_points,
    week_cost,
)
from bedwright.engine.placement.changes.bed_layout import FOUND, MOST_CHILDREN, STOPPED, lay_out
from bedwright.engine.placement.changes.bed_tables import (
    EPS,
    NEVER,
    ceiling_of,
    fill_anchors,
    fill_best_from,
    fill_blocks,
    fill_free_ground,
    fill_lane,
    hoped_beside_fixed,
    list_lanes,
    low_blocks,
    only_full_width,
    use_of,
)
from bedwright.engine.placement.compiled.places import at_step
from bedwright.engine.placement.compiled.records import World
from bedwright.engine.placement.compiled.value import TOGETHER
from bedwright.engine.placement.layout import IntArray
from bedwright.engine.placement.rules import SMALL_M, STEP_M
from bedwright.model.weather import FloatArray

STARTS_A_PLACE = 4
"""Starts looked at beside what is fixed that take as long as one place weighed in the search."""


@numba.njit(cache=True)
def fill_date(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, use, area, free_ground,
    shaded, item, chosen, needed,
):  # fmt: skip
    """Weigh all places of a block on one date beside what is fixed; returns how many starts.

    Lanes in which no place can be worth more than `needed` are passed over.
    """
    asked, day, seen = all_asked[items[item]], spans[item, 0] + chosen, 0
    worth = asked.plant_worth * wanted[item]
    hoped = hoped_beside_fixed(head, asked, bed, number, slots, ints, floats, worth)
    tops[item, chosen], area[item, chosen] = NEVER, np.inf
    for way in range(n_lanes[item]):
        lane = lanes[lanes_of[item, way]]
        first = base[item] + (chosen * n_lanes[item] + way) * n_steps
        last = first + n_steps
        best_from[first:last] = NEVER
        if (
            ceiling_of(head, asked, marks, dates[day], bed, number, lane, wanted[item], ints, floats) + hoped
            <= needed
        ):
            continue
        if bed.rectangular:
            listed[first:last] = -1
            fill_lane(
                head, asked, dates, bed, lanes, marks, slots, ints, floats, items[item], number,
                lanes_of[item, way], day, wanted[item], static[first:last], ends[first:last],
            )  # fmt: skip
        else:
            fill_blocks(
                head, asked, dates, bed, lanes, blocks, marks, slots, ints, floats, items[item], number,
                lanes_of[item, way], day, wanted[item], static[first:last], ends[first:last],
                listed[first:last],
            )  # fmt: skip
        seen += n_steps
        fill_anchors(
            head, bed, lanes, blocks, slots, floats, number, lanes_of[item, way], day, asked.need_h,
            static[first:last], ends[first:last], listed[first:last], anchored[first:last], shaded[item],
        )  # fmt: skip
        fill_best_from(static[first:last], best_from[first:last])
        tops[item, chosen] = max(tops[item, chosen], best_from[first])
        for step in range(n_steps):
            if static[first + step] > NEVER:
                start = at_step(step) if listed[first + step] < 0 else blocks[listed[first + step]].start
                size = (ends[first + step] - start) * (lane.high - lane.low)
                area[item, chosen] = min(area[item, chosen], size)
    if tops[item, chosen] > NEVER:
        use[item, chosen] = use_of(area[item, chosen], dates[day], bed)
        fill_free_ground(bed, number, head, slots, ints, dates[day].taken_from, free_ground[item, chosen])
    return seen


@numba.njit(cache=True)
def needed_of(tops, families, touching, chosen, item, best):  # type: ignore[no-untyped-def]
    """Points a block must be worth for a layout with it to be better than the best known."""
    was = chosen[item]
    chosen[item] = OUT
    others = hope_of_open(tops, families, touching, chosen, True)
    chosen[item] = was
    gains = 0.0
    for other in range(chosen.size):
        if other != item:
            gains += max(0.0, touching[item, other])
    return best - others - gains - TOGETHER


@numba.njit(cache=True)
def best_dates(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, filled, use, area,
    free_ground, touching, families, shaded, chosen, order_of_dates, best_tops, best,
):  # fmt: skip
    """Find the best date of each block, working out no more than that takes; returns how many starts.

    Dates of each are put in order of what they can be worth, into `order_of_dates`.
    """
    starts, n_dates = 0, spans[:, 1] - spans[:, 0]
    for item in range(items.size):
        asked = all_asked[items[item]]
        worth = asked.plant_worth * wanted[item]
        hoped_by = hoped_beside_fixed(head, asked, bed, number, slots, ints, floats, worth)
        for date in range(n_dates[item]):
            for way in range(n_lanes[item]):
                lane, day = lanes[lanes_of[item, way]], dates[spans[item, 0] + date]
                top = ceiling_of(head, asked, marks, day, bed, number, lane, wanted[item], ints, floats)
                tops[item, date] = max(tops[item, date], top + hoped_by)
        order_of_dates[item, : n_dates[item]] = np.argsort(-tops[item, : n_dates[item]], kind="mergesort")
    # Blocks that keep their date first: the sharper what the others have to be worth is known.
    for item in np.argsort(n_dates, kind="mergesort"):
        top = NEVER
        for turn in range(n_dates[item]):
            date = order_of_dates[item, turn]
            if tops[item, date] <= top:
                break
            needed = needed_of(tops, families, touching, chosen, item, best)
            starts += fill_date(
                head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
                spans, lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, use,
                area, free_ground, shaded, item, date, needed,
            )  # fmt: skip
            filled[item, date] = True
            top = max(top, tops[item, date])
        best_tops[item] = top
    return starts


@numba.njit(cache=True)
def look_at(  # type: ignore[no-untyped-def]
    head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, use, area, free_ground,
    touching, families, split, full_width, chosen, at_once, hoped, forced, matters, children, hopes, best,
    weighed, limit, found, new, last,
):  # fmt: skip
    """Look what blocks with the dates chosen so far can lead to.

    `new` is False where the block chosen last is left out, `last` is True where none is open any more.
    Returns if that is more than the best known, the best known now, points that were left
    unsearched, and places weighed.
    """
    fill_pairs(
        all_asked, dates, bed, items, wanted, spans, chosen, touching, area, at_once, hoped, forced, matters
    )
    ceiling = gain_together(families, chosen, hoped) - cost_together(items, chosen, use, split, forced)
    ceiling -= week_cost(head, all_asked, dates, slots, ints, floats, items, wanted, spans, chosen, area)
    later, points = hope_of_open(tops, families, touching, chosen, False), ceiling
    for item in range(items.size):
        if chosen[item] >= 0:
            points += tops[item, chosen[item]]
    points += later
    if points <= best + EPS:
        return False, best, NEVER, weighed
    if weighed > limit:
        return False, best, points, weighed
    if later <= EPS or last:
        later, last = 0.0, True
    if not new and not last:
        return True, best, NEVER, weighed
    if not ground_suffices(dates, spans, chosen, area, free_ground):
        return False, best, NEVER, weighed
    state, relaxed, unsearched = FOUND, True, NEVER
    for _ in range(2 if last else 1):
        if state == FOUND:
            best, state, unsearched, weighed = lay_out(
                head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
                spans, lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, chosen,
                at_once, hoped, forced, matters, full_width, families, split, use, area, free_ground, ceiling,
                later, relaxed, best, children, hopes, weighed, limit, found,
            )  # fmt: skip
        relaxed = False
    if state == STOPPED:
        return False, best, min(points, unsearched), weighed
    return state == FOUND and not last, best, NEVER, weighed


@numba.njit(cache=True)
def search_bed(  # type: ignore[no-untyped-def]
    heads, all_asked, dates, beds, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
    lanes_of, n_lanes, base, n_steps, floor, limit, found,
):  # fmt: skip
    """Look through dates of all blocks; as `best_layout`."""
    head, bed, n_items = heads[0], beds[number], items.size
    n_dates = spans[:, 1] - spans[:, 0]
    total, most_dates = (n_dates * n_lanes).sum() * n_steps, max(1, n_dates.max())
    static, ends, best_from = np.full(total, NEVER), np.zeros(total), np.full(total, NEVER)
    anchored, listed = np.zeros(total, dtype=np.int8), np.full(total, -1, dtype=np.int64)
    tops, filled = np.full((n_items, most_dates), NEVER), np.zeros((n_items, most_dates), dtype=np.bool_)
    use, area = np.zeros((n_items, most_dates)), np.zeros((n_items, most_dates))
    free_ground = np.zeros((n_items, most_dates, n_steps))
    touching = touching_points(head, all_asked, items, wanted, floats)
    families = families_of(all_asked, bed, number, slots, ints, head, items)
    split, shaded = split_costs(all_asked, items), low_blocks(all_asked, items)
    full_width = only_full_width(bed, lanes, lanes_of, n_lanes)
    best_tops, order_of_dates = np.zeros(n_items), np.zeros((n_items, most_dates), dtype=np.int64)
    chosen, best, open_points = np.full(n_items, OPEN, dtype=np.int64), floor, NEVER
    weighed = best_dates(
        head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted, spans,
        lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, filled, use, area,
        free_ground, touching, families, shaded, chosen, order_of_dates, best_tops, best,
    ) // STARTS_A_PLACE  # fmt: skip
    order = np.argsort(-best_tops, kind="mergesort")
    at_once, matters = (
        np.zeros((n_items, n_items), dtype=np.bool_),
        np.zeros((n_items, n_items), dtype=np.int64),
    )
    hoped, forced = np.zeros((n_items, n_items)), np.zeros((n_items, n_items))
    children = np.zeros((n_items + 1, MOST_CHILDREN, 3), dtype=np.int64)
    hopes = np.full((n_items + 1, MOST_CHILDREN), NEVER)
    turns = np.zeros(n_items + 1, dtype=np.int64)
    level = 0
    while level >= 0:
        item = order[level]
        if turns[level] > n_dates[item]:
            chosen[item], turns[level] = OPEN, 0
            level -= 1
            continue
        chosen[item] = OUT
        if turns[level] < n_dates[item]:
            chosen[item] = order_of_dates[item, turns[level]]
        turns[level] += 1
        date = chosen[item]
        if date != OUT and not filled[item, date]:
            needed = needed_of(tops, families, touching, chosen, item, best)
            if tops[item, date] <= needed:
                continue
            if weighed > limit:
                open_points = max(open_points, best + tops[item, date] - needed)
                continue
            weighed += fill_date(
                head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
                spans, lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, use,
                area, free_ground, shaded, item, date, NEVER,
            ) // STARTS_A_PLACE  # fmt: skip
            filled[item, date] = True
        if date != OUT and tops[item, date] <= NEVER:
            continue
        goes_on, best, unsearched, weighed = look_at(
            head, all_asked, dates, bed, lanes, blocks, marks, slots, ints, floats, number, items, wanted,
            spans,
            lanes_of, n_lanes, base, n_steps, static, ends, anchored, best_from, listed, tops, use, area,
            free_ground, touching, families, split, full_width, chosen, at_once, hoped, forced, matters,
            children,
            hopes, best, weighed, limit, found, date != OUT, level == n_items - 1,
        )  # fmt: skip
        open_points = max(open_points, unsearched)
        if goes_on:
            level += 1
            turns[level] = 0
    return best, max(best, open_points), weighed


def best_layout(
    world: World,
    number: int,
    items: IntArray,
    wanted: IntArray,
    spans: IntArray,
    shapes: FloatArray,
    floor: float,
    limit: int,
    found: FloatArray,
) -> tuple[float, float, int]:
    """The best layout of some blocks in a bed that holds what is fixed only.

    Parameters
    ----------
    world
        The plan; as before when this ends.
    number
        The bed.
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
    bed = world.beds[number]
    n_steps = math.ceil(float(bed["length"]) / STEP_M - SMALL_M)
    lanes_of, n_lanes = list_lanes(world.head[0], world.asked, bed, world.lanes, world.ints, items, shapes)
    places = (spans[:, 1] - spans[:, 0]) * n_lanes * n_steps
    base = np.concatenate([np.zeros(1, dtype=np.int64), np.cumsum(places)[:-1]])
    best, at_most, n_weighed = search_bed(
        *world, number, items, wanted, spans, lanes_of, n_lanes, base, n_steps, floor, limit, found
    )
    return float(best), float(at_most), int(n_weighed)
