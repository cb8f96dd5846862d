"""The checker's own look at the ground of plantings: in the bed, off its edge, not on one another's."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

import shapely

from bedwright.engine.placement.check_rows import ROUNDING_M, plants_m
from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.rules import PlantingRules
from bedwright.model.book import Bed
from bedwright.model.crop import Crop
from bedwright.model.season import Planting


def on_its_ground(planting: Planting, bed: Bed, shape: shapely.Polygon) -> Iterator[Violation]:
    """The ground taken lies in the bed's box; the plants on that ground and inside the outline."""
    low_a, low_c, high_a, high_c = shape.bounds
    for (low, high), (least, most) in (
        (planting.along_m, (low_a, high_a)),
        (planting.across_m, (low_c, high_c)),
    ):
        over_m = max(least - low, high - most, low - high)
        if over_m > ROUNDING_M:
            yield Violation("ground outside the bed", bed.code, (planting.code,), over_m, 0.0, "m outside")
    if not planting.rows:
        return
    plants = plants_m(planting)
    box = shapely.box(planting.along_m[0], planting.across_m[0], planting.along_m[1], planting.across_m[1])
    points = shapely.points(plants)
    off_m = float(shapely.distance(points, box).max())
    if off_m > ROUNDING_M:
        yield Violation("plant off its ground", bed.code, (planting.code,), off_m, 0.0, "m outside")
    out_m = float(shapely.distance(points, shape).max())
    if out_m > ROUNDING_M:
        yield Violation("plant outside the bed", bed.code, (planting.code,), out_m, 0.0, "m outside")


def off_the_edge(
    planting: Planting, crop: Crop, bed: Bed, shape: shapely.Polygon, rules: PlantingRules
) -> Iterator[Violation]:
    """Every plant keeps half an in-row spacing to the edge of the bed."""
    if not planting.rows:
        return
    needed_m = min(crop.in_row_spacing_m / 2, rules.edge_cap_m)
    actual_m = float(shapely.distance(shapely.points(plants_m(planting)), shape.exterior).min())
    if actual_m < needed_m - ROUNDING_M:
        yield Violation(
            "too close to the edge",
            bed.code,
            (planting.code,),
            actual_m,
            needed_m,
            "m from the edge of the bed",
        )


def at_the_same_time(one: Planting, other: Planting, rules: PlantingRules) -> bool:
    """True if two plantings need their ground on the same day, preparing it included."""
    before = timedelta(days=rules.preparation_days)
    return (
        one.dates.in_ground - before <= other.dates.clear_by
        and other.dates.in_ground - before <= one.dates.clear_by
    )


def overlap(one: Planting, other: Planting) -> Iterator[Violation]:
    """Two plantings do not take the same ground."""
    along_m = min(one.along_m[1], other.along_m[1]) - max(one.along_m[0], other.along_m[0])
    across_m = min(one.across_m[1], other.across_m[1]) - max(one.across_m[0], other.across_m[0])
    if min(along_m, across_m) > ROUNDING_M:
        yield Violation(
            "two plantings on the same ground",
            one.bed_code,
            (one.code, other.code),
            along_m * across_m,
            0.0,
            "m2",
        )


def crowding(one: Planting, other: Planting, first: Crop, second: Crop) -> Iterator[Violation]:
    """Plants of two plantings closer than half the sum of their in-row spacings."""
    if not one.rows or not other.rows:
        return
    needed_m = (first.in_row_spacing_m + second.in_row_spacing_m) / 2  # common practice, no source
    tree = shapely.STRtree([shapely.Point(at) for at in plants_m(one)])
    distances = tree.query_nearest(
        shapely.points(plants_m(other)), max_distance=needed_m, return_distance=True, all_matches=False
    )[1]
    if len(distances) and float(distances.min()) < needed_m - ROUNDING_M:
        yield Violation(
            "crowding",
            one.bed_code,
            (one.code, other.code),
            float(distances.min()),
            needed_m,
            "m between plants",
        )
