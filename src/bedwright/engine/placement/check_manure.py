"""The checker's own look at picking after raw manure; shares no code with the search."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from bedwright.engine.placement.rules import ROOT_AND_LEAF_WORDS
from bedwright.model.book import GardenBook
from bedwright.model.crop import Crop
from bedwright.model.safety import NOP_MANURE
from bedwright.model.season import Planting

TALL_M = 1.0


@dataclass(frozen=True, slots=True)
class TooSoon:
    """A pick that may come too few days after raw manure."""

    dug_in: date
    first_pick: date
    days: int
    days_needed: int


def picked_too_soon(book: GardenBook, planting: Planting, crop: Crop) -> Iterator[TooSoon]:
    """Raw manure in the bed of a planting that is followed too soon by picking."""
    if crop.kind not in ("vegetable", "herb"):
        return
    low_fruit = crop.height_m < TALL_M and not crop.climbs and crop.support == "none"
    parts = [set(part.lower().replace(",", " ").split()) for part in crop.edible_parts]
    in_or_on_soil = any(words & ROOT_AND_LEAF_WORDS and "flower" not in words for words in parts)
    needed = NOP_MANURE.touching_soil_days if low_fruit or in_or_on_soil else NOP_MANURE.off_the_soil_days
    for manure in book.manure:
        if manure.bed_code != planting.bed_code or manure.composted:
            continue
        first = max(planting.dates.first_pick_early, manure.incorporated_on)
        days = (first - manure.incorporated_on).days
        if days < needed and planting.dates.last_pick >= manure.incorporated_on:
            yield TooSoon(manure.incorporated_on, first, days, needed)
