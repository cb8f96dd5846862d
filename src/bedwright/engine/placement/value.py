"""What a plan is worth: the sum of named terms, each by planting, by pair or by bed.

Every term is written once, for many blocks and dates at a time (arrays that broadcast to
(n_dates, n_blocks)); a single spot is the case of one block. Nothing here searches.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence

import numpy as np

from bedwright.engine.placement.blocks import Blocks, Spot, as_blocks
from bedwright.engine.placement.ground_light import light_short_h, spare_h, sum_within
from bedwright.engine.placement.layout import longest_row
from bedwright.engine.placement.problem import BedFacts, PlacementProblem, wants_trellis
from bedwright.engine.placement.rules import SMALL_M, PlantingRules
from bedwright.engine.placement.shade import Box, lost_h
from bedwright.engine.placement.shade_between import points_between_all, spot_box
from bedwright.engine.placement.shape import free_pieces
from bedwright.engine.placement.terms import LEAST_DAYS_TOGETHER, TALLER_BY_M, TERMS, share
from bedwright.engine.placement.weekly import HOURS, WeekLimit
from bedwright.model.crop import Crop
from bedwright.model.ground import LocalSide
from bedwright.model.weather import BoolArray, FloatArray

TOUCHING_M = 0.051
"""Blocks no farther apart than one step are beside each other."""

SEASON_DAYS = 365.0

ROWS_FOR_WIND = 3
REACH_CELL_M = 0.05

Terms = dict[str, FloatArray]


def own_terms(problem: PlacementProblem, blocks: Blocks) -> Terms:
    """Terms that depend on the planting alone, in points."""
    facts, bed = problem.requests[blocks.request], problem.beds[blocks.bed]
    dates = facts.dates
    worth = facts.worth * blocks.n_plants[None, :] / facts.request.n_plants
    terms: Terms = {"amount": worth}
    uncertain = np.where(np.isnan(dates.chance), 0.0, 1 - dates.chance)[:, None]
    terms["date"] = -worth * uncertain * TERMS["date"].weight
    terms["date preference"] = -worth * share("date preference") * dates.weeks_off[:, None]
    terms["light"] = -worth * share("light") * light_short_h(problem, blocks)
    years = rotation_years_short(problem, blocks.request, blocks.bed)
    terms["rotation"] = -worth * share("rotation") * years[:, None]
    terms["quiet weeks"] = -worth * share("quiet weeks") * dates.quiet_share[:, None]
    if facts.kept:
        terms["kept place"] = worth * share("kept place") * kept_share(problem, blocks)
    terms["support"] = worth * share("support") * support_fit(problem, blocks)[None, :]
    terms["reach"] = -worth * share("reach") * out_of_reach(bed, blocks, problem.rules)[None, :]
    watering = {"hose": 0.0, "can": 1.0, "none": 3.0}[bed.bed.watering_reach]
    terms["watering"] = -worth * share("watering") * watering
    rows = n_rows(problem, blocks)[None, :]
    terms["setting out"] = -TERMS["setting out"].weight * rows
    if wind_pollinated(facts.crop):
        terms["pollination"] = -worth * share("pollination") * (rows < ROWS_FOR_WIND)
    low, high = blocks.lane.across_m
    if blocks.lane.side is None and high - low < bed.shape.width_m - SMALL_M:
        terms["side of a bed"] = -worth * share("side of a bed")
    return terms


def wind_pollinated(crop: Crop) -> bool:
    """True for maize: a line of it sets few grains (allotment practice: squares, not rows)."""
    return crop.family == "Poaceae" and crop.kind == "vegetable"


def kept_share(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """How much of an earlier plan's bed, place and date is kept, (n_dates, n_blocks), 0 to 1."""
    facts = problem.requests[blocks.request]
    days = facts.dates.taken_from + problem.rules.preparation_days
    best = np.zeros((len(days), len(blocks.start_m)))
    for kept in facts.kept:
        if kept.bed == blocks.bed:
            same_side = abs(blocks.lane.across_m[0] - kept.low_m) < SMALL_M
            place = (np.abs(blocks.start_m - kept.start_m) < SMALL_M) & same_side
            day = days == kept.in_ground
            best = np.maximum(best, 0.5 + 0.25 * place[None, :] + 0.25 * day[:, None])
    return best


def rotation_years_short(problem: PlacementProblem, request: int, bed: int) -> FloatArray:
    """Years missing to the return time for each date, (n_dates,)."""
    facts = problem.requests[request]
    last = problem.beds[bed].last_grown.get(facts.crop.rotation_group)
    if last is None or facts.crop.life_cycle == "perennial":
        return np.zeros(len(facts.dates.choices))
    return np.clip(problem.rules.rotation_years - (facts.dates.year - last), 0, None).astype(np.float64)


def support_fit(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """How well blocks and supports suit each other, (n_blocks,).

    1 for a climber at a lasting support, -1 for one that wants a trellis and has none; -0.5
    for a crop without any need of support on ground that a climber could use.
    """
    crop = problem.requests[blocks.request].crop
    if crop.climbs and crop.support != "none":
        fit = 1.0 if blocks.lane.side is not None else -1.0 if wants_trellis(crop) else 0.0
        return np.full(len(blocks.start_m), fit)
    if crop.support != "none":
        return np.zeros(len(blocks.start_m))
    return np.where(at_support(problem.beds[blocks.bed], blocks), -0.5, 0.0)


def at_support(bed: BedFacts, blocks: Blocks) -> BoolArray:
    """Blocks that take ground along a lasting support, (n_blocks,)."""
    low, high = blocks.lane.across_m
    touching: dict[LocalSide, BoolArray | bool] = {
        "left": low <= SMALL_M,
        "right": high >= bed.shape.width_m - SMALL_M,
        "start": blocks.start_m <= SMALL_M,
        "end": blocks.end_m >= bed.shape.length_m - SMALL_M,
    }
    found = np.zeros(len(blocks.start_m), dtype=np.bool_)
    for side in bed.support_sides:
        found |= touching[side]
    return found


def out_of_reach(bed: BedFacts, blocks: Blocks, rules: PlantingRules) -> FloatArray:
    """Share of each block beyond an arm's length from every side one can stand at."""
    if bed.bed.stepping_boards:
        return np.zeros(len(blocks.start_m))
    if not bed.shape.rectangular and len(bed.reach_sides) == 4:
        return _far_from_outline(bed, blocks, rules.reach_two_sides_m)
    length_m, width_m = bed.shape.length_m, bed.shape.width_m
    low, high = blocks.lane.across_m
    across = low + (high - low) * (np.arange(7) + 0.5) / 7
    along = blocks.start_m[:, None] + (blocks.end_m - blocks.start_m)[:, None] * (np.arange(7) + 0.5) / 7
    beyond = np.ones((len(blocks.start_m), 7, 7), dtype=np.bool_)
    distance = {"left": across, "right": width_m - across, "start": along, "end": length_m - along}
    for side in bed.reach_sides:
        facing = {"left": "right", "right": "left", "start": "end", "end": "start"}[side]
        limit = rules.reach_two_sides_m if facing in bed.reach_sides else rules.reach_one_side_m
        within = distance[side] <= limit + SMALL_M
        beyond &= ~(within[None, None, :] if side in ("left", "right") else within[:, :, None])
    shares: FloatArray = beyond.mean(axis=(1, 2))
    return shares


def _far_from_outline(bed: BedFacts, blocks: Blocks, reach_m: float) -> FloatArray:
    """Share of each block inside an odd outline that lies farther from it than an arm's length."""
    key = ("reach", reach_m)
    if key not in bed.shape.measured:
        bed.shape.measured[key] = _reach_sums(bed, reach_m)
    inside, far = bed.shape.measured[key]
    n_along, n_across = inside.shape[0] - 1, inside.shape[1] - 1
    low, high = (min(n_across, round(value / REACH_CELL_M)) for value in blocks.lane.across_m)
    first = np.minimum(n_along, np.rint(blocks.start_m / REACH_CELL_M).astype(np.int64))
    last = np.minimum(n_along, np.rint(blocks.end_m / REACH_CELL_M).astype(np.int64))
    n_inside = sum_within(inside, first, last, low, high)
    return np.asarray(sum_within(far, first, last, low, high) / np.maximum(1, n_inside))


def _reach_sums(bed: BedFacts, reach_m: float) -> tuple[FloatArray, FloatArray]:
    """Running sums over both axes of cells inside the bed, and of those out of reach."""
    shape = bed.shape
    along = np.arange(REACH_CELL_M / 2, shape.length_m, REACH_CELL_M)
    across = np.arange(REACH_CELL_M / 2, shape.width_m, REACH_CELL_M)
    sums = []
    for clearance_m in (SMALL_M, reach_m):
        pieces = free_pieces(shape, "along", across, clearance_m)
        hit = np.zeros((len(along), len(across)))
        for line, found in enumerate(pieces):
            for low, high in found:
                hit[:, line] += (along >= low) & (along <= high)
        sums.append(np.pad(hit.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0))))
    return sums[0], sums[1]


def n_rows(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """Rows to set out in each block, near enough for comparing lanes."""
    facts, bed = problem.requests[blocks.request], problem.beds[blocks.bed]
    if blocks.lane.side is not None:
        return np.ones(len(blocks.start_m))
    if not bed.shape.rectangular:
        lane, spans = blocks.lane, zip(blocks.start_m.tolist(), blocks.end_m.tolist(), strict=True)
        longest = [
            longest_row(bed.shape, lane.direction, span, lane.across_m, facts.spacing) for span in spans
        ]
        return np.asarray(np.ceil(blocks.n_plants / np.maximum(1, longest)), dtype=np.float64)
    if blocks.lane.direction == "along":
        run_m = blocks.end_m - blocks.start_m
    else:
        run_m = np.full(len(blocks.start_m), blocks.lane.across_m[1] - blocks.lane.across_m[0])
    usable = np.minimum(run_m, max(bed.shape.length_m, bed.shape.width_m)) - 2 * facts.spacing.edge_m
    per_row = np.maximum(1, np.floor(usable / facts.spacing.in_row_m + SMALL_M) + 1)
    return np.asarray(np.ceil(blocks.n_plants / per_row), dtype=np.float64)


def days_together(problem: PlacementProblem, request: int, other: Spot) -> FloatArray:
    """Days that a request and a spot both take ground, for each date of the request, (n_dates,)."""
    dates = problem.requests[request].dates
    together = np.minimum(dates.clear_by, other.clear_by) - np.maximum(dates.taken_from, other.taken_from) + 1
    return np.asarray(np.maximum(together, 0), dtype=np.float64)


def share_ground(blocks: Blocks, other: Spot) -> BoolArray:
    """Blocks that overlap a spot in space, (n_blocks,)."""
    low, high = blocks.lane.across_m
    if high <= other.across_m[0] + SMALL_M or low >= other.across_m[1] - SMALL_M:
        return np.zeros(len(blocks.start_m), dtype=np.bool_)
    hit: BoolArray = (blocks.start_m < other.along_m[1] - SMALL_M) & (
        blocks.end_m > other.along_m[0] + SMALL_M
    )
    return hit


def beside(blocks: Blocks, other: Spot) -> BoolArray:
    """Blocks side by side with a spot along a stretch, not at a corner only, (n_blocks,)."""
    low, high = blocks.lane.across_m
    along_gap = np.maximum(blocks.start_m - other.along_m[1], other.along_m[0] - blocks.end_m)
    across_gap = max(low - other.across_m[1], other.across_m[0] - high)
    return (np.maximum(along_gap, across_gap) <= TOUCHING_M) & (
        np.minimum(along_gap, across_gap) < -TOUCHING_M
    )


def pair_terms(problem: PlacementProblem, blocks: Blocks, other: Spot, together: FloatArray) -> Terms:
    """Terms between blocks and a spot already placed in the same bed, both crops' gains in points.

    Blocks that would share ground with the spot at the same time are not judged here.

    Parameters
    ----------
    together
        Days both take ground, from `days_together`.
    """
    mine, theirs = problem.requests[blocks.request], problem.requests[other.request]
    my_worth = mine.worth * blocks.n_plants[None, :] / mine.request.n_plants
    their_worth = spot_worth(problem, other)
    terms: Terms = {}
    perennial = "perennial" in (mine.crop.life_cycle, theirs.crop.life_cycle)
    if mine.crop.rotation_group == theirs.crop.rotation_group and not perennial:
        hit = share_ground(blocks, other)
        either = (my_worth + their_worth) / 2
        terms["rotation in the season"] = -either * share("rotation in the season") * hit[None, :]
    if not together.any():
        return terms
    names = (mine.crop.name, theirs.crop.name)
    gain, back = problem.neighbour_gain.get(names, 0.0), problem.neighbour_gain.get(names[::-1], 0.0)
    if gain or back:
        wished = frozenset(names) in problem.wished
        touch = (together >= LEAST_DAYS_TOGETHER)[:, None] & beside(blocks, other)[None, :]
        my_share = blocks.n_plants[None, :] / mine.request.n_plants
        their_share = other.n_plants / theirs.request.n_plants
        points = touch * (gain * my_worth * their_share + back * their_worth * my_share)
        terms["neighbour wish" if wished else "neighbour"] = points
    for shade in (shade_on(problem, blocks, other, together), _shade_from(problem, blocks, other, together)):
        if shade is not None:
            terms["shade by a taller crop"] = shade
    return terms


def shade_on(
    problem: PlacementProblem, blocks: Blocks, other: Spot, together: FloatArray
) -> FloatArray | None:
    """Points the blocks lose to a taller spot on their sun side; None if it is not taller."""
    mine, theirs = problem.requests[blocks.request], problem.requests[other.request]
    taller_by_m = theirs.height_m - mine.height_m
    if taller_by_m <= TALLER_BY_M:
        return None
    worth = mine.worth * blocks.n_plants[None, :] / mine.request.n_plants
    days = np.minimum(1.0, together / mine.dates.days)[:, None]
    spare = _known_spare_h(problem, blocks)
    short = np.zeros((len(together), len(blocks.start_m)))
    rays = problem.beds[blocks.bed].rays
    lost: dict[int, FloatArray] = {}
    for date, month in enumerate(_months_together(problem, blocks.request, other)):
        if together[date]:
            if month not in lost:
                lost[month] = lost_h(_box(blocks), spot_box(other), rays[month], taller_by_m)
            short[date] = np.maximum(0.0, lost[month] - spare[date])
    points: FloatArray = -share("shade by a taller crop") * worth * days * short
    return points


def _shade_from(
    problem: PlacementProblem, blocks: Blocks, other: Spot, together: FloatArray
) -> FloatArray | None:
    """Points a lower spot loses to taller blocks on its sun side; None if they are not taller."""
    mine, theirs = problem.requests[blocks.request], problem.requests[other.request]
    taller_by_m = mine.height_m - theirs.height_m
    if taller_by_m <= TALLER_BY_M:
        return None
    days = np.minimum(1.0, together / theirs.dates.days[other.date])[:, None]
    spare = float(_known_spare_h(problem, as_blocks(other))[other.date, 0])
    short = np.zeros((len(together), len(blocks.start_m)))
    rays = problem.beds[blocks.bed].rays
    lost: dict[int, FloatArray] = {}
    for date, month in enumerate(_months_together(problem, blocks.request, other)):
        if together[date]:
            if month not in lost:
                lost[month] = lost_h(spot_box(other), _box(blocks), rays[month], taller_by_m)
            short[date] = np.maximum(0.0, lost[month] - spare)
    points: FloatArray = -share("shade by a taller crop") * spot_worth(problem, other) * days * short
    return points


def _known_spare_h(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """Hours a day of sun over the need, (n_dates, n_blocks); none where light is not known."""
    spare = spare_h(problem, blocks)
    return np.where(np.isinf(spare), 0.0, spare)


def _months_together(problem: PlacementProblem, request: int, other: Spot) -> list[int]:
    """Month (January is 0) in the middle of the time both stand, for each date of the request."""
    dates = problem.requests[request].dates
    middle = (
        np.maximum(dates.taken_from, other.taken_from) + np.minimum(dates.clear_by, other.clear_by)
    ) // 2
    return [dt.date.fromordinal(max(1, int(day))).month - 1 for day in middle]


def spot_worth(problem: PlacementProblem, spot: Spot) -> float:
    """Points of a spot if nothing is amiss."""
    facts = problem.requests[spot.request]
    return facts.worth * spot.n_plants / facts.request.n_plants


def _box(blocks: Blocks) -> Box:
    low, high = blocks.lane.across_m
    return blocks.start_m, blocks.end_m, np.array([low]), np.array([high])


def use_share(
    problem: PlacementProblem, bed: int, area_m2: FloatArray | float, days: FloatArray
) -> FloatArray:
    """Share of a bed's ground and season that a block takes."""
    return area_m2 * days / (problem.beds[bed].shape.area_m2 * SEASON_DAYS)


def spots_use(problem: PlacementProblem, bed: int, spots: Sequence[Spot]) -> float:
    """Share of a bed's ground and season taken by all its spots."""
    return float(
        sum(use_share(problem, bed, s.area_m2, np.array(s.clear_by - s.taken_from + 1.0)) for s in spots)
    )


def bed_terms(problem: PlacementProblem, bed: int, spots: Sequence[Spot]) -> Mapping[str, float]:
    """All terms of one bed, in points."""
    total: dict[str, float] = {}

    def add(name: str, points: float) -> None:
        total[name] = total.get(name, 0.0) + points

    for number, spot in enumerate(spots):
        blocks = as_blocks(spot)
        for name, points in own_terms(problem, blocks).items():
            add(name, at_date(points, spot.date))
        for other in spots[:number]:
            together = days_together(problem, spot.request, other)
            for name, points in pair_terms(problem, blocks, other, together).items():
                add(name, at_date(points, spot.date))
    groups = {rotation_of(problem, spot.request) for spot in spots} - {None}
    add("families together", -TERMS["families together"].weight * len(groups))
    add("even use", -TERMS["even use"].weight * spots_use(problem, bed, spots) ** 2)
    return total


def rotation_of(problem: PlacementProblem, request: int) -> str | None:
    """Rotation group of a request; None for perennials, which stay where they are."""
    crop = problem.requests[request].crop
    return None if crop.life_cycle == "perennial" else crop.rotation_group


def at_date(points: FloatArray, date: int) -> float:
    """Value of a term for the single block at one date."""
    return float(points[date, 0] if points.shape[0] > 1 else points[0, 0])


def split_points(problem: PlacementProblem, request: int, n_patches: int) -> float:
    """Cost of several patches of one request, in points."""
    return -problem.requests[request].worth * share("split") * max(0, n_patches - 1)


def plan_terms(problem: PlacementProblem, spots: Sequence[Spot]) -> Mapping[str, float]:
    """Every term of a whole plan, in points; their sum is the plan's value."""
    total = dict.fromkeys(TERMS, 0.0)
    by_bed: dict[int, list[Spot]] = {}
    patches: dict[int, int] = {}
    for spot in sorted(spots):
        by_bed.setdefault(spot.bed, []).append(spot)
        patches[spot.request] = patches.get(spot.request, 0) + 1
    for bed, found in by_bed.items():
        for name, points in bed_terms(problem, bed, found).items():
            total[name] += points
    for request, number in patches.items():
        total["split"] += split_points(problem, request, number)
    total["shade by a taller crop"] += points_between_all(problem, by_bed)
    for limit in problem.weeks.limits:
        total[limit.term] = limit_points(problem, limit, spots)
    total["even picking"] = picking_points(problem, spots)
    return total


def week_needs(problem: PlacementProblem, limit: WeekLimit, spots: Sequence[Spot]) -> FloatArray:
    """What spots ask of a limit in each week, in its own unit, (n_weeks,)."""
    weeks = problem.weeks
    total = np.zeros(weeks.n_weeks)
    for spot in spots:
        start, needs = int(limit.start[spot.request][spot.date]), limit.needs[spot.request][spot.date]
        total[start : start + len(needs)] += needs * weeks.taken(
            limit, spot.request, spot.n_plants, spot.area_m2
        )
    return total


def limit_points(problem: PlacementProblem, limit: WeekLimit, spots: Sequence[Spot]) -> float:
    """Cost of what weeks are asked for beyond what they have, in points."""
    over = np.maximum(0.0, week_needs(problem, limit, spots) - limit.most)
    return -TERMS[limit.term].weight * float(over.sum())


def work_points(problem: PlacementProblem, spots: Sequence[Spot]) -> float:
    """Cost of work over the hours promised, in points; 0 where no hours are promised."""
    hours = problem.weeks.limit(HOURS)
    return 0.0 if hours is None else limit_points(problem, hours, spots)


def picked_plants(problem: PlacementProblem, spots: Sequence[Spot]) -> FloatArray:
    """Plants picked by curve and week, (n_curves, n_weeks)."""
    weeks = problem.weeks
    picked = np.zeros((len(weeks.steady_plants), weeks.n_weeks))
    for spot in spots:
        curve = int(weeks.group[spot.request])
        if curve >= 0:
            first = int(weeks.pick_from[spot.request][spot.date])
            last = int(weeks.pick_to[spot.request][spot.date])
            picked[curve, first : last + 1] += spot.n_plants / (last - first + 1)
    return picked


def picking_points(problem: PlacementProblem, spots: Sequence[Spot]) -> float:
    """Cost of weeks that bring more of a wish than is steady, or less than does not count as a gap."""
    weeks = problem.weeks
    picked = picked_plants(problem, spots)
    over = np.maximum(0.0, picked - weeks.steady_plants[:, None]).sum(axis=1)
    under = np.maximum(0.0, weeks.least_plants - picked).sum(axis=1)
    return -share("even picking") * float(((over + under) * weeks.plant_worth).sum())
