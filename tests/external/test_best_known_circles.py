"""Plants on given ground against the best packings of equal circles in a square that are published.

A plant with half its distance to the edge is a circle. Table and its sources: best_known_circles.py.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.placement.packing import most_of_all, widest_in_rows, widest_of_all
from bedwright.engine.placement.packing.relaxing import least_apart_m
from bedwright.model.weather import FloatArray
from tests.external.best_known_circles import PRINTED_DISTANCES, RADII

SQUARE_M = ((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0))


def radius(points: FloatArray) -> float:
    """Of the largest circles that can stand round the points in the square."""
    return least_apart_m(points, np.array(SQUARE_M), 0.5, np.inf) / 2


@pytest.mark.parametrize("n", PRINTED_DISTANCES)
def test_the_table_agrees_with_the_distances_printed_by_its_authors(n: int) -> None:
    # A point inside a square of side 1 - 2 r: distance = 2 r / (1 - 2 r).
    assert 2 * RADII[n - 1] / (1 - 2 * RADII[n - 1]) == pytest.approx(PRINTED_DISTANCES[n], abs=2e-11)


def test_rows_reach_ninety_four_hundredths_of_the_best_radius_up_to_seventy_plants() -> None:
    shares = np.array([radius(widest_in_rows(SQUARE_M, n).points_m[:n]) / RADII[n - 1] for n in range(2, 71)])
    # The mean is 0.985; 22 plants are the worst.
    assert shares.mean() > 0.98
    assert shares.min() > 0.94
    assert shares.max() < 1 + 1e-9


@pytest.mark.parametrize("n", [4, 9, 16, 25, 36, 39, 52])
def test_rows_find_the_best_packings_that_are_rows(n: int) -> None:
    assert radius(widest_in_rows(SQUARE_M, n).points_m[:n]) == pytest.approx(RADII[n - 1], rel=2e-4)


@pytest.mark.parametrize("n", [7, 10, 13, 14, 22, 30])
def test_without_rows_plants_stand_as_far_apart_as_the_best_known(n: int) -> None:
    found = radius(widest_of_all(SQUARE_M, n, seed=1).points_m[:n]) / RADII[n - 1]
    assert 0.98 < found < 1 + 1e-9


@pytest.mark.parametrize("n", [5, 10, 17])
def test_at_the_best_known_distance_all_plants_find_a_place(n: int) -> None:
    apart_m = 2 * RADII[n - 1] * (1 - 1e-4)
    assert most_of_all(SQUARE_M, apart_m, apart_m / 2, seed=1).n_plants >= n
