"""What a spot adds to a plan, compiled: the same terms as in `placement/value.py`.

Records of `slots` are spots; the one judged need not be in its bed's list yet.
"""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numpy as np

from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.records import BARRED_POINTS, MOST_IN_BED, PAIR_HEAD, STAND_INSIDE
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.sight import LEVEL_M
from bedwright.engine.placement.terms import LEAST_DAYS_TOGETHER, TALLER_BY_M, TERMS, share
from bedwright.engine.placement.value import ROWS_FOR_WIND, SEASON_DAYS, TOUCHING_M

LIGHT = share("light")
ROTATION = share("rotation")
ROTATION_IN_SEASON = share("rotation in the season")
SHADE = share("shade by a taller crop")
SUPPORT = share("support")
REACH = share("reach")
TOGETHER = TERMS["families together"].weight
POLLINATION = share("pollination")
SIDE_OF_BED = share("side of a bed")
SPLIT = share("split")
KEPT_PLACE = share("kept place")
SETTING_OUT = TERMS["setting out"].weight
EVEN_USE = TERMS["even use"].weight
PICKING = share("even picking")


@compiled
def rows_of(asked, bed, direction, side, low, high, start, end, n):  # type: ignore[no-untyped-def]
    """Rows to set out in a block of a rectangle."""
    if side != 0:
        return 1.0
    run = end - start if direction == 0 else high - low
    usable = min(run, max(bed.length, bed.width)) - 2 * asked.edge
    per_row = max(1.0, np.floor(usable / asked.in_row + SMALL_M) + 1)
    return np.ceil(n / per_row)


@compiled
def reach_of(head, bed, low, high, start, end):  # type: ignore[no-untyped-def]
    """Share of a block of a rectangle beyond an arm's length."""
    sides = bed.reach
    if sides & STAND_INSIDE:
        return 0.0
    left = head.reach_two if sides & 2 else head.reach_one
    near = head.reach_two if sides & 8 else head.reach_one
    right = head.reach_two if sides & 1 else head.reach_one
    far = head.reach_two if sides & 4 else head.reach_one
    n_across = 0
    for point in range(7):
        at = low + (high - low) * ((point + 0.5) / 7)
        within = (sides & 1 and at <= left + SMALL_M) or (sides & 2 and bed.width - at <= right + SMALL_M)
        if not within:
            n_across += 1
    if n_across == 0:
        return 0.0
    n_along = 0
    for point in range(7):
        at = start + (end - start) * ((point + 0.5) / 7)
        within = (sides & 4 and at <= near + SMALL_M) or (sides & 8 and bed.length - at <= far + SMALL_M)
        if not within:
            n_along += 1
    return n_across * n_along / 49.0


@compiled
def cells_of(bed, low, high, start, end):  # type: ignore[no-untyped-def]
    """Cells of light a block touches: along from and to, across from and to."""
    first_across = min(bed.n_across - 1, int(low / bed.cell + SMALL_M))
    last_across = min(bed.n_across, max(first_across + 1, int(np.ceil(high / bed.cell - SMALL_M))))
    first = min(int(start / bed.cell + SMALL_M), bed.n_along - 1)
    last = max(first + 1, min(bed.n_along, int(np.ceil(end / bed.cell - SMALL_M))))
    return first, last, first_across, last_across


@compiled
def sum_of(floats, at, stride, first, last, low, high):  # type: ignore[no-untyped-def]
    """Sum over cells from running sums at a place of the pool."""
    return (
        floats[at + last * stride + high]
        - floats[at + first * stride + high]
        - floats[at + last * stride + low]
        + floats[at + first * stride + low]
    )


@compiled
def touches_support(bed, low, high, start, end):  # type: ignore[no-untyped-def]
    """True if a block takes ground along a lasting support."""
    sides = bed.supports
    return (
        (sides & 1 and low <= SMALL_M)
        or (sides & 2 and high >= bed.width - SMALL_M)
        or (sides & 4 and start <= SMALL_M)
        or (sides & 8 and end >= bed.length - SMALL_M)
    )


@compiled
def kept_of(asked, marks, one, in_ground):  # type: ignore[no-untyped-def]
    """How much of an earlier plan's bed, place and date a spot keeps, 0 to 1."""
    best = 0.0
    for number in range(asked.kept0, asked.kept1):
        kept = marks[number]
        if kept.bed == one.bed:
            found = 0.5
            if abs(one.start - kept.start) < SMALL_M and abs(one.low - kept.low) < SMALL_M:
                found += 0.25
            if in_ground == kept.in_ground:
                found += 0.25
            best = max(best, found)
    return best


@compiled
def light_short(head, bed, light, one, ints, floats):  # type: ignore[no-untyped-def]
    """Hours a day short of the need, mean of the cells of a spot."""
    if bed.cells < 0:
        return 0.0
    at = ints[head.short_at + light * head.n_beds + one.bed]
    if at < 0:
        return 0.0
    first, last, low, high = cells_of(bed, one.low, one.high, one.start, one.end)
    stride = bed.n_across + 1
    number = sum_of(floats, bed.cells, stride, first, last, low, high)
    if number <= 0:
        return 0.0
    return sum_of(floats, at, stride, first, last, low, high) / max(number, 1.0)


@compiled
def judge(head, asked, date, bed, marks, one, ints, floats):  # type: ignore[no-untyped-def]
    """Fill in what depends on a spot alone; rows and reach of odd outlines are there already."""
    one.taken_from, one.clear_by, one.days = date.taken_from, date.clear_by, date.days
    one.rotation, one.name = asked.rotation, asked.name
    one.height, one.need_h, one.spare = asked.height, asked.need_h, -1.0
    one.near = near_of(head, asked, date, one.bed, ints)
    one.worth, one.share = asked.plant_worth * one.n, one.n / asked.n
    area = (one.end - one.start) * (one.high - one.low)
    one.use = area * (one.clear_by - one.taken_from + 1.0) / (bed.area * SEASON_DAYS)
    if bed.rectangular:
        one.rows = rows_of(asked, bed, one.direction, one.side, one.low, one.high, one.start, one.end, one.n)
        one.reach = reach_of(head, bed, one.low, one.high, one.start, one.end)
    factor = 1.0 - date.cost - bed.watering - REACH * one.reach
    factor -= LIGHT * light_short(head, bed, date.light, one, ints, floats)
    if asked.rotation >= 0:
        last = ints[head.last_grown + one.bed * head.n_rotations + asked.rotation]
        years = head.rotation_years - (date.year - last)
        if years > 0:
            factor -= ROTATION * years
    if asked.support >= 2:
        if one.side != 0:
            factor += SUPPORT
        elif asked.support == 3:
            factor -= SUPPORT
    elif asked.support == 0 and touches_support(bed, one.low, one.high, one.start, one.end):
        factor -= SUPPORT * 0.5
    if asked.wind and one.rows < ROWS_FOR_WIND:
        factor -= POLLINATION
    if one.side == 0 and one.high - one.low < bed.width - SMALL_M:
        factor -= SIDE_OF_BED
    if asked.kept1 > asked.kept0:
        factor += KEPT_PLACE * kept_of(asked, marks, one, date.in_ground)
    one.own = one.worth * factor - SETTING_OUT * one.rows
    if head.barred >= 0 and ints[head.barred + one.date * head.n_beds + one.bed] != 0:
        one.own -= BARRED_POINTS


@compiled
def spare_of(head, bed, one, floats):  # type: ignore[no-untyped-def]
    """Hours a day of sun over the need of a spot; 0 where short, inf where not known."""
    if bed.cells < 0:
        return np.inf
    first, last, low, high = cells_of(bed, one.low, one.high, one.start, one.end)
    stride = bed.n_across + 1
    number = sum_of(floats, bed.cells, stride, first, last, low, high)
    if number <= 0:
        return np.inf
    got = 0.0
    size = (bed.n_along + 1) * stride
    for month in range(12):
        part = floats[head.months + one.date * 12 + month]
        if part > 0:
            got += part * sum_of(floats, bed.months + month * size, stride, first, last, low, high)
    return max(0.0, got / max(number, 1.0) - one.need_h)


@compiled
def spare_known(head, bed, one, floats):  # type: ignore[no-untyped-def]
    """The same, worked out once for a spot."""
    if one.spare < 0:
        one.spare = spare_of(head, bed, one, floats)
    return one.spare


@compiled
def crossing(low, high, slope):  # type: ignore[no-untyped-def]
    """Distances at which a line enters and leaves a strip."""
    if abs(slope) < 1e-6:
        if low < 0 < high:
            return -np.inf, np.inf
        return np.inf, -np.inf
    one, other = low / slope, high / slope
    return min(one, other), max(one, other)


@compiled
def lost_hours(floats, at, n_rays, low, tall, taller_by):  # type: ignore[no-untyped-def]
    """Hours of direct sun a day that a low spot loses to a tall one; rays begin at a place of `floats`."""
    lost = 0.0
    for number in range(n_rays):
        ray = at + number * 4
        hours = floats[ray + 3]
        if hours <= 0:
            continue
        run = floats[ray + 2] * taller_by
        hit = 0
        for i in range(3):
            along = low.start + (low.end - low.start) * ((2 * i + 1) / 6)
            near_a, far_a = crossing(tall.start - along, tall.end - along, floats[ray])
            if far_a <= 0.0 or near_a >= run:
                continue
            for j in range(3):
                across = low.low + (low.high - low.low) * ((2 * j + 1) / 6)
                near_c, far_c = crossing(tall.low - across, tall.high - across, floats[ray + 1])
                if max(near_a, near_c, 0.0) < min(far_a, far_c, run):
                    hit += 1
        lost += hours * hit / 9
    return lost


@compiled
def shade_points(head, bed, low, tall, together, ints, floats):  # type: ignore[no-untyped-def]
    """Points a low spot loses to a tall one."""
    middle = (max(low.taken_from, tall.taken_from) + min(low.clear_by, tall.clear_by)) // 2
    month = ints[head.month_of + middle - head.first_day]
    at = head.rays + (low.bed * 12 + month) * head.n_rays * 4
    lost = lost_hours(floats, at, head.n_rays, low, tall, tall.height - low.height)
    if lost <= 0:
        return 0.0
    spare = spare_known(head, bed, low, floats)
    short = max(0.0, lost - (0.0 if spare == np.inf else spare))
    return SHADE * low.worth * min(1.0, together / low.days) * short


@compiled
def lost_beyond(floats, rays, n_rays, pair, low, tall, taller_by):  # type: ignore[no-untyped-def]
    """Hours of direct sun a day that a low spot loses to a tall one of another bed.

    Like `lost_hours`, with points turned into the other bed's frame; one function for both was
    measured to cost a quarter of all moves a second.
    """
    lost = 0.0
    for number in range(n_rays):
        ray = rays + number * 4
        hours = floats[ray + 3]
        if hours <= 0:
            continue
        run = floats[ray + 2] * taller_by
        hit = 0
        for i in range(3):
            along = low.start + (low.end - low.start) * ((2 * i + 1) / 6)
            for j in range(3):
                across = low.low + (low.high - low.low) * ((2 * j + 1) / 6)
                here_a = floats[pair] + along * floats[pair + 2] + across * floats[pair + 4]
                here_c = floats[pair + 1] + along * floats[pair + 3] + across * floats[pair + 5]
                near_a, far_a = crossing(tall.start - here_a, tall.end - here_a, floats[ray])
                if far_a <= 0.0 or near_a >= run:
                    continue
                near_c, far_c = crossing(tall.low - here_c, tall.high - here_c, floats[ray + 1])
                if max(near_a, near_c, 0.0) < min(far_a, far_c, run):
                    hit += 1
        lost += hours * hit / 9
    return lost


@compiled
def beyond_points(head, low, tall, pair, ints, floats):  # type: ignore[no-untyped-def]
    """Points a low spot, whose spare sun is known, loses to a tall one of another bed."""
    taller_by = tall.height - low.height + floats[pair + 6]
    if taller_by <= TALLER_BY_M or low.spare == np.inf:
        return 0.0
    begins, ends = max(low.taken_from, tall.taken_from), min(low.clear_by, tall.clear_by)
    together = ends - begins + 1
    if together < LEAST_DAYS_TOGETHER:
        return 0.0
    month = ints[head.month_of + (begins + ends) // 2 - head.first_day]
    level = int(np.ceil(taller_by / LEVEL_M - SMALL_M))
    if floats[pair + PAIR_HEAD + level * 12 + month] <= low.spare:
        return 0.0
    rays = head.rays + (tall.bed * 12 + month) * head.n_rays * 4
    lost = lost_beyond(floats, rays, head.n_rays, pair, low, tall, taller_by)
    if lost <= low.spare:
        return 0.0
    return SHADE * low.worth * min(1.0, together / low.days) * (lost - low.spare)


@compiled
def near_of(head, asked, date, bed, ints):  # type: ignore[no-untyped-def]
    """1 where crops of other beds may shade a spot, plus 2 where it may shade those."""
    low, tall = head.near_low + date.near * head.n_beds + bed, head.near_tall + asked.near * head.n_beds + bed
    return (1 if ints[low + 1] > ints[low] else 0) + (2 if ints[tall + 1] > ints[tall] else 0)


@compiled
def points_near(head, asked, date, bed, slots, one, ints, floats):  # type: ignore[no-untyped-def]
    """Points that a spot and those of beds near by lose by each other's shade."""
    total = 0.0
    if one.near & 1:
        at = head.near_low + date.near * head.n_beds + one.bed
        spare_known(head, bed, one, floats)
        for number in range(ints[at], ints[at + 1]):
            other = ints[head.near + 2 * number]
            pair = head.pairs + ints[head.near + 2 * number + 1] * head.pair_size
            first = head.tall_slots + other * MOST_IN_BED
            for there in range(ints[head.counts + 2 * other + 1]):
                total -= beyond_points(head, one, slots[ints[first + there]], pair, ints, floats)
    if one.near & 2:
        at = head.near_tall + asked.near * head.n_beds + one.bed
        for number in range(ints[at], ints[at + 1]):
            other = ints[head.near + 2 * number]
            pair = head.pairs + ints[head.near + 2 * number + 1] * head.pair_size
            first = head.low_slots + other * MOST_IN_BED
            for there in range(ints[head.counts + 2 * other]):
                total -= beyond_points(head, slots[ints[first + there]], one, pair, ints, floats)
    return total


@compiled
def same_ground(one, other):  # type: ignore[no-untyped-def]
    """True if two spots of one bed overlap in space."""
    return not (
        one.high <= other.low + SMALL_M
        or one.low >= other.high - SMALL_M
        or one.start >= other.end - SMALL_M
        or one.end <= other.start + SMALL_M
    )


@compiled
def pair_points(head, bed, one, other, ints, floats):  # type: ignore[no-untyped-def]
    """Points two spots of one bed give or cost together; they do not clash."""
    total = 0.0
    if one.rotation == other.rotation and one.rotation >= 0 and same_ground(one, other):
        total -= (one.worth + other.worth) / 2 * ROTATION_IN_SEASON
    together = min(one.clear_by, other.clear_by) - max(one.taken_from, other.taken_from) + 1
    if together <= 0:
        return total
    if together >= LEAST_DAYS_TOGETHER:
        gain = floats[head.neighbour + one.name * head.n_names + other.name]
        back = floats[head.neighbour + other.name * head.n_names + one.name]
        if gain != 0 or back != 0:
            along_gap = max(one.start - other.end, other.start - one.end)
            across_gap = max(one.low - other.high, other.low - one.high)
            if max(along_gap, across_gap) <= TOUCHING_M and min(along_gap, across_gap) < -TOUCHING_M:
                total += gain * one.worth * other.share + back * other.worth * one.share
    if other.height - one.height > TALLER_BY_M:
        total -= shade_points(head, bed, one, other, together, ints, floats)
    elif one.height - other.height > TALLER_BY_M:
        total -= shade_points(head, bed, other, one, together, ints, floats)
    return total


@compiled
def trays_of(asked, n):  # type: ignore[no-untyped-def]
    """Trays that so many plants of a request take while they are raised; 0 where they are not."""
    if asked.cells <= 0:
        return 0.0
    return np.ceil(np.ceil(n * asked.cells - 1e-6) / asked.per_tray - 1e-9)


@compiled
def over_limits(head, first, last, amount, ints, floats):  # type: ignore[no-untyped-def]
    """Points that loads of a date cost beyond what limited weeks have left."""
    over = 0.0
    for number in range(first, last):
        week = ints[head.load_at + number]
        before = floats[head.used + week] - floats[head.most + week]
        after = before + floats[head.load + number] * amount
        if after > 0:
            over += after - max(0.0, before)
    return over


@compiled
def gaps_filled(head, asked, date, n, floats):  # type: ignore[no-untyped-def]
    """Points that so many plants of a request gain by being picked in weeks that bring too little.

    It falls as more is placed, so what it is on a plan holds as the most for every plan with more.
    """
    if asked.curve < 0:
        return 0.0
    each, filled = n / (date.pick_to - date.pick_from + 1), 0.0
    at = asked.curve * head.n_weeks
    for week in range(date.pick_from, date.pick_to + 1):
        lacking = floats[head.least_picked + at + week] - floats[head.picked + at + week]
        if lacking > 0:
            filled += min(each, lacking)
    return PICKING * filled * floats[head.curve_worth + asked.curve]


@compiled
def week_points(head, asked, date, one, ints, floats):  # type: ignore[no-untyped-def]
    """Points a spot costs by what weeks have only so much of and by uneven picking, were it added."""
    total = 0.0
    if date.load1 > date.load0:
        area = (one.end - one.start) * (one.high - one.low)
        total -= over_limits(head, date.load0, date.load1, area, ints, floats)
    if date.load2 > date.load1:
        trays = trays_of(asked, one.n)
        total -= over_limits(head, date.load1, date.load2, trays, ints, floats)
    if asked.curve >= 0:
        each = one.n / (date.pick_to - date.pick_from + 1)
        steady = floats[head.steady + asked.curve]
        over = 0.0
        for week in range(date.pick_from, date.pick_to + 1):
            before = floats[head.picked + asked.curve * head.n_weeks + week] - steady
            after = before + each
            if after > 0:
                over += after - max(0.0, before)
        total -= PICKING * over * floats[head.curve_worth + asked.curve]
        total += gaps_filled(head, asked, date, one.n, floats)
    return total


@compiled
def gain_of(head, asked, date, bed, slots, one, ints, floats):  # type: ignore[no-untyped-def]
    """Points a spot adds to the plan, or would take away by leaving; it is not in the lists."""
    total = one.own + asked.bonus * one.n
    first = head.bed_slots + one.bed * MOST_IN_BED
    alone = one.rotation >= 0
    for number in range(bed.n_spots):
        other = slots[ints[first + number]]
        total += pair_points(head, bed, one, other, ints, floats)
        if other.rotation == one.rotation:
            alone = False
    if alone:
        total -= TOGETHER
    if one.near != 0:
        total += points_near(head, asked, date, bed, slots, one, ints, floats)
    after = bed.use + one.use
    total -= EVEN_USE * (after * after - bed.use * bed.use)
    if asked.n_patches > 0:
        total -= asked.worth * SPLIT
    return total + week_points(head, asked, date, one, ints, floats)
