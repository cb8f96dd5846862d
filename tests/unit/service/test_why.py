"""Reasons in plain words."""

from dataclasses import replace

import pytest

from bedwright.model.season import PlantingLight
from bedwright.service.why import known_codes, why
from tests.demo import demo_plan


def test_a_row_code_tells_place_date_numbers_and_sources() -> None:
    plan = demo_plan()
    planting = plan.plantings[0]
    text = why(plan, planting.label_code)
    assert text is not None
    for heading in ("Why here", "Why then", "What else there was", "Where the numbers come from", "Sources"):
        assert heading in text
    assert planting.crop.name in text
    assert "recorded years" in text


@pytest.mark.parametrize("which", ["rows", "planting", "wish", "bed"])
def test_rows_plantings_wishes_and_beds_are_all_known_by_their_codes(which: str) -> None:
    plan = demo_plan()
    planting = plan.plantings[-1]
    code = {
        "rows": planting.rows[-1].code,
        "planting": planting.code,
        "wish": planting.wish_code,
        "bed": planting.bed_code,
    }[which]
    text = why(plan, code.lower())
    assert text is not None
    assert planting.crop.name in text


def test_a_wish_that_fell_short_says_what_would_have_to_give() -> None:
    plan = demo_plan()
    short = plan.shortfalls[0]
    text = why(plan, short.wish_code)
    assert text is not None
    assert f"{short.placed_plants} of {short.wanted_plants}" in text
    assert short.why in text


def test_every_source_key_in_brackets_is_written_out() -> None:
    plan = demo_plan()
    for planting in plan.plantings:
        text = why(plan, planting.label_code)
        assert text is not None
        for origin in planting.origins:
            for key in origin.source_ids:
                assert f"  [{key}] " in text


def test_an_unknown_code_is_none_and_known_ones_can_be_offered() -> None:
    plan = demo_plan()
    assert why(plan, "Z99") is None
    first = plan.plantings[0]
    assert f"{first.label_code} {first.crop.name}" in known_codes(plan)


def test_a_crop_is_known_by_its_name() -> None:
    plan = demo_plan()
    name = plan.plantings[0].crop.name
    text = why(plan, name.upper())
    assert text is not None
    assert text.count("Why here") == sum(one.crop.name == name for one in plan.plantings)


def test_the_best_other_bed_and_date_are_told_with_what_they_cost() -> None:
    plan = demo_plan()
    both = [one for one in plan.plantings if len(one.alternatives) == 2]
    assert both
    text = why(plan, both[0].code)
    assert text is not None
    for other in both[0].alternatives:
        assert other.text in text


def test_a_planting_without_another_place_says_so() -> None:
    plan = demo_plan()
    alone = replace(plan.plantings[0], alternatives=())
    text = why(replace(plan, plantings=(alone,)), alone.code)
    assert text is not None
    assert "No other bed has free ground for all of it" in text
    assert "On no other date is there free ground" in text


def test_what_would_help_a_short_wish_is_listed() -> None:
    plan = demo_plan()
    short = replace(plan.shortfalls[0], would_help=("0.50 m more of bed A.",))
    text = why(replace(plan, shortfalls=(short,)), short.planting_code)
    assert text is not None
    assert "What would help\n  - 0.50 m more of bed A." in text


def test_sun_and_light_over_its_own_weeks_are_told() -> None:
    plan = demo_plan()
    planting = plan.plantings[0]
    light = PlantingLight(planting.code, 9.9, 0.24, 43.0, 26.4)
    text = why(replace(plan, planting_light=(light,)), planting.code)
    assert text is not None
    assert "9.9 h of direct sun a day under a clear sky, 0.2 h of which taller crops about it take." in text
    assert "26 mol/m2 a day under the sky of the record, 43 under a clear one." in text
    open_text = why(
        replace(plan, planting_light=(replace(light, crop_shade_h=0.0, average_mol_m2=None),)), planting.code
    )
    assert open_text is not None
    assert "clear sky." in open_text
    assert "taller crops about it" not in open_text


def test_a_us_garden_reads_feet_but_citations_stay_as_they_are() -> None:
    plan = demo_plan()
    us = replace(plan, book=replace(plan.book, site=replace(plan.book.site, units="us")))
    text = why(us, plan.plantings[0].label_code)
    assert text is not None
    body, sources = text.split("\nSources\n", 1)
    assert " ft" in body.splitlines()[0]
    assert " m along" not in body
    metric = why(plan, plan.plantings[0].label_code)
    assert metric is not None
    assert metric.endswith(sources)
