"""The frame of a bed: where the peg stands and which way offsets are measured."""

from __future__ import annotations

import pytest

from bedwright.model.ground import (
    Circle,
    Polygon,
    Rectangle,
    bed_frame,
    local_vertices_m,
    outline_vertices_m,
)


def test_a_bed_that_runs_east_lies_south_of_its_line() -> None:
    # Standing at the peg and looking east, the right hand points south.
    bed = Rectangle(length_m=4, width_m=1.2, east_m=2, north_m=10, bearing_deg=90)
    corners = outline_vertices_m(bed)
    assert corners[1] == pytest.approx((6, 10))
    assert corners[2] == pytest.approx((6, 8.8))
    assert bed_frame(bed).local_side("north") == "left"
    assert bed_frame(bed).local_side("south") == "right"
    assert bed_frame(bed).local_side("east") == "end"


def test_a_bed_that_runs_north_lies_east_of_its_line() -> None:
    bed = Rectangle(length_m=8, width_m=1.2, east_m=2, north_m=14, bearing_deg=0)
    assert outline_vertices_m(bed)[2] == pytest.approx((3.2, 22))
    assert bed_frame(bed).local_side("west") == "left"


@pytest.mark.parametrize("bearing_deg", [0, 37, 90, 181.5, 360])
def test_no_corner_has_a_negative_offset(bearing_deg: float) -> None:
    corners = ((17.0, 6.0), (21.0, 6.0), (21.0, 7.2), (18.2, 7.2), (18.2, 10.5), (17.0, 10.5))
    for outline in (Polygon(corners, bearing_deg), Circle(1.2, 13.8, 9.4, bearing_deg)):
        frame = bed_frame(outline)
        for along_m, across_m in local_vertices_m(outline):
            assert -1e-9 <= along_m <= frame.length_m + 1e-9
            assert -1e-9 <= across_m <= frame.width_m + 1e-9


def test_site_and_bed_coordinates_turn_back_into_each_other() -> None:
    frame = bed_frame(Rectangle(4, 1.2, 2, 10, 37))
    assert frame.to_bed(frame.to_site((1.5, 0.4))) == pytest.approx((1.5, 0.4))
