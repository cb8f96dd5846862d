"""Published tables that say what a figure of a soil test means, each for one extract."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.model.soil import Analyte, Level, Reading
from bedwright.model.source import Origin
from bedwright.model.units import LB_PER_ACRE_PER_MG_KG


@dataclass(frozen=True, slots=True)
class SoilClass:
    """One class of a table: from the class before it up to `to`, that figure included."""

    word: str
    to: float
    level: Level


@dataclass(frozen=True, slots=True)
class InterpretationTable:
    """Classes of one laboratory for one extract."""

    id: str
    name: str
    dated: str
    extract: str
    """Words that name the extract on a report, in small letters without hyphens."""
    unit: str
    per_mg_kg: float
    """Figures of the table for one mg/kg."""
    whole_figures: bool
    """True where the table prints whole numbers only, so a figure is rounded before it is looked up."""
    classes: Mapping[Analyte, tuple[SoilClass, ...]]
    source_id: str


_ENDLESS = float("inf")


def _five(*upper: float) -> tuple[SoilClass, ...]:
    words: tuple[tuple[str, Level], ...] = (
        ("very low", "low"),
        ("low", "low"),
        ("medium", "medium"),
        ("high", "optimum"),
        ("very high", "above"),
    )
    limits = (*upper, _ENDLESS)
    return tuple(SoilClass(word, limit, level) for (word, level), limit in zip(words, limits, strict=True))


def _range(low: float, high: float) -> tuple[SoilClass, ...]:
    # The table prints one optimum range, both ends included.
    just_below = low - 1e-9
    return (
        SoilClass("below optimum", just_below, "low"),
        SoilClass("optimum", high, "optimum"),
        SoilClass("above optimum", _ENDLESS, "above"),
    )


RUTGERS_MEHLICH_3 = InterpretationTable(
    id="rutgers-mehlich-3",
    name="Rutgers NJAES Soil Testing Laboratory, Mehlich-3 relative levels",
    dated="undated page",
    extract="mehlich 3",
    unit="lb/acre",
    per_mg_kg=LB_PER_ACRE_PER_MG_KG,
    whole_figures=True,
    classes={
        "P": _five(24, 45, 71, 137),
        "K": _five(40, 81, 145, 277),
        "Mg": _five(45, 83, 143, 295),
        "Ca": _five(615, 1007, 1400, 1790),
    },
    source_id="RUTGERS_M3",
)
UMASS_MODIFIED_MORGAN = InterpretationTable(
    id="umass-modified-morgan",
    name="University of Massachusetts Soil and Plant Tissue Testing Laboratory, optimum ranges",
    dated="report of March 2015",
    extract="modified morgan",
    unit="mg/kg",
    per_mg_kg=1.0,
    whole_figures=False,
    classes={
        "P": _range(4, 14),
        "K": _range(100, 160),
        "Ca": _range(1000, 1500),
        "Mg": _range(50, 120),
    },
    source_id="UMASS_REPORT_2015",
)
UK_OLSEN = InterpretationTable(
    id="uk-olsen",
    name="United Kingdom phosphorus index by Olsen",
    dated="SR 2019/81; target index 3 of RB209, 8th edition",
    extract="olsen",
    unit="mg/L",
    # The law's figures are for a litre of sieved dry soil, taken here to weigh one kilogram.
    per_mg_kg=1.0,
    whole_figures=True,
    classes={
        "P": (
            SoilClass("index 0", 9, "low"),
            SoilClass("index 1", 15, "low"),
            SoilClass("index 2-", 20, "medium"),
            SoilClass("index 2+", 25, "medium"),
            SoilClass("index 3", 45, "optimum"),
            SoilClass("index 4 or more", _ENDLESS, "above"),
        ),
    },
    source_id="UK_OLSEN_2019",
)
TABLES: tuple[InterpretationTable, ...] = (RUTGERS_MEHLICH_3, UMASS_MODIFIED_MORGAN, UK_OLSEN)


def table_for(
    extraction: str, tables: tuple[InterpretationTable, ...] = TABLES
) -> InterpretationTable | None:
    """The table for the extract named on a report; None where no table is held for it.

    A figure means nothing without its extract, so another table is never used instead.
    """
    words = " ".join(extraction.lower().replace("-", " ").replace("_", " ").split())
    words = words.replace("mehlich iii", "mehlich 3").replace("mehlich3", "mehlich 3")
    return next((table for table in tables if table.extract in words), None)


def interpret(table: InterpretationTable, analyte: Analyte, value_mg_kg: float) -> Reading | None:
    """The class of a figure; None where the table does not have the quantity.

    Parameters
    ----------
    table : InterpretationTable
        Table of the extract the figure was measured with.
    analyte : Analyte
        "P", "K", "Mg" or "Ca".
    value_mg_kg : float
        [mg/kg], not negative.

    Raises
    ------
    ValueError
        If the figure is negative or not a number.
    """
    if not value_mg_kg >= 0:
        raise ValueError(f"a content is 0 mg/kg or more; got {value_mg_kg}")
    classes = table.classes.get(analyte)
    if classes is None:
        return None
    looked_up = value_mg_kg * table.per_mg_kg
    if table.whole_figures:
        looked_up = float(int(looked_up + 0.5))
    found = next(each for each in classes if looked_up <= each.to)
    named = f"{table.name} ({table.dated})"
    rule = f"{looked_up:g} {table.unit} is {found.word} in {named}"
    origin = Origin(f"{analyte} class", found.word, rule, _sources(table), "read")
    return Reading(analyte, value_mg_kg, "mg/kg", found.word, found.level, named, origin)


def _sources(table: InterpretationTable) -> tuple[str, ...]:
    return (table.source_id, "UK_TARGETS_2015") if table is UK_OLSEN else (table.source_id,)


def manganese_index(mn_mg_kg: float, ph: float) -> float:
    """Manganese activity index 101.7 + 3.75 Mn - 15.2 pH; below 25 deficient, above 100 a warning.

    Source
    ------
    Rutgers NJAES (RUTGERS_M3), Mehlich-3 manganese in ppm.
    """
    return 101.7 + 3.75 * mn_mg_kg - 15.2 * ph
