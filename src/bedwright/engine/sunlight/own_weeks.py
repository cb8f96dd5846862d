"""Sun on a planting's ground over its own weeks."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np

from bedwright.engine.sunlight.sun_table import N_WEEKS
from bedwright.model.light import BedWeeks
from bedwright.model.season import Planting
from bedwright.model.weather import FloatArray


def planting_sun_h(
    light: BedWeeks, along_m: tuple[float, float], across_m: tuple[float, float], start: date, end: date
) -> float:
    """Mean hours of direct sun a day on a block of a bed, from one day to another, both included.

    Parameters
    ----------
    light
        Weeks of the bed, from `bed_weeks`.
    along_m, across_m
        Block in the bed's frame, from and to. [m]
    start, end
        First and last day.

    Returns
    -------
    float
        [h/day]; cells count with the part of them that the block covers. nan if the block
        lies outside the bed.

    Raises
    ------
    ValueError
        If the end lies before the start.
    """
    if end < start:
        raise ValueError(f"the block would be cleared on {end}, before it is planted on {start}")
    weights = np.outer(
        overlap(along_m, light.sun_h.shape[1], light.cell_m),
        overlap(across_m, light.sun_h.shape[2], light.cell_m),
    )
    weights[np.isnan(light.sun_h[0])] = 0
    if weights.sum() <= 0:
        return float("nan")
    week_h = np.nansum(light.sun_h * weights, axis=(1, 2)) / weights.sum()
    n_days = np.bincount(
        [_week(start + timedelta(days=k)) for k in range((end - start).days + 1)], minlength=52
    )
    return float(week_h @ n_days / n_days.sum())


def planting_own_sun_h(light: BedWeeks, planting: Planting) -> float:
    """The same for a planting, from going into the ground to being cleared. [h/day]."""
    dates = planting.dates
    return planting_sun_h(light, planting.along_m, planting.across_m, dates.in_ground, dates.clear_by)


def overlap(span_m: tuple[float, float], n_cells: int, cell_m: float) -> FloatArray:
    """Length of a span that lies in each of the cells of a side, (n_cells,). [m]."""
    edges_m = np.arange(n_cells + 1, dtype=np.float64) * cell_m
    lengths_m: FloatArray = np.minimum(edges_m[1:], span_m[1]) - np.maximum(edges_m[:-1], span_m[0])
    return np.maximum(lengths_m, 0)


def _week(day: date) -> int:
    # 29 February shares the week of the day before it.
    of_common_year = date(2026, day.month, min(day.day, 28) if day.month == 2 else day.day)
    return min((of_common_year.timetuple().tm_yday - 1) // 7, N_WEEKS - 1)
