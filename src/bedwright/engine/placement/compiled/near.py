"""Which crops of one bed need be looked at for those of another, as arrays for the compiled search."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bedwright.engine.placement.layout import IntArray
from bedwright.engine.placement.problem import PlacementProblem
from bedwright.engine.placement.rules import SMALL_M
from bedwright.engine.placement.sight import LEVEL_M, SMALL_H, BedPair
from bedwright.engine.placement.terms import TALLER_BY_M
from bedwright.model.weather import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class NearTables:
    """For each class of what may stand in a bed, the beds that matter to it."""

    of_date: IntArray
    """Class of need by date: sun needed, months and height alike."""
    of_request: IntArray
    """Class of height by request."""
    low_at: IntArray
    """(n_classes * n_beds + 1,): where entries of beds that may shade a class of need in a bed begin."""
    tall_at: IntArray
    """(n_heights * n_beds + 1,): where entries of beds that a class of height in a bed may shade begin."""
    entries: IntArray
    """(n, 2): the other bed, and the number of the pair."""
    pairs: FloatArray
    """(n_pairs, size): frame, rise, and most hours by level and month."""


@dataclass(frozen=True, slots=True, eq=False)
class _Needs:
    """Classes of need, and what each can spare in each bed."""

    height_m: FloatArray
    stands: BoolArray
    """(n, 12)"""
    spare_h: FloatArray
    """(n_beds, n): inf where it is not known, or where the class may not stand."""


def near_tables(problem: PlacementProblem) -> NearTables:
    """Tables of a problem; a class is passed over where none of it can be left short."""
    heights = sorted({facts.height_m for facts in problem.requests})
    of_date, needs = _classes(problem)
    n_beds = len(problem.beds)
    by_low: dict[tuple[int, int], list[tuple[int, int]]] = {}
    by_tall: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for number, ((low, tall), pair) in enumerate(problem.pairs.items()):
        known = np.flatnonzero(np.isfinite(needs.spare_h[low]))
        from_m = _shaded_from_m(pair, needs, known, needs.spare_h[low][known])
        there = (facts.height_m for facts in problem.requests if tall in facts.beds)
        tallest_m = max(there, default=0.0)
        for one in known[from_m < tallest_m + SMALL_M].tolist():
            by_low.setdefault((one, low), []).append((tall, number))
        for index, height_m in enumerate(heights):
            if (from_m < height_m + SMALL_M).any():
                by_tall.setdefault((index, tall), []).append((low, number))
    entries: list[tuple[int, int]] = []
    low_at = _laid(by_low, len(needs.height_m), n_beds, entries)
    tall_at = _laid(by_tall, len(heights), n_beds, entries)
    return NearTables(
        of_date,
        np.array([heights.index(facts.height_m) for facts in problem.requests], dtype=np.int64),
        low_at,
        tall_at,
        np.array(entries or [(0, 0)], dtype=np.int64),
        _pairs(tuple(problem.pairs.values())),
    )


def _classes(problem: PlacementProblem) -> tuple[IntArray, _Needs]:
    numbers: dict[tuple[bytes, float, bytes, float], int] = {}
    of_date: list[int] = []
    found: list[tuple[FloatArray, float, BoolArray, float]] = []
    allowed: list[set[int]] = []
    for facts in problem.requests:
        need_h, height_m = facts.crop.min_sun_h, facts.height_m
        for share, months in zip(facts.dates.month_share, facts.dates.stands, strict=True):
            number = numbers.setdefault((share.tobytes(), need_h, months.tobytes(), height_m), len(numbers))
            if number == len(found):
                found.append((share, need_h, months, height_m))
                allowed.append(set())
            allowed[number].update(facts.beds)
            of_date.append(number)
    spare_h = np.full((len(problem.beds), len(found)), np.inf)
    shares, needs_h = np.array([one[0] for one in found]), np.array([one[1] for one in found])
    for bed, one in enumerate(problem.beds):
        if found and one.light is not None and one.light.inside.any():
            may_stand = np.array([bed in beds for beds in allowed])
            least_h = np.maximum(0.0, one.light.least_h(shares) - needs_h)
            spare_h[bed] = np.where(may_stand, least_h, np.inf)
    stands = np.array([one[2] for one in found], np.bool_).reshape(-1, 12)
    needs = _Needs(np.array([one[3] for one in found]), stands, spare_h)
    return np.array(of_date, dtype=np.int64), needs


def _shaded_from_m(pair: BedPair, needs: _Needs, known: IntArray, spare_h: FloatArray) -> FloatArray:
    """Height of crops in the tall bed from which they may leave each known class short; inf if none may."""
    most = np.where(needs.stands[known][None, :, :], pair.most_h[:, None, :], 0.0).max(axis=2)
    short = most > np.maximum(SMALL_H, spare_h - SMALL_H)[None, :]
    # Below a level, what its shadow reaches at most is not reached.
    taller_by_m = np.maximum(TALLER_BY_M, (short.argmax(axis=0) - 1) * LEVEL_M)
    heights: FloatArray = np.where(
        short.any(axis=0), needs.height_m[known] - pair.rise_m + taller_by_m, np.inf
    )
    return heights


def _laid(
    found: dict[tuple[int, int], list[tuple[int, int]]],
    n_classes: int,
    n_beds: int,
    entries: list[tuple[int, int]],
) -> IntArray:
    """Lists laid end to end behind other entries; where each begins, and the last one ends."""
    counts = np.zeros(n_classes * n_beds + 1, dtype=np.int64)
    first = len(entries)
    for number, bed in sorted(found):
        counts[number * n_beds + bed + 1] = len(found[number, bed])
        entries += found[number, bed]
    return np.asarray(first + counts.cumsum())


def _pairs(pairs: Sequence[BedPair]) -> FloatArray:
    n_levels = max((len(pair.most_h) for pair in pairs), default=0)
    rows = []
    for pair in pairs:
        most = np.zeros((n_levels, 12))
        most[: len(pair.most_h)] = pair.most_h
        rows.append(np.concatenate([np.array([*pair.frame, pair.rise_m]), most.ravel()]))
    return np.array(rows).reshape(len(pairs), -1) if rows else np.zeros((1, 1))
