"""The problem as arrays of plain records, which compiled code reads without calling back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.placement.blocks import LANE_ROWS, Lane, beyond_in, lanes
from bedwright.engine.placement.compiled.near import near_tables
from bedwright.engine.placement.compiled.odd import odd_blocks
from bedwright.engine.placement.compiled.records import (
    ASKED,
    BEDS,
    BLOCKS,
    DATES,
    DIRECTIONS,
    HEAD,
    LANES,
    LEAST_PATCH,
    LEAST_PATCH_M,
    MARKS,
    MOST_IN_BED,
    MOST_LEVELS,
    N_SCRATCH,
    NEVER,
    PIN_POINTS,
    SIDES,
    SLOTS,
    STAND_INSIDE,
    Records,
    World,
)  # fmt: skip
from bedwright.engine.placement.layout import IntArray, Spacing, fit, inner_span
from bedwright.engine.placement.problem import BedFacts, PlacementProblem, RequestFacts, wants_trellis
from bedwright.engine.placement.rules import MOST_PATCHES, SMALL_M, STEP_M
from bedwright.engine.placement.shape import BedShape
from bedwright.engine.placement.terms import TERMS, share
from bedwright.engine.placement.value import wind_pollinated
from bedwright.engine.placement.weekly import RAISING, WATER, WeekLimit, WeekTables
from bedwright.model.weather import FloatArray

SHORT_OF = (RAISING, WATER)
"""Limits for which fewer plants than find ground are tried: a part may fit where all do not."""


@dataclass(slots=True)
class _Pool:
    """Arrays laid end to end."""

    parts: list[NDArray[Any]]
    length: int = 0

    def add(self, values: NDArray[Any]) -> int:
        """Lay an array behind the others; returns where it begins."""
        at = self.length
        self.parts.append(np.ascontiguousarray(values).ravel())
        self.length += values.size
        return at


def build_world(problem: PlacementProblem, seed: int) -> World:
    """Arrays of a problem with an empty plan."""
    ints, floats = _Pool([np.zeros(0, np.int64)]), _Pool([np.zeros(0)])
    head = np.zeros(1, HEAD)
    one = head[0]
    dates = _dates(problem, ints, floats, one)
    beds, forms = _beds(problem, floats)
    geometries = list(dict.fromkeys(_geometry(facts) for facts in problem.requests))
    lane_table, lane_at, by_key = _lanes(problem, geometries, forms)
    blocks, block_at = _odd(problem, geometries, by_key, lane_at, beds)
    asked, allowed, marks = _asked(problem, geometries)
    names = _names(problem)
    neighbour = np.zeros((len(names), len(names)))
    for (first, other), gain in problem.neighbour_gain.items():
        if first in names and other in names:
            neighbour[names[first], names[other]] = gain
    rays = np.stack([facts.rays for facts in problem.beds]) if problem.beds else np.zeros((0, 12, 1, 4))
    last_grown = _last_grown(problem)
    one["first_day"], month_of = _calendar(problem)
    weeks = problem.weeks
    n_slots = N_SCRATCH + len(problem.requests) * MOST_PATCHES + 8
    free = np.arange(n_slots - 1, N_SCRATCH - 1, -1, dtype=np.int64)
    for name, whole in (
        ("free", free), ("bed_slots", np.zeros((len(beds), MOST_IN_BED), np.int64)), ("allowed", allowed),
        ("ranked", _ranked(asked, dates)),
        ("last_grown", last_grown), ("lane_at", lane_at), ("block_at", block_at), ("month_of", month_of),
    ):  # fmt: skip
        one[name] = ints.add(whole)
    n_curves = max(1, len(weeks.steady_plants))
    most = _most(weeks)
    for name, values in (
        ("rays", rays), ("neighbour", neighbour), ("steady", weeks.steady_plants),
        ("least_picked", weeks.least_plants), ("curve_worth", weeks.plant_worth), ("most", most),
        ("used", np.zeros(len(most))), ("picked", np.zeros((n_curves, weeks.n_weeks))),
        ("gaps", np.zeros((MOST_IN_BED + 2, 4))),
    ):  # fmt: skip
        one[name] = floats.add(values)
    near = near_tables(problem)
    dates["near"], asked["near"] = near.of_date, near.of_request
    for name, whole in (
        ("near_low", near.low_at), ("near_tall", near.tall_at), ("near", near.entries),
        ("low_slots", np.zeros((len(beds), MOST_IN_BED), np.int64)),
        ("tall_slots", np.zeros((len(beds), MOST_IN_BED), np.int64)),
        ("counts", np.zeros((len(beds), 2), np.int64)),
    ):  # fmt: skip
        one[name] = ints.add(whole)
    one["pairs"], one["pair_size"] = floats.add(near.pairs), near.pairs.shape[1]
    barred = _barred(problem, asked, len(dates))
    one["barred"] = -1 if barred is None else ints.add(barred)
    one["fewer"] = any(limit.term in SHORT_OF for limit in weeks.limits)
    one["rng"], one["n_free"], one["n_beds"] = seed * 2 + 1, len(free), len(beds)
    one["n_rotations"], one["n_forms"] = last_grown.shape[1], lane_at.shape[1]
    one["n_names"], one["n_rays"], one["n_weeks"] = len(names), rays.shape[2], weeks.n_weeks
    one["rotation_years"] = problem.rules.rotation_years
    one["reach_two"], one["reach_one"] = problem.rules.reach_two_sides_m, problem.rules.reach_one_side_m
    return World(
        head=head,
        asked=asked,
        dates=dates,
        beds=beds,
        lanes=lane_table,
        blocks=blocks,
        marks=marks,
        slots=np.zeros(n_slots, SLOTS),
        ints=np.concatenate(ints.parts).astype(np.int64),
        floats=np.concatenate(floats.parts).astype(np.float64),
    )


def copy_world(world: World, seed: int | None = None) -> World:
    """The same with a plan of its own; with a seed of its own where one is given."""
    copied = World._make(table.copy() for table in world)
    if seed is not None:
        copied.head[0]["rng"] = seed * 2 + 1
    return copied


def _ranked(asked: Records, dates: Records) -> IntArray:
    """Dates of each request, the surest and most wanted first, laid out like the table of dates."""
    ranked = np.arange(len(dates), dtype=np.int64)
    for one in asked:
        first, last = int(one["date0"]), int(one["date1"])
        ranked[first:last] = first + np.argsort(dates["cost"][first:last], kind="stable")
    return ranked


def _names(problem: PlacementProblem) -> dict[str, int]:
    names = sorted({facts.crop.name for facts in problem.requests})
    return {name: number for number, name in enumerate(names)}


def _rotations(problem: PlacementProblem) -> dict[str, int]:
    groups = sorted({facts.crop.rotation_group for facts in problem.requests})
    return {group: number for number, group in enumerate(groups)}


def _last_grown(problem: PlacementProblem) -> IntArray:
    groups = _rotations(problem)
    table = np.full((len(problem.beds), len(groups)), NEVER, dtype=np.int64)
    for number, bed in enumerate(problem.beds):
        for group, year in bed.last_grown.items():
            if group in groups:
                table[number, groups[group]] = year
    return table


def _calendar(problem: PlacementProblem) -> tuple[int, IntArray]:
    """First day, and the month of each day from it on."""
    from_days = [int(facts.dates.taken_from.min()) for facts in problem.requests if facts.dates.choices]
    to_days = [int(facts.dates.clear_by.max()) for facts in problem.requests if facts.dates.choices]
    first, last = min(from_days, default=1), max(to_days, default=1)
    days = np.arange(first, last + 1) - 719163
    return first, (days.astype("datetime64[D]").astype("datetime64[M]").astype(np.int64) % 12).astype(
        np.int64
    )


def _dates(problem: PlacementProblem, ints: _Pool, floats: _Pool, head: Any) -> Records:
    n_dates = sum(len(facts.dates.choices) for facts in problem.requests)
    table = np.zeros(n_dates, DATES)
    months = np.zeros((n_dates, 12))
    classes: dict[tuple[bytes, float], int] = {}
    shares: list[tuple[FloatArray, float]] = []
    loads = _Loads(problem.weeks)
    at = 0
    weeks = problem.weeks
    for number, facts in enumerate(problem.requests):
        known = facts.dates
        for index in range(len(known.choices)):
            one = table[at]
            one["taken_from"], one["clear_by"] = known.taken_from[index], known.clear_by[index]
            one["days"], one["year"] = known.days[index], known.year[index]
            one["in_ground"] = known.taken_from[index] + problem.rules.preparation_days
            uncertain = 0.0 if math.isnan(known.chance[index]) else 1 - known.chance[index]
            one["cost"] = (
                uncertain
                + share("date preference") * known.weeks_off[index]
                + share("quiet weeks") * known.quiet_share[index]
            )
            key = (known.month_share[index].tobytes(), facts.crop.min_sun_h)
            if key not in classes:
                classes[key] = len(shares)
                shares.append((known.month_share[index], facts.crop.min_sun_h))
            one["light"] = classes[key]
            one["load0"], one["load1"], one["load2"] = loads.add(number, index)
            one["pick_from"] = weeks.pick_from[number][index]
            one["pick_to"] = weeks.pick_to[number][index]
            months[at] = known.month_share[index]
            at += 1
    short_at = np.full((max(1, len(shares)), len(problem.beds)), -1, dtype=np.int64)
    for number, bed in enumerate(problem.beds):
        if bed.light is not None and shares and bed.light.inside.any():
            least_h = bed.light.least_h(np.array([month_share for month_share, _ in shares]))
            for index, (month_share, need_h) in enumerate(shares):
                if least_h[index] < need_h + SMALL_M:
                    sums = bed.light.short_sums(month_share, need_h)
                    if sums is not None:
                        short_at[index, number] = floats.add(sums)
    head["short_at"] = ints.add(short_at)
    head["months"] = floats.add(months)
    head["load_at"] = ints.add(np.array(loads.weeks or [0], dtype=np.int64))
    head["load"] = floats.add(np.array(loads.points or [0.0]))
    return table


def _barred(problem: PlacementProblem, asked: Records, n_dates: int) -> IntArray | None:
    """By date and bed, 1 where it would be picked too soon after raw manure; None if nowhere."""
    if not any(facts.barred for facts in problem.requests):
        return None
    table = np.zeros((n_dates, len(problem.beds)), dtype=np.int64)
    for number, facts in enumerate(problem.requests):
        for bed, found in facts.barred.items():
            table[asked[number]["date0"] : asked[number]["date1"], bed] = found
    return table


def _most(weeks: WeekTables) -> FloatArray:
    """What each week of each limit has, in points, one limit after the other."""
    parts = [limit.most * TERMS[limit.term].weight for limit in weeks.limits]
    return np.concatenate([*parts, np.zeros(1)])


class _Loads:
    """What dates ask of limited weeks: the week of its limit, and points for each m² or tray.

    Needs are counted in points, so that one sum serves every limit.
    """

    def __init__(self, tables: WeekTables) -> None:
        self.tables = tables
        self.weeks: list[int] = []
        self.points: list[float] = []

    def add(self, request: int, date: int) -> tuple[int, int, int]:
        """Enter a date; where its loads by ground begin, those by tray, and where they end."""
        found = [len(self.weeks)]
        for per in ("m2", "tray"):
            for number, limit in enumerate(self.tables.limits):
                if limit.per == per:
                    self._enter(number, limit, request, date)
            found.append(len(self.weeks))
        return found[0], found[1], found[2]

    def _enter(self, number: int, limit: WeekLimit, request: int, date: int) -> None:
        weight, start = TERMS[limit.term].weight, int(limit.start[request][date])
        for week, need in enumerate(limit.needs[request][date].tolist(), start):
            if need > 0 and math.isfinite(limit.most[week]):
                self.weeks.append(number * self.tables.n_weeks + week)
                self.points.append(need * weight)


def _beds(problem: PlacementProblem, pool: _Pool) -> tuple[Records, list[BedFacts]]:
    table = np.zeros(len(problem.beds), BEDS)
    forms: list[BedFacts] = []
    by_key: dict[object, int] = {}
    key: tuple[object, ...]
    for number, facts in enumerate(problem.beds):
        shape, one = facts.shape, table[number]
        one["length"], one["width"], one["area"] = shape.length_m, shape.width_m, shape.area_m2
        one["rectangular"] = shape.rectangular
        one["watering"] = share("watering") * {"hose": 0.0, "can": 1.0, "none": 3.0}[facts.bed.watering_reach]
        one["supports"] = sum(1 << (SIDES.index(side) - 1) for side in facts.support_sides)
        one["reach"] = sum(1 << (SIDES.index(side) - 1) for side in facts.reach_sides)
        if facts.bed.stepping_boards:
            one["reach"] |= STAND_INSIDE
        one["cells"] = -1
        if facts.light is not None:
            one["cell"] = facts.light.cell_m
            one["cells"], one["months"] = pool.add(facts.light.n_cells), pool.add(facts.light.sun_h)
            one["n_along"], one["n_across"] = (size - 1 for size in facts.light.n_cells.shape)
        key = (shape.length_m, shape.width_m, shape.vertices_m, facts.support_sides, shape.beyond)
        if not shape.rectangular:
            key = (*key, shape.stood_at, shape.arm_m)
        if key not in by_key:
            by_key[key] = len(forms)
            forms.append(facts)
        one["form"] = by_key[key]
    return table, forms


Geometry = tuple[Spacing, bool, bool, bool]
"""Spacing, climbs at a support, only there, also where no arm reaches."""


def _geometry(facts: RequestFacts) -> Geometry:
    climber = facts.crop.climbs and facts.crop.support != "none"
    return facts.spacing, climber, facts.needs_support_side, facts.anywhere


def _lanes(
    problem: PlacementProblem, geometries: Sequence[Geometry], forms: Sequence[BedFacts]
) -> tuple[Records, IntArray, dict[tuple[int, int], list[Lane]]]:
    rows: list[LaneRow] = []
    at = np.zeros((max(1, len(geometries)), max(1, len(forms)), 3), dtype=np.int64)
    by_key: dict[tuple[int, int], list[Lane]] = {}
    for form, bed in enumerate(forms):
        shape = bed.shape
        levels_m = _levels(shape, geometries)
        for number, (spacing, climber, only_side, anywhere) in enumerate(geometries):
            found = []
            for lane in lanes(
                bed, spacing, climber=climber, only_support=only_side, levels_m=levels_m, anywhere=anywhere
            ):
                row = _lane_row(shape, spacing, lane, anywhere=anywhere)
                if row[6] > 0 or not shape.rectangular:
                    found.append((lane, row))
            found.sort(key=lambda pair: pair[0].side is None)
            n_side = sum(lane.side is not None for lane, _ in found)
            at[number, form] = (len(rows), len(rows) + n_side, len(rows) + len(found))
            rows += [row for _, row in found]
            by_key[number, form] = [lane for lane, _ in found]
    return np.array(rows or [(0.0,) * 4 + (0,) * 3 + (0.0,) * 2], dtype=LANES), at, by_key


def _levels(shape: BedShape, geometries: Sequence[Geometry]) -> list[float]:
    """Depths of lanes along one side, from both sides: where short rows across may end."""
    depths: dict[float, int] = {}
    for spacing, *_ in geometries:
        for n_rows in LANE_ROWS:
            depth_m = spacing.edge_m + (n_rows - 1) * spacing.row_m + spacing.side_m
            depth_m = round(math.ceil(depth_m / STEP_M - SMALL_M) * STEP_M, 6)
            if depth_m < shape.width_m - SMALL_M:
                for level_m in (depth_m, round(shape.width_m - depth_m, 6)):
                    depths[level_m] = depths.get(level_m, 0) + 1
    common = sorted(depths, key=lambda level_m: (-depths[level_m], level_m))
    return sorted(common[:MOST_LEVELS])


LaneRow = tuple[float, float, float, float, int, int, int, float, float]
"""As in `LANES`."""


def _lane_row(shape: BedShape, spacing: Spacing, lane: Lane, *, anywhere: bool) -> LaneRow:
    along_row = lane.direction == "along"
    margin_m = spacing.side_m if along_row else spacing.end_m
    low, high = inner_span(lane.across_m, shape.width_m, margin_m, spacing.edge_m)
    n_across = int(fit(high - low, spacing.row_m if along_row else spacing.in_row_m))
    if along_row and lane.side is not None:
        n_across = min(n_across, 1)
    return (
        *lane.across_m,
        spacing.end_m if along_row else spacing.side_m,
        spacing.in_row_m if along_row else spacing.row_m,
        DIRECTIONS.index(lane.direction),
        SIDES.index(lane.side or ""),
        n_across,
        *((None if anywhere else beyond_in(shape, spacing, lane)) or (0.0, 0.0)),
    )


def _odd(
    problem: PlacementProblem,
    geometries: Sequence[Geometry],
    by_key: dict[tuple[int, int], list[Lane]],
    lane_at: IntArray,
    beds: Records,
) -> tuple[Records, IntArray]:
    at = np.zeros((len(problem.requests), len(problem.beds), 2), dtype=np.int64)
    parts: list[Records] = [np.zeros(1, BLOCKS)]
    total = 1
    known: dict[tuple[int, int, int], tuple[int, int]] = {}
    for bed, facts in enumerate(problem.beds):
        if facts.shape.rectangular:
            continue
        form = int(beds[bed]["form"])
        for number, request in enumerate(problem.requests):
            if bed not in request.beds or not request.request.n_plants or request.fixed:
                continue
            geometry = geometries.index(_geometry(request))
            key = (geometry, form, request.request.n_plants)
            if key not in known:
                found = odd_blocks(
                    problem, number, bed, by_key[geometry, form], int(lane_at[geometry, form, 0])
                )
                known[key] = (total, total + len(found))
                parts.append(found)
                total += len(found)
            at[number, bed] = known[key]
    return np.concatenate(parts), at


def _asked(problem: PlacementProblem, geometries: Sequence[Geometry]) -> tuple[Records, IntArray, Records]:
    names, groups = _names(problem), _rotations(problem)
    numbers = {geometry: number for number, geometry in enumerate(geometries)}
    table = np.zeros(len(problem.requests), ASKED)
    allowed: list[int] = []
    marks: list[tuple[float, float, int, int]] = []
    n_dates = 0
    for number, facts in enumerate(problem.requests):
        one, crop, n_plants = table[number], facts.crop, facts.request.n_plants
        one["n"], one["worth"] = n_plants, facts.worth
        one["plant_worth"] = facts.worth / n_plants if n_plants else 0.0
        one["in_row"], one["edge"] = facts.spacing.in_row_m, facts.spacing.edge_m
        one["pitch"] = facts.spacing.row_m
        one["height"], one["need_h"] = facts.height_m, crop.min_sun_h
        least = min(LEAST_PATCH * n_plants, LEAST_PATCH_M / facts.spacing.in_row_m)
        one["least"] = max(1, math.ceil(least - SMALL_M))
        one["bonus"] = PIN_POINTS / max(1, n_plants) if facts.request.code in problem.pinned else 0.0
        one["rotation"], one["name"] = groups[crop.rotation_group], names[crop.name]
        if crop.life_cycle == "perennial":
            one["rotation"] = -1
        climbs = crop.climbs and crop.support != "none"
        one["support"] = (3 if wants_trellis(crop) else 2) if climbs else int(crop.support != "none")
        one["wind"] = wind_pollinated(crop)
        one["date0"], one["date1"] = n_dates, n_dates + len(facts.dates.choices)
        n_dates += len(facts.dates.choices)
        one["geometry"] = numbers[_geometry(facts)]
        one["bed0"], one["bed1"] = len(allowed), len(allowed) + len(facts.beds)
        allowed += facts.beds
        one["curve"], one["fixed"] = problem.weeks.group[number], facts.fixed
        use = problem.weeks.tray_use[number]
        if use is not None:
            one["cells"], one["per_tray"] = use.cells_per_plant, use.cells_per_tray
        one["kept0"] = len(marks)
        marks += [(place.start_m, place.low_m, place.bed, place.in_ground) for place in facts.kept]
        one["kept1"] = one["pin0"] = len(marks)
        marks += [(start_m, 0.0, bed, 0) for bed, starts in facts.starts_m.items() for start_m in starts]
        one["pin1"] = len(marks)
        # A pin on a place names one place, not the start of several.
        one["most"] = min(MOST_PATCHES, one["pin1"] - one["pin0"]) if facts.starts_m else MOST_PATCHES
    return (
        table,
        np.array(allowed or [0], dtype=np.int64),
        np.array(marks or [(0.0, 0.0, -1, 0)], dtype=MARKS),
    )
