"""A laboratory's figures in one set of units, or every fault of the report at once."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

from bedwright.model.book import SoilTest
from bedwright.model.bounds import (
    LEAD_MG_KG,
    ORGANIC_MATTER_PCT,
    SOIL_NUTRIENT_MG_KG,
    SOIL_PH,
    Bounds,
    plain_number,
)
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.soil import Analyte, LabFigure, LabReading
from bedwright.model.units import K_PER_K2O, KG_PER_HA_PER_MG_KG, LB_PER_ACRE_PER_MG_KG, P_PER_P2O5

CA_MG_KG = Bounds(0, 20000, "mg/kg")
MN_MG_KG = Bounds(0, 5000, "mg/kg")


@dataclass(frozen=True, slots=True)
class _Known:
    analyte: Analyte
    bounds: Bounds
    element: float = 1.0
    """Mass of the element in what is printed."""


_NAMES: dict[str, _Known] = {
    "ph": _Known("pH", SOIL_PH),
    "p": _Known("P", SOIL_NUTRIENT_MG_KG),
    "phosphorus": _Known("P", SOIL_NUTRIENT_MG_KG),
    "p2o5": _Known("P", SOIL_NUTRIENT_MG_KG, P_PER_P2O5),
    "phosphate": _Known("P", SOIL_NUTRIENT_MG_KG, P_PER_P2O5),
    "k": _Known("K", SOIL_NUTRIENT_MG_KG),
    "potassium": _Known("K", SOIL_NUTRIENT_MG_KG),
    "k2o": _Known("K", SOIL_NUTRIENT_MG_KG, K_PER_K2O),
    "potash": _Known("K", SOIL_NUTRIENT_MG_KG, K_PER_K2O),
    "mg": _Known("Mg", SOIL_NUTRIENT_MG_KG),
    "magnesium": _Known("Mg", SOIL_NUTRIENT_MG_KG),
    "ca": _Known("Ca", CA_MG_KG),
    "calcium": _Known("Ca", CA_MG_KG),
    "mn": _Known("Mn", MN_MG_KG),
    "manganese": _Known("Mn", MN_MG_KG),
    "om": _Known("organic matter", ORGANIC_MATTER_PCT),
    "organic matter": _Known("organic matter", ORGANIC_MATTER_PCT),
    "lead": _Known("lead", LEAD_MG_KG),
    "pb": _Known("lead", LEAD_MG_KG),
}
_UNITS: dict[str, tuple[str, Callable[[float], float]]] = {
    "ppm": ("mass fraction", float),
    "mg/kg": ("mass fraction", float),
    "lb/acre": ("per area", lambda value: value / LB_PER_ACRE_PER_MG_KG),
    "lb/a": ("per area", lambda value: value / LB_PER_ACRE_PER_MG_KG),
    "lbs/acre": ("per area", lambda value: value / LB_PER_ACRE_PER_MG_KG),
    "pounds/acre": ("per area", lambda value: value / LB_PER_ACRE_PER_MG_KG),
    "kg/ha": ("per area", lambda value: value / KG_PER_HA_PER_MG_KG),
}
_SINGLE_UNIT: dict[Analyte, tuple[str, ...]] = {
    "pH": ("", "pH"),
    "organic matter": ("%", "percent"),
    "lead": ("ppm", "mg/kg"),
}
_FERTILITY: frozenset[Analyte] = frozenset({"P", "K", "Mg", "Ca", "Mn"})


def read_figures(figures: Sequence[LabFigure], file: str = "soil report") -> tuple[LabReading, ...]:
    """A laboratory's figures as mg/kg of the element, percent or pH.

    Parameters
    ----------
    figures : Sequence[LabFigure]
        Lines of one report, as printed. Oxides (P2O5, K2O) become elements; lb/acre and
        kg/ha are those of a furrow slice, 6⅔ in (17 cm) deep.
    file : str
        Named in the problems.

    Returns
    -------
    tuple of LabReading
        In the order of the report.

    Raises
    ------
    BadDocumentError
        With every fault: a name or unit that is not known, a value that is negative, not a
        number or out of range, the same figure twice, or nutrients partly in ppm and partly
        by area (which in a copied report nearly always means a unit copied wrongly).

    Source
    ------
    Molar masses (P2O5 to P, K2O to K). lb/acre = 2 ppm: common practice, no source.

    Limits
    ------
    Percent of base saturation is not a content and is refused.
    """
    problems: list[Problem] = []
    readings: list[LabReading] = []
    first: dict[Analyte, int] = {}
    systems: dict[str, str] = {}
    for number, figure in enumerate(figures, 1):
        where = f"figures[{number}]"
        reading = _reading(figure, file, where, problems)
        if reading is None:
            continue
        if reading.analyte in first:
            problems.append(
                Problem(
                    file,
                    None,
                    None,
                    where,
                    reading.as_printed,
                    f"{reading.analyte} once",
                    f"figures[{first[reading.analyte]}] gives it already. Keep the one the laboratory "
                    "printed.",
                )
            )
            continue
        first[reading.analyte] = number
        if reading.analyte in _FERTILITY:
            systems.setdefault(_UNITS[figure.unit.strip().lower()][0], f"{figure.name} in {figure.unit}")
        readings.append(reading)
    if len(systems) > 1:
        problems.append(
            Problem(
                file,
                None,
                None,
                "figures",
                " and ".join(systems.values()),
                "one kind of unit for all nutrients",
                "A laboratory prints either ppm (mg/kg) or pounds an acre. Look at the report again; lb/acre "
                "is "
                "twice ppm, so a slip here doubles or halves the feed.",
            )
        )
    if problems:
        raise BadDocumentError(tuple(problems))
    return tuple(readings)


def _reading(figure: LabFigure, file: str, where: str, problems: list[Problem]) -> LabReading | None:
    name = " ".join(figure.name.strip().lower().replace("₂", "2").replace("₅", "5").split())
    unit = figure.unit.strip()
    printed = f"{figure.name} {_shown(figure.value)} {unit}".rstrip()

    def fault(what: str, got: str, expected: str, hint: str = "") -> None:
        problems.append(Problem(file, None, None, f"{where}.{what}", got, expected, hint))

    known = _NAMES.get(name)
    if known is None:
        fault("name", repr(figure.name), "one of " + ", ".join(_NAMES))
        return None
    if not math.isfinite(figure.value):
        fault("value", _shown(figure.value), f"a number, {known.bounds}")
        return None
    if figure.value < 0:
        fault("value", _shown(figure.value), f"{known.bounds}", "A content is never negative.")
        return None
    converted = _converted(known, figure.value, unit)
    if converted is None:
        units = ", ".join(_SINGLE_UNIT.get(known.analyte, tuple(_UNITS))).strip(", ") or "no unit"
        hint = "Percent here may be base saturation, which is no content." if unit == "%" else ""
        fault("unit", repr(unit) if unit else "nothing", f"{units} for {figure.name}", hint)
        return None
    value, rule = converted
    if value not in known.bounds:
        fault("value", printed, f"{known.bounds} ({figure.name})", "Check the unit and the decimal point.")
        return None
    shown_unit = {"pH": "", "organic matter": "%"}.get(known.analyte, "mg/kg")
    return LabReading(known.analyte, value, shown_unit, printed, rule)


def _shown(value: float) -> str:
    return plain_number(value) if math.isfinite(value) and abs(value) < 1e15 else str(value)


def _converted(known: _Known, value: float, unit: str) -> tuple[float, str] | None:
    allowed = _SINGLE_UNIT.get(known.analyte)
    if allowed is not None:
        return (value, "") if unit.lower() in {each.lower() for each in allowed} else None
    entry = _UNITS.get(unit.lower())
    if entry is None:
        return None
    kind, to_mg_kg = entry
    steps = [] if kind == "mass fraction" else [f"{unit} of a furrow slice to mg/kg"]
    if known.element != 1.0:
        steps.append(f"times {known.element} for the element")
    return to_mg_kg(value) * known.element, "; ".join(steps)


def soil_test_of(
    readings: Sequence[LabReading], sampled_on: date, laboratory: str, extraction: str
) -> SoilTest:
    """The readings a garden book keeps, as its record of a soil test."""
    values = {reading.analyte: reading.value for reading in readings}
    return SoilTest(
        sampled_on=sampled_on,
        laboratory=laboratory,
        ph=values.get("pH"),
        p_mg_kg=values.get("P"),
        k_mg_kg=values.get("K"),
        organic_matter_pct=values.get("organic matter"),
        lead_mg_kg=values.get("lead"),
        extraction=extraction,
    )
