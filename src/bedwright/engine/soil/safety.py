"""The safety sheet of a season: every caution with its rule, source and date."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import date

from bedwright.engine.soil.feeding import TEST_FIRST
from bedwright.engine.soil.heat import workday_cautions, workday_weather
from bedwright.engine.soil.lead import beds_in_words, lead_cautions
from bedwright.engine.soil.manure import manure_cautions
from bedwright.model.book import Bed, Feature
from bedwright.model.safety import (
    ASK_LOCALLY,
    LEAD_RULES,
    NOP_MANURE,
    Caution,
    Gravity,
    LeadRule,
    ManureRule,
    ManureSpread,
    SafetySheet,
    lead_rule_on,
)
from bedwright.model.season import Planting
from bedwright.model.soil import Material
from bedwright.model.source import Origin
from bedwright.model.weather import WeatherRecord

BIOASSAY_DAYS = (14, 21)
"""Two to three weeks, until three sets of true leaves (WSU_BIOASSAY_2011)."""
_ORDER: dict[Gravity, int] = {"stop": 0, "act": 1, "know": 2}


def safety_sheet(
    beds: Sequence[Bed],
    plantings: Sequence[Planting],
    *,
    today: date,
    features: Sequence[Feature] = (),
    manure: Sequence[ManureSpread] = (),
    materials_used: Sequence[Material] = (),
    workdays: Sequence[date] = (),
    record: WeatherRecord | None = None,
    children_in: Collection[str] = (),
    lead_rules: Sequence[LeadRule] = LEAD_RULES,
    manure_rule: ManureRule = NOP_MANURE,
) -> SafetySheet:
    """Every caution of a season, gravest first.

    Parameters
    ----------
    beds : Sequence[Bed]
        Beds of the book.
    plantings : Sequence[Planting]
        Plantings with their dates.
    today : date
        Picks the rule on lead in force.
    features : Sequence[Feature]
        Of the site; a water butt brings the caution on roof water.
    manure : Sequence[ManureSpread]
        Raw manure dug in, or planned.
    materials_used : Sequence[Material]
        Materials brought in; manure, hay and clippings bring the pot test.
    workdays : Sequence[date]
        Days on which people are to work.
    record : WeatherRecord, optional
        The site's weather.
    children_in : Collection[str]
        Codes of beds where children work.
    lead_rules : Sequence[LeadRule]
        Rules by date; pass more where a newer or local one holds.
    manure_rule : ManureRule
        Days between raw manure and harvest.

    Returns
    -------
    SafetySheet
        Deterministic; cautions sorted by gravity, then kind, bed and planting.

    Raises
    ------
    ValueError
        If no rule on lead had been issued by `today`, or a lead figure is out of range.
    """
    rule = lead_rule_on(today, lead_rules)
    weather = workday_weather(record, workdays) if record is not None else ()
    cautions = [
        *manure_cautions(manure, plantings, manure_rule),
        *lead_cautions(beds, plantings, rule),
        *_untested(beds),
        *_bioassays(materials_used),
        *_roof_water(features),
        *_poisonous(plantings, children_in),
        *workday_cautions(weather),
    ]
    cautions.sort(
        key=lambda c: (_ORDER[c.gravity], c.kind, c.bed_code or "", c.planting_code or "", c.day or date.min)
    )
    origins = (
        Origin(
            "lead screening level mg/kg",
            rule.screening_mg_kg,
            f"{rule.id}, issued {rule.issued.isoformat()}",
            (rule.source_id,),
            "weak",
        ),
        Origin(
            "days from raw manure to harvest",
            f"{manure_rule.off_the_soil_days} or {manure_rule.touching_soil_days}",
            f"{manure_rule.id}, as of {manure_rule.as_of.isoformat()}",
            (manure_rule.source_id,),
            "read",
        ),
    )
    return SafetySheet(tuple(cautions), weather, origins)


def bioassay_steps() -> tuple[str, ...]:
    """The pot test for herbicide residue, step by step.

    Source
    ------
    WSU_BIOASSAY_2011; amounts as in OSU_CARRYOVER_2009 (2 parts to 1, three to six pots).
    """
    return (
        "Take small shovelfuls from all over the heap, deep ones too, and mix them.",
        (
            "Fill three to six small pots with two parts of it and one part of potting mix, as many more "
            "with potting mix alone; a saucer under each."
        ),
        (
            "Sow three peas or beans in each pot, water, and wait two to three weeks, until three sets of "
            "true leaves."
        ),
        "Cupped or twisted leaves in the test pots and none in the others: do not use it on any bed.",
    )


def _untested(beds: Sequence[Bed]) -> list[Caution]:
    codes = [bed.code for bed in beds if bed.soil_test is None]
    if not codes:
        return []
    only = codes[0] if len(codes) == 1 else None
    text = f"{beds_in_words(codes)}. {TEST_FIRST}"
    return [Caution("no soil test", "act", text, "common practice, no source", ("PRACTICE",), only)]


def _bioassays(materials: Sequence[Material]) -> list[Caution]:
    return [
        Caution(
            "herbicide residue",
            "act",
            f"{material.name}: weedkillers such as aminopyralid and clopyralid pass through animals and "
            "compost heaps and "
            "cripple beans, peas and tomatoes. Ask the supplier, and make the pot test before use. "
            f"{' '.join(bioassay_steps())}",
            "pot test of WSU Extension (8 March 2011) and OSU Small Farms (autumn 2009)",
            ("WSU_BIOASSAY_2011", "OSU_CARRYOVER_2009", "NCSU_CARRYOVER"),
        )
        for material in materials
        if material.bioassay
    ]


def _roof_water(features: Sequence[Feature]) -> list[Caution]:
    return [
        Caution(
            "roof water",
            "act",
            f"{butt.name}: roof water goes on the soil, never on leaves or fruit, and not just before "
            "picking; it is not "
            f"for drinking or washing produce. Not from treated, copper or zinc roofs. {ASK_LOCALLY}",
            "Rutgers FS1218 (date not noted)",
            ("RUTGERS_FS1218",),
        )
        for butt in features
        if butt.kind == "water butt"
    ]


def _poisonous(plantings: Sequence[Planting], children_in: Collection[str]) -> list[Caution]:
    found = []
    for planting in plantings:
        parts = planting.crop.poisonous_parts
        if planting.bed_code in children_in and parts:
            text = (
                f"Children work in bed {planting.bed_code}: of {planting.crop.name} {planting.label_code}, "
                f"{', '.join(parts)} can poison or irritate. Nobody tastes unasked; wash hands afterwards."
            )
            found.append(
                Caution(
                    "poisonous parts",
                    "act",
                    text,
                    "Alberta Agriculture (undated); see the crop's own sources",
                    ("ALBERTA_POISON",),
                    planting.bed_code,
                    planting.code,
                )
            )
    return found
