"""The walk round the beds."""

import math
from itertools import pairwise

import pytest

from bedwright.engine.work.walk import short_tour, start_of, tour_length_m
from bedwright.model.book import Feature
from tests.builders import tiny_bed


def test_beds_on_a_line_are_walked_from_end_to_end() -> None:
    assert short_tour((0.0, 0.0), [(3.0, 0.0), (1.0, 0.0), (2.0, 0.0)]) == (1, 2, 0)


def test_crossed_stretches_are_turned_round() -> None:
    # From the corner of a square the nearest-next walk along this zigzag crosses itself.
    stops = [(0.0, 1.0), (1.0, 1.9), (2.1, 1.0), (2.0, 0.0), (1.0, -0.2)]
    order = short_tour((0.0, 0.0), stops)
    walked = [(0.0, 0.0), *(stops[k] for k in order), (0.0, 0.0)]
    assert tour_length_m((0.0, 0.0), [stops[k] for k in order]) == pytest.approx(
        sum(math.dist(a, b) for a, b in pairwise(walked))
    )
    # Round the outside is the shortest there is for points in convex position.
    assert order in {(0, 1, 2, 3, 4), (4, 3, 2, 1, 0)}


def test_the_walk_starts_at_the_shed_before_the_tap_before_a_peg() -> None:
    tap = Feature("F1", "tap", "Tap", ((1.0, 2.0),))
    shed = Feature("F2", "shed", "Shed", ((0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)))
    assert start_of((tap, shed), (tiny_bed(),)) == ("Shed", (1.0, 1.0))
    assert start_of((tap,), (tiny_bed(),)) == ("Tap", (1.0, 2.0))
    assert start_of((), (tiny_bed("B"), tiny_bed("A", east_m=5.0))) == ("peg of bed A", (5.0, 0.0))


def test_a_walk_without_beds_has_no_start() -> None:
    with pytest.raises(ValueError, match="needs a bed"):
        start_of((), ())
