"""Laboratory figures in one set of units, and every fault at once."""

from __future__ import annotations

import math

import pytest

from bedwright.engine.soil import read_figures, soil_test_of
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.soil import LabFigure
from tests.unit.engine.soil.gardens import SAMPLED


def value(name: str, figure: float, unit: str) -> float:
    return read_figures([LabFigure(name, figure, unit)])[0].value


def problems(*figures: LabFigure) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read_figures(figures)
    return caught.value.problems


def test_parts_per_million_are_milligrams_per_kilogram() -> None:
    assert value("P", 30, "ppm") == value("Phosphorus", 30, "mg/kg") == 30


def test_pounds_an_acre_are_half_as_many_parts_per_million() -> None:
    # Common practice, no source: a furrow slice of 6 2/3 in weighs two million pounds an acre.
    assert value("K", 200, "lb/acre") == value("K", 200, "lb/A") == 100


def test_kilograms_a_hectare_are_those_of_the_same_slice() -> None:
    # 1 lb/acre is 1.12085 kg/ha, so 224.17 kg/ha is 200 lb/acre.
    assert value("K", 224.17, "kg/ha") == pytest.approx(100, rel=1e-6)


def test_oxides_become_elements() -> None:
    # By molar masses: 2 x 30.974 / 141.945 and 2 x 39.098 / 94.195.
    assert value("P2O5", 100, "ppm") == pytest.approx(43.64, abs=0.01)
    assert value("K2O", 100, "ppm") == pytest.approx(83.01, abs=0.01)
    assert value("P₂O₅", 200, "lb/acre") == pytest.approx(43.64, abs=0.01)


def test_acidity_organic_matter_and_lead_keep_their_own_units() -> None:
    assert value("pH", 6.4, "") == 6.4
    assert value("Organic matter", 4.2, "%") == 4.2
    assert value("Pb", 80, "ppm") == 80


def test_what_was_done_to_a_figure_is_said() -> None:
    reading = read_figures([LabFigure("P2O5", 80, "lb/acre")])[0]
    assert reading.as_printed == "P2O5 80 lb/acre"
    assert "lb/acre" in reading.rule
    assert "0.4364" in reading.rule


def test_an_unknown_unit_is_a_problem_with_the_units_that_are_known() -> None:
    (problem,) = problems(LabFigure("P", 30, "grains"))
    assert problem.where == "figures[1].unit"
    assert problem.got == "'grains'"
    assert "lb/acre" in problem.expected


def test_percent_of_base_saturation_is_no_content() -> None:
    (problem,) = problems(LabFigure("K", 3, "%"))
    assert "base saturation" in problem.hint


def test_nutrients_partly_by_area_are_refused() -> None:
    (problem,) = problems(LabFigure("P", 30, "ppm"), LabFigure("K", 200, "lb/acre"))
    assert problem.got == "P in ppm and K in lb/acre"


def test_lead_in_parts_per_million_beside_pounds_an_acre_is_usual() -> None:
    assert len(read_figures([LabFigure("P", 60, "lb/acre"), LabFigure("lead", 40, "ppm")])) == 2


@pytest.mark.parametrize(
    ("figure", "expected"),
    [
        (LabFigure("P", -1, "ppm"), "0 to 5000 mg/kg"),
        (LabFigure("lead", 1e9, "ppm"), "0 to 20000 mg/kg (lead)"),
        (LabFigure("lead", math.inf, "ppm"), "a number, 0 to 20000 mg/kg"),
        (LabFigure("K", math.nan, "ppm"), "a number, 0 to 5000 mg/kg"),
        (LabFigure("pH", 64, ""), "3 to 10 pH (pH)"),
        (LabFigure("organic matter", 120, "%"), "0 to 80 percent (organic matter)"),
    ],
    ids=["negative", "lead 1e9", "infinite", "not a number", "pH without its point", "more than all"],
)
def test_a_figure_that_cannot_be_is_refused(figure: LabFigure, expected: str) -> None:
    (problem,) = problems(figure)
    assert problem.expected == expected


def test_the_limits_themselves_are_accepted() -> None:
    assert value("lead", 20000, "ppm") == 20000
    assert value("P", 0, "ppm") == 0


def test_every_fault_is_reported_at_once() -> None:
    found = problems(
        LabFigure("P", -3, "ppm"),
        LabFigure("Unobtainium", 1, "ppm"),
        LabFigure("K", 5, ""),
        LabFigure("pH", 6, ""),
    )
    assert [problem.where for problem in found] == ["figures[1].value", "figures[2].name", "figures[3].unit"]


def test_the_same_element_twice_is_refused_even_as_its_oxide() -> None:
    (problem,) = problems(LabFigure("P", 30, "ppm"), LabFigure("P2O5", 69, "ppm"))
    assert "figures[1]" in problem.hint


def test_readings_become_the_soil_test_of_a_book() -> None:
    readings = read_figures(
        [LabFigure("pH", 6.2, ""), LabFigure("P", 60, "lb/acre"), LabFigure("Lead", 35, "ppm")]
    )
    test = soil_test_of(readings, SAMPLED, "Test laboratory", "Mehlich-3")
    assert (test.ph, test.p_mg_kg, test.k_mg_kg, test.lead_mg_kg) == (6.2, 30, None, 35)
