"""The packaged example is a whole and believable book."""

from __future__ import annotations

from importlib.resources import as_file, files

import pytest

from bedwright.catalogue import crop_named, load_catalogue
from bedwright.model.book import GardenBook
from bedwright.store.book import read_book, read_book_text, write_book


@pytest.fixture(scope="module")
def demo() -> GardenBook:
    catalogue = load_catalogue()

    def named(name: str) -> str | None:
        crop = crop_named(name, catalogue)
        return crop.name if crop else None

    with as_file(files("bedwright.service") / "demo") as folder:
        return read_book(folder / "garden-book.yaml", catalogue, crop_named=named)


def test_it_has_beds_of_every_shape(demo: GardenBook) -> None:
    assert len(demo.beds) >= 12
    assert {type(bed.outline).__name__ for bed in demo.beds} == {"Rectangle", "Polygon", "Circle"}
    assert any(bed.raised_m > 0.5 for bed in demo.beds)
    assert any(bed.reach == ("south",) and bed.supports for bed in demo.beds)


def test_every_bed_has_four_years_of_history(demo: GardenBook) -> None:
    for bed in demo.beds:
        years = {entry.year for entry in demo.history if entry.bed_code == bed.code}
        assert years == {2023, 2024, 2025, 2026}, bed.code


def test_it_asks_for_about_sixty_plantings(demo: GardenBook) -> None:
    n_plantings = sum(wish.successions if isinstance(wish.successions, int) else 1 for wish in demo.wishes)
    assert 55 <= n_plantings <= 75


def test_it_has_seed_people_goals_and_stock(demo: GardenBook) -> None:
    assert len(demo.seed_drawer) >= 20
    assert any(lot.tested_sown for lot in demo.seed_drawer)
    assert any(entry.paid for entry in demo.people)
    assert demo.goals.donation_kg > 0
    assert demo.goals.quiet_weeks
    assert demo.stock


def test_it_states_water_soil_work_supplies_and_pins(demo: GardenBook) -> None:
    kinds = {feature.kind: feature for feature in demo.site.features}
    assert kinds["tap"].flow_l_min
    assert kinds["water butt"].volume_l
    assert kinds["water butt"].roof_m2
    assert demo.can_l
    assert any(bed.irrigation == "drip" for bed in demo.beds)
    assert {bed.mulch_planned for bed in demo.beds} == {True, False, None}
    assert demo.children_in == ("S",)
    assert any(bed.soil_test is not None and bed.soil_test.lime_g_m2 for bed in demo.beds)
    assert {entry.composted for entry in demo.manure} == {True, False}
    assert len(demo.workdays) >= 8
    assert demo.labour_rates
    assert demo.propagation
    assert len(demo.suppliers) >= 3
    assert demo.pins


def test_its_suppliers_sell_every_crop_that_is_wished(demo: GardenBook) -> None:
    offered = {offer.name for offer in demo.offers}
    assert {wish.crop for wish in demo.wishes} <= offered


def test_no_supplier_takes_the_name_of_a_real_one(demo: GardenBook) -> None:
    assert all(supplier.name.endswith("(invented)") for supplier in demo.suppliers)


def test_it_can_be_written_and_read_again(demo: GardenBook) -> None:
    assert read_book_text(write_book(demo), "book.yaml", load_catalogue()) == demo
