"""Sun that crops of one bed take from lower ones in another."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.placement.blocks import Spot, as_blocks
from bedwright.engine.placement.ground_light import spare_h
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.shade import NINE_POINTS, Box, points_lost_h
from bedwright.engine.placement.sight import BedPair
from bedwright.engine.placement.terms import LEAST_DAYS_TOGETHER, TALLER_BY_M, share
from bedwright.engine.placement.words import MONTHS


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
    points: float
    """What that costs the plan, below 0."""


def shade_between(problem: PlacementProblem, low: Spot, tall: Spot) -> ShadeFromBeyond | None:
    """What a spot loses to one in another bed; None where it is not taller, too far, or too briefly there.

    As within a bed: rays of the middle day of the month in the middle of the time both stand, nine
    points of the lower block, the taller crop solid and full grown; raised sides count on both.

    Source
    ------
    Sun position of `engine.sunlight`, clear sky.
    """
    pair = problem.pairs.get((low.bed, tall.bed))
    if pair is None:
        return None
    facts = problem.requests[low.request]
    taller_by_m = problem.requests[tall.request].height_m - facts.height_m + pair.rise_m
    together = min(low.clear_by, tall.clear_by) - max(low.taken_from, tall.taken_from) + 1
    if taller_by_m <= TALLER_BY_M or together < LEAST_DAYS_TOGETHER:
        return None
    middle = (max(low.taken_from, tall.taken_from) + min(low.clear_by, tall.clear_by)) // 2
    month = date.fromordinal(max(1, middle)).month - 1
    if pair.most_h[-1, month] <= 0:
        return None
    lost = _lost_h(problem, pair, low, tall, month, taller_by_m)
    if lost <= 0:
        return None
    short = max(0.0, lost - float(spare_h(problem, as_blocks(low))[low.date, 0]))
    worth = facts.worth * low.n_plants / facts.request.n_plants
    days = min(1.0, together / float(facts.dates.days[low.date]))
    points = -share("shade by a taller crop") * worth * days * short
    return ShadeFromBeyond(tall, lost, short, month, points)


def _lost_h(
    problem: PlacementProblem, pair: BedPair, low: Spot, tall: Spot, month: int, taller_by_m: float
) -> float:
    along = low.along_m[0] + (low.along_m[1] - low.along_m[0]) * NINE_POINTS[:, :1]
    across = low.across_m[0] + (low.across_m[1] - low.across_m[0]) * NINE_POINTS[:, 1:]
    rays = problem.beds[tall.bed].rays[month]
    return float(points_lost_h(*pair.in_tall_bed(along, across), spot_box(tall), rays, taller_by_m)[0])


def spot_box(spot: Spot) -> Box:
    """The ground of one block."""
    return (
        np.array([spot.along_m[0]]),
        np.array([spot.along_m[1]]),
        np.array([spot.across_m[0]]),
        np.array([spot.across_m[1]]),
    )


def shade_from_other_beds(
    problem: PlacementProblem, low: Spot, spots: Sequence[Spot]
) -> Iterator[ShadeFromBeyond]:
    """Taller crops in other beds that take sun from a spot.

    Beds whose crops can leave nothing in its bed short of sun are passed over.

    Parameters
    ----------
    spots
        The whole plan.
    """
    for tall in spots:
        found = shade_between(problem, low, tall)
        if found is not None:
            yield found


def points_between(problem: PlacementProblem, spot: Spot, others: Sequence[Spot]) -> float:
    """Points that a spot and those of other beds lose by each other's shade."""
    both = [shade_between(problem, *pair) for other in others for pair in ((spot, other), (other, spot))]
    return sum(found.points for found in both if found is not None)


def points_between_all(problem: PlacementProblem, by_bed: Mapping[int, Sequence[Spot]]) -> float:
    """Points that all spots of a plan lose to others in other beds."""
    return sum(
        found.points
        for low_bed, tall_bed in problem.pairs
        for low in by_bed.get(low_bed, ())
        for tall in by_bed.get(tall_bed, ())
        if (found := shade_between(problem, low, tall)) is not None
    )


def shade_words(problem: PlacementProblem, low: Spot, found: ShadeFromBeyond) -> str:
    """One sentence."""
    tall, facts = problem.requests[found.tall.request], problem.requests[low.request]
    return (
        f"{tall.crop.name.capitalize()} ({tall.height_m:.1f} m) in bed "
        f"{problem.beds[found.tall.bed].bed.code} takes up to {found.lost_h:.1f} h of its sun a day in "
        f"{MONTHS[found.month]}, which leaves it {found.short_h:.1f} h short of the "
        f"{facts.crop.min_sun_h:g} h it needs then."
    )
