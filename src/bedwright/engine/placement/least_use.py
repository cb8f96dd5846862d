"""The least that a planting can take of a bed, by kind of place: for what no plan can exceed.

At any point along a bed and any day stands either one block over the full width or at most two,
one on each side. So a block on one side takes at least half of its length for itself, however
narrow it is; and it takes its area. Both are kept count of.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from bedwright.engine.placement.blocks import Lane, Spot, lanes
from bedwright.engine.placement.layout import inner_span
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import SMALL_M, STEP_M

Kind = Literal["whole", "side", "support"]
"""Over the full width, on one side, or the single row at a support."""

KINDS: tuple[Kind, ...] = ("whole", "side", "support")


@dataclass(frozen=True, slots=True)
class LeastUse:
    """What a request takes of one bed at least in places of one kind, each figure over all of its lanes."""

    kind: Kind
    length_m: float
    """Length of bed for each plant, with the full margins between blocks; half on one side."""
    area_m2: float
    """Ground for each plant, likewise."""
    season_m2: float
    """Ground for each plant where the margins at the ends of the bed are saved."""
    rows: float
    """Rows to set out for each plant."""

    def beats(self, other: LeastUse) -> bool:
        """True if the other kind takes no less of anything."""
        return (
            self.length_m <= other.length_m + SMALL_M
            and self.area_m2 <= other.area_m2 + SMALL_M
            and self.season_m2 <= other.season_m2 + SMALL_M
            and self.rows <= other.rows + SMALL_M
        )


def least_uses(problem: PlacementProblem, request: int, bed: int) -> tuple[LeastUse, ...]:
    """What a request takes of a bed at least, for each kind of place there is; empty if none holds a plant.

    An odd outline holds no more than the box round it.
    """
    facts, place = problem.requests[request], problem.beds[bed]
    climber = facts.crop.climbs and facts.crop.support != "none"
    width_m = place.shape.width_m
    levels_m = [round(number * STEP_M, 6) for number in range(1, math.ceil(width_m / STEP_M - SMALL_M))]
    found: dict[Kind, LeastUse] = {}
    for lane in lanes(
        place, facts.spacing, climber=climber, only_support=facts.needs_support_side, levels_m=levels_m,
        anywhere=facts.anywhere,
    ):  # fmt: skip
        use = _lane_use(problem, request, bed, lane)
        if use is not None:
            found[use.kind] = _least(found.get(use.kind, use), use)
    whole = found.get("whole")
    # Without a support to keep clear of, a side that saves nothing is no better than the full width.
    if whole and "side" in found and not place.support_sides and whole.beats(found["side"]):
        del found["side"]
    return tuple(found[kind] for kind in KINDS if kind in found)


def least_of(uses: Iterable[LeastUse]) -> tuple[LeastUse, ...]:
    """For each kind of place, the least of each figure."""
    found: dict[Kind, LeastUse] = {}
    for use in uses:
        found[use.kind] = _least(found.get(use.kind, use), use)
    return tuple(found[kind] for kind in KINDS if kind in found)


def _least(one: LeastUse, other: LeastUse) -> LeastUse:
    return LeastUse(
        one.kind,
        min(one.length_m, other.length_m),
        min(one.area_m2, other.area_m2),
        min(one.season_m2, other.season_m2),
        min(one.rows, other.rows),
    )


def _lane_use(problem: PlacementProblem, request: int, bed: int, lane: Lane) -> LeastUse | None:
    """Least use for each plant in a lane, over all amounts."""
    facts, shape = problem.requests[request], problem.beds[bed].shape
    spacing, wanted, along_row = facts.spacing, facts.request.n_plants, lane.direction == "along"
    margin_m = spacing.end_m if along_row else spacing.side_m
    pitch_m = spacing.in_row_m if along_row else spacing.row_m
    low, high = inner_span(
        lane.across_m, shape.width_m, spacing.side_m if along_row else spacing.end_m, spacing.edge_m
    )
    n_across = _fit(high - low, spacing.row_m if along_row else spacing.in_row_m)
    if along_row and lane.side is not None:
        n_across = min(n_across, 1)
    # Of staggered rows the edge may be more than what is kept between blocks.
    nearest_m = min(spacing.edge_m, margin_m)
    most_points = _fit(shape.length_m - 2 * nearest_m, pitch_m)
    if lane.side in ("start", "end"):
        most_points = min(1, most_points)
    if not n_across or not most_points:
        return None
    points = np.arange(1, min(most_points, math.ceil(wanted / n_across)) + 1)
    plants = np.minimum(wanted, points * n_across)
    depth_m = lane.across_m[1] - lane.across_m[0]
    run_m = (points - 1) * pitch_m
    length_m = float(((run_m + 2 * margin_m) / plants).min())
    usable = (max(shape.length_m, shape.width_m) if along_row else depth_m) - 2 * spacing.edge_m
    per_row = max(1, math.floor(usable / spacing.in_row_m + SMALL_M) + 1)
    whole = depth_m > shape.width_m - SMALL_M
    kind: Kind = "support" if lane.side is not None else "whole" if whole else "side"
    return LeastUse(
        kind,
        length_m if whole else length_m / 2,
        length_m * depth_m,
        float(((run_m + 2 * nearest_m) / plants).min()) * depth_m,
        1 / per_row if lane.side is None else 1 / max(1, int(plants.max())),
    )


def _fit(length_m: float, pitch_m: float) -> int:
    """Points that fit on one length: `layout.fit` without arrays, as it is asked very often."""
    return 0 if length_m < -SMALL_M else max(0, math.floor(length_m / pitch_m + SMALL_M)) + 1


def taken_length_m(problem: PlacementProblem, spot: Spot) -> float:
    """Length of bed that what stands takes for itself; none of a block that touches neither side."""
    low, high = spot.across_m
    length_m, width_m = spot.along_m[1] - spot.along_m[0], problem.beds[spot.bed].shape.width_m
    sides = (low <= SMALL_M) + (high >= width_m - SMALL_M)
    return length_m * sides / 2
