"""Nitrogen, phosphate and potash a bed needs this year, and the most it may get."""

from __future__ import annotations

from bedwright.engine.soil.acidity import G_M2_PER_LB_100FT2
from bedwright.engine.soil.rounding import spoken_rate, two_figures
from bedwright.engine.soil.sources import PRACTICE
from bedwright.engine.soil.tables import TABLES, InterpretationTable, interpret, table_for
from bedwright.model.book import SoilTest
from bedwright.model.soil import Analyte, Nutrient, NutrientNeed, Reading
from bedwright.model.source import Origin

G_M2_PER_LB_1000FT2 = G_M2_PER_LB_100FT2 / 10
N_CAP_G_M2 = 2.5 * G_M2_PER_LB_1000FT2
"""2.5 lb per 1000 sq ft, 12.2 g/m²: the base rate of UMass; side dressings come on top, by crop."""
N_SUPPLEMENT_G_M2 = 1.0 * G_M2_PER_LB_1000FT2
"""0.1 lb per 100 sq ft, 4.9 g/m²: Colorado State, for soil with 2 to 3 % organic matter."""
OXIDE_LOW_G_M2 = 5.0 * G_M2_PER_LB_1000FT2
"""50 lb of 5-10-10 per 1000 sq ft, where phosphorus or potassium is low: 24.4 g/m²."""
OXIDE_SUFFICIENT_G_M2 = 2.5 * G_M2_PER_LB_1000FT2
"""25 lb of 10-10-10 per 1000 sq ft, where it is sufficient: 12.2 g/m²."""

_OXIDES: tuple[tuple[Nutrient, Analyte], ...] = (("P2O5", "P"), ("K2O", "K"))


def read_soil_test(
    test: SoilTest, tables: tuple[InterpretationTable, ...] = TABLES
) -> tuple[tuple[Reading, ...], str]:
    """Phosphorus and potassium of a test by the table of its extract, and a note where there is none."""
    table = table_for(test.extraction, tables)
    measured: tuple[tuple[Analyte, float | None], ...] = (("P", test.p_mg_kg), ("K", test.k_mg_kg))
    if table is None:
        if all(value is None for _, value in measured):
            return (), ""
        named = (
            f'"{test.extraction}" is an extract'
            if test.extraction
            else "The report does not name its extract:"
        )
        held = ", ".join(each.extract.title().replace("Mehlich 3", "Mehlich-3") for each in tables)
        return (), (
            f"{named} for which no published table is held here ({held}), so its phosphorus and potassium "
            "are not read. Ask the laboratory what its figures mean."
        )
    found = (interpret(table, analyte, value) for analyte, value in measured if value is not None)
    return tuple(reading for reading in found if reading is not None), ""


def nutrient_needs(
    readings: tuple[Reading, ...], organic_matter_pct: float | None
) -> tuple[NutrientNeed, NutrientNeed, NutrientNeed]:
    """Need and cap of nitrogen, phosphate and potash.

    Parameters
    ----------
    readings : tuple of Reading
        Phosphorus and potassium by a published table; what is missing is not fed.
    organic_matter_pct : float, optional
        [%], 0 to 80; None where it was not measured.

    Returns
    -------
    tuple of NutrientNeed
        Nitrogen, phosphate, potash. [g/m²]

    Source
    ------
    Phosphate and potash: UMASS_FERTILIZING gives one rate where they are low and half of it where
    they are sufficient; NEVEG_NUTRIENTS leaves out what is above optimum. Which class takes which
    rate is chosen here: low takes the full rate and medium half of it; at the optimum nothing is
    needed; above the optimum nothing may be added. Phosphate never passes the full rate, nor the
    half rate at the optimum or unread, since it builds up; potash is capped above optimum only.
    Nitrogen: CSU_RELEASE by organic matter, capped at the base rate of UMASS_FERTILIZING.

    Limits
    ------
    A soil test does not measure the season's nitrogen; the figures are rules of thumb.
    """
    by_analyte = {reading.analyte: reading for reading in readings}
    phosphate, potash = (_oxide(oxide, by_analyte.get(analyte)) for oxide, analyte in _OXIDES)
    return _nitrogen(organic_matter_pct), phosphate, potash


def _oxide(nutrient: Nutrient, reading: Reading | None) -> NutrientNeed:
    if reading is None:
        origin = Origin(
            f"{nutrient}_g_m2", 0.0, "not read from a test: none for its own sake", (PRACTICE,), "practice"
        )
        why = f"{nutrient} is not known from a test: none is added for its own sake."
        cap = OXIDE_SUFFICIENT_G_M2 if nutrient == "P2O5" else None
        return NutrientNeed(nutrient, 0.0, cap, (0.0, OXIDE_LOW_G_M2), why, (origin,))
    word = f"{reading.analyte} is {reading.class_word} ({reading.table})"
    if reading.level == "above":
        rule = "above optimum: left out of every amendment"
        origin = Origin(f"{nutrient}_cap_g_m2", 0.0, rule, ("NEVEG_NUTRIENTS",), "read")
        return NutrientNeed(nutrient, 0.0, 0.0, (0.0, 0.0), f"{word}: add none.", (reading.origin, origin))
    if reading.level == "optimum":
        return _enough(nutrient, reading, word)
    half = reading.level == "medium"
    need = OXIDE_SUFFICIENT_G_M2 if half else OXIDE_LOW_G_M2
    rule = "25 lb of 10-10-10 per 1000 sq ft" if half else "50 lb of 5-10-10 per 1000 sq ft"
    origin = Origin(f"{nutrient}_g_m2", two_figures(need), rule, ("UMASS_FERTILIZING",), "derived")
    low = 0.0 if half else OXIDE_SUFFICIENT_G_M2
    why = f"{word}: {spoken_rate(need)} of {nutrient}."
    cap = OXIDE_LOW_G_M2 if nutrient == "P2O5" else None
    return NutrientNeed(nutrient, need, cap, (low, OXIDE_LOW_G_M2), why, (reading.origin, origin))


def _enough(nutrient: Nutrient, reading: Reading, word: str) -> NutrientNeed:
    span = (0.0, OXIDE_SUFFICIENT_G_M2)
    if nutrient == "K2O":
        why = f"{word}, the optimum: none needed."
        return NutrientNeed(nutrient, 0.0, None, span, why, (reading.origin,))
    most = spoken_rate(OXIDE_SUFFICIENT_G_M2)
    rule = "sufficient: 25 lb of 10-10-10 per 1000 sq ft"
    origin = Origin(
        "P2O5_cap_g_m2", two_figures(OXIDE_SUFFICIENT_G_M2), rule, ("UMASS_FERTILIZING",), "derived"
    )
    why = f"{word}, the optimum: none needed, at most {most} of {nutrient} with other materials."
    return NutrientNeed(nutrient, 0.0, OXIDE_SUFFICIENT_G_M2, span, why, (reading.origin, origin))


def _nitrogen(organic_matter_pct: float | None) -> NutrientNeed:
    csu = ("CSU_RELEASE",)
    cap = Origin(
        "N_cap_g_m2", two_figures(N_CAP_G_M2), "2.5 lb per 1000 sq ft", ("UMASS_FERTILIZING",), "derived"
    )
    if organic_matter_pct is not None and not 0 <= organic_matter_pct <= 80:
        raise ValueError(f"organic matter is 0 to 80 percent; got {organic_matter_pct}")
    if organic_matter_pct is None:
        need, why = N_SUPPLEMENT_G_M2, "Organic matter was not measured: the lower published rate."
        rule = "0.1 lb per 100 sq ft, the lower of two published rates"
    elif organic_matter_pct >= 4:
        need = 0.0
        why = f"Organic matter {organic_matter_pct:g} %: the soil itself is likely to give enough."
        rule = "4 to 5 % organic matter: mineralisation likely sufficient"
    elif organic_matter_pct >= 2:
        need = N_SUPPLEMENT_G_M2
        why = f"Organic matter {organic_matter_pct:g} %: a supplement for hungry crops."
        rule = "2 to 3 % organic matter: 0.1 lb per 100 sq ft; 3 to 4 % taken with it here"
    else:
        need = N_CAP_G_M2
        why = f"Organic matter {organic_matter_pct:g} % is low: the common base rate."
        rule = "below 2 % organic matter: the base rate of 2.5 lb per 1000 sq ft"
        csu = ("UMASS_FERTILIZING",)
    origin = Origin("N_g_m2", two_figures(need), rule, csu, "weak" if csu == ("CSU_RELEASE",) else "derived")
    return NutrientNeed("N", need, N_CAP_G_M2, (0.0, N_CAP_G_M2), why, (origin, cap))
