"""What is left of sun and sky behind all bodies together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bedwright.engine.sunlight.skylines import Band, IntArray, Skyline, StepArray
from bedwright.engine.sunlight.sun_table import SumArray, SunTable
from bedwright.model.weather import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """The sun of one direction: sums below each step, steps counted from the lowest sun."""

    lowest: int
    cumulated: SumArray

    def rows(self, steps: StepArray) -> StepArray:
        above = np.maximum(steps, np.uint16(self.lowest)) - np.uint16(self.lowest)
        return np.minimum(above, np.uint16(len(self.cumulated) - 1))


@dataclass(frozen=True, slots=True, eq=False)
class Hidden:
    """What all bodies together hide from each place, in so many directions."""

    hard: StepArray
    """(n_directions, n_places): height to which bodies reach that stand on the ground and stop all sun."""
    soft: Sequence[Skyline]
    """All others."""


def hidden_by(skylines: Iterable[Skyline], n_directions: int, n_places: int) -> Hidden:
    """All bodies together.

    Skylines are taken one by one, so that a site of many bodies need not hold them all.
    """
    hard = np.zeros((n_directions, n_places), dtype=np.uint16)
    soft = []
    for skyline in skylines:
        if skyline.high is not None:
            np.maximum(hard, skyline.high, out=hard)
        elif skyline.bands:
            soft.append(skyline)
    return Hidden(hard, soft)


def remaining(hidden: Hidden, table: SunTable) -> FloatArray:
    """What each place gets of a table's sun, (n_places, n_periods), in the table's unit.

    Bodies that let part of the sun through count with that part; of several in line the
    product is taken, and no body counts twice in one direction and height.
    """
    hard, soft = hidden.hard, hidden.soft
    n_places = hard.shape[1]
    passing = [_passing(skyline.shade, table) for skyline in soft]
    lost = np.zeros((n_places, len(table.months)), np.float32)
    for direction, (lowest, cumulated) in enumerate(zip(table.lowest, table.cumulated, strict=True)):
        if not len(cumulated):
            continue
        part, floor = _Part(lowest, cumulated), hard[direction]
        if int(floor.max(initial=0)) > lowest:
            lost += part.cumulated.take(part.rows(floor), axis=0)
        _take_soft(lost, direction, part, floor, soft, passing)
    left: FloatArray = np.maximum(table.total - lost, 0) * table.per_count
    return left


def _passing(shade: tuple[float, ...], table: SunTable) -> SumArray:
    return np.array([1 - shade[month - 1] for month in table.months], dtype=np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class _Span:
    """Rows of the sun one band hides in one direction."""

    body: int
    cells: IntArray
    low: StepArray
    high: StepArray


def _take_soft(
    lost: SumArray,
    direction: int,
    part: _Part,
    floor: StepArray,
    soft: Sequence[Skyline],
    passing: Sequence[SumArray],
) -> None:
    spans = [
        _span(body, band, slice(band.starts[direction], band.starts[direction + 1]), part, floor)
        for body, skyline in enumerate(soft)
        for band in skyline.bands
        if band.starts[direction] < band.starts[direction + 1]
    ]
    spans = [span for span in spans if span.cells.size]
    if not spans:
        return
    n_spans = np.zeros(len(floor), dtype=np.int64)
    for span in spans:
        n_spans[span.cells] += 1
    for span in spans:
        alone = n_spans.take(span.cells) == 1
        cells = span.cells[alone]
        taken = part.cumulated.take(span.high[alone], axis=0)
        taken -= part.cumulated.take(span.low[alone], axis=0)
        taken *= 1 - passing[span.body]
        taken += lost.take(cells, axis=0)
        lost[cells] = taken
    crowded = np.flatnonzero(n_spans > 1)
    if crowded.size:
        lost[crowded] += _taken_by_several(spans, crowded, n_spans, part, passing)


def _span(body: int, band: Band, rays: slice, part: _Part, floor: StepArray) -> _Span:
    cells = band.place[rays]
    low, high = part.rows(np.maximum(band.low[rays], floor.take(cells))), part.rows(band.high[rays])
    kept = high > low
    return _Span(body, cells[kept], low[kept], high[kept])


def _taken_by_several(
    spans: Sequence[_Span], crowded: IntArray, n_spans: IntArray, part: _Part, passing: Sequence[SumArray]
) -> SumArray:
    """What overlapping spans take: between each two ends in a row the set of bodies is the same."""
    at = np.full(len(n_spans), -1)
    at[crowded] = np.arange(crowded.size)
    depth = int(n_spans[crowded].max())
    low = np.zeros((depth, crowded.size), dtype=np.int64)
    high, body = np.zeros_like(low), np.zeros_like(low)
    filled = np.zeros(crowded.size, dtype=np.int64)
    for span in spans:
        known = at[span.cells] >= 0
        places = at[span.cells[known]]
        slot = filled[places]
        low[slot, places], high[slot, places] = span.low[known], span.high[known]
        body[slot, places] = span.body
        filled[places] += 1
    ends = np.sort(np.concatenate((low, high)), axis=0)
    kept_share = np.stack(passing)
    taken = np.zeros((crowded.size, part.cumulated.shape[1]), np.float32)
    for start, end in pairwise(ends):
        covered = (low <= start) & (high >= end) & (high > low)
        shares = 1 - _passed(covered, body, kept_share)
        taken += (part.cumulated.take(end, axis=0) - part.cumulated.take(start, axis=0)) * shares
    return taken


def _passed(covered: BoolArray, body: IntArray, kept_share: SumArray) -> SumArray:
    """Product of what the covering bodies let through, each body once."""
    passed = np.ones((covered.shape[1], kept_share.shape[1]), np.float32)
    for slot in range(len(covered)):
        again = np.zeros(covered.shape[1], dtype=np.bool_)
        for earlier in range(slot):
            again |= covered[earlier] & (body[earlier] == body[slot])
        counts = covered[slot] & ~again
        passed[counts] *= kept_share[body[slot, counts]]
    return passed
