"""How many of a crop a bed holds, in words."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bedwright.model.book import Bed
from bedwright.model.crop import Crop
from bedwright.model.ground import Circle, Rectangle
from bedwright.service.stations import even_distance_m, stations, stations_text
from tests.builders import tiny_crop

ROUND = Bed("K", "Round bed", Circle(1.2, 0, 0, 90), "loam")
LONG = Bed("A", "", Rectangle(4, 1.2, 0, 0, 90), "loam")


@pytest.fixture
def lettuce() -> Crop:
    return replace(tiny_crop(), in_row_spacing_m=0.3, row_spacing_m=0.3)


def test_an_even_distance_leaves_each_plant_the_ground_of_its_rows(lettuce: Crop) -> None:
    assert even_distance_m(lettuce) ** 2 * math.sqrt(3) / 2 == pytest.approx(0.09)


def test_rows_are_counted_as_a_plan_counts_them(lettuce: Crop) -> None:
    # 4.0 by 1.2 m at 30 by 30 cm, 15 cm to the edge: 13 by 4.
    assert stations(LONG, lettuce).n_in_rows == 52


def test_a_distance_asked_for_is_kept_and_said(lettuce: Crop) -> None:
    found = stations(ROUND, lettuce, apart_m=0.3)
    assert found.any_angle.n_plants >= found.along_string.n_plants > 40
    text = stations_text(found, "metric")
    assert "at least 30 cm apart" in text
    assert "ground it has" not in text


def test_a_number_of_plants_is_spread_over_the_bed(lettuce: Crop) -> None:
    found = stations(ROUND, lettuce, n_plants=7, closest=True)
    assert found.without_rows is not None
    assert found.without_rows.n_plants >= 7
    # Seven in a circle stand one in the middle and six round it: 2.4 m / 3, were it not for the
    # 30 cm that is enough to the edge.
    assert found.without_rows.apart_m == pytest.approx(0.9, abs=0.02)


def test_every_plant_is_listed_by_its_row(lettuce: Crop) -> None:
    found = stations(LONG, lettuce, apart_m=0.3)
    text = stations_text(found, "metric", listed=True)
    assert text.count(" / ") == found.any_angle.n_plants
    assert "row 1: " in text


def test_us_gardens_read_inches(lettuce: Crop) -> None:
    assert "in apart" in stations_text(stations(LONG, lettuce), "us")


def test_ground_that_no_arm_reaches_is_told(lettuce: Crop) -> None:
    # Of a circle of 1.2 m a circle of 0.45 m is out of reach, 0.64 m2.
    assert "0.6 m² of it lie farther than 75 cm" in stations_text(stations(ROUND, lettuce), "metric")
    assert "farther" not in stations_text(stations(LONG, lettuce), "metric")
    boards = replace(ROUND, stepping_boards=True)
    assert "farther" not in stations_text(stations(boards, lettuce), "metric")
