"""What stands when a new season begins keeps its ground."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.catalogue import load_catalogue
from bedwright.engine.pipeline import carried_over, plan_again, plan_season
from bedwright.engine.pipeline.carried import carried_words
from bedwright.model.book import Amount, GardenBook, Wish
from bedwright.model.season import Planting, SeasonPlan
from tests.builders import tiny_book
from tests.demo import demo_plan

START = date(2028, 1, 1)
WISHES = (
    Wish("garlic-1", "garlic", Amount(20, "plants")),
    Wish("chives-1", "chives", Amount(4, "plants")),
    Wish("carrot-1", "carrot", Amount(4, "row_m")),
)


@pytest.fixture(scope="module")
def two_seasons() -> tuple[SeasonPlan, SeasonPlan]:
    """A season and the one after it, from the same wishes."""
    catalogue = load_catalogue()
    book = replace(tiny_book(), wishes=WISHES)
    first = plan_season(book, None, catalogue, seed=1, today=date(2026, 12, 1))
    later = replace(book, season_start=START)
    return first, plan_season(later, None, catalogue, seed=1, today=date(2027, 12, 1), after=first)


def next_book(plan: SeasonPlan) -> GardenBook:
    return replace(plan.book, season_start=START)


def crop_of(stands: tuple[Planting, ...], name: str) -> Planting:
    return next(one for one in stands if one.crop.name == name)


def test_what_is_cleared_later_stands_with_its_rows_under_a_code_of_its_own() -> None:
    plan = demo_plan()
    garlic = crop_of(plan.plantings, "garlic")
    stands = crop_of(carried_over(plan, next_book(plan)), "garlic")
    assert (stands.rows, stands.dates, stands.bed_code) == (garlic.rows, garlic.dates, garlic.bed_code)
    assert stands.code == f"{garlic.code}-2027"


def test_a_perennial_stands_another_season_and_meets_its_wish() -> None:
    plan = demo_plan()
    chives = crop_of(plan.plantings, "chives")
    stands = crop_of(carried_over(plan, next_book(plan)), "chives")
    assert stands.code == chives.code
    assert stands.dates.in_ground == chives.dates.in_ground
    assert stands.dates.first_pick == chives.dates.first_pick.replace(year=2028)
    assert stands.dates.clear_by == date(2028, 12, 31)


def test_a_perennial_does_not_meet_a_wish_for_something_else() -> None:
    plan = demo_plan()
    book = next_book(plan)
    wishes = tuple(replace(wish, crop="kale") if wish.crop == "chives" else wish for wish in book.wishes)
    stands = crop_of(carried_over(plan, replace(book, wishes=wishes)), "chives")
    assert stands.code == "chives-1-2027"
    again = replace(plan, plantings=(stands,))
    assert carried_over(again, replace(book, wishes=(), season_start=date(2029, 1, 1)))[0].code == stands.code


def test_what_is_cleared_before_stands_no_more() -> None:
    plan = demo_plan()
    ends = {one.code: one.dates.clear_by for one in plan.plantings if one.crop.life_cycle != "perennial"}
    stands = {one.code.removesuffix("-2027") for one in carried_over(plan, next_book(plan))}
    assert {code for code, end in ends.items() if end >= START} == stands & set(ends)
    assert len(stands) < len(plan.plantings) / 4


def test_what_went_with_its_bed_is_named() -> None:
    plan = demo_plan()
    garlic = crop_of(plan.plantings, "garlic")
    beds = tuple(bed for bed in plan.book.beds if bed.code != garlic.bed_code)
    without = replace(next_book(plan), beds=beds)
    assert all(one.crop.name != "garlic" for one in carried_over(plan, without))
    assert any("is no longer in the book: garlic" in said for said in carried_words(plan, without))


def test_the_next_season_is_planned_round_what_stands(two_seasons: tuple[SeasonPlan, SeasonPlan]) -> None:
    first, second = two_seasons
    before, now = crop_of(first.plantings, "garlic"), {one.code: one for one in second.plantings}
    assert now["garlic-1-2027"].rows == before.rows
    assert now["garlic-1"].dates.in_ground.year == 2028
    # Chives are there already: none are planted or ordered again.
    assert [one.code for one in second.plantings if one.crop.name == "chives"] == ["chives-1"]
    assert not any(short.wish_code == "chives-1" for short in second.shortfalls)
    assert {line.crop for line in second.orders} == {"garlic", "carrot"}
    assert all(task.end >= date(2027, 12, 1) for task in second.tasks)
    assert {"pick", "clear"} <= {task.kind for task in second.tasks if task.planting_code == "garlic-1-2027"}
    said = f"Bed {before.bed_code}: garlic {before.label_code} stands from the season before, until "
    assert any(warning.startswith(said) for warning in second.warnings)


def test_a_plan_round_what_stands_can_be_made_again(two_seasons: tuple[SeasonPlan, SeasonPlan]) -> None:
    _, second = two_seasons
    made = plan_again(second, second.book, None, load_catalogue(), (), today=date(2028, 3, 1))
    assert made.changes == ()
