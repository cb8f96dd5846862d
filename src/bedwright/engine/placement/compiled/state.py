"""A plan under search: spots put in and taken out, and what is summed over them."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

from collections.abc import Sequence

from bedwright.engine.placement.blocks import Spot, as_blocks
from bedwright.engine.placement.compiled.njit import compiled
from bedwright.engine.placement.compiled.records import (
    DIRECTIONS,
    MOST_IN_BED,
    N_SCRATCH,
    SIDES,
    Records,
    World,
)
from bedwright.engine.placement.compiled.value import gain_of, judge, spare_known, trays_of
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.value import n_rows, out_of_reach
from bedwright.model.ground import LocalSide
from bedwright.model.season import RowDirection

_SIDES: tuple[LocalSide | None, ...] = (None, "left", "right", "start", "end")
_WAYS: tuple[RowDirection, ...] = ("along", "across")


@compiled
def sum_weeks(head, asked, date, one, ints, floats, sign):  # type: ignore[no-untyped-def]
    """Add or take away what a spot asks of limited weeks, and its picking."""
    if date.load1 > date.load0:
        area = (one.end - one.start) * (one.high - one.low) * sign
        for number in range(date.load0, date.load1):
            floats[head.used + ints[head.load_at + number]] += floats[head.load + number] * area
    if date.load2 > date.load1:
        trays = trays_of(asked, one.n) * sign
        for number in range(date.load1, date.load2):
            floats[head.used + ints[head.load_at + number]] += floats[head.load + number] * trays
    if asked.curve >= 0:
        each = sign * one.n / (date.pick_to - date.pick_from + 1)
        for week in range(date.pick_from, date.pick_to + 1):
            floats[head.picked + asked.curve * head.n_weeks + week] += each


@compiled
def patch(asked, number):  # type: ignore[no-untyped-def]
    """Slot of the first, second or third place of a request."""
    if number == 0:
        return asked.patch0
    return asked.patch1 if number == 1 else asked.patch2


@compiled
def set_patch(asked, number, slot):  # type: ignore[no-untyped-def]
    """Enter the slot of a place of a request."""
    if number == 0:
        asked.patch0 = slot
    elif number == 1:
        asked.patch1 = slot
    else:
        asked.patch2 = slot


@compiled
def note_near(head, bed, one, number, ints, floats):  # type: ignore[no-untyped-def]
    """Make a spot known to beds whose crops it may shade, or may be shaded by."""
    counts = head.counts + 2 * one.bed
    if one.near & 1:
        spare_known(head, bed, one, floats)
        ints[head.low_slots + one.bed * MOST_IN_BED + ints[counts]] = number
        ints[counts] += 1
    if one.near & 2:
        ints[head.tall_slots + one.bed * MOST_IN_BED + ints[counts + 1]] = number
        ints[counts + 1] += 1


@compiled
def forget_near(head, one, number, ints):  # type: ignore[no-untyped-def]
    """Take a spot out of what beds near by know."""
    counts = head.counts + 2 * one.bed
    if one.near & 1:
        ints[counts] -= 1
        strike(ints, head.low_slots + one.bed * MOST_IN_BED, ints[counts], number)
    if one.near & 2:
        ints[counts + 1] -= 1
        strike(ints, head.tall_slots + one.bed * MOST_IN_BED, ints[counts + 1], number)


@compiled
def strike(ints, first, last, number):  # type: ignore[no-untyped-def]
    """Take a number out of a list by putting the last one in its place."""
    for at in range(last):
        if ints[first + at] == number:
            ints[first + at] = ints[first + last]
            break


@compiled
def put(head, asked, date, bed, slots, scratch, ints, floats):  # type: ignore[no-untyped-def]
    """Enter the spot of a scratch slot into the plan; returns its slot."""
    head.n_free -= 1
    number = ints[head.free + head.n_free]
    slots[number] = slots[scratch]
    one = slots[number]
    one.live = 1
    ints[head.bed_slots + one.bed * MOST_IN_BED + bed.n_spots] = number
    bed.n_spots += 1
    note_near(head, bed, one, number, ints, floats)
    bed.use += one.use
    set_patch(asked, asked.n_patches, number)
    asked.n_patches += 1
    asked.placed += one.n
    sum_weeks(head, asked, date, one, ints, floats, 1.0)
    return number


@compiled
def take(head, asked, date, bed, slots, number, scratch, ints, floats):  # type: ignore[no-untyped-def]
    """Take a spot out of the plan and keep it in a scratch slot."""
    one = slots[number]
    first = head.bed_slots + one.bed * MOST_IN_BED
    bed.n_spots -= 1
    for at in range(bed.n_spots):
        if ints[first + at] == number:
            ints[first + at] = ints[first + bed.n_spots]
            break
    forget_near(head, one, number, ints)
    bed.use = bed.use - one.use if bed.n_spots > 0 else 0.0
    asked.n_patches -= 1
    for at in range(asked.n_patches):
        if patch(asked, at) == number:
            set_patch(asked, at, patch(asked, asked.n_patches))
            break
    asked.placed -= one.n
    sum_weeks(head, asked, date, one, ints, floats, -1.0)
    slots[scratch] = slots[number]
    one.live = 0
    ints[head.free + head.n_free] = number
    head.n_free += 1


@compiled
def enter(head, asked, dates, beds, marks, slots, scratch, ints, floats):  # type: ignore[no-untyped-def]
    """Judge the spot of a scratch slot, add it and return what it gains."""
    one = slots[scratch]
    wanted, date, bed = asked[one.request], dates[one.date], beds[one.bed]
    judge(head, wanted, date, bed, marks, one, ints, floats)
    gain = gain_of(head, wanted, date, bed, slots, one, ints, floats)
    put(head, wanted, date, bed, slots, scratch, ints, floats)
    return gain


@compiled
def enter_first(head, asked, dates, beds, marks, slots, ints, floats):  # type: ignore[no-untyped-def]
    """Enter the spot of slot 0."""
    return enter(head[0], asked, dates, beds, marks, slots, 0, ints, floats)


def load_spots(problem: PlacementProblem, world: World, spots: Sequence[Spot]) -> float:
    """Enter spots of a plan one after the other; returns what they gain together."""
    total = 0.0
    for spot in spots:
        one = world.slots[0]
        blocks = as_blocks(spot)
        one["start"], one["end"] = spot.along_m
        one["low"], one["high"] = spot.across_m
        one["request"], one["bed"], one["n"] = spot.request, spot.bed, spot.n_plants
        one["date"] = world.asked[spot.request]["date0"] + spot.date
        one["direction"], one["side"] = DIRECTIONS.index(spot.direction), SIDES.index(spot.side or "")
        one["rows"] = n_rows(problem, blocks)[0]
        one["reach"] = out_of_reach(problem.beds[spot.bed], blocks, problem.rules)[0]
        total += float(
            enter_first(
                world.head, world.asked, world.dates, world.beds, world.marks, world.slots, world.ints,
                world.floats,
            )
        )  # fmt: skip
    return total


def read_spots(world: World, slots: Records) -> tuple[Spot, ...]:
    """Spots of all live slots, in order."""
    found = []
    for one in slots[N_SCRATCH:]:
        if one["live"]:
            request = int(one["request"])
            found.append(
                Spot(
                    bed=int(one["bed"]),
                    taken_from=int(one["taken_from"]),
                    clear_by=int(one["clear_by"]),
                    along_m=(float(one["start"]), float(one["end"])),
                    across_m=(float(one["low"]), float(one["high"])),
                    request=request,
                    n_plants=int(one["n"]),
                    date=int(one["date"] - world.asked[request]["date0"]),
                    direction=_WAYS[int(one["direction"])],
                    side=_SIDES[int(one["side"])],
                )
            )
    return tuple(
        sorted(found, key=lambda one: (one.bed, one.taken_from, one.along_m, one.across_m, one.request))
    )
