"""Rounding, acidity, needs, volumes and the arithmetic of bags."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from bedwright.engine.soil import (
    acidity_need,
    compost_for_holes_l,
    compost_need,
    layer_volume_m3,
    lime_applications,
    lime_for_product,
    mass_for_nutrient,
    nutrient_needs,
    nutrients_in,
    outline_area_m2,
    planting_holes,
    read_soil_test,
    released,
)
from bedwright.engine.soil.compost import compost_of_mass, released_over_years
from bedwright.engine.soil.rounding import (
    ceil_tenth_or_half,
    plain,
    quarter_cups,
    spoken_cups,
    spoken_depth,
    spoken_mass,
    spoken_rate,
    spoken_temperature,
    spoken_volume,
    two_figures,
    two_figures_down,
)
from bedwright.model.ground import Circle, Polygon, Rectangle
from bedwright.model.soil import Material
from tests.builders import tiny_crop
from tests.unit.engine.soil.gardens import BONE, COMPOST, planting, soil_test


@pytest.mark.parametrize(
    ("exact", "nearest", "down"),
    [(123.4, 120, 120), (127, 130, 120), (0.0456, 0.046, 0.045), (99.6, 100, 99), (9.99, 10, 9.9), (0, 0, 0)],
)
def test_amounts_carry_two_figures(exact: float, nearest: float, down: float) -> None:
    assert two_figures(exact) == nearest
    assert two_figures_down(exact) == down


def test_what_is_no_number_is_not_rounded() -> None:
    with pytest.raises(ValueError, match="cannot round"):
        two_figures(math.nan)


def test_numbers_are_printed_without_powers_of_ten() -> None:
    assert [plain(x) for x in (0.0456, 3456, 0, 12.0)] == ["0.046", "3500", "0", "12"]


def test_what_is_said_stands_in_both_units() -> None:
    # NIST SP 811: a pound is 453.592 g, a foot 0.3048 m, a US gallon 3.785 L, an inch 25.4 mm.
    assert spoken_mass(85) == "85 g (3 oz)"
    assert spoken_mass(1234) == "1.2 kg (2.7 lb)"
    assert spoken_rate(4.882) == "4.9 g/m² (1 lb per 1000 ft²)"
    assert spoken_rate(12.2, 24.4) == "12 to 24 g/m² (2.5 to 5 lb per 1000 ft²)"
    assert spoken_depth(12.7) == "13 mm (0.5 in)"
    assert spoken_volume(140) == "140 L (37 US gal)"
    assert spoken_temperature(39.4) == "39 °C (103 °F)"


def test_compost_by_weight_makes_a_layer_and_fills_barrows_and_bags() -> None:
    # 60 kg at 0.6 kg/L are 100 L; on 4 m² 25 mm loose, 22.5 mm once a tenth has settled.
    need = compost_of_mass(4.0, replace(COMPOST, bulk_density_kg_l=(0.6, 0.6)), 60.0)
    assert need.depth_mm == 22
    assert need.volume_l == 100
    assert (need.n_barrows, need.n_bags) == (2, 4)
    with pytest.raises(ValueError, match="bulk density"):
        compost_of_mass(4.0, replace(COMPOST, bulk_density_kg_l=None), 60.0)


def test_nitrogen_of_compost_is_told_year_by_year() -> None:
    # 60 kg of 1 % hold 600 g; Colorado State: 5 to 25, 3 to 12, 1 to 6 % of it.
    years = released_over_years(replace(COMPOST, n_pct=(1, 1)), 60.0)
    assert [(each.year, each.low_g, each.high_g) for each in years] == [(1, 30, 150), (2, 18, 72), (3, 6, 36)]


def test_planting_holes_are_counted_for_plants_set_far_apart_where_compost_may_go() -> None:
    wide = planting(replace(tiny_crop("tomato"), in_row_spacing_m=0.6), way="buy")
    close = planting(replace(tiny_crop("lettuce"), in_row_spacing_m=0.25), way="buy")
    sown = planting(replace(tiny_crop("tomato"), in_row_spacing_m=0.6), way="sow")
    (hole,) = planting_holes([wide, close, sown])
    assert (hole.n_holes, hole.volume_l) == (wide.n_plants, wide.n_plants * 0.5)
    assert planting_holes([wide], {wide.bed_code}) == ()


def test_cups_come_in_quarters() -> None:
    # A US cup is 0.2366 L, so 300 g at 1 kg/L is 1.27 cups.
    assert quarter_cups(300, 1.0) == 1.25
    # 30 g is 2.03 tablespoons of 14.8 mL; 5 g is less than one.
    assert [quarter_cups(grams, 1.0) for grams in (30, 5, 0)] == [2 / 16, 1 / 16, 0]
    assert [spoken_cups(x) for x in (1 / 16, 3 / 16, 0.25, 1.0, 1.25, 2.5, 20.4)] == [
        "1 tablespoon",
        "3 tablespoons",
        "¼ cup",
        "1 cup",
        "1¼ cups",
        "2½ cups",
        "20 cups",
    ]


def test_deliveries_are_rounded_up_to_what_is_sold() -> None:
    assert [ceil_tenth_or_half(x) for x in (0.0, 0.11, 0.3, 0.51, 1.0, 1.01)] == [0, 0.2, 0.3, 1.0, 1.0, 1.5]


def test_areas_of_all_outlines() -> None:
    assert outline_area_m2(Rectangle(4, 1.2, 0, 0, 30)) == pytest.approx(4.8)
    assert outline_area_m2(Circle(2, 5, 5)) == pytest.approx(4 * math.pi)
    corners = ((0.0, 0.0), (3.0, 0.0), (3.0, 1.0), (1.0, 1.0), (1.0, 3.0), (0.0, 3.0))
    assert outline_area_m2(Polygon(corners, 0)) == pytest.approx(5.0)
    assert outline_area_m2(Polygon(corners[::-1], 0)) == pytest.approx(5.0)


def test_sour_soil_gets_lime_as_a_range_of_the_tables() -> None:
    need = acidity_need(5.5, "loam")
    # Tables of 8 and 7.5 lb per 100 sq ft (both unsigned, weak): 390 and 370 g/m2.
    assert (need.material, need.low_g_m2, need.high_g_m2, need.n_applications) == ("lime", 370, 390, 1)
    assert any(origin.standing == "weak" for origin in need.origins)


def test_heavier_soil_needs_more_lime() -> None:
    light, middle, heavy = (acidity_need(5.0, texture) for texture in ("sandy loam", "loam", "clay"))
    assert light.high_g_m2 < middle.low_g_m2 < heavy.low_g_m2
    assert heavy.n_applications == 2


def test_soil_sourer_than_the_tables_gets_no_more_than_their_last_figure() -> None:
    assert acidity_need(3.2, "clay").high_g_m2 == acidity_need(4.0, "clay").high_g_m2


@pytest.mark.parametrize("ph", [6.0, 6.5, 7.5])
def test_between_six_and_seven_and_a_half_nothing_is_advised(ph: float) -> None:
    assert acidity_need(ph, "loam").material == "nothing"


def test_limy_soil_is_first_tried_with_vinegar() -> None:
    need = acidity_need(8.0, "clay")
    assert need.material == "sulphur"
    assert (need.low_g_m2, need.high_g_m2) == (140, 270)
    assert "vinegar" in need.text
    # 140 g/m2 at no more than 10 lb per 1000 sq ft (49 g/m2) at a time.
    assert need.n_applications == 3


def test_the_laboratory_overrules_the_tables() -> None:
    need = acidity_need(5.5, "loam", laboratory_lime_g_m2=600)
    assert (need.low_g_m2, need.high_g_m2, need.n_applications) == (600, 600, 2)
    assert acidity_need(5.5, "loam", laboratory_lime_g_m2=0).material == "nothing"


@pytest.mark.parametrize("ph", [2.9, 10.1, math.nan])
def test_a_ph_out_of_range_is_refused(ph: float) -> None:
    with pytest.raises(ValueError, match="pH is 3 to 10"):
        acidity_need(ph, "loam")


def test_negative_lime_and_odd_products_are_refused() -> None:
    with pytest.raises(ValueError, match="lime figure"):
        acidity_need(5.5, "loam", laboratory_lime_g_m2=-1)
    with pytest.raises(ValueError, match="calcium carbonate"):
        lime_for_product(5, 0)
    assert lime_applications(0) == 0


def test_a_test_without_its_extract_is_not_read() -> None:
    readings, note = read_soil_test(soil_test(p_mg_kg=30.0, extraction=""))
    assert readings == ()
    assert "does not name its extract" in note
    _, other = read_soil_test(soil_test(p_mg_kg=30.0, extraction="Bray-1"))
    assert '"Bray-1"' in other


def test_a_test_of_ph_alone_needs_no_extract() -> None:
    assert read_soil_test(soil_test(ph=6.5, extraction="")) == ((), "")


def test_low_phosphorus_is_fed_and_high_is_not() -> None:
    # Rutgers classes in lb/acre: 30 is low, 60 medium, 100 high (its optimum), 200 very high.
    needs = {}
    for p_lb_acre in (30, 60, 100, 200):
        readings, _ = read_soil_test(soil_test(p_mg_kg=p_lb_acre / 2))
        needs[p_lb_acre] = nutrient_needs(readings, 3.0)[1]
    assert [round(needs[p].need_g_m2, 1) for p in needs] == [24.4, 12.2, 0, 0]
    assert [round(needs[p].cap_g_m2 or 0, 1) for p in needs] == [24.4, 24.4, 12.2, 0]


def test_potash_is_capped_above_its_optimum_only() -> None:
    # 60, 200 and 300 lb/acre are low, high (the optimum) and very high.
    readings = [read_soil_test(soil_test(k_mg_kg=lb_acre / 2))[0] for lb_acre in (60, 200, 300)]
    assert [nutrient_needs(reading, 3.0)[2].cap_g_m2 for reading in readings] == [None, None, 0]


def test_phosphorus_that_is_not_known_is_capped_at_the_rate_for_sufficient_soil() -> None:
    assert nutrient_needs((), 3.0)[1].cap_g_m2 == pytest.approx(12.2, abs=0.05)


@pytest.mark.parametrize(
    ("organic_matter_pct", "need_g_m2"), [(None, 4.9), (1.5, 12.2), (2.0, 4.9), (3.9, 4.9), (4.0, 0), (12, 0)]
)
def test_nitrogen_goes_by_organic_matter(organic_matter_pct: float | None, need_g_m2: float) -> None:
    need = nutrient_needs((), organic_matter_pct)[0]
    assert round(need.need_g_m2, 1) == need_g_m2
    assert need.cap_g_m2 == pytest.approx(12.2, abs=0.05)
    assert all(origin.source_ids for origin in need.origins)


def test_organic_matter_out_of_range_is_refused() -> None:
    with pytest.raises(ValueError, match="organic matter"):
        nutrient_needs((), -1)


def test_a_layer_of_compost_in_every_measure() -> None:
    need = compost_need(9, 10, COMPOST, settling_share=0.1, barrow_l=80, bag_l=40)
    # 9 m2 x 10 mm is 90 L settled, 100 L loose.
    assert (need.volume_l, need.n_barrows, need.n_bags) == (100, 2, 3)
    assert (need.delivery_m3, need.delivery_yd3) == (0.1, 0.2)
    assert need.mass_kg == pytest.approx((50, 50))
    assert "10 % allowed for" in need.text


def test_more_than_an_inch_a_year_is_said_to_be_too_much() -> None:
    assert "phosphorus" in compost_need(9, 30, COMPOST).text
    assert "phosphorus" not in compost_need(9, 25.4, COMPOST).text


@pytest.mark.parametrize(
    ("area_m2", "depth_mm"), [(-1, 10), (math.inf, 10), (5, -1), (5, 101), (math.nan, 1)]
)
def test_impossible_layers_are_refused(area_m2: float, depth_mm: float) -> None:
    with pytest.raises(ValueError, match=r"area|layer"):
        compost_need(area_m2, depth_mm, COMPOST)


def test_compost_for_planting_holes() -> None:
    assert compost_for_holes_l(24) == 12
    assert compost_for_holes_l(24, 1.5) == 36
    with pytest.raises(ValueError, match="holes"):
        compost_for_holes_l(-1)


def test_nitrogen_let_go_by_year() -> None:
    # 10 kg with 1 % nitrogen holds 100 g: 5 to 25 g in the first year, 3 to 12 in the second.
    first, second = released(COMPOST, 10, 1), released(COMPOST, 10, 2)
    assert (first[0].low_g, first[0].high_g) == (5, 25)
    assert (second[0].low_g, second[0].high_g) == (3, 12)
    assert [each.nutrient for each in first] == ["N", "P2O5", "K2O"]
    assert [each.nutrient for each in second] == ["N"]
    assert released(COMPOST, 10, 9)[0].high_g == 0
    assert released(BONE, 1)[0].low_g == 20
    with pytest.raises(ValueError, match="mass"):
        released(COMPOST, -1)


def test_bag_arithmetic_refuses_what_cannot_be() -> None:
    with pytest.raises(ValueError, match="percent"):
        mass_for_nutrient(1, 0)
    with pytest.raises(ValueError, match="grade"):
        nutrients_in(1, (50, 40, 20))
    with pytest.raises(ValueError, match="area and depth"):
        layer_volume_m3(-1, 1)


def test_a_material_without_a_density_has_no_litres() -> None:
    assert Material("unknown", "fertiliser").kg_per_l() is None
