"""Direct sun on blocks of ground, read off running sums over the cells of a bed."""

from __future__ import annotations

import numpy as np

from bedwright.engine.placement.blocks import Blocks
from bedwright.engine.placement.layout import IntArray
from bedwright.engine.placement.light_sums import LightSums
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import SMALL_M
from bedwright.model.weather import FloatArray


def block_light_h(problem: PlacementProblem, blocks: Blocks) -> FloatArray | None:
    """Mean direct sun over each block by month, (12, n_blocks) [h a day]; None if not known.

    nan for blocks without a lit cell inside the bed.
    """
    light = problem.beds[blocks.bed].light
    if light is None:
        return None
    cells = _cells(light, blocks)
    number = sum_within(light.n_cells, *cells)
    total = sum_within(light.sun_h, *cells)
    return np.where(number > 0, total / np.maximum(number, 1), np.nan)


def _cells(light: LightSums, blocks: Blocks) -> tuple[IntArray, IntArray, int, int]:
    """Cells a block touches: first and last along for each block, then across; ends excluded."""
    cell = light.cell_m
    n_along, n_across = light.n_cells.shape[0] - 1, light.n_cells.shape[1] - 1
    low = min(n_across - 1, int(blocks.lane.across_m[0] / cell + SMALL_M))
    high = min(n_across, max(low + 1, int(np.ceil(blocks.lane.across_m[1] / cell - SMALL_M))))
    first = np.minimum((blocks.start_m / cell + SMALL_M).astype(np.int64), n_along - 1)
    last = np.maximum(first + 1, np.minimum(n_along, np.ceil(blocks.end_m / cell - SMALL_M).astype(np.int64)))
    return first, last, low, high


def sum_within(sums: FloatArray, first: IntArray, last: IntArray, low: int, high: int) -> FloatArray:
    """Sum over cells of blocks, from running sums over the last two axes."""
    return np.asarray(
        sums[..., last, high] - sums[..., first, high] - sums[..., last, low] + sums[..., first, low]
    )


def light_got_h(problem: PlacementProblem, blocks: Blocks) -> FloatArray | None:
    """Direct sun over the months each date stands, (n_dates, n_blocks) [h a day]."""
    by_month = block_light_h(problem, blocks)
    if by_month is None:
        return None
    got: FloatArray = problem.requests[blocks.request].dates.month_share @ by_month
    return got


def light_short_h(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """Hours a day short of the crop's need, mean of the block's cells; 0 where not known."""
    light, facts = problem.beds[blocks.bed].light, problem.requests[blocks.request]
    if light is None:
        return np.zeros((1, len(blocks.start_m)))
    cells = _cells(light, blocks)
    number = sum_within(light.n_cells, *cells)
    short = np.zeros((len(facts.dates.choices), len(blocks.start_m)))
    for date, months in enumerate(facts.dates.month_share):
        sums = light.short_sums(months, facts.crop.min_sun_h)
        if sums is not None:
            short[date] = np.where(number > 0, sum_within(sums, *cells) / np.maximum(number, 1), 0.0)
    return short


def spare_h(problem: PlacementProblem, blocks: Blocks) -> FloatArray:
    """Hours a day of sun over the need, (n_dates, n_blocks); 0 where light is short, inf where not known."""
    facts = problem.requests[blocks.request]
    got = light_got_h(problem, blocks)
    if got is None:
        return np.full((len(facts.dates.choices), len(blocks.start_m)), np.inf)
    return np.where(np.isnan(got), np.inf, np.maximum(0.0, got - facts.crop.min_sun_h))
