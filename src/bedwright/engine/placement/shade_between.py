"""Sun that crops of one bed take from those of another: told of, not weighed when places are sought."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.placement.blocks import Spot, as_blocks
from bedwright.engine.placement.problem import BedFacts, PlacementProblem
from bedwright.engine.placement.shade import NINE_POINTS, points_lost_h
from bedwright.engine.placement.terms import TALLER_BY_M
from bedwright.engine.placement.value import LEAST_DAYS_TOGETHER, at_date, light_got_h, spot_box
from bedwright.engine.placement.words import MONTHS
from bedwright.model.weather import FloatArray

TOLD_FROM_H = 0.25
"""Less is not told [h a day]."""
FARTHEST = 6.0
"""Metres of shadow for each metre of height at the lowest sun that counts, 10° (1 / tan 10°, rounded up)."""


@dataclass(frozen=True, slots=True)
class ShadeFromBeyond:
    """What a taller crop in another bed takes from a lower one."""

    tall: Spot
    lost_h: float
    """Direct sun lost [h a day]."""
    short_h: float
    """Of it, what the lower crop needs [h a day]; 0 where its light is not known."""
    month: int
    """January is 0: the middle of the time both stand."""


def shade_from_other_beds(
    problem: PlacementProblem, low: Spot, spots: Sequence[Spot]
) -> Iterator[ShadeFromBeyond]:
    """Taller crops in other beds that take sun from a spot.

    As within a bed: rays of the middle day of the month in the middle of the time both stand, nine
    points of the lower block, the taller crop solid and full grown; raised sides count on both.

    Parameters
    ----------
    spots
        The whole plan.

    Source
    ------
    Sun position of `engine.sunlight`, clear sky.
    """
    facts, bed = problem.requests[low.request], problem.beds[low.bed]
    top_m = facts.height_m + bed.bed.raised_m
    spare_h: float | None = None
    for tall in spots:
        theirs, beyond = problem.requests[tall.request], problem.beds[tall.bed]
        taller_by_m = theirs.height_m + beyond.bed.raised_m - top_m
        together = min(low.clear_by, tall.clear_by) - max(low.taken_from, tall.taken_from) + 1
        if tall.bed == low.bed or taller_by_m <= TALLER_BY_M or together < LEAST_DAYS_TOGETHER:
            continue
        along, across = _seen_from(bed, low, beyond)
        if _away_m(along, across, tall) > FARTHEST * taller_by_m:
            continue
        middle = (max(low.taken_from, tall.taken_from) + min(low.clear_by, tall.clear_by)) // 2
        month = date.fromordinal(middle).month - 1
        lost = float(points_lost_h(along, across, spot_box(tall), beyond.rays[month], taller_by_m)[0])
        if lost > 0:
            if spare_h is None:
                spare_h = _spare_h(problem, low)
            yield ShadeFromBeyond(tall, lost, max(0.0, lost - spare_h), month)


def _seen_from(bed: BedFacts, low: Spot, beyond: BedFacts) -> tuple[FloatArray, FloatArray]:
    """Nine points of a block in the frame of another bed, each of shape (9, 1)."""
    here, there = bed.bed.frame, beyond.bed.frame
    points = []
    for share_along, share_across in NINE_POINTS.tolist():
        along = low.along_m[0] + (low.along_m[1] - low.along_m[0]) * share_along
        across = low.across_m[0] + (low.across_m[1] - low.across_m[0]) * share_across
        points.append(there.to_bed(here.to_site((along, across))))
    found = np.array(points)
    return found[:, :1], found[:, 1:]


def _away_m(along: FloatArray, across: FloatArray, tall: Spot) -> float:
    """Distance of the nearest of the points from a block."""
    beside = np.maximum(np.maximum(tall.along_m[0] - along, along - tall.along_m[1]), 0.0)
    beyond = np.maximum(np.maximum(tall.across_m[0] - across, across - tall.across_m[1]), 0.0)
    return float(np.hypot(beside, beyond).min())


def _spare_h(problem: PlacementProblem, spot: Spot) -> float:
    """Hours a day of sun over the need; 0 where light is short, inf where it is not known."""
    got = light_got_h(problem, as_blocks(spot))
    hours = float("nan") if got is None else at_date(got, spot.date)
    return (
        float("inf") if np.isnan(hours) else max(0.0, hours - problem.requests[spot.request].crop.min_sun_h)
    )


def shade_words(problem: PlacementProblem, low: Spot, found: ShadeFromBeyond) -> str:
    """One sentence."""
    tall, facts = problem.requests[found.tall.request], problem.requests[low.request]
    return (
        f"{tall.crop.name.capitalize()} ({tall.height_m:.1f} m) in bed "
        f"{problem.beds[found.tall.bed].bed.code} takes up to {found.lost_h:.1f} h of its sun a day in "
        f"{MONTHS[found.month]}, which leaves it {found.short_h:.1f} h short of the "
        f"{facts.crop.min_sun_h:g} h it needs then; places were sought without weighing that."
    )
