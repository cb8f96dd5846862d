"""Plants on the straight lines of an odd outline, compiled."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numba
import numpy as np

from bedwright.engine.placement.rules import SMALL_M


@numba.njit(cache=True)
def plants_on_line(low, high, row_low, row_high, pitch):  # type: ignore[no-untyped-def]
    """Most points on the pieces of one line, a pitch apart, the leftmost free point first."""
    total = 0
    earliest = -np.inf
    for piece in range(low.size):
        start = max(low[piece], row_low, earliest)
        room = min(high[piece], row_high) - start
        if not np.isfinite(room) or room < -SMALL_M:
            continue
        number = max(int(np.floor(room / pitch + SMALL_M)), 0) + 1
        total += number
        earliest = start + number * pitch
    return total


@numba.njit(cache=True)
def count_on_lines(low, high, first, last, row_low, row_high, in_row, gap, sums):  # type: ignore[no-untyped-def]
    """(most plants on lines at least `gap` apart, most on one line) of lines `first` to `last`.

    `sums` is scratch of shape (n_lines + gap + 1,).
    """
    longest = 0
    for at in range(gap):
        sums[at] = 0
    most = 0
    for number in range(last - first):
        value = plants_on_line(low[first + number], high[first + number], row_low, row_high, in_row)
        longest = max(longest, value)
        most = max(most, value + sums[number])
        sums[gap + number] = most
    return most, longest


@numba.njit(cache=True)
def shortest_ends(  # type: ignore[no-untyped-def]
    low, high, positions, along_row, starts, edges, length, margin, edge, other_low, other_high,
    in_row, gap, single, n_wanted, sums, out,
):  # fmt: skip
    """Shortest block from each start that holds the plants.

    `edges` are all places a block may end; `out` (n_starts, 3) gets end (nan if none), plants
    and the longest row. The end never falls as the start moves on.
    """
    at = 0
    for number in range(starts.size):
        start = starts[number]
        begin = edge if start <= SMALL_M else start + margin
        out[number, 0] = np.nan
        while at < edges.size and edges[at] <= start + SMALL_M:
            at += 1
        back = at
        found = False
        while back < edges.size:
            end = edges[back]
            stop = length - edge if end >= length - SMALL_M else end - margin
            if along_row:
                first = np.searchsorted(positions, other_low - SMALL_M)
                last = np.searchsorted(positions, other_high + SMALL_M)
                row_low, row_high = begin, stop
            else:
                first = np.searchsorted(positions, begin - SMALL_M)
                last = np.searchsorted(positions, stop + SMALL_M)
                row_low, row_high = other_low, other_high
            count, longest = 0, 0
            if last > first and row_high >= row_low - SMALL_M:
                most, longest = count_on_lines(low, high, first, last, row_low, row_high, in_row, gap, sums)
                count = longest if single else most
            whole = start <= SMALL_M and back == edges.size - 1 and count > 0
            if count >= n_wanted or whole:
                out[number, 0], out[number, 1], out[number, 2] = end, min(count, n_wanted), longest
                found = True
                break
            back += 1
        if not found and start > SMALL_M:
            break
        if found:
            at = back
