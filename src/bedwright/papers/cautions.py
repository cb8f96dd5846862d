"""The usual cautions where work can hurt someone, each with its source and date.

Local rules always prevail. "undated" says that the page seen carries no date.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bedwright.model.crop import Crop

LOCAL_RULES = "Local rules and the advice of your own authority come first."


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution."""

    text: str
    source: str


UTILITIES = Caution(
    "Have buried services located before any digging, driving of pegs or canes: lines here are drawn as "
    "stated in the garden book, which proves nothing. In the United States notify 811 two to three working "
    "days ahead; elsewhere ask the local service.",
    "City of East Grand Forks, Minnesota, Call Before You Dig 811 (undated page)",
)
CANES = Caution(
    "Cap the tops of canes and stakes: bent over a bed, a face meets them.",
    "Royal Horticultural Society, Cane eye guards (undated page)",
)
WASHING = Caution(
    "Wash hands after work and before picking; wash what is picked; no work when ill.",
    "University of Idaho Extension BUL 937; University of Arizona AZ1604 (dates not noted)",
)
POISONOUS = Caution(
    "Parts named as poisonous are not to be eaten by anyone; keep children from tasting unasked.",
    "Alberta Agriculture and Forestry, Poisonous Outdoor Plants: Garden Plants, Vegetables (undated page)",
)
BROAD_BEAN = Caution(
    "Broad beans and their pollen can make people with favism seriously ill: ask before a group works "
    "or eats here.",
    "Alberta Agriculture and Forestry, Poisonous Outdoor Plants: Garden Plants, Vegetables (undated page)",
)


def card_cautions(crop: Crop) -> Sequence[Caution]:
    """Cautions for one crop's card, gravest first."""
    found = []
    if crop.latin_name.startswith("Vicia faba"):
        found.append(BROAD_BEAN)
    if crop.poisonous_parts:
        found.append(POISONOUS)
    if crop.support in ("cane", "trellis"):
        found.append(CANES)
    found.append(WASHING)
    return found
