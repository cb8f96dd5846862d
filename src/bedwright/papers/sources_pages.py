"""Where the numbers come from, what fell short, and what the plan warns of."""

from __future__ import annotations

import re
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan, Shortfall
from bedwright.model.source import Standing
from bedwright.papers.measures import Measures, count_words, number_words
from bedwright.papers.order_list import origin_words
from bedwright.papers.sheet import frame
from bedwright.papers.standings import quantity_words, standing_meaning

_ORDER: tuple[Standing, ...] = ("read", "derived", "packet", "own", "weak", "practice", "memory")


def used_sources(plan: SeasonPlan) -> dict[str, set[str]]:
    """Every source the plan rests on, with the quantities taken from it."""
    used: dict[str, set[str]] = {}

    def note(ids: tuple[str, ...], what: str) -> None:
        for key in ids:
            used.setdefault(key, set()).add(_plain_quantity(what))

    for planting in plan.plantings:
        for origin in planting.origins:
            note(origin.source_ids, origin.quantity)
        for reason in planting.reasons:
            note(reason.source_ids, reason.term)
        for fact in planting.crop.facts:
            if fact.used:
                note((fact.source_id,), fact.quantity)
    for line in plan.orders:
        for origin in line.origins:
            note(origin.source_ids, origin.quantity)
    for task in plan.tasks:
        note(task.source_ids, task.kind)
    if plan.climate is not None:
        note(plan.climate.source_ids, "climate")
    return used


def _plain_quantity(quantity: str) -> str:
    """Name without unit; a value tabulated by temperature counts as one."""
    name, _ = quantity_words(re.sub(r"_at_\d+c$", "", quantity))
    return name


def sources_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `sources.typ` sets."""
    used, measures = used_sources(plan), Measures(units)
    return {
        "frame": frame(plan, paper, "Where the numbers come from", "S"),
        "shortfalls": [shortfall_words(shortfall, measures) for shortfall in plan.shortfalls],
        "warnings": [measures.alone(warning) for warning in plan.warnings],
        "standings": _standings(plan),
        "guesses": _guesses(plan),
        "plantings": [_planting_reasons(plan, k, measures) for k in range(len(plan.plantings))],
        "sources": [_source(plan, key, used[key]) for key in sorted(used)],
    }


def shortfall_words(shortfall: Shortfall, measures: Measures) -> dict[str, str]:
    """A wish that fell short: which, by how much, why."""
    short = shortfall.wanted_plants - shortfall.placed_plants
    told = f"{shortfall.placed_plants} of {shortfall.wanted_plants} plants placed, {short} short"
    if shortfall.missing_row_m > 0:
        told += f"; {measures.extent(shortfall.missing_row_m)} of row have no place"
        if shortfall.missing_weeks > 0:
            told += f" for {number_words(shortfall.missing_weeks, 1)} weeks"
    name = f"{shortfall.crop} ({shortfall.planting_code})"
    return {"name": name, "told": f"{told}.", "why": measures.alone(shortfall.why)}


def _standings(plan: SeasonPlan) -> list[list[str]]:
    counts: dict[Standing, int] = {}
    seen: set[tuple[str, str, str]] = set()
    for planting in plan.plantings:
        for origin in planting.origins:
            counts[origin.standing] = counts.get(origin.standing, 0) + 1
        for fact in planting.crop.facts:
            key = (planting.crop.name, fact.quantity, fact.source_id)
            if fact.used and key not in seen:
                seen.add(key)
                counts[fact.standing] = counts.get(fact.standing, 0) + 1
    return [[name, standing_meaning(name), str(counts[name])] for name in _ORDER if counts.get(name)]


def _guesses(plan: SeasonPlan) -> list[list[str]]:
    """Crop by crop, the values used that no publication stands behind."""
    found: dict[str, dict[str, set[str]]] = {}
    for planting in plan.plantings:
        for fact in planting.crop.facts:
            if fact.used and fact.standing in ("memory", "practice", "weak"):
                kinds = found.setdefault(planting.crop.name, {})
                kinds.setdefault(fact.standing, set()).add(_plain_quantity(fact.quantity))
    return [
        [crop, *(", ".join(sorted(kinds.get(name, ()))) for name in ("memory", "practice", "weak"))]
        for crop, kinds in sorted(found.items())
    ]


def _planting_reasons(plan: SeasonPlan, k: int, measures: Measures) -> dict[str, Any]:
    planting = plan.plantings[k]
    chance = planting.dates.chance
    years = count_words(planting.dates.n_years, "recorded year")
    told = (
        f"Chance of success {chance * 100:.0f} % over {years}." if chance is not None else "Chance not known."
    )
    if planting.dates.failures and chance is not None:
        lost = ", ".join(
            f"{cause} {share * 100:.0f} %" for cause, share in planting.dates.failures if share > 0
        )
        told += f" Years lost to: {lost}." if lost else ""
    return {
        "heading": f"{planting.label_code} {planting.crop.name} ({planting.code}), bed {planting.bed_code}",
        "chance": told,
        "reasons": [measures.alone(reason.text) for reason in planting.reasons],
        "origins": [measures.alone(origin_words(origin)) for origin in planting.origins],
    }


def _source(plan: SeasonPlan, key: str, what: set[str]) -> list[str]:
    source = plan.sources.get(key)
    shown = sorted(what)
    told = ", ".join(shown[:8]) + (f" and {len(shown) - 8} more" if len(shown) > 8 else "")
    if source is None:
        return [key, "not in the plan's list of sources", "", told]
    return [key, source.citation, source.seen, told]
