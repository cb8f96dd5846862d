"""The catalogue as shipped: complete, honest about its sources, and plausible."""

from __future__ import annotations

from collections import Counter

import pytest

from bedwright.catalogue import load_catalogue, share_published
from bedwright.catalogue.choice import RANKS
from bedwright.model.crop import Crop
from bedwright.model.source import PUBLISHED

CATALOGUE = load_catalogue()
CROPS = tuple(CATALOGUE.crops.values())


def every_crop() -> pytest.MarkDecorator:
    return pytest.mark.parametrize("crop", CROPS, ids=lambda crop: crop.name)


def test_at_least_sixty_crops_are_complete() -> None:
    assert len(CROPS) >= 60
    assert list(CATALOGUE.crops) == sorted(CATALOGUE.crops)


def test_plan_codes_are_unique_capitals() -> None:
    codes = [crop.plan_code for crop in CROPS]
    assert len(set(codes)) == len(codes)
    assert all(len(code) == 3 and code.isupper() for code in codes)


@every_crop()
def test_at_most_one_fact_of_a_quantity_is_used(crop: Crop) -> None:
    used = Counter(fact.quantity for fact in crop.facts if fact.used)
    assert set(used.values()) == {1}
    left = {fact.quantity for fact in crop.facts} - set(used)
    assert all(fact.reason for quantity in left for fact in crop.facts_of(quantity))


@every_crop()
def test_every_fact_names_a_listed_source_and_where_in_it(crop: Crop) -> None:
    for fact in crop.facts:
        assert fact.source_id in CATALOGUE.sources
        assert fact.locator


@every_crop()
def test_values_without_a_publication_say_so_in_their_row(crop: Crop) -> None:
    for fact in crop.facts:
        published = CATALOGUE.sources[fact.source_id].citation
        if fact.standing in PUBLISHED:
            assert not published.startswith("No publication"), fact
        else:
            assert published.startswith("No publication"), fact


@every_crop()
def test_a_crop_raised_from_seed_still_grows_after_setting_out(crop: Crop) -> None:
    if crop.maturity_basis == "sowing" and crop.ways[0] != "sow" and crop.weeks_raised is not None:
        assert crop.days_to_maturity_days[0] - 7 * crop.weeks_raised >= 5


@every_crop()
def test_frost_class_and_killing_temperature_agree(crop: Crop) -> None:
    # Common practice, no source: tender crops die at or just below freezing, hardy ones do not.
    if crop.frost_class in {"tender", "very tender"}:
        assert crop.frost_kill_c >= -2
    else:
        assert crop.frost_kill_c < 0


@every_crop()
def test_emergence_is_no_slower_in_warmer_soil_up_to_20_c(crop: Crop) -> None:
    days = [p.days_to_emergence for p in crop.germination if p.soil_temp_c <= 20 and p.days_to_emergence]
    assert days == sorted(days, reverse=True)


@every_crop()
def test_a_crop_sown_here_has_days_to_emergence(crop: Crop) -> None:
    if {"sow", "raise"} & set(crop.ways) and crop.planting_stock == "seed":
        assert sum(point.germinates for point in crop.germination) >= 2


@every_crop()
def test_plants_have_room_on_both_sides(crop: Crop) -> None:
    # Common practice, no source: rows of a bed stand at least a third of the plant's width apart.
    assert crop.row_spacing_m >= crop.spread_m / 3
    assert 0.01 <= crop.in_row_spacing_m <= 2.5


@every_crop()
def test_water_stages_add_up_to_the_season_stated(crop: Crop) -> None:
    assert crop.water is not None
    (fact,) = [fact for fact in crop.facts if fact.quantity == "stage_days" and fact.used]
    assert fact.low == fact.high
    assert sum(crop.water.stage_days) == fact.low


def test_facts_of_the_trade_stand_beside_what_was_published() -> None:
    # Common practice, no source.
    depths = {
        "carrot": (2, 3),
        "beet": (11, 14),
        "pea": (15, 15),
        "bush bean": (15, 15),
        "pole bean": (15, 15),
    }
    for name, span in depths.items():
        listed = CATALOGUE.crops[name].facts_of("sow_depth_mm")
        practised = [fact for fact in listed if fact.standing == "practice"]
        assert [list(span)] == [[fact.low, fact.high] for fact in practised]
        assert listed[0].used
        assert listed[0].standing == "read"
    tomato, cucumber = CATALOGUE.crops["tomato"], CATALOGUE.crops["cucumber"]
    handling = (tomato.stem_depth, tomato.soak_cell, cucumber.roots)
    assert handling == ("bury to first leaves", True, "leave undisturbed")


def test_small_seed_goes_shallower_than_large() -> None:
    # Common practice, no source: the smaller the seed the shallower.
    fine = [c.sow_depth_mm for c in CROPS if c.planting_stock == "seed" and (c.seeds_per_gram or 0) > 800]
    large = [c.sow_depth_mm for c in CROPS if c.planting_stock == "seed" and 0 < (c.seeds_per_gram or 0) < 12]
    assert max(fine) <= 13
    assert min(large) >= 13
    assert sum(fine) / len(fine) < sum(large) / len(large) / 2


def test_poisonous_parts_have_more_than_a_memory_behind_them_where_they_can_kill() -> None:
    for name in ("rhubarb", "potato", "tomato", "eggplant", "broad bean", "bush bean", "lima bean"):
        (used,) = [f for f in CATALOGUE.crops[name].facts_of("poisonous_parts") if f.used]
        assert used.standing in PUBLISHED


def test_findings_graded_a_or_b_rest_on_a_publication_or_are_marked_memory() -> None:
    for finding in CATALOGUE.neighbours:
        if finding.grade != "C":
            citation = CATALOGUE.sources[finding.source_id].citation
            assert finding.standing == "memory" or not citation.startswith("No publication"), finding


def test_the_share_of_published_values_counts_every_fact() -> None:
    share = share_published(CATALOGUE)
    assert share.n_facts == sum(len(crop.facts) for crop in CROPS)
    assert sum(count for _, count, _ in share.by_standing) == share.n_facts
    assert sum(used for _, _, used in share.by_standing) == share.n_used
    assert 60 < share.used_pct < 100


def test_ranks_of_sources_are_those_the_rule_lists() -> None:
    assert set(RANKS) == {1, 2, 3, 4, 9}
