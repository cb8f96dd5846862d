"""First come, first served, as a person fits things in by hand: the start, and the yardstick."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.places import clashes, fill_in, free_gaps, snug
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.compiled.state import put
from bedwright.engine.placement.compiled.value import gain_of, judge, light_short
from bedwright.engine.placement.rules import SMALL_M

SHORT_H = 1.0
"""A person passes over ground more than an hour of sun short, as long as there is other ground."""


@compiled
def suits(head, asked, bed, date, one, ints, floats):  # type: ignore[no-untyped-def]
    """True if the family has been away long enough and there is light enough."""
    if asked.rotation >= 0:
        last = ints[head.last_grown + one.bed * head.n_rotations + asked.rotation]
        if date.year - last < head.rotation_years:
            return False
    return light_short(head, bed, date.light, one, ints, floats) <= SHORT_H


@compiled
def pinned_elsewhere(asked, marks, one):  # type: ignore[no-untyped-def]
    """True if a pin names another start in this bed."""
    named = False
    for number in range(asked.pin0, asked.pin1):
        if marks[number].bed == one.bed:
            named = True
            if abs(marks[number].start - one.start) < SMALL_M:
                return False
    return named


@compiled
def next_place(head, asked, bed, date, lanes, blocks, marks, slots, one, ints, floats, hit, number, least):  # type: ignore[no-untyped-def]
    """The next place in a bed from a lane or block number on; returns the number after it, -1 if none.

    Places hold at least `least` plants. The request, bed and date of the record are set before.
    """
    wanted = asked.n - asked.placed
    if not bed.rectangular:
        at = head.block_at + (one.request * head.n_beds + one.bed) * 2
        for block_number in range(ints[at] + number, ints[at + 1]):
            block = blocks[block_number]
            if least <= block.n <= wanted:
                lane = lanes[block.lane]
                fill_in(one, one.request, one.bed, lane, one.date, block.start, block.end, block.n)
                one.rows, one.reach = block.rows, block.reach
                free = clashes(head, bed, date, one, slots, ints, hit) == 0
                if free and not pinned_elsewhere(asked, marks, one):
                    return block_number + 1 - ints[at]
        return -1
    at = head.lane_at + (asked.geometry * head.n_forms + bed.form) * 3
    for lane_number in range(ints[at] + number, ints[at + 2]):
        lane = lanes[lane_number]
        fill_in(one, one.request, one.bed, lane, one.date, 0.0, 0.0, 0)
        n = free_gaps(head, bed, one.bed, lane, date, slots, ints, floats)
        for gap in range(n):
            low, high = floats[head.gaps + 4 * gap], floats[head.gaps + 4 * gap + 1]
            align = 0
            for mark in range(asked.pin0, asked.pin1):
                if marks[mark].bed == one.bed and low <= marks[mark].start + SMALL_M < high:
                    one.start, align = marks[mark].start, 2
            holds = snug(one, asked, bed, lane, low, high, wanted, align) and one.n >= least
            if holds and not pinned_elsewhere(asked, marks, one):
                return lane_number + 1 - ints[at]
    return -1


@compiled
def fit_one(  # type: ignore[no-untyped-def]
    head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, by_preference, hit, request, rule
):
    """Place as much of a request as one place takes; returns the points gained, 0 if there is none.

    `rule` 0: all that is wanted, where it suits; 1: all, anywhere; 2: what fits, where it suits;
    3: what fits, anywhere.
    """
    wanted = asked[request]
    least = wanted.n - wanted.placed if rule < 2 else wanted.least
    one = slots[0]
    for at in range(wanted.date0, wanted.date1):
        date = dates[by_preference[at]]
        for bed_at in range(wanted.bed0, wanted.bed1):
            one.request, one.bed, one.date = request, ints[head.allowed + bed_at], by_preference[at]
            bed = beds[one.bed]
            number = 0
            while number >= 0 and bed.n_spots < MOST_IN_BED:
                number = next_place(
                    head,
                    wanted,
                    bed,
                    date,
                    lanes,
                    blocks,
                    marks,
                    slots,
                    one,
                    ints,
                    floats,
                    hit,
                    number,
                    least,
                )
                if number >= 0 and (rule % 2 == 1 or suits(head, wanted, bed, date, one, ints, floats)):
                    judge(head, wanted, date, bed, marks, one, ints, floats)
                    gain = gain_of(head, wanted, date, bed, slots, one, ints, floats)
                    if gain > 0:
                        put(head, wanted, date, bed, slots, 0, ints, floats)
                        return gain
    return 0.0


@numba.njit(cache=True)
def first_fit(  # type: ignore[no-untyped-def]
    heads, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, by_preference, order
):
    """Place requests in an order, each on the first ground that takes it; returns the points gained."""
    head = heads[0]
    hit = np.zeros(4, dtype=np.int64)
    total = 0.0
    for request in order:
        wanted = asked[request]
        rule = 0
        while rule < 4 and wanted.n_patches < wanted.most and wanted.n - wanted.placed >= wanted.least:
            gain = fit_one(
                head, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, by_preference, hit,
                request, rule,
            )  # fmt: skip
            total += gain
            rule = rule + 1 if gain == 0 else 2
    return total
