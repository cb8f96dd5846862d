"""Places a planting could take: blocks of ground, many at a time.

`Blocks` are the possible starts of one request in one lane of one bed; `Spot` is one of
them with a date, as it stands in a plan.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.layout import IntArray, Spacing, Span, count_plants, fit, inner_span
from bedwright.engine.placement.problem import BedFacts, PlacementProblem
from bedwright.engine.placement.rules import SMALL_M, STEP_M
from bedwright.engine.placement.shape import BedShape
from bedwright.model.ground import LocalSide
from bedwright.model.season import RowDirection
from bedwright.model.weather import FloatArray

LANE_ROWS = (1, 2, 3)
"""Rows of a lane along one side of a bed, besides blocks of full width."""

BOTH_WAYS: tuple[RowDirection, ...] = ("across", "along")
MOST_CORNERS = 3

MOST_STARTS_ODD = 10
"""Starts tried in an outline that is not a rectangle, besides those next to other blocks."""


@dataclass(frozen=True, slots=True)
class Lane:
    """Ground across a bed, the run of rows in it, and the support they use."""

    direction: RowDirection
    across_m: Span
    side: LocalSide | None = None
    """Side of the support at which a single row stands; None for an ordinary block."""


@dataclass(frozen=True, slots=True, eq=False)
class Blocks:
    """Possible starts of one request in one lane of one bed; arrays of shape (n_blocks,)."""

    request: int
    bed: int
    lane: Lane
    start_m: FloatArray
    end_m: FloatArray
    n_plants: IntArray


@dataclass(frozen=True, slots=True, order=True)
class Spot:
    """One block with one date."""

    bed: int
    taken_from: int
    """Ordinal day."""
    clear_by: int
    along_m: Span
    across_m: Span
    request: int
    n_plants: int
    date: int
    """Index into the request's table of dates."""
    direction: RowDirection
    side: LocalSide | None

    @property
    def lane(self) -> Lane:
        """The lane it stands in."""
        return Lane(self.direction, self.across_m, self.side)

    @property
    def area_m2(self) -> float:
        """Ground taken."""
        return (self.along_m[1] - self.along_m[0]) * (self.across_m[1] - self.across_m[0])


def spot_at(problem: PlacementProblem, blocks: Blocks, block: int, date: int) -> Spot:
    """One of the blocks with one of the request's dates."""
    dates = problem.requests[blocks.request].dates
    return Spot(
        bed=blocks.bed,
        taken_from=int(dates.taken_from[date]),
        clear_by=int(dates.clear_by[date]),
        along_m=(float(blocks.start_m[block]), float(blocks.end_m[block])),
        across_m=blocks.lane.across_m,
        request=blocks.request,
        n_plants=int(blocks.n_plants[block]),
        date=date,
        direction=blocks.lane.direction,
        side=blocks.lane.side,
    )


def as_blocks(spot: Spot) -> Blocks:
    """A spot as the only one of its blocks."""
    return Blocks(
        spot.request,
        spot.bed,
        spot.lane,
        np.array([spot.along_m[0]]),
        np.array([spot.along_m[1]]),
        np.array([spot.n_plants], dtype=np.int64),
    )


def lanes(
    facts: BedFacts,
    spacing: Spacing,
    *,
    climber: bool,
    only_support: bool,
    levels_m: Sequence[float] = (),
    anywhere: bool = False,
) -> Iterator[Lane]:
    """Lanes of a bed that suit a crop.

    Parameters
    ----------
    climber
        Lanes with a single row at each lasting support are offered first.
    only_support
        Nothing but those.
    levels_m
        Positions across the bed where other blocks end; short rows may fill up to them.
    anywhere
        True: also where no arm reaches.
    """
    shape = facts.shape
    seen: set[Lane] = set()
    for lane in _all_lanes(facts, spacing, climber, only_support, levels_m):
        low, high = lane.across_m
        if lane in seen or low < -SMALL_M or high > shape.width_m + SMALL_M:
            continue
        seen.add(lane)
        far = None if anywhere else beyond_in(shape, spacing, lane)
        if far is None or far[0] > SMALL_M or far[1] < shape.length_m - SMALL_M:
            yield lane


def _all_lanes(
    facts: BedFacts, spacing: Spacing, climber: bool, only_support: bool, levels_m: Sequence[float]
) -> Iterator[Lane]:
    if climber:
        for side in facts.support_sides:
            yield _support_lane(facts.shape, spacing, side)
    if not only_support:
        if facts.shape.beyond is not None:
            yield from _lanes_in_reach(facts.shape, spacing)
        ordinary = _ordinary_lanes if facts.shape.rectangular else _odd_lanes
        yield from ordinary(facts.shape, spacing, levels_m)


def _lanes_in_reach(shape: BedShape, spacing: Spacing) -> Iterator[Lane]:
    """Along each side of a bed too wide to be reached all over: as deep as an arm reaches."""
    if shape.beyond is None:
        return
    low_m, high_m = shape.beyond[1]
    for direction in BOTH_WAYS:
        margin_m = spacing.side_m if direction == "along" else spacing.end_m - spacing.stagger_m / 2
        if low_m > 0:
            yield Lane(direction, (0.0, _down(low_m + margin_m)))
        if high_m < shape.width_m:
            yield Lane(direction, (_up(high_m - margin_m), shape.width_m))


def beyond_in(shape: BedShape, spacing: Spacing, lane: Lane) -> Span | None:
    """Stretch of a lane of a rectangle that a block may not take, lest plants stand out of reach.

    None if every block of the lane is in reach.
    """
    if shape.beyond is None:
        return None
    along_row = lane.direction == "along"
    (low_a, high_a), (low_c, high_c) = shape.beyond
    margins = (spacing.end_m, spacing.side_m) if along_row else (spacing.side_m, spacing.end_m)
    # Of staggered rows every other one begins and ends half of the step beyond the margin.
    over_a, over_c = (spacing.stagger_m / 2, 0.0) if along_row else (0.0, spacing.stagger_m / 2)
    low, high = inner_span(lane.across_m, shape.width_m, margins[1], spacing.edge_m)
    if lane.side in ("left", "right"):
        low, high = (low, low) if lane.side == "left" else (high, high)
    if high + over_c <= low_c + SMALL_M or low - over_c >= high_c - SMALL_M:
        return None
    margin_m, length_m, edge_m = margins[0] - over_a, shape.length_m, spacing.edge_m - over_a
    first = _down(max(0.0, min(low_a + margin_m, length_m)))
    last = _up(min(length_m, max(high_a - margin_m, 0.0)))
    if first >= length_m - SMALL_M and length_m - edge_m > low_a + SMALL_M:
        first = _down(length_m - STEP_M)
    if last <= SMALL_M and edge_m < high_a - SMALL_M:
        last = STEP_M
    if first >= length_m - SMALL_M or last <= SMALL_M:
        return None
    if last <= first + SMALL_M:
        # Short enough to be spanned by the margins of two blocks, but not by one block.
        first = min(_down((first + last) / 2), _down(length_m - STEP_M))
        last = _tidy(first + STEP_M)
    return first, last


def in_reach(problem: PlacementProblem, spot: Spot) -> bool:
    """True if an arm reaches every plant of a spot."""
    facts, shape = problem.requests[spot.request], problem.beds[spot.bed].shape
    if facts.anywhere:
        return True
    if not shape.rectangular:
        along_m = (np.array([spot.along_m[0]]), np.array([spot.along_m[1]]))
        single = spot.side is not None
        held = count_plants(shape, spot.direction, along_m, spot.across_m, facts.spacing, single_row=single)
        return int(held[0]) >= spot.n_plants
    far = beyond_in(shape, facts.spacing, spot.lane)
    return far is None or spot.along_m[1] <= far[0] + SMALL_M or spot.along_m[0] >= far[1] - SMALL_M


def _odd_lanes(shape: BedShape, spacing: Spacing, levels_m: Sequence[float]) -> Iterator[Lane]:
    """Full width, and the parts on either side of a corner of the outline, or of the middle."""
    del spacing, levels_m
    corners = {across for _, across in shape.vertices_m if SMALL_M < across < shape.width_m - SMALL_M}
    levels = sorted(corners) if 0 < len(corners) <= MOST_CORNERS else [_down(shape.width_m / 2)]
    for direction in BOTH_WAYS:
        yield Lane(direction, (0.0, shape.width_m))
        for level_m in levels:
            yield Lane(direction, (0.0, level_m))
            yield Lane(direction, (level_m, shape.width_m))


def _support_lane(shape: BedShape, spacing: Spacing, side: LocalSide) -> Lane:
    depth_m = min(shape.width_m, _up(spacing.edge_m + spacing.side_m))
    if side == "left":
        return Lane("along", (0.0, depth_m), side)
    if side == "right":
        return Lane("along", (_tidy(shape.width_m - depth_m), shape.width_m), side)
    return Lane("across", (0.0, shape.width_m), side)


def _ordinary_lanes(shape: BedShape, spacing: Spacing, levels_m: Sequence[float]) -> Iterator[Lane]:
    width_m = shape.width_m
    yield Lane("across", (0.0, width_m))
    yield Lane("along", (0.0, width_m))
    for n_rows in LANE_ROWS:
        depth_m = _up(spacing.edge_m + (n_rows - 1) * spacing.row_m + spacing.side_m)
        if depth_m < width_m - SMALL_M:
            yield Lane("along", (0.0, depth_m))
            yield Lane("along", (_tidy(width_m - depth_m), width_m))
    half_m = _tidy(math.floor(width_m / 2 / STEP_M + SMALL_M) * STEP_M)
    for level_m in sorted({half_m, *levels_m}):
        if SMALL_M < level_m < width_m - SMALL_M:
            yield Lane("across", (0.0, level_m))
            yield Lane("across", (level_m, width_m))


def _up(length_m: float) -> float:
    """Next whole step, so that lanes too can be found with a tape."""
    return _tidy(math.ceil(length_m / STEP_M - SMALL_M) * STEP_M)


def _tidy(length_m: float) -> float:
    return round(length_m, 6)


def whole_blocks(
    problem: PlacementProblem,
    request: int,
    bed: int,
    lane: Lane,
    n_plants: int,
    extra_m: Sequence[float] = (),
) -> Blocks | None:
    """Every start in a lane with just the ground that `n_plants` need, or all there is.

    Parameters
    ----------
    extra_m
        Further starts worth trying in an outline that is not a rectangle: ends of other blocks.

    Returns
    -------
    Blocks or None
        None if not one plant fits.
    """
    shape, spacing = problem.beds[bed].shape, problem.requests[request].spacing
    if shape.rectangular:
        starts, ends = _rectangle_blocks(shape, spacing, lane, n_plants)
    else:
        starts, ends = _odd_blocks(shape, spacing, lane, n_plants, extra_m)
    return _counted(problem, request, bed, lane, n_plants, starts, ends)


def gap_blocks(
    problem: PlacementProblem, request: int, bed: int, lane: Lane, n_plants: int, gaps_m: Sequence[Span]
) -> Blocks | None:
    """Blocks that fill stretches of free ground as far as `n_plants` need it."""
    shape, spacing = problem.beds[bed].shape, problem.requests[request].spacing
    starts, ends = [], []
    for low, high in gaps_m:
        start = _up(low)
        end = shape.length_m if high >= shape.length_m - SMALL_M else _down(high)
        if end - start > SMALL_M:
            starts.append(start)
            ends.append(end)
    low_m, high_m = np.array(starts), np.array(ends)
    if lane.side in ("start", "end"):
        keep = low_m <= SMALL_M if lane.side == "start" else high_m >= shape.length_m - SMALL_M
        depth_m = _up(spacing.edge_m + spacing.side_m)
        low_m, high_m = low_m[keep], high_m[keep]
        if lane.side == "start":
            high_m = np.minimum(high_m, depth_m)
        else:
            low_m = np.maximum(low_m, _down(shape.length_m - depth_m))
    return _counted(problem, request, bed, lane, n_plants, low_m, high_m)


def _down(length_m: float) -> float:
    return _tidy(math.floor(length_m / STEP_M + SMALL_M) * STEP_M)


def _counted(
    problem: PlacementProblem,
    request: int,
    bed: int,
    lane: Lane,
    n_plants: int,
    starts: FloatArray,
    ends: FloatArray,
) -> Blocks | None:
    if len(starts) == 0:
        return None
    shape, spacing = problem.beds[bed].shape, problem.requests[request].spacing
    counts = count_plants(
        shape, lane.direction, (starts, ends), lane.across_m, spacing, single_row=lane.side is not None
    )
    counts = np.minimum(counts, n_plants)
    keep = counts > 0
    pinned_m = problem.requests[request].starts_m.get(bed)
    if pinned_m:
        keep &= np.isin(np.round(starts, 6), pinned_m)
    far = None if problem.requests[request].anywhere else beyond_in(shape, spacing, lane)
    if far is not None:
        keep &= (ends <= far[0] + SMALL_M) | (starts >= far[1] - SMALL_M)
    if not keep.any():
        return None
    return Blocks(request, bed, lane, starts[keep], ends[keep], counts[keep])


def _rectangle_blocks(
    shape: BedShape, spacing: Spacing, lane: Lane, n_plants: int
) -> tuple[FloatArray, FloatArray]:
    length_m = shape.length_m
    margin_m, pitch_m, n_points = _need(shape, spacing, lane, n_plants)
    if n_points == 0:
        return np.empty(0), np.empty(0)
    edge_m = spacing.edge_m
    run_m = (n_points - 1) * pitch_m
    if run_m + 2 * edge_m > length_m - SMALL_M:
        return np.array([0.0]), np.array([length_m])
    if lane.side == "start":
        return np.array([0.0]), np.array([_up(edge_m + run_m + margin_m)])
    flush = _down(length_m - edge_m - run_m - margin_m)
    if lane.side == "end":
        return np.array([max(0.0, flush)]), np.array([length_m])
    starts = np.round(np.arange(0, length_m, STEP_M), 6)
    lead = np.where(starts <= SMALL_M, edge_m, margin_m)
    ends = np.round(np.ceil((starts + lead + run_m + margin_m) / STEP_M - SMALL_M) * STEP_M, 6)
    to_the_end = starts + lead + run_m + edge_m <= length_m + SMALL_M
    over = ends > length_m + SMALL_M
    ends = np.where(over & to_the_end, length_m, ends)
    keep = ends <= length_m + SMALL_M
    starts, ends = starts[keep], ends[keep]
    if flush > SMALL_M and not (ends >= length_m - SMALL_M).any():
        starts, ends = np.append(starts, flush), np.append(ends, length_m)
    return starts, ends


def _need(shape: BedShape, spacing: Spacing, lane: Lane, n_plants: int) -> tuple[float, float, int]:
    """(end margin, pitch, points) along the baseline for so many plants."""
    along_row = lane.direction == "along"
    margin_m = spacing.side_m if along_row else spacing.end_m
    low, high = inner_span(lane.across_m, shape.width_m, margin_m, spacing.edge_m)
    n_across = int(fit(high - low, spacing.row_m if along_row else spacing.in_row_m))
    if n_across == 0:
        return 0.0, 0.0, 0
    if lane.side is not None:
        n_points = math.ceil(n_plants / (1 if along_row else n_across)) if along_row else 1
    else:
        n_points = math.ceil(n_plants / n_across)
    if along_row:
        return spacing.end_m, spacing.in_row_m, n_points
    return spacing.side_m, spacing.row_m, n_points


def _odd_blocks(
    shape: BedShape, spacing: Spacing, lane: Lane, n_plants: int, extra_m: Sequence[float]
) -> tuple[FloatArray, FloatArray]:
    if lane.side in ("start", "end"):
        depth_m = min(shape.length_m, _up(spacing.edge_m + spacing.side_m))
        if lane.side == "start":
            return np.array([0.0]), np.array([depth_m])
        return np.array([_tidy(shape.length_m - depth_m)]), np.array([shape.length_m])
    step_m = STEP_M * max(1, math.ceil(shape.length_m / STEP_M / MOST_STARTS_ODD))
    regular = [_tidy(number * step_m) for number in range(math.ceil(shape.length_m / step_m))]
    starts, ends = [], []
    for start in sorted({*regular, *(_up(value) for value in extra_m)}):
        end = _shortest(shape, spacing, lane, n_plants, start)
        if end is not None:
            starts.append(start)
            ends.append(end)
    return np.array(starts), np.array(ends)


def _shortest(shape: BedShape, spacing: Spacing, lane: Lane, n_plants: int, start_m: float) -> float | None:
    """End of the shortest block from a start that holds the plants; the bed's end if none does."""
    key = ("shortest", spacing, lane, n_plants, start_m)
    if key not in shape.measured:
        shape.measured[key] = _measured_shortest(shape, spacing, lane, n_plants, start_m)
    found: float | None = shape.measured[key]
    return found


def _measured_shortest(
    shape: BedShape, spacing: Spacing, lane: Lane, n_plants: int, start_m: float
) -> float | None:
    if start_m >= shape.length_m - SMALL_M:
        return None

    def end_at(steps: int) -> float:
        return min(shape.length_m, _tidy(start_m + steps * STEP_M))

    def holds(steps: int) -> bool:
        along_m = (np.array([start_m]), np.array([end_at(steps)]))
        single = lane.side is not None
        count = count_plants(shape, lane.direction, along_m, lane.across_m, spacing, single_row=single)
        return int(count[0]) >= n_plants

    most = math.ceil((shape.length_m - start_m) / STEP_M - SMALL_M)
    # An outline holds no more than the box round it, so the box's need is a lower bound.
    _, pitch_m, n_points = _need(shape, spacing, lane, n_plants)
    box_m = (n_points - 1) * pitch_m + 2 * spacing.edge_m
    low = max(0, math.floor(box_m / STEP_M) - 1)
    step = 1
    while low + step < most and not holds(low + step):
        low, step = low + step, step * 2
    high = min(most, low + step)
    if n_points == 0 or low >= most or not holds(high):
        return shape.length_m if start_m <= SMALL_M else None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return end_at(high)
