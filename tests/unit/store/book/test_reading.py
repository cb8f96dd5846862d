"""What a book says is what the records hold, in SI, whichever units it was written in."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.model.book import Amount, SoilTest, Stock, Variety
from bedwright.model.ground import Polygon, Rectangle
from bedwright.model.problem import BadDocumentError
from bedwright.store.book import read_book_text
from tests.builders import TINY_TEXT, tiny_book, tiny_catalogue
from tests.unit.store.book.case import edited, problems_of, read


def test_the_tiny_text_is_the_tiny_book() -> None:
    assert read(TINY_TEXT) == tiny_book()


def test_a_bed_measured_in_feet_and_inches_is_kept_in_metres() -> None:
    text = edited("length_m: 4, width_m: 1.2, east_m: 0", "length_ft: 16, width_in: 48, east_cm: 70")
    outline = read(text).beds[0].outline
    assert isinstance(outline, Rectangle)
    assert (outline.length_m, outline.width_m, outline.east_m) == (4.8768, 1.2192, 0.7)


def test_corners_measured_in_feet_are_kept_in_metres() -> None:
    shape = "polygon: {vertices_ft: [[0, 0], [10, 0], [0, 4]], bearing_deg: 90}"
    text = edited("rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 90}", shape)
    assert read(text).beds[0].outline == Polygon(((0.0, 0.0), (3.048, 0.0), (0.0, 1.2192)), 90.0)


@pytest.mark.parametrize(
    ("written", "amount"),
    [
        ("plants: 12", Amount(12.0, "plants")),
        ("row_ft: 10", Amount(3.048, "row_m")),
        ("harvest_lb: 10", Amount(4.5359237, "harvest_kg")),
        ("harvest_oz: 16", Amount(0.45359237, "harvest_kg")),
        ("harvest_g: 500", Amount(0.5, "harvest_kg")),
    ],
)
def test_an_amount_is_kept_in_the_unit_of_its_kind(written: str, amount: Amount) -> None:
    assert read(edited("plants: 12", written)).wishes[2].amount == amount


def test_a_packet_in_inches_is_kept_in_the_units_of_the_record() -> None:
    packet = "{name: Wall Garland, height_ft: 6, in_row_spacing_in: 4, sow_depth_in: 0.5}"
    variety = read(edited("{name: Wall Garland, height_cm: 170}", packet)).wishes[1].variety
    assert variety == Variety("Wall Garland", in_row_spacing_cm=10.16, sow_depth_mm=12.7, height_cm=182.88)


def test_a_soil_report_in_parts_per_million_is_in_milligrams_per_kilogram() -> None:
    report = "soil_test: {sampled_on: 2026-10-01, laboratory: L, p_ppm: 31, lead_ppm: 40}"
    test = read(edited("    texture: loam\n", f"    texture: loam\n    {report}\n")).beds[0].soil_test
    assert isinstance(test, SoilTest)
    assert (test.p_mg_kg, test.k_mg_kg, test.lead_mg_kg) == (31.0, None, 40.0)


def test_stock_is_kept_by_volume_mass_length_or_number() -> None:
    entries = "[{material: a, quantity_us_gal: 10}, {material: b, quantity_lb: 1}, {material: c, pieces: 3}]"
    assert read(TINY_TEXT + f"stock: {entries}\n").stock == (
        Stock("a", 37.85411784, "L"),
        Stock("b", 0.45359237, "kg"),
        Stock("c", 3.0, "pieces"),
    )


def test_a_width_of_a_hedge_is_kept_as_half() -> None:
    hedge = "  features: [{code: H, kind: hedge, vertices_m: [[0, 9], [9, 9]], width_ft: 3}]\nseason:\n"
    feature = read(edited("season:\n", hedge)).site.features[0]
    assert (feature.radius_m, feature.name) == (0.4572, "hedge")


def test_a_synonym_becomes_the_catalogues_name() -> None:
    text = edited("crop: carrot", "crop: wild parsnip's cousin").replace("crops: [onion]", "crops: [bulbs]")
    synonyms = {"wild parsnip's cousin": "carrot", "bulbs": "onion"}
    book = read_book_text(text, "book.yaml", tiny_catalogue(), crop_named=synonyms.get)
    assert (book.wishes[0].crop, book.wishes[0].code) == ("carrot", "carrot-1")
    assert book.history[0].crops == ("onion",)


def test_the_nearest_crops_of_the_catalogue_are_offered() -> None:
    with pytest.raises(BadDocumentError, match="Is tomato or potato meant\\?"):
        read_book_text(
            edited("crop: carrot", "crop: pommodoro"),
            "book.yaml",
            tiny_catalogue(),
            nearest_crops=lambda name: ("tomato", "potato") if name == "pommodoro" else (),
        )


def test_wishes_without_a_code_are_numbered_within_their_crop() -> None:
    more = "  - {crop: carrot, plants: 9, code: carrot-2}\n  - {crop: carrot, plants: 8}\n"
    codes = [wish.code for wish in read(TINY_TEXT + more).wishes]
    assert codes == ["carrot-1", "tomato-1", "lettuce-1", "carrot-2", "carrot-3"]


def test_a_code_given_below_is_not_given_again_above() -> None:
    codes = [wish.code for wish in read(TINY_TEXT + "  - {crop: pea, plants: 9, code: carrot-1}\n").wishes]
    assert codes == ["carrot-2", "tomato-1", "lettuce-1", "carrot-1"]


def test_a_book_without_wishes_is_a_book() -> None:
    text = TINY_TEXT[: TINY_TEXT.index("wishes:")] + "wishes: []\n"
    assert read(text) == replace(tiny_book(), wishes=())


def test_a_book_without_the_key_for_wishes_is_not() -> None:
    (problem,) = problems_of(TINY_TEXT[: TINY_TEXT.index("wishes:")])
    assert problem.where == "wishes"
