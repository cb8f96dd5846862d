"""A short walk round the beds, from the shed or the tap and back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from bedwright.model.book import Bed, Feature
from bedwright.model.ground import Point, outline_vertices_m

SHORTER_M = 1e-9


def start_of(features: Sequence[Feature], beds: Sequence[Bed]) -> tuple[str, Point]:
    """Where the walk begins: the first shed, else the first tap, else the peg of the first bed.

    Raises
    ------
    ValueError
        If there is neither feature nor bed.
    """
    for kind in ("shed", "tap"):
        for feature in features:
            if feature.kind == kind:
                return feature.name or kind, _middle(feature.vertices_m)
    if not beds:
        raise ValueError("a walk needs a bed to go to")
    first = min(beds, key=lambda bed: bed.code)
    return f"peg of bed {first.code}", first.frame.peg_m


def bed_middle_m(bed: Bed) -> Point:
    """Middle of a bed's corners on the site. [m]."""
    return _middle(outline_vertices_m(bed.outline))


def _middle(points: Sequence[Point]) -> Point:
    return (sum(p[0] for p in points) / len(points), sum(p[1] for p in points) / len(points))


def short_tour(start_m: Point, stops_m: Sequence[Point]) -> tuple[int, ...]:
    """Order of stops on a short walk from a start and back.

    Nearest stop next, then two-opt: stretches are turned round as long as that shortens the
    walk. The first of equals is taken, so the same stops give the same walk.

    Parameters
    ----------
    start_m
        (east_m, north_m) of the start.
    stops_m
        Stops to visit, each once.

    Limits
    ------
    As the crow flies, over beds and hedges; not always the shortest walk there is.
    """
    order = _nearest_next(start_m, stops_m)
    improved = True
    while improved:
        improved = False
        for i in range(len(order) - 1):
            for j in range(i + 1, len(order)):
                if _gain_m(start_m, stops_m, order, i, j) > SHORTER_M:
                    order[i : j + 1] = reversed(order[i : j + 1])
                    improved = True
    return tuple(order)


def _nearest_next(start_m: Point, stops_m: Sequence[Point]) -> list[int]:
    left, at, order = list(range(len(stops_m))), start_m, []
    while left:
        nearest = min(left, key=lambda k: (math.dist(at, stops_m[k]), k))
        left.remove(nearest)
        order.append(nearest)
        at = stops_m[nearest]
    return order


def _gain_m(start_m: Point, stops_m: Sequence[Point], order: Sequence[int], i: int, j: int) -> float:
    """Metres saved by walking the stops i to j the other way round."""
    before = start_m if i == 0 else stops_m[order[i - 1]]
    after = start_m if j == len(order) - 1 else stops_m[order[j + 1]]
    first, last = stops_m[order[i]], stops_m[order[j]]
    old = math.dist(before, first) + math.dist(last, after)
    return old - math.dist(before, last) - math.dist(first, after)


def tour_length_m(start_m: Point, stops_m: Sequence[Point]) -> float:
    """Length of a walk from a start through stops in order and back. [m]."""
    points = [start_m, *stops_m, start_m]
    return sum(math.dist(one, other) for one, other in pairwise(points))
