"""A season plan laid out for pages."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from bedwright.model.book import Bed
from bedwright.model.season import Planting, SeasonPlan


@dataclass(frozen=True, slots=True)
class BedTable:
    """A bed with its plantings in the order they go in."""

    bed: Bed
    plantings: tuple[Planting, ...]


def planting_rows(plan: SeasonPlan) -> list[Planting]:
    """Plantings by the day they go into the ground."""
    return sorted(plan.plantings, key=lambda each: (each.dates.in_ground, each.bed_code, each.code))


def beds_of(plan: SeasonPlan) -> list[BedTable]:
    """Every bed of the book, also those without a planting."""
    return [BedTable(bed, plan.in_bed(bed.code)) for bed in plan.book.beds]


def reasons_of(plan: SeasonPlan, planting: Planting) -> dict[str, Any]:
    """What a page needs to tell why a planting stands where and when it does."""
    source_ids = dict.fromkeys(_source_ids(planting))
    return {
        "planting": planting,
        "bed": plan.book.bed(planting.bed_code),
        "sources": [plan.sources[key] for key in source_ids if key in plan.sources],
        "chance_pct": None if planting.dates.chance is None else round(planting.dates.chance * 100),
        "failures": [(cause, round(share * 100)) for cause, share in planting.dates.failures],
    }


def _source_ids(planting: Planting) -> Iterator[str]:
    for reason in planting.reasons:
        yield from reason.source_ids
    for origin in planting.origins:
        yield from origin.source_ids
