"""From what the coordinator asked for to a number of plants."""

from __future__ import annotations

import math

from bedwright.engine.timing.sources import PRACTICE
from bedwright.model.book import Amount
from bedwright.model.crop import Crop, Fact
from bedwright.model.source import Origin

WHOLE = 1e-9
"""Slack before rounding, so that 4.5 m at 0.45 m is ten plants."""


def plants_wanted(crop: Crop, amount: Amount) -> tuple[int, Origin] | None:
    """Final plants for an amount, and how they were reckoned.

    Parameters
    ----------
    crop
        With the packet's spacing where stated.
    amount
        In plants, metres of row or kilograms of harvest.

    Returns
    -------
    tuple[int, Origin] | None
        At least one plant; None where kilograms are asked and no yield is known.

    Source
    ------
    Row: whole plants that fit, length over spacing, as seed-house tables have it (100 ft at
    18 in: 66 plants). Harvest: the catalogue's yield of a plant or of a metre of row.
    """
    spacing_m = crop.in_row_spacing_m
    if amount.unit == "plants":
        n_plants = math.ceil(amount.value - WHOLE)
        return n_plants, Origin("n_plants", n_plants, "plants asked for in the book", (), "own")
    if amount.unit == "row_m":
        n_plants = max(1, math.floor(amount.value / spacing_m + WHOLE))
        rule = f"{amount.value:g} m of row over {spacing_m:g} m between plants, whole plants"
        return n_plants, _origin(crop, n_plants, rule, "in_row_spacing_cm")
    if crop.yield_kg_per_plant is not None:
        n_plants = max(1, math.ceil(amount.value / crop.yield_kg_per_plant - WHOLE))
        rule = f"{amount.value:g} kg over {crop.yield_kg_per_plant:g} kg a plant, rounded up"
        return n_plants, _origin(crop, n_plants, rule, "yield_kg_per_plant")
    if crop.yield_kg_per_m_row is not None:
        row_m = amount.value / crop.yield_kg_per_m_row
        n_plants = max(1, math.ceil(row_m / spacing_m - WHOLE))
        rule = (
            f"{amount.value:g} kg over {crop.yield_kg_per_m_row:g} kg a metre of row is {row_m:.1f} m; "
            f"at {spacing_m:g} m between plants, rounded up"
        )
        return n_plants, _origin(crop, n_plants, rule, "yield_kg_per_m_row", "in_row_spacing_cm")
    return None


def used_facts(crop: Crop, *quantities: str) -> tuple[Fact, ...]:
    """The facts of these quantities that the engine uses."""
    return tuple(fact for quantity in quantities for fact in crop.facts_of(quantity) if fact.used)


def _origin(crop: Crop, n_plants: int, rule: str, *quantities: str) -> Origin:
    facts = used_facts(crop, *quantities)
    if not facts:
        return Origin("n_plants", n_plants, rule, (PRACTICE,), "practice")
    source_ids = tuple(dict.fromkeys(fact.source_id for fact in facts))
    return Origin("n_plants", n_plants, rule, source_ids, facts[0].standing)
