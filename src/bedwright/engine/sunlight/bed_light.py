"""Hours of sun on the cells of each bed, month by month or week by week."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.sunlight.obstacles import Obstacle, bed_obstacles, obstacles_of
from bedwright.engine.sunlight.places import BedCells, bed_cells, joined, slope_of
from bedwright.engine.sunlight.remaining import hidden_by, remaining
from bedwright.engine.sunlight.skylines import N_DIRECTIONS, even_directions_rad, skyline
from bedwright.engine.sunlight.sun_table import (
    STEP_MIN,
    Period,
    SunTable,
    month_periods,
    sun_table,
    week_parts,
)
from bedwright.model.book import Bed, Site
from bedwright.model.light import BedLight, BedWeeks
from bedwright.model.weather import FloatArray

CELL_M = 0.25
MOST_CELLS_AT_ONCE = 4000


@dataclass(frozen=True, slots=True)
class Fineness:
    """How finely the sun's paths are told apart."""

    n_directions: int
    step_min: float
    n_periods_at_once: int
    """Tables of many short periods are worked out in parts, which keeps them small."""


MONTHLY = Fineness(N_DIRECTIONS, STEP_MIN, 12)
WEEKLY = Fineness(3 * N_DIRECTIONS, 1.0, 8)
"""About the equinoxes the sun runs along the top of walls for days: a week needs a finer look."""


def bed_light(
    site: Site,
    beds: Sequence[Bed],
    *,
    cell_m: float = CELL_M,
    also: Sequence[Obstacle] = (),
) -> tuple[BedLight, ...]:
    """Hours of direct sun a day on each bed, under a clear sky.

    Parameters
    ----------
    site
        Place, slope of the ground, and the features that cast shade.
    beds
        Beds; each is its own grid of cells, and raised ones shade their neighbours. A bed
        with `sun_h` observed keeps the computed pattern, scaled so that its mean in the
        midsummer month equals the observation.
    cell_m
        Side of a cell. [m]
    also
        Further bodies, such as crops.

    Returns
    -------
    tuple of BedLight
        In the order of the beds.

    Limits
    ------
    Direct sun only, shaded by stated bodies only: far hills and houses that the book does
    not name are left out. See docs/light.md for what that leaves open.
    """
    midsummer = midsummer_month(site) - 1
    return tuple(
        BedLight(
            cells.bed.code,
            cell_m,
            as_observed(sun_h, cells.bed.sun_h, sun_h[midsummer]),
            cells.bed.sun_h is not None,
        )
        for cells, sun_h in _beds_sun_h(site, beds, month_periods(), cell_m, also, MONTHLY)
    )


def bed_weeks(
    site: Site,
    beds: Sequence[Bed],
    *,
    cell_m: float = CELL_M,
    also: Sequence[Obstacle] = (),
) -> tuple[BedWeeks, ...]:
    """Hours of direct sun a day on each bed, week by week; otherwise as `bed_light`."""
    parts, share = week_parts()
    in_midsummer = np.array([part.month == midsummer_month(site) for part in parts])
    n_days = np.array([len(part.days) for part in parts], dtype=np.float64)[in_midsummer]
    weeks = []
    for cells, part_h in _beds_sun_h(site, beds, parts, cell_m, also, WEEKLY):
        sun_h = np.tensordot(share, part_h, axes=1)
        midsummer_h = np.tensordot(n_days / n_days.sum(), part_h[in_midsummer], axes=1)
        scaled_h = as_observed(sun_h, cells.bed.sun_h, midsummer_h)
        weeks.append(BedWeeks(cells.bed.code, cell_m, scaled_h, cells.bed.sun_h is not None))
    return tuple(weeks)


def midsummer_month(site: Site) -> int:
    """Month in which hours of sun are observed, 1 to 12."""
    return 12 if site.southern else 6


def _beds_sun_h(
    site: Site,
    beds: Sequence[Bed],
    periods: Sequence[Period],
    cell_m: float,
    also: Sequence[Obstacle],
    fineness: Fineness,
) -> list[tuple[BedCells, FloatArray]]:
    """Cells of each bed and their hours, (n_periods, n_along, n_across)."""
    at_once = fineness.n_periods_at_once
    tables = [
        sun_table(
            site.latitude_deg, site.longitude_deg, periods[first : first + at_once],
            slope=slope_of(site), step_min=fineness.step_min, n_directions=fineness.n_directions,
        )
        for first in range(0, len(periods), at_once)
    ]  # fmt: skip
    found = beds_left(site, beds, tables, cell_m, also, fineness.n_directions)
    return [(cells, np.concatenate(left)) for cells, left in found]


def beds_left(
    site: Site,
    beds: Sequence[Bed],
    tables: Sequence[SunTable],
    cell_m: float,
    also: Sequence[Obstacle] = (),
    n_directions: int = N_DIRECTIONS,
) -> Iterator[tuple[BedCells, list[FloatArray]]]:
    """Cells of each bed and what they get of each table, (n_periods, n_along, n_across)."""
    slope = slope_of(site)
    bodies = (*obstacles_of(site.features), *bed_obstacles(beds), *also)
    directions_rad = even_directions_rad(n_directions)
    most_cells = MOST_CELLS_AT_ONCE * N_DIRECTIONS // n_directions
    for group in _groups([bed_cells(bed, cell_m, slope) for bed in beds], most_cells):
        places = joined(group, slope)
        skylines = (skyline(body, places, directions_rad) for body in bodies)
        hidden = hidden_by(skylines, n_directions, len(places.eye_m))
        left = [remaining(hidden, table) for table in tables]
        start = 0
        for cells in group:
            end = start + int(cells.inside.sum())
            gridded = []
            for each in left:
                grid = np.full((each.shape[1], *cells.inside.shape), np.nan)
                grid[:, cells.inside] = each[start:end].T
                gridded.append(grid)
            yield cells, gridded
            start = end


def _groups(all_cells: Sequence[BedCells], most_cells: int) -> list[list[BedCells]]:
    """Beds in groups that are worked out at once: many for speed, not all for memory."""
    groups: list[list[BedCells]] = []
    n_cells = most_cells
    for cells in all_cells:
        if n_cells >= most_cells:
            groups.append([])
            n_cells = 0
        groups[-1].append(cells)
        n_cells += int(cells.inside.sum())
    return groups


def as_observed(sun_h: FloatArray, observed_h: float | None, midsummer_h: FloatArray) -> FloatArray:
    """Hours in which the midsummer mean is what was observed; as computed where nothing was."""
    if observed_h is None:
        return sun_h
    computed_h = float(np.nanmean(midsummer_h))
    if computed_h <= 0:
        # Nothing to scale: the book has the bed in the dark, the coordinator saw it in the sun.
        return np.where(np.isnan(sun_h), np.nan, observed_h)
    scaled_h: FloatArray = sun_h * (observed_h / computed_h)
    return scaled_h
