"""Compost on the feeding sheet: what to fetch for each bed, for planting holes, what it lets go."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.model.care import FeedingPlan
from bedwright.model.season import SeasonPlan
from bedwright.model.soil import BedFeeding, CompostNeed, HoleCompost
from bedwright.model.units import M3_PER_CUBIC_YARD, litres_to_us_gallons
from bedwright.papers import parts
from bedwright.papers.measures import Measures, count_words, figures_words, number_words
from bedwright.papers.parts import Part

M3_L = 1000.0
YARD_L = 1000 * M3_PER_CUBIC_YARD
CUPS_A_GALLON = 16


def compost_parts(plan: SeasonPlan, feeding: FeedingPlan, measures: Measures) -> list[Part]:
    """Compost by the bed and by the planting hole; empty where none is spread."""
    found = [(fed, need) for fed in feeding.beds for need in fed.composts]
    made: list[Part] = []
    if found:
        made = [
            parts.heading("Compost and composted manure by the bed"),
            parts.small(_measures_words([need for _, need in found], measures)),
            parts.ruled_table(
                [
                    "Bed",
                    "Material",
                    "Loose",
                    "Barrows",
                    "or bags",
                    "Layer, settled",
                    "Nitrogen let go, year by year",
                ],
                [_row(fed, need, measures) for fed, need in found],
                [0, 1.0, 0, 0, 0, 0, 1.6],
                bold=(0, 2),
                right=(2, 3, 4, 5),
                size_pt=7.5,
            ),
        ]
    return [*made, *_holes(plan, feeding.holes, measures)]


def _measures_words(needs: Sequence[CompostNeed], measures: Measures) -> str:
    first = needs[0]
    all_l = sum(need.volume_l for need in needs)
    settling = f"{first.settling_share:.0%} allowed for settling (common practice, no source)"
    barrow, bag = measures.bulk(first.barrow_l), measures.bulk(first.bag_l)
    return (
        f"Volumes are loose, as fetched, with {settling}; a barrow of {barrow}, a bag of {bag}: look at "
        "yours. "
        f"In all {measures.bulk(all_l)}, or one delivery of {_delivery(all_l, measures)}, less what the shed "
        "holds. Compost lets its nitrogen go over years: a range, from one extension office at second hand."
    )


def _delivery(volume_l: float, measures: Measures) -> str:
    """Rounded up to what is delivered: half cubic metres or yards, tenths below a half."""
    size = volume_l / (M3_L if not measures.us else YARD_L)
    step = 0.1 if size < 0.5 else 0.5
    rounded = step * -(-size // step)
    return f"{number_words(rounded, 1)} {'cubic yards' if measures.us else 'm³'}"


def _row(fed: BedFeeding, need: CompostNeed, measures: Measures) -> list[str]:
    years = [release for release in fed.releases if release.nutrient == "N"]
    told = ", ".join(
        f"{number_words(release.low_g, 0)} to {measures.dose(release.high_g)}"
        if not measures.us
        else f"{measures.dose(release.low_g)} to {measures.dose(release.high_g)}"
        for release in years
    )
    return [
        fed.bed_code,
        need.material,
        measures.bulk(need.volume_l),
        f"{need.n_barrows}",
        f"{need.n_bags}",
        _layer(need.depth_mm, measures),
        told,
    ]


def _layer(depth_mm: float, measures: Measures) -> str:
    return measures.depth(depth_mm) if depth_mm >= 1 else f"under {measures.depth(1.0)}"


def _holes(plan: SeasonPlan, holes: Sequence[HoleCompost], measures: Measures) -> list[Part]:
    if not holes:
        return []
    labels = {p.code: f"{p.label_code} {p.crop.name}" for p in plan.plantings}
    told = "; ".join(
        f"{labels[each.planting_code]} {count_words(each.n_holes, 'hole')}, {measures.water(each.volume_l)}"
        for each in holes
    )
    hole_l = holes[0].hole_l
    return [
        parts.small(
            f"If compost is short, a double handful of {_hole_words(hole_l, measures)} in each planting "
            "hole in "
            f"place of the layer (common practice, no source): {told}."
        )
    ]


def _hole_words(hole_l: float, measures: Measures) -> str:
    return (
        f"{figures_words(litres_to_us_gallons(hole_l) * CUPS_A_GALLON)} cups"
        if measures.us
        else measures.bulk(hole_l)
    )
