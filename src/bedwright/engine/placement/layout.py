"""How many plants stand in a block of ground, and where their rows run.

A block is a rectangle in the bed's frame. Rows are straight; plants of a row stand one
in-row spacing apart. Half an in-row spacing is kept at row ends and half a row spacing
beside a neighbouring block; at the bed's own edge half an in-row spacing is enough on all
sides, because the path lies beyond it.

Counts are true maxima over straight parallel rows, so wider spacing never gives more.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.placement.compiled.lines import count_on_lines
from bedwright.engine.placement.rules import SMALL_M, PlantingRules
from bedwright.engine.placement.shape import BedShape, free_pieces, near_pieces
from bedwright.model.book import Layout
from bedwright.model.crop import Crop
from bedwright.model.season import RowDirection
from bedwright.model.weather import FloatArray

IntArray = NDArray[np.int64]

Span = tuple[float, float]

LINE_STEP_M = 0.02
"""Rows of an odd outline stand on lines so far apart."""

MOST_LINES = 600
STRETCH = 1.25
"""Rows that fill a bed are spread by up to this factor, rather than leaving a bare strip."""


@dataclass(frozen=True, slots=True)
class Spacing:
    """What one crop needs between plants, rows and edges [m]."""

    in_row_m: float
    row_m: float
    edge_m: float
    """To the outline of the bed."""
    stagger_m: float = 0.0
    """Every other row begins so much further on; half of it is kept free at both ends of all rows."""
    everywhere: bool = False
    """True: rows of odd outlines run on where no arm reaches, as for what is pinned there."""

    @property
    def end_m(self) -> float:
        """From the last plant of a row to the end of the block."""
        return (self.in_row_m + self.stagger_m) / 2

    @property
    def side_m(self) -> float:
        """From the outer row to the side of the block; keeps plants of two blocks apart."""
        return max(math.hypot(self.row_m, self.stagger_m), self.in_row_m) / 2


def spacing_of(crop: Crop, rules: PlantingRules, layout: Layout = "rows") -> Spacing:
    """Spacing of a crop under the rules.

    Staggered rows stand closer, so far that a plant is a whole row spacing from its neighbours
    in the next row: √(r² - s²/4) from row spacing r and in-row spacing s (geometry).
    """
    in_row_m, row_m = crop.in_row_spacing_m, crop.row_spacing_m
    edge_m = min(in_row_m / 2, rules.edge_cap_m)
    if layout == "rows":
        return Spacing(in_row_m, row_m, edge_m)
    closer_m = max(math.sqrt(max(row_m**2 - in_row_m**2 / 4, 0.0)), row_m / 2)
    return Spacing(in_row_m, closer_m, edge_m + in_row_m / 4, in_row_m / 2)


@dataclass(frozen=True, slots=True)
class RowSpan:
    """One row, not yet numbered: first and last plant in the bed's frame."""

    start_m: tuple[float, float]
    end_m: tuple[float, float]
    n_plants: int
    spacing_m: float


def fit(length_m: float | FloatArray, pitch_m: float) -> IntArray:
    """Points that fit on a length, both ends used; 0 where the length is negative."""
    steps = np.floor(np.asarray(length_m) / pitch_m + SMALL_M).astype(np.int64)
    return np.where(np.asarray(length_m) < -SMALL_M, 0, np.maximum(steps, 0) + 1)


def inner_span(span_m: Span, extent_m: float, margin_m: float, edge_m: float) -> Span:
    """What is left of a block's side once the margins are kept, edge margins at the bed's ends."""
    low = edge_m if span_m[0] <= SMALL_M else span_m[0] + margin_m
    high = extent_m - edge_m if span_m[1] >= extent_m - SMALL_M else span_m[1] - margin_m
    return low, high


def count_plants(
    shape: BedShape,
    direction: RowDirection,
    along_m: tuple[FloatArray, FloatArray],
    across_m: Span,
    spacing: Spacing,
    single_row: bool = False,
) -> IntArray:
    """Most plants that fit in each of many blocks with the same ground across the bed.

    Parameters
    ----------
    along_m
        Starts and ends along the baseline, each of shape (n_blocks,) [m].
    across_m
        Ground across the baseline, from and to [m].
    single_row
        One row only, as at a trellis.

    Returns
    -------
    array of int, shape (n_blocks,)
    """
    starts, ends = along_m
    if shape.rectangular:
        return _count_in_rectangle(shape, direction, starts, ends, across_m, spacing, single_row)
    return np.array(
        [
            _count_on_lines(shape, direction, (a, b), across_m, spacing, single_row)
            for a, b in zip(starts.tolist(), ends.tolist(), strict=True)
        ],
        dtype=np.int64,
    )


def _count_in_rectangle(
    shape: BedShape,
    direction: RowDirection,
    starts: FloatArray,
    ends: FloatArray,
    across_m: Span,
    spacing: Spacing,
    single_row: bool,
) -> IntArray:
    along_row = direction == "along"
    margin_m = spacing.end_m if along_row else spacing.side_m
    low = np.where(starts <= SMALL_M, spacing.edge_m, starts + margin_m)
    high = np.where(ends >= shape.length_m - SMALL_M, shape.length_m - spacing.edge_m, ends - margin_m)
    c_low, c_high = inner_span(
        across_m, shape.width_m, spacing.side_m if along_row else spacing.end_m, spacing.edge_m
    )
    if along_row:
        n_stations, n_rows = fit(high - low, spacing.in_row_m), fit(c_high - c_low, spacing.row_m)
    else:
        n_stations, n_rows = fit(c_high - c_low, spacing.in_row_m), fit(high - low, spacing.row_m)
    if single_row:
        n_rows = np.minimum(n_rows, 1)
    return n_stations * n_rows


@dataclass(frozen=True, slots=True, eq=False)
class Lines:
    """Free stretches of all lattice lines of a bed, padded to the same number per line."""

    positions_m: FloatArray
    low_m: FloatArray
    """(n_lines, n_pieces), +inf where there is none."""
    high_m: FloatArray


def lattice(shape: BedShape, direction: RowDirection, spacing: Spacing) -> Lines:
    """Free stretches of the lines that rows of a direction may stand on."""
    key = ("lattice", direction, spacing.edge_m, spacing.everywhere)
    found: Lines | None = shape.measured.get(key)
    if found is None:
        found = shape.measured[key] = _measured_lattice(shape, direction, spacing)
    return found


def _measured_lattice(shape: BedShape, direction: RowDirection, spacing: Spacing) -> Lines:
    extent_m = shape.extent_m(direction)[1]
    step_m = LINE_STEP_M * max(1, math.ceil(extent_m / LINE_STEP_M / MOST_LINES))
    positions: FloatArray = np.arange(1, math.ceil(extent_m / step_m), dtype=np.float64) * step_m
    pieces = free_pieces(shape, direction, positions, spacing.edge_m - SMALL_M)
    if math.isfinite(shape.arm_m) and not spacing.everywhere:
        pieces = near_pieces(shape, direction, positions, pieces)
    width = max([1, *(len(found) for found in pieces)])
    low = np.full((len(positions), width), np.inf)
    high = np.full((len(positions), width), -np.inf)
    for line, found in enumerate(pieces):
        for number, (start, end) in enumerate(found):
            low[line, number], high[line, number] = start, end
    return Lines(positions, low, high)


def _stations(lines: Lines, span_m: Span, pitch_m: float) -> tuple[IntArray, FloatArray]:
    """Stations per line and piece, leftmost first, and the first station of each piece.

    Taking the leftmost free point again and again gives the most points with a least gap.
    """
    count = np.zeros(lines.low_m.shape, dtype=np.int64)
    first = np.full(lines.low_m.shape, np.inf)
    earliest = np.full(len(lines.positions_m), -np.inf)
    for piece in range(lines.low_m.shape[1]):
        start = np.maximum(np.maximum(lines.low_m[:, piece], span_m[0]), earliest)
        room = np.minimum(lines.high_m[:, piece], span_m[1]) - start
        count[:, piece] = fit(np.where(np.isfinite(room), room, -1.0), pitch_m)
        first[:, piece] = start
        taken = count[:, piece] > 0
        earliest = np.where(taken, start + count[:, piece] * pitch_m, earliest)
    return count, first


@dataclass(frozen=True, slots=True, eq=False)
class _Usable:
    """Lines of a block that may carry a row, and the most plants each can hold."""

    lines: IntArray
    n_plants: list[int]
    gap: int
    """Least difference between the numbers of two rows' lines."""


def _usable(
    shape: BedShape, direction: RowDirection, along_m: Span, across_m: Span, spacing: Spacing
) -> _Usable:
    lines = lattice(shape, direction, spacing)
    gap = line_gap(lines, spacing)
    row_span, line_span = _spans(shape, direction, along_m, across_m, spacing)
    low, high = np.searchsorted(lines.positions_m, (line_span[0] - SMALL_M, line_span[1] + SMALL_M))
    if high <= low or row_span[1] < row_span[0] - SMALL_M:
        return _Usable(np.empty(0, dtype=np.int64), [], gap)
    within = Lines(lines.positions_m[low:high], lines.low_m[low:high], lines.high_m[low:high])
    per_line = _stations(within, row_span, spacing.in_row_m)[0].sum(axis=1)
    return _Usable(np.arange(low, high, dtype=np.int64), per_line.tolist(), gap)


def _count_on_lines(
    shape: BedShape,
    direction: RowDirection,
    along_m: Span,
    across_m: Span,
    spacing: Spacing,
    single_row: bool,
) -> int:
    """Most plants on lines at least a row spacing apart."""
    most, longest = _counted_on_lines(shape, direction, along_m, across_m, spacing)
    return longest if single_row else most


def _counted_on_lines(
    shape: BedShape, direction: RowDirection, along_m: Span, across_m: Span, spacing: Spacing
) -> tuple[int, int]:
    """(most plants in all rows, most in one) of a block."""
    key = ("count", direction, along_m, across_m, spacing)
    found: tuple[int, int] | None = shape.measured.get(key)
    if found is None:
        lines = lattice(shape, direction, spacing)
        row_span, line_span = _spans(shape, direction, along_m, across_m, spacing)
        first, last = np.searchsorted(lines.positions_m, (line_span[0] - SMALL_M, line_span[1] + SMALL_M))
        found = 0, 0
        if last > first and row_span[1] >= row_span[0] - SMALL_M:
            gap = line_gap(lines, spacing)
            sums = np.zeros(len(lines.positions_m) + gap + 1, dtype=np.int64)
            most, longest = count_on_lines(
                lines.low_m, lines.high_m, int(first), int(last), *row_span, spacing.in_row_m, gap, sums
            )
            found = int(most), int(longest)
        shape.measured[key] = found
    return found


def longest_row(
    shape: BedShape,
    direction: RowDirection,
    along_m: Span,
    across_m: Span,
    spacing: Spacing,
) -> int:
    """Most plants on any one line of a block of an outline that is not a rectangle."""
    return _counted_on_lines(shape, direction, along_m, across_m, spacing)[1]


def area_beyond_m2(shape: BedShape) -> float:
    """Ground of a bed that is out of reach [m²]."""
    if not math.isfinite(shape.arm_m):
        return 0.0
    if shape.rectangular:
        if shape.beyond is None:
            return 0.0
        (low_a, high_a), (low_c, high_c) = shape.beyond
        along_m = min(high_a, shape.length_m) - max(low_a, 0.0)
        return along_m * (min(high_c, shape.width_m) - max(low_c, 0.0))
    if "beyond" not in shape.measured:
        positions = np.arange(LINE_STEP_M / 2, shape.width_m, LINE_STEP_M)
        pieces = free_pieces(shape, "along", positions, SMALL_M)
        near = near_pieces(shape, "along", positions, pieces)
        lengths = [sum(high - low for line in found for low, high in line) for found in (pieces, near)]
        shape.measured["beyond"] = (lengths[0] - lengths[1]) * LINE_STEP_M
    return float(shape.measured["beyond"])


def line_gap(lines: Lines, spacing: Spacing) -> int:
    """Least difference between the numbers of two rows' lines."""
    step_m = float(lines.positions_m[0]) if len(lines.positions_m) else LINE_STEP_M
    return max(1, math.ceil(spacing.row_m / step_m - SMALL_M))


def _running_sums(usable: _Usable) -> list[int]:
    """Most plants on the first 0, 1, 2… lines."""
    # The first sums are padded, so that looking back a row spacing never leaves the list.
    gap, most = usable.gap, 0
    sums = [0] * gap
    for number, value in enumerate(usable.n_plants):
        with_row = value + sums[number]
        most = max(most, with_row)
        sums.append(most)
    return sums[gap - 1 :]


def _chosen_lines(usable: _Usable, single_row: bool) -> list[int]:
    """Lines that hold the most plants; evenly spaced where that gives as many."""
    values = usable.n_plants
    if not values or not max(values):
        return []
    if single_row:
        return [int(usable.lines[values.index(max(values))])]
    sums = _running_sums(usable)
    chosen: list[int] = []
    for offset in range(min(usable.gap, len(values))):
        even = list(range(offset, len(values), usable.gap))
        if sum(values[line] for line in even) == sums[-1]:
            chosen = [line for line in even if values[line]]
            break
    line = 0 if chosen else len(values)
    while line > 0:
        if sums[line] == sums[line - 1]:
            line -= 1
        else:
            chosen.append(line - 1)
            line = max(0, line - usable.gap)
    return [int(usable.lines[at]) for at in sorted(chosen)]


def _spans(
    shape: BedShape, direction: RowDirection, along_m: Span, across_m: Span, spacing: Spacing
) -> tuple[Span, Span]:
    """(along a row, square to it): where plants of a block may stand."""
    row_side, line_side = (along_m, across_m) if direction == "along" else (across_m, along_m)
    row_extent, line_extent = shape.extent_m(direction)
    return (
        inner_span(row_side, row_extent, spacing.end_m, spacing.edge_m),
        inner_span(line_side, line_extent, spacing.side_m, spacing.edge_m),
    )


def lay_rows(
    shape: BedShape,
    direction: RowDirection,
    along_m: Span,
    across_m: Span,
    spacing: Spacing,
    n_wanted: int,
    single_row: bool = False,
) -> tuple[RowSpan, ...]:
    """Rows of a block with at most `n_wanted` plants, shared evenly over as few rows as will do.

    Parameters
    ----------
    along_m, across_m
        Ground of the block in the bed's frame, from and to [m].
    n_wanted
        Plants wanted; fewer are laid where the block holds fewer.

    Returns
    -------
    tuple of RowSpan
        In order square to the rows, then along them; empty if nothing fits.
    """
    if shape.rectangular:
        strips = _even_strips(shape, direction, along_m, across_m, spacing, n_wanted, single_row)
    else:
        strips = _odd_strips(shape, direction, along_m, across_m, spacing, single_row)
    counts = _share_out([strip.n_plants for strip in strips], n_wanted)
    rows = []
    for number, (strip, count) in enumerate(zip(strips, counts, strict=True)):
        if count:
            start = strip.start_m
            if strip.slack_m is not None:
                gaps = (strip.n_plants - count) / 2
                # Staggered rows are shortened by whole gaps, or their plants would no longer alternate.
                start += strip.slack_m / 2 + (gaps // 1 if spacing.stagger_m else gaps) * spacing.in_row_m
            if len(strips) > 1:
                start += spacing.stagger_m / 2 * (1 if number % 2 else -1)
            rows.append(_row(direction, strip.position_m, start, count, spacing.in_row_m))
    return tuple(rows)


@dataclass(frozen=True, slots=True)
class _Strip:
    """Room for one row: its line, its first station and how many fit."""

    position_m: float
    start_m: float
    n_plants: int
    slack_m: float | None
    """Length left over where the row may be centred; None where it may not move."""


def _even_strips(
    shape: BedShape,
    direction: RowDirection,
    along_m: Span,
    across_m: Span,
    spacing: Spacing,
    n_wanted: int,
    single_row: bool,
) -> list[_Strip]:
    row_span, line_span = _spans(shape, direction, along_m, across_m, spacing)
    n_stations = int(fit(row_span[1] - row_span[0], spacing.in_row_m))
    n_rows = int(fit(line_span[1] - line_span[0], spacing.row_m))
    if single_row:
        n_rows = min(n_rows, 1)
    if not n_stations or not n_rows:
        return []
    n_rows = min(n_rows, math.ceil(n_wanted / n_stations))
    room_m = line_span[1] - line_span[0]
    pitch_m = min(room_m / (n_rows - 1), spacing.row_m * STRETCH) if n_rows > 1 else 0.0
    first_m = line_span[0] + (room_m - pitch_m * (n_rows - 1)) / 2
    if single_row:
        # A row at a support stands as near to it as the edge allows.
        near_start = line_span[0] <= spacing.edge_m + SMALL_M
        first_m = line_span[0] if near_start else line_span[1]
    slack_m = row_span[1] - row_span[0] - (n_stations - 1) * spacing.in_row_m
    return [
        _Strip(first_m + row * pitch_m, row_span[0], n_stations, max(0.0, slack_m)) for row in range(n_rows)
    ]


def _odd_strips(
    shape: BedShape,
    direction: RowDirection,
    along_m: Span,
    across_m: Span,
    spacing: Spacing,
    single_row: bool,
) -> list[_Strip]:
    chosen = _chosen_lines(_usable(shape, direction, along_m, across_m, spacing), single_row)
    lines = lattice(shape, direction, spacing)
    row_span = _spans(shape, direction, along_m, across_m, spacing)[0]
    count, first = _stations(lines, row_span, spacing.in_row_m)
    strips = []
    for line in chosen:
        pieces = np.flatnonzero(count[line])
        for piece in pieces:
            slack_m = None
            if len(pieces) == 1:
                room_m = min(float(lines.high_m[line, piece]), row_span[1]) - float(first[line, piece])
                slack_m = max(0.0, room_m - (int(count[line, piece]) - 1) * spacing.in_row_m)
            strips.append(
                _Strip(
                    float(lines.positions_m[line]),
                    float(first[line, piece]),
                    int(count[line, piece]),
                    slack_m,
                )
            )
    return strips


def _share_out(room: list[int], n_wanted: int) -> list[int]:
    """Plants per row: the fullest rows give up plants first, the last of them before the others."""
    counts = list(room)
    surplus = sum(counts) - n_wanted
    if surplus > 0 and len(counts) > 1:
        while counts and sum(counts) - counts[-1] >= n_wanted:
            counts.pop()
        surplus = sum(counts) - n_wanted
    while surplus > 0:
        fullest = max(range(len(counts)), key=lambda row: (counts[row], row))
        counts[fullest] -= 1
        surplus -= 1
    return counts + [0] * (len(room) - len(counts))


def _row(
    direction: RowDirection, position_m: float, start_m: float, n_plants: int, spacing_m: float
) -> RowSpan:
    end_m = start_m + (n_plants - 1) * spacing_m
    start, end = (start_m, position_m), (end_m, position_m)
    if direction == "across":
        start, end = (position_m, start_m), (position_m, end_m)
    return RowSpan(start, end, n_plants, spacing_m if n_plants > 1 else 0.0)
