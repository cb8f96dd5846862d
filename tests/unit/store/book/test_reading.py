"""What a book says is what the records hold, in SI, whichever units it was written in."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.model.book import (
    Amount,
    Pin,
    PlannedWorkday,
    Propagation,
    SoilTest,
    StatedRate,
    Stock,
    Variety,
    WaterLimit,
)
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


@pytest.mark.parametrize(
    ("printed", "p_mg_kg", "k_mg_kg"),
    [
        # 2 lb/acre to the mg/kg of a furrow slice (common practice); P is 0.4364 of P2O5 and K 0.8301 of
        # K2O by their molar masses.
        ("p_lb_acre: 62, k_lb_acre: 328", 31.0, 164.0),
        ("p_kg_ha: 22.417, k_kg_ha: 2.2417", 10.0, 1.0),
        ("p2o5_ppm: 100, k2o_ppm: 100", 43.64, 83.01),
        ("p2o5_lb_acre: 200, k_lb_acre: 50", 43.64, 25.0),
    ],
)
def test_nutrients_are_kept_as_milligrams_of_the_element_per_kilogram(
    printed: str, p_mg_kg: float, k_mg_kg: float
) -> None:
    report = f"soil_test: {{sampled_on: 2026-10-01, laboratory: L, {printed}}}"
    test = read(edited("    texture: loam\n", f"    texture: loam\n    {report}\n")).beds[0].soil_test
    assert test is not None
    assert test.p_mg_kg == pytest.approx(p_mg_kg)
    assert test.k_mg_kg == pytest.approx(k_mg_kg)


@pytest.mark.parametrize(
    ("printed", "lime_g_m2"),
    [
        ("lime_g_m2: 240", 240.0),
        ("lime_t_ha: 5", 500.0),
        # 453.59237 g on 92.90304 m2, and 907184.74 g on 4046.8564224 m2.
        ("lime_lb_1000_ft2: 50", 244.12),
        ("lime_lb_100_ft2: 5", 244.12),
        ("lime_us_ton_acre: 1", 224.17),
    ],
)
def test_lime_is_kept_in_grams_a_square_metre(printed: str, lime_g_m2: float) -> None:
    report = f"soil_test: {{sampled_on: 2026-10-01, laboratory: L, {printed}}}"
    test = read(edited("    texture: loam\n", f"    texture: loam\n    {report}\n")).beds[0].soil_test
    assert test is not None
    assert test.lime_g_m2 == pytest.approx(lime_g_m2, abs=0.005)


def test_taps_butts_and_cans_may_be_measured_in_gallons_and_feet() -> None:
    things = (
        "  features: [{code: T, kind: tap, at_m: [1, 1], flow_us_gal_min: 4}, "
        "{code: W, kind: water butt, at_m: [2, 1], volume_us_gal: 55, roof_ft2: 100}]\nseason:\n"
    )
    book = read(edited("season:\n", things).replace("wishes:\n", "water: {can_us_gal: 2}\nwishes:\n"))
    tap, butt = book.site.features
    assert (tap.flow_l_min, tap.volume_l) == (15.141647136, None)
    assert (butt.volume_l, butt.roof_m2, butt.flow_l_min) == (208.19764812, 9.290304, None)
    assert book.can_l == 7.570823568


def test_what_is_not_stated_of_water_is_not_known() -> None:
    book = read(TINY_TEXT)
    assert (book.can_l, book.beds[0].irrigation, book.beds[0].mulch_planned) == (None, None, None)


def test_own_rates_are_kept_in_minutes_of_the_unit_of_their_job() -> None:
    rates = (
        "[{job: weed, min_per_ft2: 0.1}, {job: pick, min_per_lb: [1, 2, 4]}, {job: order, min_per_order: 20}]"
    )
    weed, pick, order = read(TINY_TEXT + f"labour_rates: {rates}\n").labour_rates
    # 0.1 min/ft2 over 0.09290304 m2, and 2 min/lb over 0.45359237 kg.
    assert weed.likely_min == pytest.approx(1.07639, rel=1e-5)
    assert (weed.low_min, weed.high_min) == (None, None)
    assert pick.likely_min == pytest.approx(4.40925, rel=1e-5)
    assert pick.low_min is not None
    assert pick.low_min * 4 == pytest.approx(pick.high_min)
    assert order == StatedRate("order", 20.0)


def test_a_workday_a_pin_and_room_for_trays_are_what_was_written() -> None:
    more = (
        "workdays: [{date: 2027-04-10, name: Spring dig, start: 9:30, hours: 3, people: 14}]\n"
        "pins: [{planting: lettuce-1/2, bed: A, along_cm: 50, in_ground: 2027-05-20, plants: 4}]\n"
        "propagation: {bench_ft2: 10, trays: 12}\nleave_alone: [B]\n"
    )
    book = read(TINY_TEXT + more)
    assert book.workdays == (PlannedWorkday(date(2027, 4, 10), "Spring dig", 570, 3.0, 14),)
    assert book.pins == (Pin("lettuce-1/2", "A", 0.5, date(2027, 5, 20), 4),)
    assert book.propagation == Propagation(0.9290304, None, 12)
    assert book.leave_alone == ("B",)


def test_a_limit_on_water_is_what_was_written() -> None:
    limit = "{name: standpipe permit, week_us_gal: 400, start: 2027-05-01, end: 2027-09-30}"
    book = read(TINY_TEXT + f"water_limits: [{limit}]\n")
    # 231 in3 of 16.387064 ml each.
    week_l = 400 * 231 * 16.387064 / 1000
    (found,) = book.water_limits
    assert found == WaterLimit("standpipe permit", found.week_l, date(2027, 5, 1), date(2027, 9, 30))
    assert found.week_l == pytest.approx(week_l)


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
