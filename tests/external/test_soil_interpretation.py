"""Published tables of soil laboratories and extension services.

Class limits, formulae and rules were read; the figures put into them are ours unless a comment
says otherwise.
"""

from __future__ import annotations

import pytest

from bedwright.engine.soil import (
    interpret,
    lime_applications,
    lime_for_product,
    manganese_index,
    read_figures,
    released,
    table_for,
)
from bedwright.engine.soil.acidity import G_M2_PER_LB_100FT2
from bedwright.engine.soil.needs import N_CAP_G_M2, N_SUPPLEMENT_G_M2
from bedwright.engine.soil.tables import RUTGERS_MEHLICH_3, UK_OLSEN, UMASS_MODIFIED_MORGAN
from bedwright.model.soil import Analyte, LabFigure, Material


@pytest.mark.parametrize(
    ("analyte", "lb_acre", "word"),
    [
        # Rutgers NJAES Soil Testing Laboratory, Mehlich-3 values (undated page); limits in lb/acre.
        ("P", 20, "very low"),
        ("P", 24, "very low"),
        ("P", 25, "low"),
        ("P", 45, "low"),
        ("P", 71, "medium"),
        ("P", 100, "high"),
        ("P", 137, "high"),
        ("P", 138, "very high"),
        ("P", 200, "very high"),
        ("K", 60, "low"),
        ("K", 120, "medium"),
        ("K", 200, "high"),
        ("K", 277, "high"),
        ("K", 300, "very high"),
        ("Mg", 90, "medium"),
        ("Ca", 1200, "medium"),
        ("Ca", 1900, "very high"),
    ],
)
def test_rutgers_mehlich_3_classes(analyte: Analyte, lb_acre: float, word: str) -> None:
    (reading,) = read_figures([LabFigure(analyte, lb_acre, "lb/acre")])
    found = interpret(RUTGERS_MEHLICH_3, analyte, reading.value)
    assert found is not None
    assert found.class_word == word
    assert found.origin.source_ids == ("RUTGERS_M3",)


def test_rutgers_calls_high_the_optimum() -> None:
    levels = [each.level for each in RUTGERS_MEHLICH_3.classes["P"]]
    assert levels == ["low", "low", "medium", "optimum", "above"]


def test_rutgers_manganese_index() -> None:
    # 101.7 + 3.75 x 20 - 15.2 x 6.5 = 77.9, formula read on the same page.
    assert manganese_index(20, 6.5) == pytest.approx(77.9, abs=0.01)


@pytest.mark.parametrize(
    ("analyte", "ppm", "level"),
    [
        # University of Massachusetts, report of March 2015: P 4-14, K 100-160 ppm, Modified Morgan.
        ("P", 3.9, "low"),
        ("P", 4, "optimum"),
        ("P", 14, "optimum"),
        ("P", 41, "above"),
        ("K", 107, "optimum"),
        ("K", 99, "low"),
        ("Ca", 1096, "optimum"),
        ("Mg", 162, "above"),
    ],
)
def test_umass_modified_morgan_ranges(analyte: Analyte, ppm: float, level: str) -> None:
    # 41 ppm is called excessive in a gardener's report of the laboratory; 107, 1096 and 162 ppm
    # stand in the sample report itself.
    found = interpret(UMASS_MODIFIED_MORGAN, analyte, ppm)
    assert found is not None
    assert found.level == level


@pytest.mark.parametrize(
    ("mg_l", "index", "level"),
    [
        # SR 2019/81 (Northern Ireland), Schedule 5, paragraph 10: index by Olsen P in mg/L. Target of
        # vegetable soils, index 3: RB209 8th edition by Cawood's soil summary 2014-2015.
        (9, "index 0", "low"),
        (10, "index 1", "low"),
        (16, "index 2-", "medium"),
        (25, "index 2+", "medium"),
        (26, "index 3", "optimum"),
        (45, "index 3", "optimum"),
        (46, "index 4 or more", "above"),
    ],
)
def test_uk_index_of_olsen_phosphorus(mg_l: float, index: str, level: str) -> None:
    found = interpret(UK_OLSEN, "P", mg_l)
    assert found is not None
    assert (found.class_word, found.level) == (index, level)
    assert interpret(UK_OLSEN, "K", 150) is None


def test_a_table_is_used_for_its_own_extract_only() -> None:
    assert table_for("Mehlich-3 (ICP)") is RUTGERS_MEHLICH_3
    assert table_for("MEHLICH III") is RUTGERS_MEHLICH_3
    assert table_for("modified Morgan") is UMASS_MODIFIED_MORGAN
    assert table_for("Mehlich-1") is None
    assert table_for("Olsen P") is UK_OLSEN
    assert table_for("Bray-1") is None
    assert table_for("") is None


def test_what_a_table_does_not_have_is_not_read() -> None:
    assert interpret(RUTGERS_MEHLICH_3, "lead", 50) is None
    with pytest.raises(ValueError, match="0 mg/kg or more"):
        interpret(RUTGERS_MEHLICH_3, "P", -1)


def test_penn_state_corrects_lime_for_its_equivalent() -> None:
    # Penn State home garden notes, note 1: 5 lb at 70 percent is printed as 7 lb (exact 7.14).
    assert lime_for_product(5, 70) == pytest.approx(7, abs=0.2)


@pytest.mark.parametrize(("lb_100ft2", "parts"), [(9, 1), (11, 2), (15, 2), (20, 2), (21, 3)])
def test_penn_state_splits_large_doses_of_lime(lb_100ft2: float, parts: int) -> None:
    # Note 2: 11 to 20 lb in two applications six months apart, 21 or more in three.
    assert lime_applications(lb_100ft2) == parts


@pytest.mark.parametrize(
    ("kind", "year", "low_pct", "high_pct"),
    [
        # Colorado State wording, read in a republication (trustgreenguys.com).
        ("compost", 1, 5, 25),
        ("compost", 2, 3, 12),
        ("compost", 3, 1, 6),
        ("manure", 1, 30, 50),
        ("manure", 2, 15, 25),
        ("manure", 3, 7, 12),
        ("manure", 4, 3, 6),
    ],
)
def test_nitrogen_is_let_go_over_years(kind: str, year: int, low_pct: float, high_pct: float) -> None:
    # 100 kg with 1 percent hold 1000 g of nitrogen.
    material = Material("m", kind, n_pct=(1, 1))  # type: ignore[arg-type]
    nitrogen = released(material, 100, year)[0]
    assert (nitrogen.low_g, nitrogen.high_g) == pytest.approx((10 * low_pct, 10 * high_pct))


def test_base_rates_of_nitrogen_in_both_unit_systems() -> None:
    # UMass: 2.5 lb per 1000 sq ft is 12.2 g/m2. Colorado State: 0.1 lb per 100 sq ft is 4.9 g/m2.
    assert pytest.approx(12.2, abs=0.05) == N_CAP_G_M2
    assert pytest.approx(4.9, abs=0.05) == N_SUPPLEMENT_G_M2
    # 453.592 g / 9.290304 m2.
    assert pytest.approx(48.824, abs=0.001) == G_M2_PER_LB_100FT2
