"""Places a planting could take beside what stands, compiled."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numpy as np

from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.records import MOST_IN_BED
from bedwright.engine.placement.rules import SMALL_M, STEP_M


@compiled
def draw_bits(head):  # type: ignore[no-untyped-def]
    """53 random bits as a whole number; the generator is splitmix64, kept in the head.

    Unsigned all through: the compiler takes it that signed numbers never run over.
    """
    head.rng = head.rng + np.uint64(0x9E3779B97F4A7C15)
    z = head.rng
    z = (z ^ (z >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
    z = (z ^ (z >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return np.int64((z ^ (z >> np.uint64(31))) >> np.uint64(11))


@compiled
def draw(head, n):  # type: ignore[no-untyped-def]
    """A whole number from 0 to n - 1, n below 2**31."""
    return ((draw_bits(head) >> 22) * n) >> 31


@compiled
def draw_share(head):  # type: ignore[no-untyped-def]
    """A number from 0 up to 1."""
    return draw_bits(head) / 9007199254740992.0


@compiled
def step_up(length):  # type: ignore[no-untyped-def]
    """Next whole step, as an index."""
    return int(np.ceil(length / STEP_M - SMALL_M))


@compiled
def step_down(length):  # type: ignore[no-untyped-def]
    """Last whole step, as an index."""
    return int(np.floor(length / STEP_M + SMALL_M))


@compiled
def at_step(number):  # type: ignore[no-untyped-def]
    """Position of a step, without the noise of binary fractions."""
    return np.round(number * STEP_M, 6)


@compiled
def points_in(bed, asked, lane, start, end):  # type: ignore[no-untyped-def]
    """Stations or rows along the baseline that a block holds."""
    low = asked.edge if start <= SMALL_M else start + lane.margin
    high = bed.length - asked.edge if end >= bed.length - SMALL_M else end - lane.margin
    if high - low < -SMALL_M:
        return 0
    number = max(int(np.floor((high - low) / lane.pitch + SMALL_M)), 0) + 1
    return min(number, 1) if lane.side >= 3 else number


@compiled
def end_of(bed, asked, lane, start, n_points):  # type: ignore[no-untyped-def]
    """End of the shortest block from a start that holds so many points; infinite if none does."""
    lead = asked.edge if start <= SMALL_M else lane.margin
    run = (n_points - 1) * lane.pitch
    end = at_step(step_up(start + lead + run + lane.margin))
    if end <= bed.length + SMALL_M:
        return min(end, bed.length)
    if start + lead + run + asked.edge <= bed.length + SMALL_M:
        return bed.length
    return np.inf


@compiled
def last_start(bed, asked, lane, end, n_points):  # type: ignore[no-untyped-def]
    """Latest start of a block with so many points that ends by a place."""
    run = (n_points - 1) * lane.pitch
    close = asked.edge if end >= bed.length - SMALL_M else lane.margin
    number = step_down(end - close - run - lane.margin)
    if number <= 0:
        return 0.0
    return at_step(number)


@compiled
def same_time(one, taken_from, clear_by):  # type: ignore[no-untyped-def]
    """True if a spot stands in a span of days."""
    return one.taken_from <= clear_by and taken_from <= one.clear_by


@compiled
def free_gaps(head, bed, number, lane, date, slots, ints, floats):  # type: ignore[no-untyped-def]
    """Free stretches of a lane of a bed over the days of a date, in reach; returns how many.

    They go into the scratch table of gaps, four numbers each: from, to, and two of its own.
    """
    first, gaps, n = head.bed_slots + number * MOST_IN_BED, head.gaps, 0
    low, high = lane.low, lane.high
    if lane.far1 > lane.far0:
        floats[gaps + 2], floats[gaps + 3] = lane.far0, lane.far1
        n = 1
    for at in range(bed.n_spots):
        one = slots[ints[first + at]]
        if (
            one.low < high - SMALL_M
            and one.high > low + SMALL_M
            and same_time(one, date.taken_from, date.clear_by)
        ):
            place = gaps + 4 * n
            while place > gaps and floats[place - 2] > one.start:
                floats[place + 2], floats[place + 3] = floats[place - 2], floats[place - 1]
                place -= 4
            floats[place + 2], floats[place + 3] = one.start, one.end
            n += 1
    found, reached = 0, 0.0
    for at in range(n):
        if floats[gaps + 4 * at + 2] > reached + SMALL_M:
            floats[gaps + 4 * found], floats[gaps + 4 * found + 1] = reached, floats[gaps + 4 * at + 2]
            found += 1
        reached = max(reached, floats[gaps + 4 * at + 3])
    if bed.length > reached + SMALL_M:
        floats[gaps + 4 * found], floats[gaps + 4 * found + 1] = reached, bed.length
        found += 1
    return found


@compiled
def fill_in(one, request, bed, lane, date, start, end, n):  # type: ignore[no-untyped-def]
    """Write a spot into a record."""
    one.request, one.bed, one.date, one.n = request, bed, date, n
    one.low, one.high, one.direction, one.side = lane.low, lane.high, lane.direction, lane.side
    one.start, one.end = start, end


@compiled
def stretch_at_end(bed, asked, lane, start, end):  # type: ignore[no-untyped-def]
    """Ground of the row at a support at the start or end of the baseline; from and to, alike if none."""
    depth = at_step(step_up(asked.edge + lane.margin))
    if lane.side == 3:
        depth = min(bed.length, depth)
        return (0.0, depth) if start <= SMALL_M and end >= depth - SMALL_M else (0.0, 0.0)
    begin = max(0.0, at_step(step_down(bed.length - depth)))
    fits = end >= bed.length - SMALL_M and start <= begin + SMALL_M
    return (begin, bed.length) if fits else (0.0, 0.0)


@compiled
def snug(one, asked, bed, lane, low, high, wanted, align):  # type: ignore[no-untyped-def]
    """Set start, end and amount for as many as a free stretch holds; False if it holds too few.

    `align` 0 at the start of the stretch, 1 at its end, 2 at `one.start` as set before.
    """
    start = at_step(step_up(low))
    end = bed.length if high >= bed.length - SMALL_M else at_step(step_down(high))
    if lane.side >= 3:
        start, end = stretch_at_end(bed, asked, lane, start, end)
    elif align == 2:
        if one.start < start - SMALL_M:
            return False
        start = one.start
    if end - start < SMALL_M:
        return False
    n = min(wanted, points_in(bed, asked, lane, start, end) * lane.n_across)
    if n < asked.least:
        return False
    if lane.side < 3:
        n_points = (n + lane.n_across - 1) // lane.n_across
        if align == 1:
            start = max(start, last_start(bed, asked, lane, end, n_points))
        end = min(end, end_of(bed, asked, lane, start, n_points))
        if points_in(bed, asked, lane, start, end) < n_points:
            return False
    one.start, one.end, one.n = start, end, n
    return True


@compiled
def pin_in(head, asked, marks, bed):  # type: ignore[no-untyped-def]
    """Start that a pin names in a bed; -1 where none does."""
    n = 0
    for number in range(asked.pin0, asked.pin1):
        if marks[number].bed == bed:
            n += 1
    if n == 0:
        return -1.0
    chosen = draw(head, n)
    for number in range(asked.pin0, asked.pin1):
        if marks[number].bed == bed:
            if chosen == 0:
                return marks[number].start
            chosen -= 1
    return -1.0


@compiled
def pick_lane(head, asked, bed, ints):  # type: ignore[no-untyped-def]
    """A lane of a bed that suits a request; -1 if there is none. Full width is favoured."""
    at = head.lane_at + (asked.geometry * head.n_forms + bed.form) * 3
    first, ordinary, last = ints[at], ints[at + 1], ints[at + 2]
    if last == first:
        return -1
    if ordinary > first and (last == ordinary or draw(head, 2) == 0):
        return first + draw(head, ordinary - first)
    if draw(head, 100) < 45:
        return ordinary + draw(head, min(2, last - ordinary))
    return ordinary + draw(head, last - ordinary)


@compiled
def pick_block(head, asked, lanes, blocks, marks, one, ints, wanted):  # type: ignore[no-untyped-def]
    """Any block of an odd outline for the request and bed of a record; False if there is none."""
    at = head.block_at + (one.request * head.n_beds + one.bed) * 2
    first, last = ints[at], ints[at + 1]
    if last <= first:
        return False
    pin = pin_in(head, asked, marks, one.bed)
    for _ in range(6 if pin < 0 else 60):
        block = blocks[first + draw(head, last - first)]
        if block.n <= wanted and (pin < 0 or abs(block.start - pin) < SMALL_M):
            lane = lanes[block.lane]
            fill_in(one, one.request, one.bed, lane, one.date, block.start, block.end, block.n)
            one.rows, one.reach = block.rows, block.reach
            return True
    return False


@compiled
def clashes(head, bed, date, one, slots, ints, found):  # type: ignore[no-untyped-def]
    """Slots that share ground and time with a spot, into `found`; returns how many."""
    n = 0
    first = head.bed_slots + one.bed * MOST_IN_BED
    for at in range(bed.n_spots):
        number = ints[first + at]
        other = slots[number]
        if (
            same_time(other, date.taken_from, date.clear_by)
            and other.low < one.high - SMALL_M
            and other.high > one.low + SMALL_M
            and other.start < one.end - SMALL_M
            and other.end > one.start + SMALL_M
        ):
            if n < found.size:
                found[n] = number
            n += 1
    return n


@compiled
def pick_gap(head, asked, bed, lane, floats, n, wanted):  # type: ignore[no-untyped-def]
    """The first stretch from a random one on that holds all; else the random one."""
    chosen = draw(head, n)
    for turn in range(n):
        at = (chosen + turn) % n
        low, high = floats[head.gaps + 4 * at], floats[head.gaps + 4 * at + 1]
        if points_in(bed, asked, lane, at_step(step_up(low)), high) * lane.n_across >= wanted:
            return low, high
    return floats[head.gaps + 4 * chosen], floats[head.gaps + 4 * chosen + 1]


@compiled
def draw_free(head, asked, date, bed, lanes, blocks, marks, slots, one, ints, floats, hit):  # type: ignore[no-untyped-def]
    """A place on free ground for the request, bed and date of a record; False if none came up."""
    wanted = asked.n - asked.placed
    if head.fewer and draw(head, 4) == 0:
        wanted = max(min(asked.least, wanted), wanted * (1 + draw(head, 3)) // 4)
    if bed.n_spots >= MOST_IN_BED or wanted < asked.least:
        return False
    if not bed.rectangular:
        return (
            pick_block(head, asked, lanes, blocks, marks, one, ints, wanted)
            and clashes(head, bed, date, one, slots, ints, hit) == 0
        )
    number = pick_lane(head, asked, bed, ints)
    lane = lanes[max(0, number)]
    fill_in(one, one.request, one.bed, lane, one.date, 0.0, 0.0, 0)
    n = 0
    if number >= 0:
        n = free_gaps(head, bed, one.bed, lane, date, slots, ints, floats)
    pin = pin_in(head, asked, marks, one.bed)
    if pin >= 0:
        one.start = pin
        for at in range(n):
            low, high = floats[head.gaps + 4 * at], floats[head.gaps + 4 * at + 1]
            if low <= pin + SMALL_M < high:
                return snug(one, asked, bed, lane, low, high, wanted, 2)
    if n == 0 or pin >= 0:
        return False
    low, high = pick_gap(head, asked, bed, lane, floats, n, wanted)
    align = draw(head, 8)
    if align >= 6:
        # Somewhere in the stretch, as long as all find room there.
        one.start = at_step(step_up(low) + draw(head, max(1, step_down(high) - step_up(low))))
        if snug(one, asked, bed, lane, low, high, wanted, 2) and one.n == wanted:
            return True
    return snug(one, asked, bed, lane, low, high, wanted, align % 2)


@compiled
def draw_any(head, asked, bed, lanes, blocks, marks, slots, one, ints):  # type: ignore[no-untyped-def]
    """A place for the request, bed and date of a record, whatever stands there."""
    wanted = asked.n - asked.placed
    if bed.n_spots >= MOST_IN_BED or wanted < asked.least:
        return False
    if not bed.rectangular:
        return pick_block(head, asked, lanes, blocks, marks, one, ints, wanted)
    number = pick_lane(head, asked, bed, ints)
    if number < 0:
        return False
    lane = lanes[number]
    fill_in(one, one.request, one.bed, lane, one.date, 0.0, 0.0, 0)
    align = draw(head, 2)
    pin = pin_in(head, asked, marks, one.bed)
    if pin >= 0:
        one.start, align = pin, 2
    elif bed.n_spots > 0 and draw(head, 4) > 0:
        # Beside something that stands there, or in its place.
        other = slots[ints[head.bed_slots + one.bed * MOST_IN_BED + draw(head, bed.n_spots)]]
        one.start = at_step(step_up(other.end if draw(head, 2) else other.start))
        align = 2
    low, high = 0.0, bed.length
    if lane.far1 > lane.far0:
        # One of the two ends in reach: that in which the start lies, where one is named.
        ahead = one.start < lane.far0 if align == 2 else draw(head, 2) == 0
        low, high = (0.0, lane.far0) if ahead else (lane.far1, bed.length)
    return snug(one, asked, bed, lane, low, high, wanted, align)
