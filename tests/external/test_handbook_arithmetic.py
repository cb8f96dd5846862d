"""Worked arithmetic of extension services and the trade, in metric and US units."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bedwright.engine.placement.layout import fit
from bedwright.engine.soil import (
    compost_need,
    layer_volume_m3,
    mass_for_nutrient,
    mass_of_other_grade,
    nutrients_in,
    side_dressings,
)
from bedwright.engine.soil.side_dressing import N_G_M2, N_G_PER_M_ROW
from bedwright.model.soil import Material
from bedwright.model.units import (
    K_PER_K2O,
    P_PER_P2O5,
    feet_to_metres,
    inches_to_mm,
    litres_to_us_gallons,
    m3_to_cubic_yards,
    pounds_to_kg,
    square_feet_to_m2,
)
from tests.builders import tiny_crop
from tests.unit.engine.soil.gardens import COMPOST, planting


def layer_yd3(area_ft2: float, depth_in: float) -> float:
    return m3_to_cubic_yards(layer_volume_m3(square_feet_to_m2(area_ft2), inches_to_mm(depth_in)))


def test_cornell_compost_over_a_field() -> None:
    # Cornell Waste Management Institute, compost application formula: 350 ft x 200 ft, 2 in, 434 yd3.
    # The page uses the factor 0.0031; exact is 1/324, so half a percent apart.
    assert layer_yd3(350 * 200, 2) == pytest.approx(434, rel=0.01)


def test_cornell_factor_for_a_small_bed() -> None:
    # The same formula for 100 ft2 and 1 in: 0.31 yd3; in metric 9.29 m2 x 25.4 mm = 0.236 m3.
    assert layer_yd3(100, 1) == pytest.approx(0.31, abs=0.005)
    assert layer_volume_m3(square_feet_to_m2(100), 25.4) == pytest.approx(0.236, abs=0.0005)


@pytest.mark.parametrize(("area_ft2", "depth_in", "yd3", "rel"), [(1000, 3, 9, 0.04), (900, 6, 17, 0.03)])
def test_maine_table_of_mulch_volumes(area_ft2: float, depth_in: float, yd3: float, rel: float) -> None:
    # University of Maine Cooperative Extension, Mulch, Soil, and Compost, amounts table (whole yards).
    assert layer_yd3(area_ft2, depth_in) == pytest.approx(yd3, rel=rel)


def test_a_yard_covers_324_square_feet_an_inch_deep() -> None:
    # Champlain Valley Compost and Earth Systems Compost print 324, 162 and about 108 sq ft.
    assert [layer_yd3(*layer) for layer in ((324, 1), (162, 2), (108, 3))] == pytest.approx([1, 1, 1])


def test_purdue_inch_of_water() -> None:
    # Purdue Landscape Report: 10 ft x 20 ft, 1 in, 124 US gal (factor 0.62; exact 0.6234).
    area_m2 = feet_to_metres(10) * feet_to_metres(20)
    litres = 1000 * layer_volume_m3(area_m2, inches_to_mm(1))
    assert litres_to_us_gallons(litres) == pytest.approx(124, rel=0.01)


def test_maine_change_of_grade() -> None:
    # University of Maine Bulletin 2287: 40 lb of 5 percent are 25 lb of 8 percent; kilograms alike.
    assert mass_of_other_grade(40, 5, 8) == pytest.approx(25, abs=0.01)
    assert mass_of_other_grade(pounds_to_kg(40), 5, 8) == pytest.approx(pounds_to_kg(25))


def test_maine_contents_of_a_bag() -> None:
    # University of Maine Bulletin 2287: 80 lb of 5-10-15 hold 4, 8 and 12 lb.
    assert nutrients_in(80, (5, 10, 15)) == pytest.approx({"N": 4, "P2O5": 8, "K2O": 12})


def test_elements_of_oxides() -> None:
    # Molar masses: P = 0.436 P2O5, K = 0.830 K2O.
    assert pytest.approx(0.436, abs=0.001) == P_PER_P2O5
    assert pytest.approx(0.830, abs=0.001) == K_PER_K2O


def test_colorado_side_dressing_with_two_grades() -> None:
    # Colorado State GardenNotes 711: 0.1 lb N per 100 ft2 is 0.5 lb of 21 % or 0.3 lb of 34 %
    # (exact 0.476 and 0.294; the source rounds).
    assert mass_for_nutrient(0.1, 21) == pytest.approx(0.5, abs=0.03)
    assert mass_for_nutrient(0.1, 34) == pytest.approx(0.3, abs=0.03)
    assert pytest.approx(pounds_to_kg(0.1) * 1000 / square_feet_to_m2(100)) == N_G_M2


def test_kansas_side_dressing_along_the_row() -> None:
    # K-State, June 2020: half a pound of ammonium sulfate (21 %) or 4 oz of urea (46 %) per 30 ft
    # of row: 5.2 and 5.7 g N a metre. June 2023: 1 lb of 27 to 30 % per 100 ft: 4.0 to 4.5 g.
    sulphate = pounds_to_kg(0.5) * 1000 * 0.21 / feet_to_metres(30)
    urea = pounds_to_kg(0.25) * 1000 * 0.46 / feet_to_metres(30)
    assert (sulphate, urea) == pytest.approx((5.2, 5.7), abs=0.05)
    assert pytest.approx((4.0, 4.5), abs=0.05) == N_G_PER_M_ROW


def test_kansas_row_in_grams_of_a_27_percent_fertiliser() -> None:
    # 1 lb per 100 ft of row is 14.9 g a metre; two figures make it 15.
    lawn = Material("27-3-3", "fertiliser", n_pct=(27, 27))
    wide = replace(tiny_crop("tomato"), row_spacing_m=1.0)
    assert side_dressings([planting(wide)], lawn)[0].material_g_per_m_row == 15


def test_half_an_inch_is_thirty_gallons_and_some_more() -> None:
    # Organic Gardening (reprint of March 2011): half an inch over 100 sq ft is about 30 gallons or
    # four 40-lb bags; exact 31.2 US gal without settling.
    need = compost_need(square_feet_to_m2(100), 12.7, COMPOST, settling_share=0.0)
    assert litres_to_us_gallons(need.volume_l) == pytest.approx(30, rel=0.06)


def stations(length_ft: float, spacing_in: float) -> int:
    """Plants along a length, half a spacing kept at both ends."""
    spacing_m = inches_to_mm(spacing_in) / 1000
    return int(fit(feet_to_metres(length_ft) - spacing_m, spacing_m))


@pytest.mark.parametrize(("spacing_in", "plants"), [(18, 66), (24, 50)])
def test_plants_in_a_hundred_feet_of_row(spacing_in: float, plants: int) -> None:
    # Southern States Vegetable Seed Guide: 66 plants at 18 in (pepper), 50 at 24 in (eggplant).
    assert stations(100, spacing_in) == plants


def test_plants_on_the_square() -> None:
    # Nursery chart: 144 / 12^2 = 1 plant per sq ft, so 50 on 50 sq ft; here a bed of 5 ft by 10 ft.
    assert stations(5, 12) * stations(10, 12) == 50
