"""Places of plants in an outline: nothing crowded, nothing outside, as many as arithmetic says."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from bedwright.engine.placement.packing import Stand, most_in_rows, most_of_all, widest_in_rows, widest_of_all
from bedwright.model.ground import Point

BOX_M: tuple[Point, ...] = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.2), (0.0, 1.2))
L_BED_M: tuple[Point, ...] = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.2), (1.2, 1.2), (1.2, 4.5), (0.0, 4.5))
SKEW_M: tuple[Point, ...] = ((0.0, 0.0), (3.1, 0.6), (2.7, 2.9), (1.4, 1.7), (0.3, 2.4))


def holds(stand: Stand, vertices_m: tuple[Point, ...], apart_m: float, edge_m: float) -> None:
    outline = shapely.Polygon(vertices_m)
    points = shapely.points(stand.points_m)
    assert shapely.contains(outline, points).all()
    assert shapely.distance(points, outline.exterior).min() >= edge_m - 1e-6
    gaps_m = np.hypot(*(stand.points_m[:, None] - stand.points_m[None]).transpose(2, 0, 1))
    np.fill_diagonal(gaps_m, np.inf)
    assert gaps_m.min() >= apart_m - 1e-6


def test_square_rows_fill_a_box_that_suits_them() -> None:
    # 3.0 by 1.2 m at 30 cm, 15 cm kept to the edge: 10 by 4.
    stand = most_in_rows(BOX_M, 0.3, 0.15)
    assert stand.n_plants == 40
    holds(stand, BOX_M, 0.3, 0.15)


def test_offset_rows_hold_more_where_the_box_leaves_them_room() -> None:
    # 2.6 m between the outer rows take 11 rows of √3/2 · 0.3 m, but only 9 of 0.3 m.
    box: tuple[Point, ...] = ((0.0, 0.0), (5.0, 0.0), (5.0, 2.9), (0.0, 2.9))
    square = (math.floor(4.7 / 0.3 + 1e-9) + 1) * (math.floor(2.6 / 0.3 + 1e-9) + 1)
    stand = most_in_rows(box, 0.3, 0.15)
    assert stand.n_plants > square * 1.1
    holds(stand, box, 0.3, 0.15)


@pytest.mark.parametrize("vertices_m", [L_BED_M, SKEW_M])
@pytest.mark.parametrize("apart_m", [0.2, 0.6, 0.85])
def test_odd_outlines_are_kept(vertices_m: tuple[Point, ...], apart_m: float) -> None:
    holds(most_in_rows(vertices_m, apart_m, apart_m / 2), vertices_m, apart_m, apart_m / 2)
    holds(most_of_all(vertices_m, apart_m, apart_m / 2, seed=3), vertices_m, apart_m, apart_m / 2)


def test_a_turned_outline_holds_as_many() -> None:
    turn = math.radians(28)
    turned = tuple(
        (x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)) for x, y in L_BED_M
    )
    assert most_in_rows(turned, 0.3, 0.15).n_plants == most_in_rows(L_BED_M, 0.3, 0.15).n_plants


def test_fewer_plants_stand_farther_apart() -> None:
    distances = [widest_in_rows(SKEW_M, n).apart_m for n in range(2, 30)]
    assert distances == sorted(distances, reverse=True)


def test_without_rows_plants_stand_no_closer_than_in_rows() -> None:
    for n in (5, 11, 17):
        rows, loose = widest_in_rows(SKEW_M, n), widest_of_all(SKEW_M, n, seed=2)
        assert loose.n_plants >= n
        assert loose.apart_m >= rows.apart_m - 1e-9
        holds(loose, SKEW_M, loose.apart_m, loose.apart_m / 2)


def test_the_edge_is_never_farther_than_its_cap() -> None:
    stand = widest_in_rows(BOX_M, 6, edge_cap_m=0.3)
    assert stand.apart_m > 0.7
    holds(stand, BOX_M, stand.apart_m, 0.3)


def test_the_same_seed_gives_the_same_places() -> None:
    one, other = (widest_of_all(SKEW_M, 9, seed=4).points_m for _ in range(2))
    assert one.tobytes() == other.tobytes()


def test_nothing_fits_where_the_edge_takes_all() -> None:
    assert most_in_rows(BOX_M, 1.4, 0.7).n_plants == 0


def test_one_plant_stands_in_the_middle() -> None:
    first, *_ = widest_in_rows(BOX_M, 1).points_m.tolist()
    assert first[1] == pytest.approx(0.6, abs=0.01)


@pytest.mark.parametrize("apart_m", [0.0, -1.0, math.nan, 1e-4])
def test_distances_that_make_no_sense_are_refused(apart_m: float) -> None:
    with pytest.raises(ValueError, match="apart_m: got"):
        most_in_rows(BOX_M, apart_m, 0.1)


def test_no_plants_and_no_edge_are_refused() -> None:
    with pytest.raises(ValueError, match="n_plants: got 0"):
        widest_in_rows(BOX_M, 0)
    with pytest.raises(ValueError, match="edge_m: got 0"):
        most_of_all(BOX_M, 0.3, 0.0, seed=1)
