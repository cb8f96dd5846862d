"""A plan made again after something happened: what stands stays, what was lost is put back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.placement.changes import EventRefusedError
from bedwright.model.book import HelpingHands, Pin
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    BedOpened,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.season import Planting
from tests.unit.engine.placement.changes.plans import (
    BEFORE,
    CABBAGE,
    DURING,
    LETTUCE,
    ONION,
    again,
    plan_with,
    season,
)
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, outline, request, trellis

LATER, LATEST = choice(SPRING + timedelta(days=28)), choice(SPRING + timedelta(days=49))
DATES = (choice(), LATER, LATEST)
GARDEN = book(bed("A"), bed("B"))
CABBAGES = request("cabbage-1", CABBAGE, 9, DATES)
ONIONS = request("onion-1", ONION, 60, DATES)


def where(plantings: tuple[Planting, ...]) -> dict[str, tuple[object, ...]]:
    return {one.code: (one.bed_code, one.along_m, one.across_m, one.dates, one.rows) for one in plantings}


def kinds(made: object) -> dict[str, str]:
    return {one.planting_code: one.kind for one in made.changes}  # type: ignore[attr-defined]


@pytest.mark.parametrize("today", [BEFORE, DURING, SPRING + timedelta(days=300)])
def test_nothing_changes_where_nothing_happened(today: date) -> None:
    plan = season(GARDEN, CABBAGES, ONIONS)
    made = again(plan, (CABBAGES, ONIONS), today=today)
    assert where(made.plantings) == where(plan.plantings)
    assert made.changes == ()
    assert made.put_back_share == 1.0


def test_the_same_inputs_give_the_same_plan() -> None:
    plan = season(GARDEN, CABBAGES, ONIONS)
    lost = BedLost(plan.plantings[0].bed_code)
    one, other = (again(plan, (CABBAGES, ONIONS), lost) for _ in range(2))
    assert (one.plantings, one.changes, one.shortfalls) == (other.plantings, other.changes, other.shortfalls)


def test_what_stood_in_a_lost_bed_is_put_into_another_on_a_later_date() -> None:
    garden = book(bed("A"), bed("B", outline(0.3)))
    plan = season(garden, CABBAGES)
    assert plan.plantings[0].bed_code == "A"
    wider = replace(plan, book=replace(plan.book, beds=(bed("A"), bed("B"))))
    made = again(wider, (CABBAGES,), BedLost("A"))
    (one,) = made.plantings
    assert (one.code, one.bed_code, one.dates.in_ground) == ("cabbage-1", "B", LATER.in_ground)
    (change,) = made.changes
    assert change.kind == "put back"
    assert change.why == "Bed A is lost."
    assert "9 plants in bed B" in change.text
    assert "it was 9 plants in bed A" in change.text
    assert made.book.leave_alone == ("A",)
    assert made.put_back_share == 1.0


def test_what_stands_in_a_closed_bed_stays_and_what_was_planned_there_moves() -> None:
    soon = replace(ONIONS, choices=(LATER, LATEST), best=0)
    plan = season(GARDEN, replace(CABBAGES, only_beds=("A",)), replace(soon, only_beds=("A",)))
    asked = (CABBAGES, soon)
    made = again(plan, asked, BedClosed("A"))
    now = {one.code: one.bed_code for one in made.plantings}
    assert now == {"cabbage-1": "A", "onion-1": "B"}
    assert kinds(made) == {"onion-1": "moved"}


def test_what_failed_is_sown_again_on_its_own_ground_with_its_pegs() -> None:
    garden = book(bed("A", outline(1.2)))
    plan = season(garden, CABBAGES)
    made = again(plan, (CABBAGES,), PlantingFailed("cabbage-1"))
    (before,), (after,) = plan.plantings, made.plantings
    assert after.dates.in_ground == LATER.in_ground
    assert [row.code for row in after.rows] == [row.code for row in before.rows]
    assert kinds(made) == {"cabbage-1": "put back"}


def test_pegs_of_what_is_gone_are_not_given_to_others() -> None:
    plan = season(GARDEN, CABBAGES, replace(ONIONS, choices=(LATER, LATEST), best=0))
    old = {row.code for one in plan.plantings for row in one.rows if one.code == "cabbage-1"}
    made = again(plan, (CABBAGES, ONIONS), PlantingFailed("cabbage-1"), NotDelivered("onion-1"))
    (one,) = made.plantings
    same_rows = (one.bed_code, one.along_m) == (plan.plantings[0].bed_code, plan.plantings[0].along_m)
    assert same_rows or not old.intersection(row.code for row in one.rows)


def test_what_goes_in_late_takes_the_next_date_that_is_late_enough() -> None:
    plan = season(GARDEN, CABBAGES)
    made = again(plan, (CABBAGES,), PlantingLate("cabbage-1", 3), today=BEFORE)
    assert made.plantings[0].dates.in_ground == LATER.in_ground
    assert made.happened == (f"Cabbage (cabbage-1) in bed {plan.plantings[0].bed_code} is 3 weeks late.",)


def test_what_stands_late_is_cleared_later_and_its_follower_gives_way() -> None:
    garden = book(bed("A", outline(1.2)), bed("B", outline(0.5)))
    after = choice(CABBAGES.choices[0].clear_by + timedelta(days=4), days=60)
    follower = request("lettuce-1", LETTUCE, 9, (after,))
    plan = season(garden, replace(CABBAGES, choices=(choice(),)), follower)
    assert {one.bed_code for one in plan.plantings} == {"A"}
    wider = replace(plan, book=replace(plan.book, beds=(garden.beds[0], bed("B"))))
    made = again(wider, (CABBAGES, follower), PlantingLate("cabbage-1", 2))
    assert kinds(made) == {"cabbage-1": "later", "lettuce-1": "moved"}
    moved = next(one for one in made.changes if one.planting_code == "lettuce-1")
    assert moved.why == "What stands on its ground is cleared too late for it."


def test_what_was_not_delivered_is_left_out_and_its_ground_goes_to_what_was_short() -> None:
    garden = book(bed("A", outline(1.2)))
    onions = replace(ONIONS, priority=1)
    plan = season(garden, CABBAGES, onions)
    assert [short.planting_code for short in plan.shortfalls] == ["onion-1"]
    made = again(plan, (CABBAGES, onions), NotDelivered("cabbage-1"), today=BEFORE)
    changed = kinds(made)
    assert changed["cabbage-1"] == "dropped"
    assert "onion-1" in {one.code for one in made.plantings}
    assert [short.why for short in made.shortfalls if short.planting_code == "cabbage-1"] == [
        "What it is grown from was not delivered."
    ]


def test_what_is_delivered_late_goes_in_once_it_can() -> None:
    plan = season(GARDEN, CABBAGES)
    event = NotDelivered("cabbage-1", SPRING + timedelta(days=10))
    made = again(plan, (CABBAGES,), event, today=BEFORE)
    assert made.plantings[0].dates.in_ground == LATER.in_ground


def test_one_in_ten_others_may_move_to_make_room_for_what_was_lost() -> None:
    # Cabbages may stand in A and B alone; the onions that fill B would do as well in C.
    small = outline(1.2)
    garden = book(bed("A", small), bed("B", small), bed("C", small), bed("D"))
    onions = request("onion-1", ONION, 40, (LATER, LATEST), not_beds=("A", "D"))
    others = [request(f"lettuce-{n}", LETTUCE, 4, (LATER,), only_beds=("D",)) for n in range(9)]
    asked = (replace(CABBAGES, only_beds=("A", "B")), onions, *others)
    first = (replace(CABBAGES, only_beds=("A",)), replace(onions, only_beds=("B",)), *others)
    plan = season(garden, *first)
    made = again(plan, asked, BedLost("A"))
    assert made.put_back_share == 1.0
    assert kinds(made) == {"cabbage-1": "put back", "onion-1": "moved"}
    assert (made.n_moved, made.n_rest) == (1, 10)
    assert next(one.why for one in made.changes if one.kind == "moved") == "Makes room for cabbage-1."
    fewer = season(garden, *first[:6])
    assert again(fewer, asked[:6], BedLost("A")).n_moved == 0


def test_half_the_hours_are_met_by_less_work_and_no_more_points_are_lost_than_it_frees() -> None:
    people = (HelpingHands("two people", 4.0, SPRING - timedelta(days=200), SPRING + timedelta(days=400)),)
    garden = book(bed("A", outline(10.0)), bed("B", outline(10.0)), people=people)
    asked = (request("onion-1", ONION, 300, DATES, priority=1), request("lettuce-1", LETTUCE, 120, DATES))
    plan = season(garden, *asked)
    made = again(plan, asked, HoursChanged(0.05), today=BEFORE)
    assert made.changes
    assert made.terms["hours of work"] < 0 or made.value >= 0
    untouched = again(replace(plan, book=made.book), asked, today=BEFORE)
    assert made.value > untouched.value
    assert [one.hours_per_week for one in made.book.people if one.end > DURING] == [pytest.approx(0.2)]


def test_an_opened_bed_takes_what_was_short() -> None:
    garden = book(bed("A", outline(1.2)))
    plan = season(garden, CABBAGES, replace(ONIONS, priority=1))
    wider = replace(plan.book, beds=(*plan.book.beds, bed("B")))
    made = again(plan, (CABBAGES, ONIONS), BedOpened("B"), book=wider, today=BEFORE)
    assert kinds(made) == {"onion-1": "added"}
    assert made.shortfalls == ()


def test_an_opened_bed_with_a_trellis_moves_nothing() -> None:
    bean = crop("pole bean", "legume", climbs=True, support="trellis", edible_parts=("pod",))
    asked = request("bean-1", bean, 8, DATES)
    plan = season(book(bed("A")), asked)
    wider = replace(plan.book, beds=(*plan.book.beds, bed("B", supports=trellis())))
    made = again(plan, (asked,), BedOpened("B"), book=wider, today=BEFORE)
    assert made.changes == ()


def test_a_wish_new_in_the_book_is_added_and_one_taken_out_is_dropped() -> None:
    plan = season(GARDEN, CABBAGES)
    swapped = season(GARDEN, ONIONS).book
    made = again(plan, (ONIONS,), book=swapped, today=BEFORE)
    assert kinds(made) == {"cabbage-1": "dropped", "onion-1": "added"}
    assert made.changes[0].why == "The book no longer asks for it."


def test_a_pin_that_can_be_kept_is_kept_and_one_on_a_lost_bed_is_not() -> None:
    plan = season(GARDEN, CABBAGES, pins=(Pin("cabbage-1", bed_code="A"),))
    pinned = replace(plan, book=replace(plan.book, pins=(Pin("cabbage-1", bed_code="A"),)))
    assert again(pinned, (CABBAGES,), today=BEFORE).pins == pinned.book.pins
    made = again(pinned, (CABBAGES,), BedLost("A"), today=BEFORE)
    assert made.pins == ()
    assert made.plantings[0].bed_code == "B"


def test_a_planting_with_no_date_left_is_short_and_says_when_the_last_was() -> None:
    plan = season(GARDEN, CABBAGES)
    made = again(plan, (CABBAGES,), PlantingFailed("cabbage-1"), today=LATEST.in_ground + timedelta(days=1))
    (short,) = made.shortfalls
    assert short.why == "The last date for it was 31 May 2027."


@pytest.mark.parametrize(
    ("event", "told"),
    [
        (BedLost("Q"), "There is no bed Q"),
        (PlantingFailed("leek-1"), "There is no planting leek-1"),
        (PlantingFailed("onion-1"), "cannot have failed before"),
        (PlantingLate("cabbage-1", 0), "is not late"),
        (NotDelivered("cabbage-1"), "its seed was there"),
        (HoursChanged(0.5), "promises no hours"),
    ],
)
def test_what_cannot_be_is_refused_in_words(event: Event, told: str) -> None:
    onions = replace(ONIONS, choices=(LATER,), best=0)
    plan = season(GARDEN, CABBAGES, onions)
    with pytest.raises(EventRefusedError, match=told):
        again(plan, (CABBAGES, onions), event)


def test_every_refused_event_is_told_at_once() -> None:
    plan = plan_with(GARDEN, ())
    with pytest.raises(EventRefusedError) as caught:
        again(plan, (), BedLost("Q"), BedLost("R"))
    assert len(str(caught.value).splitlines()) == 2
