"""Nothing is picked within the days after raw manure that the rule asks for.

Days from 7 CFR 205.203(c)(1)(ii) and (iii): 120 where the part eaten touches the soil, else 90.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.placement import check
from bedwright.model.safety import ManureSpread
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, planned, request

LATER = SPRING + timedelta(days=28)


def dug_in(days_before: int, *, composted: bool = False) -> ManureSpread:
    """So many days before the first pick of what goes in on 12 April: 70 days after it."""
    first_pick = SPRING + timedelta(days=70)
    return ManureSpread("A", first_pick - timedelta(days=days_before), "horse manure", composted)


@pytest.mark.parametrize(("days", "allowed"), [(119, False), (120, True)])
def test_a_root_keeps_120_days(days: int, allowed: bool) -> None:
    garden = book(bed("A"), manure=(dug_in(days),))
    made = planned(garden, request())
    assert bool(made.plantings) == allowed
    if not allowed:
        assert "raw manure is dug in on" in made.shortfalls[0].why
        assert "120 days" in made.shortfalls[0].why


@pytest.mark.parametrize(("days", "allowed"), [(89, False), (90, True)])
def test_fruit_that_hangs_clear_keeps_90_days(days: int, allowed: bool) -> None:
    tomato = crop("tomato", "solanum", edible_parts=("fruit",), support="cane", height_m=1.5)
    made = planned(book(bed("A"), manure=(dug_in(days),)), request("tomato-1", tomato, 4))
    assert bool(made.plantings) == allowed


def test_a_later_date_or_another_bed_is_taken_instead() -> None:
    garden = book(bed("A"), manure=(dug_in(100),))
    asked = request(choices=(choice(), choice(LATER)))
    (only,) = planned(garden, asked).plantings
    assert only.dates.in_ground == LATER
    beside = planned(book(bed("A"), bed("B"), manure=(dug_in(100),)), request())
    assert [one.bed_code for one in beside.plantings] == ["B"]


def test_composted_manure_and_manure_after_the_last_pick_bar_nothing() -> None:
    after = ManureSpread("A", SPRING + timedelta(days=91), "horse manure")
    for manure in (dug_in(1, composted=True), after):
        assert planned(book(bed("A"), manure=(manure,)), request()).plantings


def test_a_flower_is_not_eaten_and_may_stand_there() -> None:
    marigold = replace(crop("marigold", "composite"), kind="flower")
    assert planned(book(bed("A"), manure=(dug_in(10),)), request("marigold-1", marigold, 4)).plantings


def test_a_crop_without_a_date_is_short_for_that_reason() -> None:
    never = request("okra-1", choices=(), no_window_reason="Too cool here.")
    assert planned(book(bed("A"), manure=(dug_in(10),)), never).shortfalls[0].why == "Too cool here."


def test_the_checker_sees_a_pick_too_soon() -> None:
    made = planned(book(bed("A")), request())
    (found,) = check(book(bed("A"), manure=(dug_in(100),)), made.plantings, (request(),))
    assert (found.kind, found.actual, found.needed) == ("picked too soon after raw manure", 100, 120)
    spread_later = ManureSpread("A", date(2027, 7, 1), "poultry manure")
    assert check(book(bed("A"), manure=(spread_later,)), made.plantings, (request(),))


def test_what_stands_there_already_is_left_to_the_cautions() -> None:
    made = planned(book(bed("A")), request())
    garden = book(bed("A"), manure=(dug_in(100),))
    again = planned(garden, request(), standing=made.plantings)
    assert again.plantings == made.plantings
    assert check(garden, again.plantings, (request(),), standing=made.plantings) == ()
