"""Part of a bed taken up and planted again, the best place first, compiled."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numpy as np

from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.places import (
    at_step,
    draw,
    draw_free,
    draw_share,
    fill_in,
    free_gaps,
    points_in,
    snug,
    step_up,
)
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.compiled.state import put, take
from bedwright.engine.placement.compiled.value import gain_of, judge

FIRST_LOG, MOST_LOGGED = 8, 14
"""Scratch slots from here on hold what a move took out; those before, what it tries."""

HOPED = 1.3
"""Of its worth, so much may a place bring with all that can be added; more is not hoped for."""

LOOKED, BEST = 1, 2
"""Scratch slots: the place looked at, and the best so far."""

MORE_LANES = 2
"""Lanes looked at besides those at supports and the two of full width."""

N_ODD = 8
"""Blocks looked at in a bed that is not a rectangle."""

MOST_CLEARED = 5
"""Spots taken up in one bed at most."""

TRIED_SHORT = 6
"""Requests looked at, to see whether one that is short may use the ground."""

BLINK = 30
"""One place in so many is overlooked, so that the same beds are not filled the same way again."""


@compiled
def pull(head, asked, dates, beds, slots, number, log, ints, floats):  # type: ignore[no-untyped-def]
    """Take a spot out into the log; returns the points lost."""
    one = slots[number]
    wanted, date, bed = asked[one.request], dates[one.date], beds[one.bed]
    take(head, wanted, date, bed, slots, number, FIRST_LOG + log, ints, floats)
    return -gain_of(head, wanted, date, bed, slots, slots[FIRST_LOG + log], ints, floats)


@compiled
def weigh(head, asked, date, bed, marks, slots, ints, floats, best):  # type: ignore[no-untyped-def]
    """Keep the place looked at if it is better than the best so far; returns the better points."""
    one = slots[LOOKED]
    judge(head, asked, date, bed, marks, one, ints, floats)
    gain = gain_of(head, asked, date, bed, slots, one, ints, floats)
    if gain > best:
        slots[BEST] = slots[LOOKED]
        return gain
    return best


@compiled
def best_in_lane(head, asked, dates, bed, lane, marks, slots, ints, floats, best):  # type: ignore[no-untyped-def]
    """The best place in one lane over all dates and stretches, kept if better than `best`."""
    one, wanted = slots[LOOKED], asked.n - asked.placed
    whole = asked.plant_worth * wanted + asked.bonus * wanted
    for rank in range(asked.date0, asked.date1):
        one.date = ints[head.ranked + rank]
        date = dates[one.date]
        # Dates come in order of what they cost, so that the rest can only be worse.
        if whole * (1.0 - date.cost) * HOPED < best:
            break
        n = free_gaps(head, bed, one.bed, lane, date, slots, ints, floats)
        for at in range(n):
            low, high = floats[head.gaps + 4 * at], floats[head.gaps + 4 * at + 1]
            holds = points_in(bed, asked, lane, at_step(step_up(low)), high) * lane.n_across
            if holds < asked.least or whole * (1.0 - date.cost) * HOPED * min(1.0, holds / wanted) < best:
                continue
            for align in range(2):
                fill_in(one, one.request, one.bed, lane, one.date, 0.0, 0.0, 0)
                if draw(head, BLINK) > 0 and snug(one, asked, bed, lane, low, high, wanted, align):
                    best = weigh(head, asked, date, bed, marks, slots, ints, floats, best)
    return best


@compiled
def best_in_bed(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, number, best
):
    """The best place for a request in a bed, kept if better than `best`; returns the better points."""
    wanted, bed, one = asked[request], beds[number], slots[LOOKED]
    one.request, one.bed = request, number
    if bed.n_spots >= MOST_IN_BED:
        return best
    if not bed.rectangular or wanted.pin1 > wanted.pin0:
        for _ in range(N_ODD):
            one.date = ints[head.ranked + wanted.date0 + draw(head, wanted.date1 - wanted.date0)]
            date = dates[one.date]
            if draw_free(head, wanted, date, bed, lanes, blocks, marks, slots, one, ints, floats, hit):
                best = weigh(head, wanted, date, bed, marks, slots, ints, floats, best)
        return best
    at = head.lane_at + (wanted.geometry * head.n_forms + bed.form) * 3
    first, ordinary, last = ints[at], ints[at + 1], ints[at + 2]
    for lane in range(first, min(ordinary + 2, last)):
        best = best_in_lane(head, wanted, dates, bed, lanes[lane], marks, slots, ints, floats, best)
    for _ in range(MORE_LANES):
        if last > ordinary + 2:
            lane = ordinary + 2 + draw(head, last - ordinary - 2)
            best = best_in_lane(head, wanted, dates, bed, lanes[lane], marks, slots, ints, floats, best)
    return best


@compiled
def clear_part(head, asked, dates, beds, slots, ints, floats, number, date, most, n_out):  # type: ignore[no-untyped-def]
    """Take up spots of a bed that stand at a time, those nearest to a point first.

    Returns (points, spots out in all).
    """
    bed = beds[number]
    first, total = head.bed_slots + number * MOST_IN_BED, 0.0
    middle = draw_share(head) * bed.length
    for _ in range(most):
        nearest, chosen = np.inf, -1
        for at in range(bed.n_spots):
            one = slots[ints[first + at]]
            if asked[one.request].fixed or one.taken_from > date.clear_by or date.taken_from > one.clear_by:
                continue
            away = max(one.start - middle, middle - one.end, 0.0)
            if away < nearest:
                nearest, chosen = away, ints[first + at]
        if chosen < 0 or n_out >= MOST_LOGGED:
            break
        total += pull(head, asked, dates, beds, slots, chosen, n_out, ints, floats)
        n_out += 1
    return total, n_out


@compiled
def put_order(head, asked, order, n, floats):  # type: ignore[no-untyped-def]
    """Sort requests to be put back: by worth, by ground and season taken, or as they come."""
    way = draw(head, 3)
    for at in range(n):
        request = order[at]
        wanted = asked[request]
        key = draw_share(head)
        if way == 0:
            key = -wanted.worth * (0.7 + 0.6 * key)
        elif way == 1:
            key = -wanted.in_row * wanted.pitch * wanted.n * (0.7 + 0.6 * key)
        place = at
        while place > 0 and floats[head.gaps + place - 1] > key:
            floats[head.gaps + place], order[place] = floats[head.gaps + place - 1], order[place - 1]
            place -= 1
        floats[head.gaps + place], order[place] = key, request


@compiled
def add_once(order, n, request):  # type: ignore[no-untyped-def]
    """Append a request to a list unless it is there; returns the new length."""
    for at in range(n):
        if order[at] == request:
            return n
    order[n] = request
    return n + 1


@compiled
def may_stand(head, asked, ints, bed):  # type: ignore[no-untyped-def]
    """True if the rules allow a request in a bed."""
    found = False
    for at in range(asked.bed0, asked.bed1):
        found = found or ints[head.allowed + at] == bed
    return found


@compiled
def put_back(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, one_bed, other_bed
):
    """Enter a request at its best in either of two beds or a random one; (points, slot or -1)."""
    facts, best = asked[request], 0.0
    for turn in range(3):
        bed = one_bed if turn == 0 else other_bed
        if turn == 2:
            bed = ints[head.allowed + facts.bed0 + draw(head, facts.bed1 - facts.bed0)]
        elif (turn == 1 and other_bed == one_bed) or not may_stand(head, facts, ints, bed):
            continue
        best = best_in_bed(
            head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, bed, best
        )
    if best <= 0:
        return 0.0, -1
    one = slots[BEST]
    return best, put(head, facts, dates[one.date], beds[one.bed], slots, BEST, ints, floats)


@compiled
def list_back(head, asked, slots, movable, order, request, n_out, floats):  # type: ignore[no-untyped-def]
    """List what is to be put back: the request, what was taken up, and some that are short."""
    order[0], n = request, 1
    for at in range(n_out):
        n = add_once(order, n, slots[FIRST_LOG + at].request)
    for _ in range(TRIED_SHORT):
        other = movable[draw(head, movable.size)]
        if asked[other].n - asked[other].placed >= asked[other].least and n < order.size:
            n = add_once(order, n, other)
    put_order(head, asked, order, n, floats)
    return n


@compiled
def rebuild(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, movable, request, added, order
):
    """Clear part of a bed or two for a request, then put everything back where it is best.

    Returns (points gained, spots taken out, spots put in) like any move.
    """
    wanted = asked[request]
    date = dates[ints[head.ranked + wanted.date0 + draw(head, wanted.date1 - wanted.date0)]]
    one_bed = ints[head.allowed + wanted.bed0 + draw(head, wanted.bed1 - wanted.bed0)]
    other_bed = one_bed
    total, n_out = clear_part(
        head, asked, dates, beds, slots, ints, floats, one_bed, date, 1 + draw(head, MOST_CLEARED), 0
    )
    if draw(head, 2) == 0:
        other_bed = ints[head.allowed + wanted.bed0 + draw(head, wanted.bed1 - wanted.bed0)]
        gain, n_out = clear_part(
            head,
            asked,
            dates,
            beds,
            slots,
            ints,
            floats,
            other_bed,
            date,
            1 + draw(head, MOST_CLEARED),
            n_out,
        )
        total += gain
    n_in = 0
    for at in range(list_back(head, asked, slots, movable, order, request, n_out, floats)):
        facts = asked[order[at]]
        if facts.n_patches < facts.most and facts.n - facts.placed >= facts.least and n_in < added.size:
            gain, number = put_back(
                head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, order[at], one_bed,
                other_bed,
            )  # fmt: skip
            if number >= 0:
                total += gain
                added[n_in] = number
                n_in += 1
    return total, n_out, n_in
