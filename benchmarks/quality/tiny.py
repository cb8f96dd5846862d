"""Gardens so small that every plan can be looked at: the search must find the best of them.

A bed or two of half a metre, two or three plantings of a few plants, one or two dates. Every block
that the search could use is listed, and every set of blocks that may stand together is weighed.
"""

# ruff: noqa: PLR0917 - compiled functions take tables one by one

from __future__ import annotations

import random
from dataclasses import replace

import numba
import numpy as np

from bedwright.engine.placement.compiled.places import at_step, clashes, end_of, fill_in, points_in
from bedwright.engine.placement.compiled.records import SLOTS, Records, World
from bedwright.engine.placement.compiled.state import put, take
from bedwright.engine.placement.compiled.tables import build_world
from bedwright.engine.placement.compiled.value import gain_of, judge
from bedwright.engine.placement.problem import PlacementProblem, build_problem
from bedwright.engine.placement.rules import COMMON_RULES, SMALL_M
from bedwright.engine.placement.search import find_plan, value_of
from bedwright.model.book import Bed
from bedwright.model.ground import Rectangle
from benchmarks.quality.gardens import dated_crops

N_GARDENS = 200
MOVES = 20_000
MOST_BLOCKS = 150
GAIN_AT_MOST = 1.5
"""No planting gains more than this times its worth."""


def tiny_problem(seed: int) -> PlacementProblem:
    """A tiny garden; some seeds are passed over because there would be too much to look at."""
    rng = random.Random(seed)
    book, dated, catalogue = dated_crops()
    small = [one for one in dated if one.crop.in_row_spacing_m <= 0.32 and not one.crop.climbs]
    beds = tuple(
        Bed(
            code="AB"[number],
            name="bed",
            outline=Rectangle(rng.choice((0.4, 0.5, 0.6)), rng.choice((0.3, 0.4)), 2.0 * number, 0.0, 90.0),
            texture="loam",
        )
        for number in range(rng.choice((1, 1, 2)))
    )
    asked = []
    for number in range(rng.choice((2, 3))):
        of = rng.choice(small)
        dates = tuple(sorted(rng.sample(range(len(of.choices)), min(len(of.choices), rng.choice((1, 2))))))
        choices = tuple(of.choices[at] for at in dates)
        code = f"{of.crop.name}-{number}"
        asked.append(
            replace(
                of, code=code, wish_code=code, n_plants=rng.randint(1, 3), priority=rng.randint(1, 5),
                choices=choices, best=0,
            )
        )  # fmt: skip
    if seed % 3 == 0:
        # Two sowings of one wish, picked in turn.
        first, second, *others = asked
        alike = replace(first, code=second.code, n_plants=second.n_plants, best=len(first.choices) - 1)
        asked = [first, alike, *others]
    garden = replace(book, beds=beds, history=(), wishes=(), people=(), neighbours=())
    return build_problem(garden, asked, (), catalogue.neighbours, catalogue.crops, COMMON_RULES)


def all_blocks(world: World) -> Records:
    """Every block of every request that the lanes offer, in order of requests."""
    found = np.zeros(20_000, SLOTS)
    return found[: _list_blocks(*world, found)]


@numba.njit(cache=True)
def _list_blocks(heads, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, found):  # type: ignore[no-untyped-def]
    head, n = heads[0], 0
    for request in range(asked.size):
        wanted = asked[request]
        for at in range(wanted.bed0, wanted.bed1):
            number = ints[head.allowed + at]
            bed = beds[number]
            first = head.lane_at + (wanted.geometry * head.n_forms + bed.form) * 3
            for lane_number in range(ints[first], ints[first + 2]):
                lane = lanes[lane_number]
                for step in range(int(np.ceil(bed.length / 0.05 - SMALL_M))):
                    start, last_end = at_step(step), -1.0
                    for n_points in range(1, wanted.n // lane.n_across + 2):
                        end = min(bed.length, end_of(bed, wanted, lane, start, n_points))
                        holds = points_in(bed, wanted, lane, start, end) * lane.n_across
                        n_plants = min(wanted.n, n_points * lane.n_across)
                        if holds < n_plants or n_plants < wanted.least or end == last_end:
                            continue
                        last_end = end
                        for date in range(wanted.date0, wanted.date1):
                            if n < found.size:
                                fill_in(found[n], request, number, lane, date, start, end, n_plants)
                                judge(head, wanted, dates[date], bed, marks, found[n], ints, floats)
                                n += 1
    return n


@numba.njit(cache=True)
def best_of_all(heads, asked, dates, beds, lanes, blocks, marks, slots, ints, floats, found):  # type: ignore[no-untyped-def]
    """Points that the best set of blocks gains, every set that may stand together looked at."""
    head = heads[0]
    hit, chosen = np.zeros(4, np.int64), np.zeros(64, np.int64)
    numbers, values = np.zeros(64, np.int64), np.zeros(64)
    hoped = 0.0
    for request in range(asked.size):
        hoped += asked[request].worth * GAIN_AT_MOST
    best, depth, at, n_sets = 0.0, 0, 0, 0
    left = np.zeros(64)
    left[0] = hoped
    while True:
        if at >= found.size or values[depth] + left[depth] <= best:
            if depth == 0:
                return best, n_sets
            one = slots[numbers[depth]]
            take(
                head,
                asked[one.request],
                dates[one.date],
                beds[one.bed],
                slots,
                numbers[depth],
                3,
                ints,
                floats,
            )
            at = chosen[depth] + 1
            depth -= 1
            continue
        slots[0] = found[at]
        one = slots[0]
        wanted, date, bed = asked[one.request], dates[one.date], beds[one.bed]
        if (
            wanted.n_patches < wanted.most
            and wanted.placed + one.n <= wanted.n
            and clashes(head, bed, date, one, slots, ints, hit) == 0
        ):
            gain = gain_of(head, wanted, date, bed, slots, one, ints, floats)
            n_sets += 1
            depth += 1
            numbers[depth] = put(head, wanted, date, bed, slots, 0, ints, floats)
            chosen[depth] = at
            values[depth] = values[depth - 1] + gain
            left[depth] = left[depth - 1] - wanted.plant_worth * one.n * GAIN_AT_MOST
            best = max(best, values[depth])
        at += 1


def compare(n_gardens: int = N_GARDENS) -> tuple[int, int, float, int]:
    """(gardens in which the search found the best, gardens, largest loss, sets weighed)."""
    met, seen, worst, weighed, seed = 0, 0, 0.0, 0, 0
    while seen < n_gardens:
        seed += 1
        problem = tiny_problem(seed)
        world = build_world(problem, 0)
        found = all_blocks(world)
        if not 1 < len(found) <= MOST_BLOCKS:
            continue
        best, n_sets = best_of_all(*world, found)
        plan = find_plan(problem, seed, MOVES)
        seen += 1
        weighed += int(n_sets)
        lost = value_of(problem, ()) + float(best) - plan.value
        worst = max(worst, lost)
        met += lost <= 1e-6
    return met, seen, worst, weighed
