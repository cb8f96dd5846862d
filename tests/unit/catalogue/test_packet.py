"""What the packet says replaces the catalogue's value and stays traceable."""

from __future__ import annotations

from bedwright.catalogue import load_catalogue
from bedwright.model.book import Variety
from bedwright.model.crop import PACKET, with_packet

CATALOGUE = load_catalogue()
CARROT = CATALOGUE.crops["carrot"]
PACKET_OF = Variety(
    "Early Short",
    days_to_maturity_days=58,
    in_row_spacing_cm=4,
    row_spacing_cm=15,
    sow_depth_mm=6,
    height_cm=25,
)


def test_stated_values_replace_the_catalogue_s() -> None:
    crop = with_packet(CARROT, PACKET_OF)
    assert list(crop.days_to_maturity_days) == [58, 58]
    assert [crop.in_row_spacing_m, crop.row_spacing_m] == [0.04, 0.15]
    assert [crop.sow_depth_mm, crop.height_m] == [6, 0.25]
    assert crop.maturity_basis == CARROT.maturity_basis


def test_each_stated_value_is_the_one_fact_in_use_and_the_others_stay_listed() -> None:
    crop = with_packet(CARROT, PACKET_OF)
    for quantity in ("days_to_maturity", "in_row_spacing_cm", "bed_row_spacing_cm", "sow_depth_mm"):
        used, *others = crop.facts_of(quantity)
        assert (used.standing, used.source_id, used.used) == ("packet", PACKET, True)
        assert {fact.locator for fact in others} == {fact.locator for fact in CARROT.facts_of(quantity)}
        assert len(others) == len(CARROT.facts_of(quantity))
        assert not any(fact.used for fact in others)


def test_a_packet_that_states_nothing_changes_nothing() -> None:
    assert with_packet(CARROT, Variety("Plain")) == CARROT


def test_values_the_packet_leaves_out_stay_the_catalogue_s() -> None:
    crop = with_packet(CARROT, Variety("Deep", sow_depth_mm=20))
    assert crop.sow_depth_mm == 20
    assert crop.in_row_spacing_m == CARROT.in_row_spacing_m
    assert crop.days_to_maturity_days == CARROT.days_to_maturity_days


def test_the_packet_is_a_listed_source() -> None:
    assert PACKET in CATALOGUE.sources
