"""Rules of the trade that every planting must keep, with the source of each.

Plain data: the checker and the search read the same figures but share no code.
"""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.engine.placement.sources import LEAD

STEP_M = 0.05
"""Blocks start and end on whole steps along the baseline, so that a tape can find them."""

MOST_PATCHES = 3
"""Places over which one planting may be split."""

SMALL_M = 1e-6
"""Lengths closer than this are taken as equal [m]."""


@dataclass(frozen=True, slots=True)
class PlantingRules:
    """Figures that bind every planting; pass others where a newer or local rule holds."""

    preparation_days: int = 2
    """Ground is taken this many days before the crop goes in. Common practice, no source."""

    edge_cap_m: float = 0.30
    """Half an in-row spacing is kept to the edge of the bed, but never more than this:
    the leaves of wide crops may hang over the path. Common practice, no source."""

    support_reach_m: float = 0.50
    """A row farther from a lasting support than this is not at it. Common practice, no source."""

    reach_two_sides_m: float = 0.60
    """Arm's length into a bed reached from two sides: half of the 4 ft (1.2 m) widest bed
    (makinglifeeasier, biologyinsights: unsigned pages)."""

    reach_one_side_m: float = 0.75
    """Arm's length into a bed reached from one side, 2 to 2.5 ft (0.6 to 0.75 m; same pages)."""

    arms_length_m: float = 0.75
    """No plant stands farther from where one can stand: the most that these pages give, 2.5 ft
    from one side. Between 0.60 and 0.75 m from two sides it is hard to reach and costs points."""

    rotation_years: int = 3
    """Years before a family returns to a bed: at least two, better three or more
    (Organic Gardening; revogarden; Thrive)."""

    lead_limit_mg_kg: float = 200.0
    """Soil above this takes no crop eaten for its root or leaf. US EPA, Updated Residential
    Soil Lead Guidance, 17 January 2024: residential screening level 200 ppm. A screening
    level asks for a closer look; it is no promise that soil below it is safe."""

    lead_several_sources_mg_kg: float = 100.0
    """Level of the same guidance where lead comes from several sources; above it the plan
    gives a caution. Later revisions exist (a directive of October 2025 is reported to keep
    one screening level for all properties): enter what holds locally."""

    lead_rule_words: str = "US EPA, 17 January 2024"
    """Who set the level, and when."""
    lead_source_ids: tuple[str, ...] = (LEAD,)


COMMON_RULES = PlantingRules()

ROOT_AND_LEAF_WORDS = frozenset(
    {
        "root", "roots", "tuber", "tubers", "bulb", "bulbs", "corm", "corms",
        "leaf", "leaves", "stalk", "stalks", "stem", "stems", "head", "heads", "spear", "spears", "sprouts",
    }
)  # fmt: skip
"""Words for parts that carry soil to the table, unless they are of the flower: roots and leaves
do more than fruits (47 % of root crops and 9 % of leafy greens over guidance in New York
gardens, PMC4175907)."""
