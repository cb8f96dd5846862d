"""What stands stays, pins are kept, beds left alone stay as they are; work stops and goes on."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta

import pytest

from bedwright.engine.placement import PinRefusedError, check
from bedwright.model.book import Pin
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, outline, planned, request

CABBAGE = crop("cabbage", "brassica", in_row_spacing_m=0.4, row_spacing_m=0.4, edible_parts=("head",))
ONION = crop("onion", "allium", in_row_spacing_m=0.1, row_spacing_m=0.3, edible_parts=("bulb",))
LATER = choice(SPRING + timedelta(days=28))


def test_what_stands_keeps_its_place_rows_and_codes() -> None:
    garden = book(bed("A"), bed("B"))
    first = request("cabbage-1", CABBAGE, 9)
    before = planned(garden, first).plantings
    second = request("onion-1", ONION, 60)
    made = planned(garden, first, second, standing=before)
    assert made.plantings[0] == before[0] or before[0] in made.plantings
    assert made.shortfalls == ()
    assert check(garden, made.plantings, (first, second), standing=before) == ()


def test_only_what_is_missing_of_a_standing_request_is_sought() -> None:
    garden = book(bed("A"), bed("B"))
    small = planned(garden, request("cabbage-1", CABBAGE, 4)).plantings
    made = planned(garden, request("cabbage-1", CABBAGE, 10), standing=small)
    assert [one.code for one in made.plantings if one.code != "cabbage-1"] == ["cabbage-1-b"]
    assert sum(one.n_plants for one in made.plantings) == 10


def test_a_shortfall_counts_what_stands_as_placed() -> None:
    garden = book(bed("A", outline(1.2)))
    stands = planned(garden, request("cabbage-1", CABBAGE, 9)).plantings
    (short,) = planned(garden, request("cabbage-1", CABBAGE, 18), standing=stands).shortfalls
    assert (short.wanted_plants, short.placed_plants) == (18, 9)


def test_what_stands_may_be_of_a_crop_that_is_no_longer_asked_for() -> None:
    garden = book(bed("A", outline(1.2)))
    stands = planned(garden, request("cabbage-1", CABBAGE, 9)).plantings
    made = planned(garden, request("onion-1", ONION, 10), standing=stands)
    assert [one.code for one in made.plantings] == ["cabbage-1"]
    assert "cabbage" in made.shortfalls[0].why


def test_ground_of_what_stands_is_free_once_it_is_cleared() -> None:
    garden = book(bed("A", outline(1.2)))
    stands = planned(garden, request("cabbage-1", CABBAGE, 9)).plantings
    after = choice(stands[0].dates.clear_by + timedelta(days=3))
    made = planned(garden, request("onion-1", ONION, 10, (after,)), standing=stands)
    assert len(made.plantings) == 2


def test_something_standing_in_a_bed_that_is_gone_is_refused() -> None:
    stands = planned(book(bed("A")), request()).plantings
    with pytest.raises(ValueError, match="stands in bed A, which the book does not have"):
        planned(book(bed("B")), request(), standing=stands)


@pytest.mark.parametrize("pin", [Pin("carrot-1", bed_code="B"), Pin("carrot-1", bed_code="B", along_m=1.0)])
def test_a_planting_goes_into_the_bed_and_to_the_place_it_is_pinned_to(pin: Pin) -> None:
    garden = book(bed("A"), bed("B"))
    asked = request()
    made = planned(garden, asked, pins=(pin,))
    (one,) = made.plantings
    assert one.bed_code == "B"
    assert pin.along_m is None or one.along_m[0] == pytest.approx(1.0)
    assert check(garden, made.plantings, (asked,), pins=(pin,)) == ()


def test_a_planting_keeps_a_pinned_date_and_amount() -> None:
    asked = request(n_plants=24, choices=(choice(), LATER))
    pin = Pin("carrot-1", in_ground=LATER.in_ground + timedelta(days=2), n_plants=12)
    (one,) = planned(book(), asked, pins=(pin,)).plantings
    assert (one.dates.in_ground, one.n_plants) == (LATER.in_ground, 12)


def test_a_pinned_planting_of_low_priority_keeps_its_place_against_one_wanted_more() -> None:
    garden = book(bed("A", outline(1.2)))
    nice = request("onion-1", ONION, 40, priority=1)
    must = request("cabbage-1", CABBAGE, 9, priority=5)
    made = planned(garden, nice, must, pins=(Pin("onion-1", bed_code="A", along_m=0.0),))
    assert {one.code: one.n_plants for one in made.plantings}["onion-1"] == 40


def test_all_pins_that_cannot_be_kept_are_named_at_once() -> None:
    pins = (
        Pin("leek-1"),
        Pin("carrot-1", bed_code="Z"),
        Pin("carrot-1", in_ground=SPRING + timedelta(days=60)),
        Pin("carrot-1", bed_code="A", along_m=9.0),
        Pin("carrot-1", n_plants=99),
        Pin("carrot-1", along_m=1.0),
        Pin("carrot-1", bed_code="B"),
    )
    with pytest.raises(PinRefusedError) as refused:
        planned(book(bed("A"), bed("B")), request(not_beds=("B",)), pins=pins)
    assert len(str(refused.value).splitlines()) == len(pins)


def test_nothing_is_added_to_a_bed_left_alone_and_its_plan_stays() -> None:
    garden = book(bed("A"), bed("B"))
    first = request("cabbage-1", CABBAGE, 9, only_beds=("A",))
    before = planned(garden, first).plantings
    second = request("onion-1", ONION, 24)
    made = planned(garden, first, second, start=before, closed_beds=("A",))
    assert {one.code: one.bed_code for one in made.plantings} == {"cabbage-1": "A", "onion-1": "B"}
    assert before[0] in made.plantings
    assert check(garden, made.plantings, (first, second), standing=before, closed_beds=("A",)) == ()


def test_a_search_goes_on_from_an_earlier_plan() -> None:
    garden = book(bed("A"), bed("B"))
    asked = (request("cabbage-1", CABBAGE, 9), request("onion-1", ONION, 60))
    before = planned(garden, *asked)
    after = planned(garden, *asked, start=before.plantings, effort=0)
    assert after.value == pytest.approx(before.value)
    assert [one.rows for one in after.plantings] == [one.rows for one in before.plantings]


def test_places_of_an_earlier_plan_that_are_no_longer_allowed_are_passed_over() -> None:
    before = planned(book(bed("A"), bed("B")), request(only_beds=("A",))).plantings
    made = planned(book(bed("A"), bed("B")), request(not_beds=("A",)), start=before)
    assert [one.bed_code for one in made.plantings] == ["B"]


def test_the_work_can_be_stopped_with_the_best_plan_so_far() -> None:
    def asks() -> Iterator[bool]:
        yield False
        while True:
            yield True

    answers = asks()
    made = planned(book(), request(), stop=lambda: next(answers))
    assert made.stopped
    assert made.plantings
    assert not planned(book(), request()).stopped


def test_the_checker_finds_what_was_moved_lost_or_put_where_it_may_not_be() -> None:
    garden = book(bed("A"), bed("B"))
    asked = (request(),)
    plan = planned(garden, *asked).plantings
    code = plan[0].bed_code
    other = "B" if code == "A" else "A"
    moved = (replace(plan[0], bed_code=other),)
    kinds = {one.kind for one in check(garden, moved, asked, standing=plan)}
    assert "standing planting moved" in kinds
    assert {one.kind for one in check(garden, (), asked, standing=plan)} == {"standing planting gone"}
    assert {one.kind for one in check(garden, plan, asked, closed_beds=(code,))} == {
        "planted in a bed left alone"
    }
    pin = Pin("carrot-1", bed_code=other)
    assert {one.kind for one in check(garden, plan, asked, pins=(pin,))} == {"not where or when it is pinned"}
