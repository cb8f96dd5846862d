"""Ground that nothing follows on is told with the cover crop that can still be sown there."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bedwright.engine.pipeline.bare_ground import bare_ground, bare_ground_words
from bedwright.model.book import StatedFrost
from bedwright.model.season import Planting
from tests.demo import demo_loaded
from tests.unit.engine.placement.gardens import bed, book, outline, planned, request

CROPS = demo_loaded().catalogue.crops
TODAY = date(2027, 1, 1)
GARDEN = book(bed("A", outline(4.0)), stated_frost=StatedFrost((5, 10), (10, 10)))


def stands(length_m: float) -> tuple[Planting, ...]:
    (only,) = planned(GARDEN, request()).plantings
    return (replace(only, along_m=(0.0, length_m)),)


def test_a_bed_without_a_crop_is_bare_for_its_whole_length() -> None:
    (found,) = bare_ground(GARDEN, (), CROPS, None, today=TODAY)
    assert (found.bed_code, found.length_m) == ("A", 4.0)
    assert CROPS[found.crop].kind == "cover crop"


def test_ground_is_free_from_the_day_after_its_last_crop_is_cleared() -> None:
    (found,) = bare_ground(GARDEN, stands(4.0), CROPS, None, today=TODAY)
    assert found.length_m == 4.0
    assert found.free_from > stands(4.0)[0].dates.clear_by
    assert found.sown_by >= found.free_from


def test_ground_under_a_crop_to_the_end_is_not_bare() -> None:
    (crop,) = stands(3.5)
    late = replace(crop, dates=replace(crop.dates, clear_by=date(2028, 6, 1)))
    assert bare_ground(GARDEN, (late,), CROPS, None, today=TODAY) == ()
    (found,) = bare_ground(GARDEN, (replace(late, along_m=(0.0, 3.0)),), CROPS, None, today=TODAY)
    assert found.length_m == 1.0


def test_a_bed_left_alone_is_passed_over() -> None:
    assert bare_ground(replace(GARDEN, leave_alone=("A",)), (), CROPS, None, today=TODAY) == ()


def test_one_sentence_tells_all_of_it() -> None:
    (words,) = bare_ground_words(bare_ground(GARDEN, stands(4.0), CROPS, None, today=TODAY))
    assert words.startswith("Nothing follows on some ground, and a cover crop could still be sown there: ")
    assert "bed A 4.0 m from 12 July" in words
    assert not list(bare_ground_words(()))
