"""Lead in the soil against the levels in force, and which crops move where."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from bedwright.engine.placement.raw_manure import eaten_root_or_leaf
from bedwright.model.book import Bed
from bedwright.model.bounds import LEAD_MG_KG
from bedwright.model.safety import ASK_LOCALLY, EPA_2024, Caution, LeadRule
from bedwright.model.season import Planting

Band = Literal["below", "above several-sources level", "above screening level", "above removal level"]
HABITS = (
    "Most lead is swallowed with soil: mulch bare ground, wash hands and produce, peel roots, leave soil "
    "outdoors, "
    "keep children from eating it."
)


def lead_band(lead_mg_kg: float, rule: LeadRule) -> Band:
    """Where a figure stands by one rule; a figure equal to a level is not above it.

    Raises
    ------
    ValueError
        If the figure is negative, not a number or above 20000 mg/kg: check the unit.
    """
    if lead_mg_kg not in LEAD_MG_KG:
        raise ValueError(
            f"lead in soil is {LEAD_MG_KG}; got {lead_mg_kg:g}. Check the unit and the decimal point."
        )
    # Where a document sets both at one figure, as in 2024, the milder word is used.
    if rule.removal_mg_kg is not None and rule.screening_mg_kg < rule.removal_mg_kg < lead_mg_kg:
        return "above removal level"
    if lead_mg_kg > rule.screening_mg_kg:
        return "above screening level"
    if rule.several_sources_mg_kg is not None and lead_mg_kg > rule.several_sources_mg_kg:
        return "above several-sources level"
    return "below"


def lead_cautions(
    beds: Sequence[Bed], plantings: Sequence[Planting], rule: LeadRule, strictest: LeadRule = EPA_2024
) -> tuple[Caution, ...]:
    """What each bed's lead figure asks for, and for each root or leaf crop where it could go.

    Parameters
    ----------
    beds : Sequence[Bed]
        Beds of the book.
    plantings : Sequence[Planting]
        Plantings as placed.
    rule : LeadRule
        The rule in force, `lead_rule_on(day)`, or a newer or local one.
    strictest : LeadRule
        An earlier, lower level is named beside it: caution costs nothing.

    Source
    ------
    Levels: see the rule. Roots and leaves carry more soil than fruits: MCBRIDE_14.
    """
    clean = [bed.code for bed in beds if _tested_clean(bed, rule, strictest)]
    found: list[Caution] = []
    unmeasured: list[str] = []
    for bed in beds:
        test = bed.soil_test
        if test is None or test.lead_mg_kg is None:
            unmeasured.append(bed.code)
            continue
        band = lead_band(test.lead_mg_kg, rule)
        dated = f"{rule.id}, issued {rule.issued.isoformat()}: screening level {rule.screening_mg_kg:g} mg/kg"
        if band in ("above screening level", "above removal level"):
            found.append(_above(bed.code, test.lead_mg_kg, band, rule, dated))
            found += _moves(bed.code, plantings, clean, rule, dated)
        elif band != "below" or lead_band(test.lead_mg_kg, strictest) != "below":
            found.append(_between(bed.code, test.lead_mg_kg, rule, strictest, dated))
    if unmeasured:
        found.append(_unmeasured(unmeasured))
    return tuple(found)


def beds_in_words(codes: Sequence[str]) -> str:
    """Names of beds, such as `Bed A` or `Beds A, B and C`."""
    if len(codes) == 1:
        return f"Bed {codes[0]}"
    return f"Beds {', '.join(codes[:-1])} and {codes[-1]}"


def _tested_clean(bed: Bed, rule: LeadRule, strictest: LeadRule) -> bool:
    lead = bed.soil_test.lead_mg_kg if bed.soil_test else None
    return lead is not None and lead_band(lead, rule) == "below" == lead_band(lead, strictest)


def _unmeasured(codes: Sequence[str]) -> Caution:
    text = (
        f"{beds_in_words(codes)}: lead was not measured. Have it measured before food is grown there, above "
        f"all by old painted walls and busy roads. {HABITS} {ASK_LOCALLY}"
    )
    only = codes[0] if len(codes) == 1 else None
    return Caution("lead", "act", text, "test every vegetable soil", ("EPA_LEAD_2024",), only)


def _above(code: str, lead: float, band: Band, rule: LeadRule, dated: str) -> Caution:
    removal = band == "above removal level"
    level = rule.removal_mg_kg if removal and rule.removal_mg_kg is not None else rule.screening_mg_kg
    advice = (
        "Grow no food in this soil, keep it covered and children away, until the authority has looked at it."
        if removal
        else "No root or leaf crops in this soil; fruit crops only if well washed, or a raised bed of clean "
        "soil."
    )
    text = (
        f"Bed {code}: {lead:g} mg of lead per kg of soil, above {level:g} mg/kg ({rule.authority}, "
        f"{rule.issued.isoformat()}). {advice} {HABITS} {ASK_LOCALLY}"
    )
    return Caution("lead", "stop", text, dated, (rule.source_id, "MCBRIDE_14"), code)


def _between(code: str, lead: float, rule: LeadRule, strictest: LeadRule, dated: str) -> Caution:
    text = (
        f"Bed {code}: {lead:g} mg of lead per kg of soil. That is not above {rule.screening_mg_kg:g} mg/kg "
        f"({rule.authority}, {rule.issued.isoformat()}), but above the {strictest.several_sources_mg_kg:g} "
        "mg/kg its "
        f"guidance of {strictest.issued.isoformat()} used where lead comes from several sources, such as old "
        "paint or "
        f"pipes. Prefer fruit crops here. {HABITS} {ASK_LOCALLY}"
    )
    sources = tuple(dict.fromkeys((rule.source_id, strictest.source_id, "MCBRIDE_14")))
    return Caution("lead", "act", text, dated, sources, code)


def _moves(
    code: str, plantings: Sequence[Planting], clean: Sequence[str], rule: LeadRule, dated: str
) -> list[Caution]:
    where = (
        f"Move it to bed {' or '.join(clean)}, tested below the levels,"
        if clean
        else "No bed is tested below the levels: give it a raised bed of clean soil"
    )
    return [
        Caution(
            "lead",
            "stop",
            f"{planting.crop.name} {planting.label_code} is eaten for root or leaf and stands in bed {code}. "
            f"{where} or "
            f"leave it out. {ASK_LOCALLY}",
            dated,
            (rule.source_id, "MCBRIDE_14"),
            code,
            planting.code,
        )
        for planting in plantings
        if planting.bed_code == code and eaten_root_or_leaf(planting.crop)
    ]
