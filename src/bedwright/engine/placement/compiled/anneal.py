"""Simulated annealing with ejections, compiled: millions of small changes, some kept."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numpy as np

from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.places import clashes, draw, draw_any, draw_free, draw_share
from bedwright.engine.placement.compiled.rebuild import FIRST_LOG, pull, rebuild
from bedwright.engine.placement.compiled.records import MOST_IN_BED, N_SCRATCH
from bedwright.engine.placement.compiled.state import enter, patch, put, take
from bedwright.engine.placement.compiled.value import gain_of, judge
from bedwright.engine.placement.layout import IntArray

MOST_EJECTED = 4
TRIES_BACK = 6
"""Places looked at for each planting put out by another."""

SAME_BED_MOVES, QUICK_MOVES, FREE_MOVES = 30, 45, 55
"""Of a hundred moves: back into the same bed, to one place, or to the best of several on free ground;
the others put something out."""

CHECK_EVERY = 64
"""Moves after which the best plan is compared; a copy costs as much as many moves."""

REBUILDS = 40
"""Of a thousand moves, so many take up part of a bed; each costs as much as dozens of others."""

MOST_ADDED = 24


def lists() -> tuple[IntArray, IntArray, IntArray]:
    """Lists that `anneal` writes on: spots put in, requests to put back, spots in the way."""
    added, order = np.zeros(MOST_ADDED, dtype=np.int64), np.zeros(MOST_ADDED, dtype=np.int64)
    return added, order, np.zeros(MOST_EJECTED, dtype=np.int64)


@compiled
def near_bed(head, asked, slots, ints):  # type: ignore[no-untyped-def]
    """A bed the request may stand in: any, or one that holds a place of it already."""
    if asked.n_patches > 0 and draw(head, 3) == 0:
        return slots[patch(asked, draw(head, asked.n_patches))].bed
    return ints[head.allowed + asked.bed0 + draw(head, asked.bed1 - asked.bed0)]


@compiled
def pick_date(head, asked, dates):  # type: ignore[no-untyped-def]
    """A date of the request; the better of two, mostly."""
    n = asked.date1 - asked.date0
    one = asked.date0 + draw(head, n)
    if draw(head, 3) > 0:
        other = asked.date0 + draw(head, n)
        if dates[other].cost < dates[one].cost:
            return other
    return one


@compiled
def best_free(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, tries, one_bed
):
    """Enter the best of several places on free ground; (points gained, slot), slot -1 if none."""
    best, kept = 0.0, False
    wanted = asked[request]
    one = slots[1]
    for _ in range(tries):
        one.request = request
        one.bed = one_bed if one_bed >= 0 else near_bed(head, wanted, slots, ints)
        one.date = pick_date(head, wanted, dates)
        date, bed = dates[one.date], beds[one.bed]
        if draw_free(head, wanted, date, bed, lanes, blocks, marks, slots, one, ints, floats, hit):
            judge(head, wanted, date, bed, marks, one, ints, floats)
            gain = gain_of(head, wanted, date, bed, slots, one, ints, floats)
            if not kept or gain > best:
                best, kept = gain, True
                slots[2] = slots[1]
    if not kept or best <= 0:
        return 0.0, -1
    one = slots[2]
    return best, put(head, wanted, dates[one.date], beds[one.bed], slots, 2, ints, floats)


@compiled
def lift(head, asked, dates, beds, slots, ints, floats, request):  # type: ignore[no-untyped-def]
    """Take up one place of a request, now and then all of them; (points, how many)."""
    wanted = asked[request]
    n_out, total = 0, 0.0
    if wanted.n_patches > 0 and (wanted.n - wanted.placed < wanted.least or draw(head, 3) > 0):
        number = patch(wanted, draw(head, wanted.n_patches))
        total += pull(head, asked, dates, beds, slots, number, n_out, ints, floats)
        n_out += 1
        while wanted.n_patches > 0 and draw(head, 2) == 0:
            total += pull(head, asked, dates, beds, slots, wanted.patch0, n_out, ints, floats)
            n_out += 1
    return total, n_out


@compiled
def force(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, n_out
):
    """Put a request anywhere and what is in its way out; (points, spots out in all, slot or -1)."""
    wanted, one = asked[request], slots[0]
    one.request, one.bed = request, near_bed(head, wanted, slots, ints)
    one.date = pick_date(head, wanted, dates)
    date, bed = dates[one.date], beds[one.bed]
    if not draw_any(head, wanted, bed, lanes, blocks, marks, slots, one, ints):
        return 0.0, n_out, -1
    n_hit = clashes(head, bed, date, one, slots, ints, hit)
    if n_hit > MOST_EJECTED:
        return 0.0, n_out, -1
    for at in range(n_hit):
        if asked[slots[hit[at]].request].fixed:
            return 0.0, n_out, -1
    total = 0.0
    for at in range(n_hit):
        total += pull(head, asked, dates, beds, slots, hit[at], n_out, ints, floats)
        n_out += 1
    total += enter(head, asked, dates, beds, marks, slots, 0, ints, floats)
    return total, n_out, ints[head.bed_slots + one.bed * MOST_IN_BED + bed.n_spots - 1]


@compiled
def one_move(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, movable, added, hit, order
):
    """One change of the plan; returns (points gained, spots taken out, spots put in).

    What was taken out lies in the scratch slots from FIRST_LOG on, what was put in is listed in
    `added`.
    """
    request = movable[draw(head, movable.size)]
    if draw(head, 1000) < REBUILDS:
        return rebuild(
            head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, movable, request, added,
            order,
        )  # fmt: skip
    kind = draw(head, 100)
    total, first_out = lift(head, asked, dates, beds, slots, ints, floats, request)
    n_out, n_in, tries, bed_of = first_out, 0, 1, -1
    if kind < FREE_MOVES:
        tries = 1 if kind < QUICK_MOVES else 4
        if first_out > 0 and kind < SAME_BED_MOVES:
            bed_of = slots[FIRST_LOG].bed
    elif asked[request].n_patches < asked[request].most:
        gain, n_out, number = force(
            head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, request, n_out
        )
        if number < 0:
            return total, n_out, n_in
        total += gain
        added[n_in] = number
        n_in += 1
    for at in range(first_out - 1, n_out):
        # First the planting itself, as far as it is still short, then those it put out.
        other = request
        if at >= first_out:
            other, tries, bed_of = slots[FIRST_LOG + at].request, TRIES_BACK, -1
        facts = asked[other]
        if facts.n_patches < facts.most and facts.n - facts.placed >= facts.least:
            gain, number = best_free(
                head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, hit, other, tries, bed_of
            )
            if number >= 0:
                total += gain
                added[n_in] = number
                n_in += 1
    return total, n_out, n_in


@compiled
def undo(head, asked, dates, beds, slots, ints, floats, n_out, n_in, added):  # type: ignore[no-untyped-def]
    """Take back a move."""
    for at in range(n_in - 1, -1, -1):
        one = slots[added[at]]
        take(head, asked[one.request], dates[one.date], beds[one.bed], slots, added[at], 3, ints, floats)
    for at in range(n_out - 1, -1, -1):
        one = slots[FIRST_LOG + at]
        put(head, asked[one.request], dates[one.date], beds[one.bed], slots, FIRST_LOG + at, ints, floats)


@compiled
def anneal(  # type: ignore[no-untyped-def]
    heads, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, movable, best, values, first,
    n_moves, n_total, hot, cold, added, order, hit,
):  # fmt: skip
    """Run a stretch of moves; keeps the best plan in `best` and its value in values[1].

    Parameters
    ----------
    movable
        Requests that may be moved.
    best
        Copy of the slots of the best plan so far.
    values
        Value of the plan as it is, and of the best one.
    first, n_moves, n_total
        Moves done before, to do now, and in all: the temperature falls with them.
    hot, cold
        Temperatures at the first and the last move [points].
    added, order, hit
        Lists to write on, as made by `lists`.
    """
    head = heads[0]
    fall = np.log(cold / hot)
    for step in range(n_moves):
        heat = hot * np.exp(fall * (first + step) / n_total)
        gain, n_out, n_in = one_move(
            head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, movable, added, hit, order
        )
        if gain >= 0 or draw_share(head) < np.exp(gain / heat):
            values[0] += gain
        else:
            undo(head, asked, dates, beds, slots, ints, floats, n_out, n_in, added)
        if (step % CHECK_EVERY == 0 or step == n_moves - 1) and values[0] > values[1] + 1e-7:
            values[1] = values[0]
            for number in range(N_SCRATCH, slots.size):
                best[number] = slots[number]
