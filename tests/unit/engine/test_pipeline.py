"""The whole way from a book to a season plan, on the example garden and on small ones."""

from dataclasses import replace
from datetime import date

import pytest

from bedwright.catalogue import load_catalogue
from bedwright.engine.pipeline import plan_season, revision_of
from bedwright.engine.placement import check
from bedwright.model.season import SeasonPlan
from bedwright.service.demo_garden import DEMO_TODAY
from tests.builders import tiny_book
from tests.demo import demo_loaded, demo_plan


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    return demo_plan()


def test_the_example_is_as_large_as_it_says(plan: SeasonPlan) -> None:
    assert len(plan.book.beds) >= 12
    assert len(plan.plantings) >= 60
    assert len({entry.year for entry in plan.book.history}) == 4


def test_the_example_breaks_no_rule(plan: SeasonPlan) -> None:
    assert check(plan.book, plan.plantings, (), demo_loaded().catalogue.crops) == ()


def test_what_falls_short_says_how_much_and_why(plan: SeasonPlan) -> None:
    for short in plan.shortfalls:
        assert short.placed_plants < short.wanted_plants
        assert short.why


def test_every_source_that_is_named_is_listed(plan: SeasonPlan) -> None:
    for planting in plan.plantings:
        named = {key for origin in planting.origins for key in origin.source_ids}
        named |= {key for reason in planting.reasons for key in reason.source_ids}
        assert named <= plan.sources.keys()


def test_every_planting_says_why_and_where_its_numbers_come_from(plan: SeasonPlan) -> None:
    for planting in plan.plantings:
        assert planting.reasons
        assert planting.origins
        for origin in planting.origins:
            assert origin.source_ids or origin.standing in ("own", "practice", "packet", "memory", "derived")


def test_every_date_has_its_chance_on_the_record(plan: SeasonPlan) -> None:
    for planting in plan.plantings:
        assert planting.dates.chance is not None
        assert planting.dates.n_years >= 28


def test_row_codes_are_bed_and_number_and_unique(plan: SeasonPlan) -> None:
    codes = [row.code for planting in plan.plantings for row in planting.rows]
    assert len(set(codes)) == len(codes)
    for planting in plan.plantings:
        for row in planting.rows:
            assert row.code.startswith(planting.bed_code)
            assert row.code[len(planting.bed_code) :].isdigit()


def test_an_invented_record_is_said_to_be_invented(plan: SeasonPlan) -> None:
    assert any("invented" in warning for warning in plan.warnings)


def test_nothing_is_begun_before_today(plan: SeasonPlan) -> None:
    assert min(task.start for task in plan.tasks) >= DEMO_TODAY


def test_the_same_book_seed_and_day_give_the_same_plan(plan: SeasonPlan) -> None:
    loaded = demo_loaded()
    again = plan_season(loaded.book, loaded.record, loaded.catalogue, seed=plan.seed, today=plan.made_on)
    assert again == plan


def test_the_revision_moves_with_book_seed_and_day() -> None:
    loaded = demo_loaded()
    book, record, catalogue = loaded.book, loaded.record, loaded.catalogue
    first = revision_of(book, record, catalogue, 1, DEMO_TODAY)
    assert first == revision_of(book, record, catalogue, 1, DEMO_TODAY)
    assert first != revision_of(book, record, catalogue, 2, DEMO_TODAY)
    assert first != revision_of(book, record, catalogue, 1, date(2027, 1, 1))
    assert first != revision_of(replace(book, note="changed"), record, catalogue, 1, DEMO_TODAY)
    assert first != revision_of(book, None, catalogue, 1, DEMO_TODAY)


def test_without_a_record_chances_are_not_known_and_none_is_invented() -> None:
    plan = plan_season(tiny_book(), None, load_catalogue(), seed=1, today=date(2026, 12, 1))
    assert plan.climate is None
    assert plan.plantings
    assert all(planting.dates.chance is None for planting in plan.plantings)
    assert any("not known" in warning for warning in plan.warnings)


def test_a_book_without_wishes_gives_an_empty_plan() -> None:
    plan = plan_season(
        replace(tiny_book(), wishes=()), None, load_catalogue(), seed=1, today=date(2026, 12, 1)
    )
    assert plan.plantings == ()
    assert plan.orders == ()
