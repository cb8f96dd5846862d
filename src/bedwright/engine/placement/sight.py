"""Which beds can shade which, and by how much at most.

Worked out once for a question, so that the search passes over beds too far, too low or too well lit.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.terms import TALLER_BY_M
from bedwright.model.ground import BedFrame
from bedwright.model.weather import BoolArray, FloatArray

LEVEL_M = 0.25
"""Steps of height in which it is worked out how much sun one bed takes from another at most."""

SMALL_H = 1e-9
"""Hours of sun closer than this are taken as equal; less is nothing."""

N_DIGITS_M = 6
N_DIGITS_UNIT = 9
"""Frames are rounded, so that a turned site gives the same."""


@dataclass(frozen=True, slots=True, eq=False)
class Seen:
    """One bed with what may stand in it."""

    frame: BedFrame
    length_m: float
    width_m: float
    raised_m: float
    rays: FloatArray
    """(12, n_rays, 4), in the frame of the bed; see `BedFacts`."""
    tallest_m: float
    """Of all crops that may stand in it; -inf where none may."""
    lowest_m: float
    """inf where none may."""
    spare_h: FloatArray
    """(n,): least sun over its need on any cell of the bed, by crop and date; empty where not known."""
    months: BoolArray
    """(n, 12): months in which each of them stands."""


@dataclass(frozen=True, slots=True, eq=False)
class BedPair:
    """A bed whose low crops may be left short of sun by tall ones in another."""

    frame: tuple[float, float, float, float, float, float]
    """Of the low bed, seen from the tall one: its peg, one metre along its baseline, one metre across."""
    rise_m: float
    """Height of the tall bed's soil over that of the low one."""
    most_h: FloatArray
    """(n_levels, 12): hours a day that one block can take from another at most, by how much taller it is
    (`level_of`) and month."""

    def in_tall_bed(self, along: FloatArray, across: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Points of the low bed in the frame of the tall one."""
        at_a, at_c, along_a, along_c, across_a, across_c = self.frame
        return at_a + along * along_a + across * across_a, at_c + along * along_c + across * across_c


def bed_pairs(beds: Sequence[Seen]) -> Mapping[tuple[int, int], BedPair]:
    """Pairs of beds, the low one first, in which a crop may be left short of sun by one of the other bed."""
    found: dict[tuple[int, int], BedPair] = {}
    for number, low in enumerate(beds):
        others = [
            other
            for other, tall in enumerate(beds)
            if other != number and len(low.spare_h) and _taller_by_m(low, tall) > TALLER_BY_M
        ]
        if not others:
            continue
        frames = np.array([_seen_from(low.frame, beds[other].frame) for other in others])
        most = _most_hours(low, [beds[other] for other in others], frames)
        for at, other in enumerate(others):
            hours = most[at, : 1 + level_of(_taller_by_m(low, beds[other]))]
            if (
                np.where(low.months, hours[-1], 0.0).max(axis=1) > np.maximum(SMALL_H, low.spare_h - SMALL_H)
            ).any():
                frame = tuple(frames[at].tolist())
                found[number, other] = BedPair(frame, beds[other].raised_m - low.raised_m, hours)
    return found


def level_of(taller_by_m: float) -> int:
    """Level of `BedPair.most_h` that holds for a difference in height, above 0."""
    return math.ceil(taller_by_m / LEVEL_M - SMALL_M)


def _taller_by_m(low: Seen, tall: Seen) -> float:
    return tall.tallest_m + tall.raised_m - low.lowest_m - low.raised_m


def _seen_from(low: BedFrame, tall: BedFrame) -> list[float]:
    """Frame of one bed in that of another, as in `BedPair.frame`."""
    peg, along, across = (tall.to_bed(low.to_site(point)) for point in ((0.0, 0.0), (1.0, 0.0), (0.0, 1.0)))
    units = [along[0] - peg[0], along[1] - peg[1], across[0] - peg[0], across[1] - peg[1]]
    rounded = [round(value, N_DIGITS_M) for value in peg] + [round(value, N_DIGITS_UNIT) for value in units]
    return [value + 0.0 for value in rounded]


def _most_hours(low: Seen, others: Sequence[Seen], frames: FloatArray) -> FloatArray:
    """Hours a day that blocks of each other bed take from one of the low bed at most, (n, n_levels, 12).

    A ray counts from the height on at which its shadow is as long as the low bed has to be moved along
    it to meet the other bed. Two rectangles meet unless a line along a side of either parts them.
    """
    rays = np.stack([tall.rays for tall in others])
    toward = rays[..., :2]
    along, across = frames[:, 2:4], frames[:, 4:6]
    sizes = np.array([(tall.length_m / 2, tall.width_m / 2) for tall in others])
    halves = (along * low.length_m / 2, across * low.width_m / 2)
    away = frames[:, :2] + halves[0] + halves[1] - sizes
    begins, ends = np.zeros(rays.shape[:3]), np.full(rays.shape[:3], np.inf)
    for line in (along, across, np.array([[1.0, 0.0]]), np.array([[0.0, 1.0]])):
        wide = sum(np.abs((half * line).sum(axis=-1)) for half in halves) + np.abs(line * sizes).sum(axis=-1)
        near, far = _while_within(
            (away * line).sum(axis=-1)[:, None, None],
            (toward * line[:, None, None, :]).sum(axis=-1),
            (wide + SMALL_M)[:, None, None],
        )
        begins, ends = np.maximum(begins, near), np.minimum(ends, far)
    moved_m = np.where(begins <= ends, begins, np.inf)
    n_levels = 1 + max(level_of(_taller_by_m(low, tall)) for tall in others)
    runs = rays[..., 2][:, None] * (np.arange(n_levels) * LEVEL_M)[None, :, None, None]
    most: FloatArray = (rays[..., 3][:, None] * (moved_m[:, None] <= runs + SMALL_M)).sum(axis=-1)
    return most


def _while_within(at: FloatArray, speed: FloatArray, wide: FloatArray) -> tuple[FloatArray, FloatArray]:
    """From where to where on its way a point is no farther than a width from the middle."""
    still = np.abs(speed) < SMALL_M
    step = np.where(still, 1.0, speed)
    one, other = (-wide - at) / step, (wide - at) / step
    always = np.where(np.abs(at) <= wide, np.inf, -np.inf)
    return np.where(still, -always, np.minimum(one, other)), np.where(still, always, np.maximum(one, other))
