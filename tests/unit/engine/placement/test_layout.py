"""Plants that fit: the trade's arithmetic, and the mistake of one row too many."""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.placement.layout import Spacing, count_plants, lay_rows, spacing_of
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.shape import bed_shape, free_pieces
from bedwright.model.ground import Circle, Polygon
from bedwright.model.season import RowDirection
from tests.unit.engine.placement.gardens import bed, crop, l_shape, outline

FULL = (0.0, 1.2)


def spacing(in_row_m: float, row_m: float) -> Spacing:
    return spacing_of(crop(in_row_spacing_m=in_row_m, row_spacing_m=row_m), COMMON_RULES)


def count(of: Spacing, length_m: float = 4.0, width_m: float = 1.2, direction: RowDirection = "along") -> int:
    shape = bed_shape(bed(ground=outline(length_m, width_m)))
    ends = (np.array([0.0]), np.array([length_m]))
    return int(count_plants(shape, direction, ends, (0.0, width_m), of)[0])


def test_a_bed_of_120_cm_takes_four_rows_30_cm_apart_and_not_five() -> None:
    # Half an in-row spacing (15 cm) at each edge leaves 90 cm: three gaps of 30 cm.
    shape = bed_shape(bed())
    rows = lay_rows(shape, "along", (0.0, 4.0), FULL, spacing(0.30, 0.30), 1000)
    assert [row.start_m[1] for row in rows] == pytest.approx([0.15, 0.45, 0.75, 1.05])


def test_a_row_of_4_m_takes_13_plants_30_cm_apart() -> None:
    # Trade tables divide and round down: 4 / 0.30 = 13.3.
    assert count(spacing(0.30, 2.0)) == 13


@pytest.mark.parametrize(
    ("row_feet", "spacing_inches", "plants"),
    # Southern States vegetable guide: 100 ft of row at 18 in takes 66 plants, at 24 in 50.
    [(100, 18, 66), (100, 24, 50)],
)
def test_a_long_row_takes_as_many_plants_as_the_trade_table_says(
    row_feet: float, spacing_inches: float, plants: int
) -> None:
    one_row = count(spacing(spacing_inches * 0.0254, 5.0), length_m=row_feet * 0.3048)
    assert one_row == plants


def test_a_block_on_the_square_takes_one_plant_for_each_square() -> None:
    # Nursery charts: 1 / spacing^2 per m2; 3.6 m by 1.2 m at 30 cm is 12 by 4.
    assert count(spacing(0.30, 0.30), length_m=3.6) == 48


def test_rows_across_and_along_fit_the_same_square() -> None:
    assert count(spacing(0.3, 0.3), 3.6, 1.2, "across") == count(spacing(0.3, 0.3), 3.6, 1.2, "along")


def test_wide_crops_stand_in_one_row_in_the_middle_of_a_bed_they_overhang() -> None:
    # Squash 1.8 m apart: half of that on both sides would never fit 1.2 m, leaves hang over the path.
    rows = lay_rows(bed_shape(bed()), "along", (0.0, 4.0), FULL, spacing(1.8, 1.8), 10)
    assert len(rows) == 1
    assert rows[0].start_m[1] == pytest.approx(0.6)
    assert rows[0].n_plants == 2  # 4.0 - 2 * 0.3 = 3.4 m holds one gap of 1.8 m


def test_plants_beyond_those_wanted_are_left_out_of_the_last_row() -> None:
    rows = lay_rows(bed_shape(bed()), "across", (0.0, 4.0), FULL, spacing(0.3, 0.3), 10)
    assert [row.n_plants for row in rows] == [4, 3, 3]


def test_an_l_shaped_bed_is_filled_arm_by_arm() -> None:
    # 60 cm each way in an L of 4 m by 1.2 m and 1.2 m by 1.8 m more: 2 rows of 6, and 3 rows of 2 above.
    shape = bed_shape(bed(ground=l_shape()))
    of = spacing(0.60, 0.60)
    ends = (np.array([0.0]), np.array([shape.length_m]))
    n_plants = int(count_plants(shape, "along", ends, (0.0, shape.width_m), of)[0])
    assert n_plants == 18
    rows = lay_rows(shape, "along", (0.0, shape.length_m), (0.0, shape.width_m), of, 100)
    assert sum(row.n_plants for row in rows) == 18


def test_a_round_bed_keeps_half_a_spacing_to_its_edge_all_round() -> None:
    shape = bed_shape(bed(ground=Circle(1.0, 5.0, 5.0, 0.0)))
    rows = lay_rows(shape, "along", (0.0, 2.0), (0.0, 2.0), spacing(0.2, 0.2), 500)
    assert rows
    # The 72-sided outline lies up to 1 mm inside the circle.
    for row in rows:
        for along_m, across_m in (row.start_m, row.end_m):
            assert np.hypot(along_m - 1, across_m - 1) <= 0.9 + 1e-6


def test_a_row_that_crosses_a_gap_is_two_rows() -> None:
    # A U: the line above the floor of the U has two stretches.
    corners = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (2.0, 2.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0))
    shape = bed_shape(bed(ground=Polygon(corners, 90.0)))
    pieces = free_pieces(shape, "along", np.array([0.5]), 0.1)
    assert pieces[0] == [pytest.approx((0.1, 0.9)), pytest.approx((2.1, 2.9))]


def test_a_block_shares_its_plants_over_no_more_rows_than_needed() -> None:
    rows = lay_rows(bed_shape(bed()), "along", (0.0, 4.0), FULL, spacing(0.3, 0.3), 13)
    assert len(rows) == 1


def staggered(in_row_m: float, row_m: float) -> Spacing:
    return spacing_of(crop(in_row_spacing_m=in_row_m, row_spacing_m=row_m), COMMON_RULES, layout="staggered")


def test_staggered_rows_come_closer_by_what_their_plants_stand_between_each_other() -> None:
    # Equal triangles of 30 cm: rows 26 cm apart.
    assert staggered(0.3, 0.3).row_m == pytest.approx(0.3 * 3**0.5 / 2)
    assert staggered(0.05, 0.3).row_m == pytest.approx(0.3, rel=0.01)


@pytest.mark.parametrize("direction", ["along", "across"])
@pytest.mark.parametrize("n_wanted", [7, 30, 41, 1000])
@pytest.mark.parametrize(("in_row_m", "row_m"), [(0.3, 0.3), (0.25, 0.4), (0.45, 0.45), (0.5, 0.3)])
def test_staggered_plants_keep_both_distances_and_the_edge(
    direction: RowDirection, n_wanted: int, in_row_m: float, row_m: float
) -> None:
    shape, of = bed_shape(bed()), staggered(in_row_m, row_m)
    rows = lay_rows(shape, direction, (0.0, 4.0), FULL, of, n_wanted)
    ends = (np.array([0.0]), np.array([4.0]))
    most = int(count_plants(shape, direction, ends, FULL, of)[0])
    assert sum(row.n_plants for row in rows) == min(n_wanted, most)
    plants = [np.linspace(row.start_m, row.end_m, row.n_plants) for row in rows]
    for number, one in enumerate(plants):
        assert one.min() >= in_row_m / 2 - 1e-9
        assert (one <= np.array([4.0, 1.2]) - in_row_m / 2 + 1e-9).all()
        for other in plants[number + 1 :]:
            gaps = np.hypot(*(one[:, None] - other[None]).transpose(2, 0, 1))
            assert gaps.min() >= row_m - 1e-9


def test_more_cabbages_fit_staggered_on_a_bed_of_four_feet() -> None:
    # 45 cm every way, two to a row across: rows 39 cm apart in place of 45.
    rows, offset = spacing(0.45, 0.45), staggered(0.45, 0.45)
    assert count(offset, 4.0, 1.2, "across") > count(rows, 4.0, 1.2, "across")
