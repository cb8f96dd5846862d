from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from bedwright.engine.timing import stated_choices
from bedwright.model.book import StatedFrost
from bedwright.model.crop import Fact
from tests.unit.engine.timing.case import quick_leaf, tender_fruit

FROST = StatedFrost(last_spring=(4, 26), first_autumn=(10, 18))
START = date(2027, 1, 1)


def test_the_first_date_follows_the_weeks_the_source_gives() -> None:
    # Purdue HO-203: very hardy crops 4 to 6 weeks before the frost-free date.
    offset = Fact(
        "plant_out_weeks_from_last_frost", -6.0, -4.0, "", "weeks", "PURDUE_HO203", "", "weak", used=True
    )
    first = stated_choices(replace(quick_leaf(), facts=(offset,)), "sow", FROST, START)[0]
    opens = date(2027, 4, 26) - timedelta(weeks=6)
    assert opens <= first.in_ground < opens + timedelta(weeks=1)


def test_without_such_a_fact_the_frost_class_decides() -> None:
    assert stated_choices(tender_fruit(), "raise", FROST, START)[0].in_ground >= date(2027, 4, 26)
    very = replace(tender_fruit(), frost_class="very tender")
    assert stated_choices(very, "raise", FROST, START)[0].in_ground >= date(2027, 5, 3)


def test_the_last_date_counts_back_from_the_first_frost_as_virginia_extension_does() -> None:
    # Days to harvest + harvest period + fall factor 14 + frost-tender factor 14 before the first frost.
    quick = replace(tender_fruit(), harvest_span_days=10.0)
    for crop, days in ((quick, 70 + 10 + 14 + 14), (quick_leaf(), 45 + 14 + 14)):
        last = stated_choices(crop, crop.ways[0], FROST, START)[-1]
        limit = date(2027, 10, 18) - timedelta(days=days)
        assert limit - timedelta(days=7) < last.in_ground <= limit


def test_picking_follows_the_packets_days() -> None:
    first = stated_choices(tender_fruit(), "raise", FROST, START)[0]
    assert (first.first_pick - first.in_ground).days == 70
    assert (first.first_pick_early - first.in_ground).days == 60
    assert (first.first_pick_late - first.in_ground).days == 80
    assert first.last_pick <= date(2027, 10, 18)
    assert first.sow_under_cover == first.in_ground - timedelta(weeks=6)


def test_garlic_goes_in_after_the_first_autumn_frost() -> None:
    garlic = replace(
        quick_leaf(), life_cycle="overwintering", planting_stock="clove", days_to_maturity_days=(250, 270)
    )
    found = stated_choices(garlic, "buy", FROST, START)
    assert all(date(2027, 10, 18) <= choice.in_ground <= date(2027, 11, 15) for choice in found)
    assert found[0].first_pick.year == 2028


def test_a_southern_season_finds_its_own_spring_and_autumn() -> None:
    south = StatedFrost(last_spring=(10, 10), first_autumn=(4, 25))
    found = stated_choices(tender_fruit(), "raise", south, date(2027, 7, 1))
    assert found[0].in_ground >= date(2027, 10, 10)
    assert found[-1].in_ground < date(2028, 4, 25)


def test_a_frost_on_29_february_is_taken_as_1_march() -> None:
    frost = StatedFrost(last_spring=(2, 29), first_autumn=(11, 30))
    assert stated_choices(tender_fruit(), "raise", frost, START)[0].in_ground >= date(2027, 3, 1)


def test_a_perennial_goes_in_in_spring_and_keeps_its_ground() -> None:
    crown = replace(quick_leaf(), life_cycle="perennial", ways=("buy",))
    found = stated_choices(crown, "buy", FROST, START)
    assert found[-1].in_ground < date(2027, 6, 1)
    assert all(choice.clear_by >= date(2027, 12, 31) for choice in found)


def test_a_season_too_short_for_the_packet_leaves_no_date() -> None:
    short = StatedFrost(last_spring=(6, 20), first_autumn=(8, 20))
    assert stated_choices(tender_fruit(), "raise", short, START) == ()
