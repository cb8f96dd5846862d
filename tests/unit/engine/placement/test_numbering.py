"""Row codes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from bedwright.engine.placement import number_rows
from bedwright.model.season import Planting, Row
from tests.plantings import DATES, planting

LATER = replace(DATES, in_ground=date(2027, 6, 1))


def codes(plantings: Sequence[Planting]) -> dict[str, tuple[str, ...]]:
    return {one.code: tuple(row.code for row in one.rows) for one in plantings}


def test_rows_are_numbered_in_order_of_going_in() -> None:
    numbered = number_rows([replace(planting("late"), dates=LATER), planting("early")])
    assert codes(numbered) == {"late": ("A2",), "early": ("A1",)}


def test_each_bed_counts_from_one() -> None:
    numbered = number_rows([planting("one"), planting("two", bed_code="B")])
    assert codes(numbered) == {"one": ("A1",), "two": ("B1",)}


def test_a_hyphen_keeps_rows_of_numbered_beds_apart() -> None:
    beds = ("B1", "B11")
    numbered = number_rows([planting(code, bed_code=code) for code in beds], {"B11": ("B11-4",)})
    assert codes(numbered) == {"B1": ("B1-1",), "B11": ("B11-4",)}
    assert number_rows(numbered, codes(numbered)) == numbered


def test_rows_that_stand_already_keep_their_codes() -> None:
    plantings = [planting("old"), planting("new", n_plants=20)]
    assert codes(number_rows(plantings, {"old": ("A4",)})) == {"old": ("A4",), "new": ("A1",)}


def test_a_kept_number_is_not_given_again_though_its_planting_is_gone() -> None:
    assert codes(number_rows([planting("new")], {"gone": ("A1",)})) == {"new": ("A2",)}


def test_rows_are_numbered_from_the_string_outwards_wherever_they_begin() -> None:
    far, near, middle = (
        Row("", (along, across), (along + 1.0, across), 5, 0.25)
        for along, across in ((0.1, 0.9), (0.1, 0.3), (0.22, 0.6))
    )
    one = replace(planting("staggered"), direction="along", rows=(far, near, middle))
    (numbered,) = number_rows([one])
    assert [(row.code, row.start_m[1]) for row in numbered.rows] == [("A1", 0.3), ("A2", 0.6), ("A3", 0.9)]
