"""Plants on parallel rows of any angle inside an outline, compiled."""

# ruff: noqa: PLR0917 - compiled functions take tables one by one: handing them over in a bundle is slow

from __future__ import annotations

import numba
import numpy as np

MOST_PIECES = 64
"""Stretches of one row that are told apart; an outline has at most a quarter as many corners."""

SMALL = 1e-9
"""Share of a distance below which two are taken as equal."""


@numba.njit(cache=True)
def turned(points, angle_rad):  # type: ignore[no-untyped-def]
    """Points seen from rows that run at an angle: along them, and across them."""
    sine, cosine = np.sin(angle_rad), np.cos(angle_rad)
    out = np.empty_like(points)
    out[:, 0] = cosine * points[:, 0] + sine * points[:, 1]
    out[:, 1] = cosine * points[:, 1] - sine * points[:, 0]
    return out


@numba.njit(cache=True)
def near_edge(x1, y1, x2, y2, y, clear):  # type: ignore[no-untyped-def]
    """Interval of a line at height y that lies nearer to an edge than `clear`; empty as (1, 0)."""
    low, high = np.inf, -np.inf
    for corner in range(2):
        cx, cy = (x1, y1) if corner == 0 else (x2, y2)
        square = clear * clear - (y - cy) * (y - cy)
        if square > 0:
            half = np.sqrt(square)
            low, high = min(low, cx - half), max(high, cx + half)
    dx, dy = x2 - x1, y2 - y1
    length = np.sqrt(dx * dx + dy * dy)
    if length > 0 and dy != 0:
        # Where the line crosses the two sides of the strip round the edge, if beside the edge itself.
        for side in range(2):
            shift = clear if side == 0 else -clear
            nx, ny = -dy / length * shift, dx / length * shift
            along = (y - y1 - ny) / dy
            if 0 <= along <= 1:
                x = x1 + nx + along * dx
                low, high = min(low, x), max(high, x)
    elif length > 0 and abs(y - y1) < clear:
        low, high = min(low, x1, x2), max(high, x1, x2)
    return (low, high) if low < high else (1.0, 0.0)


@numba.njit(cache=True)
def inside_outline(corners, y, low, high, sorted_x):  # type: ignore[no-untyped-def]
    """Stretches of a line inside the outline, by even and odd crossings; returns how many."""
    n = 0
    last = len(corners) - 1
    for at in range(len(corners)):
        x1, y1, x2, y2 = corners[last, 0], corners[last, 1], corners[at, 0], corners[at, 1]
        last = at
        if (y1 <= y) != (y2 <= y):
            x = x1 + (y - y1) / (y2 - y1) * (x2 - x1)
            place = n
            while place > 0 and sorted_x[place - 1] > x:
                sorted_x[place] = sorted_x[place - 1]
                place -= 1
            sorted_x[place] = x
            n += 1
    for pair in range(n // 2):
        low[pair], high[pair] = sorted_x[2 * pair], sorted_x[2 * pair + 1]
    return n // 2


@numba.njit(cache=True)
def take_away(low, high, n, begin, end):  # type: ignore[no-untyped-def]
    """Stretches without the open interval from `begin` to `end`; returns how many are left."""
    total = n
    for number in range(n):
        if end <= low[number] or begin >= high[number]:
            continue
        if begin > low[number] and end < high[number]:
            if total < MOST_PIECES:
                low[total], high[total] = end, high[number]
                total += 1
            high[number] = begin
        elif begin > low[number]:
            high[number] = begin
        elif end < high[number]:
            low[number] = end
        else:
            high[number] = low[number] - 1
    kept = 0
    for number in range(total):
        if high[number] >= low[number]:
            low[kept], high[kept] = low[number], high[number]
            kept += 1
    return kept


@numba.njit(cache=True)
def pieces_of(corners, y, clear, low, high, scratch):  # type: ignore[no-untyped-def]
    """Stretches of a line that keep clear of the outline, into `low` and `high`; returns how many."""
    n = inside_outline(corners, y, low, high, scratch)
    last = len(corners) - 1
    for at in range(len(corners)):
        begin, end = near_edge(corners[last, 0], corners[last, 1], corners[at, 0], corners[at, 1], y, clear)
        last = at
        if begin < end:
            n = take_away(low, high, n, begin, end)
    return n


@numba.njit(cache=True)
def count_from(low, high, n_pieces, n_rows, x_pitch, shift, phase, tolerance):  # type: ignore[no-untyped-def]
    """Points of rows whose points stand at phase + whole pitches, every other row shifted."""
    total = 0
    for row in range(n_rows):
        start = phase + (shift if row % 2 else 0.0)
        for piece in range(n_pieces[row]):
            first = np.ceil((low[row, piece] - tolerance - start) / x_pitch)
            last = np.floor((high[row, piece] + tolerance - start) / x_pitch)
            if last >= first:
                total += int(last - first) + 1
    return total


@numba.njit(cache=True)
def best_phase(low, high, n_pieces, n_rows, x_pitch, shift, tolerance, enough):  # type: ignore[no-untyped-def]
    """(most points, phase): rows are pushed along until one of them starts at an end of its ground."""
    most, best = 0, 0.0
    for row in range(n_rows):
        own = shift if row % 2 else 0.0
        for piece in range(n_pieces[row]):
            for side in range(2):
                phase = (low[row, piece] if side == 0 else high[row, piece]) - own
                found = count_from(low, high, n_pieces, n_rows, x_pitch, shift, phase, tolerance)
                if found > most:
                    most, best = found, phase
                    if most >= enough:
                        return most, best
    return most, best


@numba.njit(cache=True)
def lay(corners, first_y, n_rows, y_pitch, clear, low, high, n_pieces, scratch):  # type: ignore[no-untyped-def]
    """Free stretches of evenly spaced rows; returns the longest."""
    longest = 0.0
    for row in range(n_rows):
        n_pieces[row] = pieces_of(corners, first_y + row * y_pitch, clear, low[row], high[row], scratch)
        for piece in range(n_pieces[row]):
            longest = max(longest, high[row, piece] - low[row, piece])
    return longest


@numba.njit(cache=True)
def pattern(number, apart, extent):  # type: ignore[no-untyped-def]
    """(in-row pitch, least row pitch, shift of every other row) of the patterns tried; 0 for none.

    0 square, 1 equal triangles, then rows stretched so that whole or half pitches fill the
    length: the wider plants stand in the row, the closer the rows may come.
    """
    if number == 0:
        return apart, apart, 0.0
    x = apart
    if number >= 2:
        n_gaps = np.floor(extent / apart + SMALL) - (number - 2) // 2
        n_gaps -= 0.5 if number % 2 else 0.0
        if n_gaps < 0.5:
            return 0.0, 0.0, 0.0
        x = extent / n_gaps
        if x < apart or x > apart * 1.7321:
            return 0.0, 0.0, 0.0
    return x, max(np.sqrt(max(apart * apart - x * x / 4, 0.0)), apart / 2), x / 2


N_PATTERNS = 6


@numba.njit(cache=True)
def best_rows(corners, angles_rad, apart, clear, n_offsets, enough, pieces, n_pieces, scratch):  # type: ignore[no-untyped-def]
    """Rows that hold the most points at least `apart` from each other and `clear` of the outline.

    `pieces` (2, n_rows, MOST_PIECES), `n_pieces` (n_rows,) and `scratch` (n_corners,) are
    scratch. Returns points, angle, first row, row pitch, in-row pitch, shift, phase and rows;
    the search ends early when `enough` points are found.
    """
    low, high = pieces[0], pieces[1]
    tolerance = apart * SMALL
    best = (0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0)
    for angle_rad in angles_rad:
        seen = turned(corners, angle_rad)
        bottom, top = seen[:, 1].min() + clear, seen[:, 1].max() - clear
        if top < bottom - tolerance:
            continue
        room = max(top - bottom, 0.0)
        extent = seen[:, 0].max() - seen[:, 0].min() - 2 * clear
        for number in range(N_PATTERNS):
            x_pitch, y_least, shift = pattern(number, apart, extent)
            if x_pitch <= 0:
                continue
            n_gaps = int(np.floor(room / y_least + SMALL))
            if n_gaps + 1 > len(n_pieces):
                continue
            for offset in range(n_offsets + 1):
                # First the rows spread over the whole width, then pushed along at their closest.
                y_pitch = room / n_gaps if offset == 0 and n_gaps > 0 else y_least
                first_y, n_rows = bottom, n_gaps + 1
                if offset > 0:
                    first_y += y_least * (offset - 1) / n_offsets
                    n_rows = int(np.floor((top - first_y) / y_least + SMALL)) + 1
                    if n_rows < 1:
                        continue
                lay(seen, first_y, n_rows, y_pitch, clear, low, high, n_pieces, scratch)
                found, phase = best_phase(low, high, n_pieces, n_rows, x_pitch, shift, tolerance, enough)
                if found > best[0]:
                    best = (found, angle_rad, first_y, y_pitch, x_pitch, shift, phase, n_rows)
                    if found >= enough:
                        return best
    return best


@numba.njit(cache=True)
def points_of(corners, apart, clear, rows, pieces, n_pieces, scratch):  # type: ignore[no-untyped-def]
    """The points of rows found by `best_rows`, row by row: (n_points, 2) in the outline's frame."""
    n_points, angle_rad, first_y, y_pitch, x_pitch, shift, phase, n_rows = rows
    seen = turned(corners, angle_rad)
    tolerance = apart * SMALL
    out = np.zeros((n_points, 2))
    n = 0
    lay(seen, first_y, n_rows, y_pitch, clear, pieces[0], pieces[1], n_pieces, scratch)
    for row in range(n_rows):
        start = phase + (shift if row % 2 else 0.0)
        for piece in range(n_pieces[row]):
            first = np.ceil((pieces[0, row, piece] - tolerance - start) / x_pitch)
            last = np.floor((pieces[1, row, piece] + tolerance - start) / x_pitch)
            for step in range(int(last - first) + 1):
                out[n, 0], out[n, 1] = start + (first + step) * x_pitch, first_y + row * y_pitch
                n += 1
    return turned(out, -angle_rad)
