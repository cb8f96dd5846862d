"""The feeding sheet: what each bed needs and gets, side dressing by date, mulch."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from bedwright.model.book import Bed, PaperSize, UnitSystem
from bedwright.model.care import FeedingPlan
from bedwright.model.season import SeasonPlan
from bedwright.model.soil import BedFeeding, MaterialUse, MulchNeed, SideDressing, Supplied
from bedwright.model.source import Origin
from bedwright.papers import parts
from bedwright.papers.compost_part import compost_parts
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import (
    Measures,
    count_words,
    figures_words,
    number_words,
    short_day,
    span_words,
)
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame
from bedwright.papers.standings import doubt_lines

_SPOONS = re.compile(r"\((about [^)]*(?:spoon|cup)[^)]*)\)")


def feeding_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The feeding sheet for `parts.typ`."""
    measures = Measures(units)
    body: list[Part] = [parts.heading("Feeding and mulch", 1)]
    if plan.care is None:
        body.append(parts.text("Nothing was worked out for the soil."))
    else:
        feeding = plan.care.feeding
        body += [
            *_beds(plan, feeding, measures),
            *_needs(feeding, measures),
            *compost_parts(plan, feeding, measures),
            *_dressings(plan, feeding, measures),
            *_mulches(plan, feeding, measures),
            *_doubts(feeding),
        ]
    return parts.paper(parts.page(frame(plan, paper, "Feeding sheet", "F"), body))


def use_words(use: MaterialUse, measures: Measures) -> str:
    """A material as it is measured out: `140 L of compost (85 kg)`, `230 g of lime (¾ cup)`."""
    if use.cups is not None:
        return f"{measures.dose(use.mass_g)} of {use.material} (about {cup_words(use.cups)})"
    if use.volume_l is not None:
        return f"{measures.bulk(use.volume_l)} of {use.material} ({measures.dose(use.mass_g)})"
    return f"{measures.dose(use.mass_g)} of {use.material}"


def cup_words(cups: float) -> str:
    """US cups in words, spoons below a quarter."""
    if cups < 0.24:
        return count_words(max(1, round(cups * 16)), "tablespoon")
    return f"{number_words(cups, 2)} {'cup' if cups <= 1 else 'cups'}"


def barrow_words(use: MaterialUse) -> str:
    """Barrows of a bulky material, as the soil stage counted them; empty for others."""
    found = re.search(r"(\d+ barrows?)", use.text)
    return found[1] if found else ""


def _beds(plan: SeasonPlan, feeding: FeedingPlan, measures: Measures) -> list[Part]:
    beds = {bed.code: bed for bed in plan.book.beds}
    rows = [_bed_row(beds[fed.bed_code], fed, measures) for fed in feeding.beds]
    return [
        parts.text(
            "Weights are to two figures: nothing about soil is known better. Spread before sowing or setting "
            "out, rake "
            "in lightly; the preparation sheets say when."
        ),
        parts.ruled_table(
            ["Bed", "Ground", "Soil test", "Spread on the whole bed", "Lime or sulphur"],
            rows,
            [1.3, 0, 0.9, 2.4, 1.5],
            bold=(0, 3),
        ),
        *_test_first(feeding),
    ]


def _bed_row(bed: Bed, fed: BedFeeding, measures: Measures) -> list[str]:
    test = bed.soil_test
    uses = "; ".join(
        ", ".join(word for word in (use_words(use, measures), barrow_words(use)) if word) for use in fed.uses
    )
    return [
        bed_words(bed),
        measures.area(fed.area_m2),
        f"{short_day(test.sampled_on)} {test.sampled_on.year}" if fed.tested and test else "none: test first",
        uses or "nothing",
        _acidity_words(fed, measures),
    ]


def _acidity_words(fed: BedFeeding, measures: Measures) -> str:
    need = fed.acidity
    if need is None:
        return "not before a test"
    if need.material == "nothing":
        return f"none, pH {need.ph:g}"
    low, high = (measures.dose(rate * fed.area_m2) for rate in (need.low_g_m2, need.high_g_m2))
    told = f"{need.material} {low}" + (f" to {high}" if low != high else "")
    if need.n_applications > 1:
        told += f", the lower in {need.n_applications} parts {need.months_apart} months apart"
    return f"{told}; pH {need.ph:g}, aim {need.target_ph:g}"


def _test_first(feeding: FeedingPlan) -> list[Part]:
    untested = [fed for fed in feeding.beds if not fed.tested and fed.notes]
    if not untested:
        return []
    codes = ", ".join(fed.bed_code for fed in untested)
    many = "Beds" if len(untested) > 1 else "Bed"
    return [parts.caution(f"{many} {codes}.", untested[0].notes[0], "common practice, no source")]


def _needs(feeding: FeedingPlan, measures: Measures) -> list[Part]:
    rows = []
    for fed in feeding.beds:
        why = {need.nutrient: need.why for need in fed.needs}
        rows += [_need_row(fed, one, why.get(one.nutrient, ""), measures) for one in fed.supplied]
    if not rows:
        return []
    head = ["Bed", "", "Needs", "At most", "The materials give this year", "Why"]
    notes = [
        f"Bed {fed.bed_code}: {note}"
        for fed in feeding.beds
        for note in fed.notes
        # What a need rests on stands in the table, the plain pH in the list above.
        if fed.tested and note not in {need.why for need in fed.needs} and not _told_above(fed, note)
    ]
    return [
        parts.heading("What tested beds need this year"),
        parts.ruled_table(head, rows, [0, 0, 0, 0, 0, 1.0], bold=(0, 1), size_pt=7.5),
        *(parts.small(note) for note in notes),
    ]


def _told_above(fed: BedFeeding, note: str) -> bool:
    need = fed.acidity
    return need is not None and need.material == "nothing" and note == need.text


def _need_row(fed: BedFeeding, one: Supplied, why: str, measures: Measures) -> list[str]:
    low, high = (measures.spread(value) for value in (one.low_g_m2, one.high_g_m2))
    given = low if low == high else f"{low.split()[0]} to {high}"
    cap = "no cap" if one.cap_g_m2 is None else measures.spread(one.cap_g_m2)
    return [
        fed.bed_code,
        one.nutrient,
        "nothing" if one.need_g_m2 <= 0 else measures.spread(one.need_g_m2),
        cap,
        "nothing" if one.high_g_m2 <= 0 else given,
        why,
    ]


def _dressings(plan: SeasonPlan, feeding: FeedingPlan, measures: Measures) -> list[Part]:
    if not feeding.side_dressings:
        return []
    labels = {p.code: p.label_code for p in plan.plantings}
    rows = [_dressing_row(each, labels[each.planting_code], measures) for each in feeding.side_dressings]
    head = ["When", "Row", "Crop", "Per row", "In all", "Along", "Wait for this sign, not for the day"]
    return [
        parts.heading("Side dressing"),
        parts.small(
            f"With {feeding.side_dressings[0].material}, at the lower published rate of nitrogen. Keep it a "
            "hand's breadth off the "
            "stems, scratch it in, water."
        ),
        parts.ruled_table(head, rows, [0, 0, 0, 0, 0, 0, 1.0], bold=(1, 4)),
    ]  # fmt: skip


def _dressing_row(each: SideDressing, label: str, measures: Measures) -> list[str]:
    spoons = _SPOONS.search(each.text)
    return [
        span_words(each.opens, each.closes),
        label,
        each.crop,
        measures.dose_per_row(each.material_g_per_m_row),
        measures.dose(each.total_g) + (f" ({spoons[1]})" if spoons else ""),
        measures.row(each.row_m),
        measures.alone(each.when),
    ]


def _mulches(plan: SeasonPlan, feeding: FeedingPlan, measures: Measures) -> list[Part]:
    if not feeding.mulches:
        return []
    plantings = {p.code: p for p in plan.plantings}
    needs = sorted(feeding.mulches, key=lambda need: (need.not_before, need.planting_code))
    rows = [
        [
            short_day(need.not_before),
            plantings[need.planting_code].label_code,
            plantings[need.planting_code].crop.name,
            measures.layer(*need.depth_mm),
            _bulk_range(need.volume_l, measures),
            f"{need.n_sacks_whole_leaves[0]} to {need.n_sacks_whole_leaves[1]}",
        ]
        for need in needs
    ]
    half = -(-len(rows) // 2)
    head = ["Not before", "Row", "Crop", "Deep", "Shredded", "Sacks"]
    tables = [
        parts.ruled_table(head, chunk, [0, 0, 1.0, 0, 0, 0], bold=(0, 1), right=(5,), size_pt=7.5)
        for chunk in (rows[:half], rows[half:])
        if chunk
    ]
    return [
        parts.heading("Leaf mulch"),
        parts.text(_mulch_words(needs, measures)),
        parts.side_by_side(*tables),
    ]


def _bulk_range(volume_l: tuple[float, float], measures: Measures) -> str:
    low, high = (measures.bulk(value) for value in volume_l)
    return f"{low.split()[0]} to {high}"


def _mulch_words(needs: list[MulchNeed], measures: Measures) -> str:
    low_l, high_l = (sum(need.volume_l[k] for need in needs) for k in (0, 1))
    sacks = [sum(need.n_sacks_whole_leaves[k] for need in needs) for k in (0, 1)]
    return (
        f"If every planting were mulched: {_bulk_range((low_l, high_l), measures)} of shredded leaves, from "
        "about "
        f"{figures_words(sacks[0])} to {figures_words(sacks[1])} sacks of whole leaves of "
        f"{measures.water(needs[0].sack_l)}. "
        "Take the thirsty and the long-standing first. Lay it once the soil is warm and seedlings are "
        "through, never over "
        "a fresh drill; water first; keep it off the stems; no walnut leaves."
    )


def _doubts(feeding: FeedingPlan) -> list[Part]:
    lines = doubt_lines(_origins(feeding))
    if not lines:
        return []
    return [parts.heading("How sure the numbers are"), *(parts.small(line) for line in lines)]


def _origins(feeding: FeedingPlan) -> Iterable[Origin]:
    for fed in feeding.beds:
        yield from fed.origins
    for dressing in feeding.side_dressings:
        yield from dressing.origins
    for mulch in feeding.mulches:
        yield from mulch.origins
