"""Crops as bodies that cast shade, at their height on a day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import shapely

from bedwright.engine.sunlight.obstacles import Obstacle, solid
from bedwright.model.book import Bed
from bedwright.model.season import Planting

SEEDLING_SHARE = 0.1
"""Share of the full height at setting out or coming up; common practice, no source."""
LEAST_HEIGHT_M = 0.05
"""Lower crops cast no shade worth counting."""


def crop_height_m(planting: Planting, day: date) -> float:
    """Height of a planting on a day.

    It stands at a tenth of its full height from setting out or coming up, grows evenly through
    the development stage and is full grown from mid-season until it is cleared.

    Parameters
    ----------
    planting
        Planting with its median dates.
    day
        Any day.

    Returns
    -------
    float
        Height above the soil, 0 before it is up and after it is cleared. [m]

    Source
    ------
    FAO56 chapter 7 lets height follow the basal crop coefficient: flat in the initial stage,
    even through development, flat from mid-season. Lengths of the stages in their published
    proportions (Table 11) over the planting's own days. Crops without stages: even growth up
    to the first picking, an own rule.
    """
    dates = planting.dates
    start = dates.emerges if planting.way == "sow" and dates.emerges is not None else dates.in_ground
    if not start <= day <= dates.clear_by:
        return 0.0
    grow_from, grow_to = _growth_days(planting, start)
    share = ((day - start).days - grow_from) / max(1.0, grow_to - grow_from)
    return planting.crop.height_m * (SEEDLING_SHARE + (1 - SEEDLING_SHARE) * min(1.0, max(0.0, share)))


def crop_obstacles(plantings: Sequence[Planting], beds: Sequence[Bed], day: date) -> tuple[Obstacle, ...]:
    """The plantings that stand on a day, as bodies over the ground they take.

    Parameters
    ----------
    plantings
        Plantings of any beds; those not up, cleared or lower than 5 cm are left out.
    beds
        The beds they stand in.
    day
        The day.

    Returns
    -------
    tuple of Obstacle
        Named by the planting's code.

    Limits
    ------
    A planting counts as dense over all its ground, so the shade of a thin row is overstated.

    Raises
    ------
    KeyError
        If a planting's bed is not among the beds.
    """
    by_code = {bed.code: bed for bed in beds}
    bodies: list[Obstacle] = []
    for planting in plantings:
        height_m = crop_height_m(planting, day)
        if height_m < LEAST_HEIGHT_M:
            continue
        bed = by_code[planting.bed_code]
        (along_from, along_to), (across_from, across_to) = planting.along_m, planting.across_m
        corners = (
            (along_from, across_from),
            (along_to, across_from),
            (along_to, across_to),
            (along_from, across_to),
        )
        outline = shapely.Polygon([bed.frame.to_site(corner) for corner in corners])
        bodies += solid(planting.code, outline, 0.0, bed.raised_m + height_m)
    return tuple(bodies)


def _growth_days(planting: Planting, start: date) -> tuple[float, float]:
    """Days after the start between which the crop grows to its full height."""
    dates, water = planting.dates, planting.crop.water
    if water is None or sum(water.stage_days) <= 0:
        return 0.0, float((dates.first_pick - start).days)
    scale = (dates.clear_by - start).days / sum(water.stage_days)
    return water.stage_days[0] * scale, (water.stage_days[0] + water.stage_days[1]) * scale
