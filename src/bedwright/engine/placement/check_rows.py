"""The checker's own look at the rows of one planting as drawn: codes, spacing, plant by plant."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import combinations

import numpy as np
import shapely
from numpy.typing import NDArray

from bedwright.engine.placement.check_violation import Violation
from bedwright.model.crop import Crop
from bedwright.model.season import Planting, Row, row_stem

ROUNDING_M = 0.001
"""Differences below a millimetre are not seen on the ground."""

Points = NDArray[np.float64]


def stations_m(row: Row) -> Points:
    """Positions of the plants of a row in the bed's frame, (n_plants, 2) [m]."""
    share = np.linspace(0, 1, row.n_plants)[:, None] if row.n_plants > 1 else np.zeros((1, 1))
    start, end = np.array(row.start_m), np.array(row.end_m)
    points: Points = start + (end - start) * share
    return points


def plants_m(planting: Planting) -> Points:
    """Positions of all plants of a planting in the bed's frame, (n_plants, 2) [m]."""
    return np.concatenate([stations_m(row) for row in planting.rows])


def codes(plantings: Sequence[Planting]) -> Iterator[Violation]:
    """No code of a planting or row is used twice, and rows are numbered after their bed."""
    for code, number in Counter(planting.code for planting in plantings).items():
        if number > 1:
            yield Violation("planting code used twice", "", (code,), number, 1, "plantings")
    rows = Counter((row.code, planting.bed_code) for planting in plantings for row in planting.rows)
    by_code = Counter(row.code for planting in plantings for row in planting.rows)
    for (code, bed_code), number in rows.items():
        if by_code[code] > 1:
            yield Violation("row code used twice", bed_code, (code,), max(number, by_code[code]), 1, "rows")
        stem = row_stem(bed_code)
        if not code.startswith(stem) or not code[len(stem) :].isdigit():
            yield Violation("row code of another bed", bed_code, (code,), code, f"{stem} and a number", "")


def row_spacing(planting: Planting, crop: Crop, *, staggered: bool) -> Iterator[Violation]:
    """Spacing within rows and between rows of one planting."""
    bed_code = planting.bed_code
    if not planting.rows:
        yield Violation("no rows", bed_code, (planting.code,), 0, 1, "row")
    for row in planting.rows:
        if row.n_plants < 1:
            yield Violation("empty row", bed_code, (row.code,), row.n_plants, 1, "plant")
            continue
        run_m = float(np.hypot(*np.subtract(row.end_m, row.start_m)))
        actual_m = run_m / (row.n_plants - 1) if row.n_plants > 1 else 0.0
        if row.n_plants > 1 and actual_m < crop.in_row_spacing_m - ROUNDING_M:
            yield Violation(
                "crowded in the row",
                bed_code,
                (row.code,),
                actual_m,
                crop.in_row_spacing_m,
                "m between plants",
            )
        if abs(row.spacing_m - actual_m) > ROUNDING_M:
            yield Violation(
                "spacing stated is not the spacing drawn", bed_code, (row.code,), row.spacing_m, actual_m, "m"
            )
        axis = 1 if planting.direction == "along" else 0
        if abs(row.start_m[axis] - row.end_m[axis]) > ROUNDING_M:
            yield Violation(
                "row askew", bed_code, (row.code,), abs(row.start_m[axis] - row.end_m[axis]), 0.0, "m"
            )
    for pair in combinations([row for row in planting.rows if row.n_plants >= 1], 2):
        yield from _row_pair(planting, pair, crop, staggered=staggered)


def _row_pair(
    planting: Planting, pair: tuple[Row, Row], crop: Crop, *, staggered: bool
) -> Iterator[Violation]:
    one, other = pair
    across, along = (1, 0) if planting.direction == "along" else (0, 1)
    apart_m = abs(one.start_m[across] - other.start_m[across])
    if staggered and apart_m > ROUNDING_M:
        # Rows may come closer by as much as their plants stand between each other.
        apart_m = shapely.MultiPoint(stations_m(one)).distance(shapely.MultiPoint(stations_m(other)))
    codes = (one.code, other.code)
    if apart_m > ROUNDING_M:
        if apart_m < crop.row_spacing_m - ROUNDING_M:
            yield Violation(
                "rows too close", planting.bed_code, codes, apart_m, crop.row_spacing_m, "m between rows"
            )
        return
    first, second = sorted((one, other), key=lambda row: row.start_m[along])
    gap_m = second.start_m[along] - first.end_m[along]
    if gap_m < crop.in_row_spacing_m - ROUNDING_M:
        yield Violation(
            "crowded in the row", planting.bed_code, codes, gap_m, crop.in_row_spacing_m, "m between plants"
        )
