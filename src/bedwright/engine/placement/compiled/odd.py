"""Blocks of beds that are not rectangles, counted before the search."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.placement.blocks import Blocks, Lane
from bedwright.engine.placement.compiled.lines import shortest_ends
from bedwright.engine.placement.compiled.records import BLOCKS, LEAST_PATCH, LEAST_PATCH_M, Records
from bedwright.engine.placement.layout import inner_span, lattice, line_gap
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import SMALL_M, STEP_M
from bedwright.engine.placement.value import out_of_reach
from bedwright.model.weather import FloatArray

QUANTITIES = (1.0, 0.75, 0.5, 0.35, 0.2)
"""Shares of a request that a block of an odd outline may hold."""

FINE_M = 5.0
"""Longer beds are tried at every other step only."""


def odd_blocks(
    problem: PlacementProblem, request: int, bed: int, ways: Sequence[Lane], first: int
) -> Records:
    """Shortest blocks of a request in each lane of a bed, for several amounts and all starts.

    Parameters
    ----------
    ways
        Lanes of the bed for the crop.
    first
        Number of the first of them in the table of lanes.
    """
    facts = problem.requests[request]
    wanted, spacing = facts.request.n_plants, facts.spacing
    least = max(1, math.ceil(min(LEAST_PATCH * wanted, LEAST_PATCH_M / spacing.in_row_m) - SMALL_M))
    amounts = sorted({max(least, round(part * wanted)) for part in QUANTITIES}, reverse=True)
    parts = [np.zeros(0, BLOCKS)]
    for number, lane in enumerate(ways):
        parts += [_lane_blocks(problem, request, bed, lane, first + number, n_plants) for n_plants in amounts]
    made = np.concatenate(parts)
    made = made[(made["n"] >= least) | (made["n"] >= wanted)]
    return np.unique(made) if len(made) else made


def _lane_blocks(
    problem: PlacementProblem, request: int, bed: int, lane: Lane, number: int, n_plants: int
) -> Records:
    shape, spacing = problem.beds[bed].shape, problem.requests[request].spacing
    key = ("blocks", spacing, lane, n_plants, problem.rules)
    if key not in shape.measured:
        shape.measured[key] = _measured_blocks(problem, request, bed, lane, n_plants)
    made: Records = shape.measured[key].copy()
    made["lane"] = number
    return made


def _measured_blocks(problem: PlacementProblem, request: int, bed: int, lane: Lane, n_plants: int) -> Records:
    facts, shape = problem.requests[request], problem.beds[bed].shape
    spacing, along_row = facts.spacing, lane.direction == "along"
    lines = lattice(shape, lane.direction, spacing)
    if not len(lines.positions_m):
        return np.zeros(0, BLOCKS)
    starts, edges = _starts(shape.length_m, lane, spacing.edge_m + spacing.side_m)
    margin_m = spacing.end_m if along_row else spacing.side_m
    other = inner_span(
        lane.across_m, shape.width_m, spacing.side_m if along_row else spacing.end_m, spacing.edge_m
    )
    gap = line_gap(lines, spacing)
    sums = np.zeros(len(lines.positions_m) + gap + 1, dtype=np.int64)
    out = np.full((len(starts), 3), np.nan)
    shortest_ends(
        lines.low_m, lines.high_m, lines.positions_m, along_row, starts, edges, shape.length_m, margin_m,
        spacing.edge_m, *other, spacing.in_row_m, gap, lane.side is not None, n_plants, sums, out,
    )  # fmt: skip
    keep: NDArray[np.bool_] = np.isfinite(out[:, 0])
    made = np.zeros(int(keep.sum()), BLOCKS)
    made["start"], made["end"] = starts[keep], out[keep, 0]
    made["n"] = out[keep, 1].astype(np.int64)
    rows = np.ceil(made["n"] / np.maximum(1, out[keep, 2]))
    made["rows"] = 1.0 if lane.side is not None else rows
    blocks = Blocks(request, bed, lane, made["start"], made["end"], made["n"])
    made["reach"] = out_of_reach(problem.beds[bed], blocks, problem.rules)
    return made


def _starts(length_m: float, lane: Lane, depth_m: float) -> tuple[FloatArray, FloatArray]:
    """Where blocks of a lane may start and end."""
    n_steps = math.ceil(length_m / STEP_M - SMALL_M)
    grid = np.round(np.arange(n_steps) * STEP_M, 6)
    edges = np.append(grid[1:], length_m)
    depth_m = min(length_m, round(math.ceil(depth_m / STEP_M - SMALL_M) * STEP_M, 6))
    if lane.side == "start":
        return np.array([0.0]), np.array([depth_m])
    if lane.side == "end":
        return np.array([round(length_m - depth_m, 6)]), np.array([length_m])
    return grid[:: 1 if length_m <= FINE_M else 2], edges
