"""The checker's own look at crops in soil with lead."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.rules import ROOT_AND_LEAF_WORDS, PlantingRules
from bedwright.model.book import Bed
from bedwright.model.crop import Crop
from bedwright.model.season import Planting


def lead_in_soil(planting: Planting, crop: Crop, bed: Bed, rules: PlantingRules) -> Iterator[Violation]:
    """No crop eaten for root or leaf stands in soil over the lead level."""
    if bed.soil_test is not None and too_much_lead(crop, bed, rules):
        yield Violation(
            "root or leaf crop in soil with lead",
            bed.code,
            (planting.code,),
            bed.soil_test.lead_mg_kg or 0.0,
            rules.lead_limit_mg_kg,
            "mg/kg or less",
        )


def too_much_lead(crop: Crop, bed: Bed, rules: PlantingRules) -> bool:
    """True for a crop eaten for root or leaf in a bed over the lead level."""
    lead = bed.soil_test.lead_mg_kg if bed.soil_test else None
    eaten = [set(part.lower().replace(",", " ").split()) for part in crop.edible_parts]
    carries_soil = any(words & ROOT_AND_LEAF_WORDS for words in eaten if "flower" not in words)
    return carries_soil and lead is not None and lead > rules.lead_limit_mg_kg
