"""What each kind of job asks of people: seat, strength, tools, showing, caution.

Team sizes, tools and minutes of showing are common practice, no source; the cautions name
theirs.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.model.work import ToolNeed, WorkCaution


@dataclass(frozen=True, slots=True)
class Traits:
    """What one kind of job asks of people."""

    max_people: int
    min_people: int = 1
    tools: tuple[ToolNeed, ...] = ()
    demonstration_min: int = 0
    sitting: bool = False
    """Can be done sitting wherever it is done."""
    sitting_at_high_bed: bool = False
    lifting: bool = False
    under_cover: bool = False
    child: bool = False
    wash_hands_first: bool = False
    cautions: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    """Kinds of jobs of the same planting that come first."""
    part_of_window: bool = False
    """True where one day takes a visit's share of the job, not all of it."""


def _each(*tools: str) -> tuple[ToolNeed, ...]:
    return tuple(ToolNeed(tool, each=True) for tool in tools)


def _team(*tools: str) -> tuple[ToolNeed, ...]:
    return tuple(ToolNeed(tool, each=False) for tool in tools)


TRAITS: Mapping[str, Traits] = {
    "prepare": Traits(
        6, tools=(*_each("fork"), *_team("rake", "wheelbarrow")), lifting=True,
        cautions=("tools", "compost dust", "lifting"), demonstration_min=3,
    ),
    "sow under cover": Traits(
        4, sitting=True, under_cover=True, child=True, demonstration_min=5, cautions=("compost dust",),
    ),
    "harden off": Traits(2, under_cover=True, lifting=True, part_of_window=True, cautions=("lifting",)),
    "sow": Traits(
        3, tools=_team("string line", "hoe", "watering can"), sitting_at_high_bed=True, child=True,
        demonstration_min=5, after=("prepare",),
    ),
    "set out": Traits(
        4, tools=(*_each("trowel"), *_team("string line", "watering can")), sitting_at_high_bed=True,
        child=True, demonstration_min=5, after=("prepare",),
    ),
    "thin": Traits(4, sitting_at_high_bed=True, child=True, demonstration_min=5),
    "weed": Traits(
        6, tools=_each("hand fork"), sitting_at_high_bed=True, child=True, demonstration_min=5,
        cautions=("tools",),
    ),
    "water": Traits(2, tools=_team("watering can"), child=True, demonstration_min=2, cautions=("hose",)),
    "mulch": Traits(
        6, tools=(*_each("fork"), *_team("wheelbarrow")), lifting=True, cautions=("lifting", "compost dust"),
        after=("sow", "set out", "thin", "support"), demonstration_min=3,
    ),
    "support": Traits(
        3, min_people=2, tools=_team("mallet"), cautions=("canes",), after=("sow", "set out"),
        demonstration_min=5,
    ),
    "earth up": Traits(3, tools=_each("hoe"), after=("weed",), demonstration_min=3),
    "side dress": Traits(
        2, tools=(*_each("hand fork"), *_team("scales", "watering can")), after=("weed", "thin"),
        demonstration_min=3,
    ),
    "pick": Traits(
        4, tools=_team("crate", "scales"), sitting_at_high_bed=True, child=True, demonstration_min=5,
        wash_hands_first=True, cautions=("picking",), part_of_window=True,
    ),
    "cut down": Traits(3, tools=_each("shears"), cautions=("tools",)),
    "clear": Traits(
        6, tools=(*_each("fork"), *_team("wheelbarrow")), lifting=True, cautions=("tools", "lifting"),
        after=("pick",),
    ),
}  # fmt: skip
"""By kind of task; a kind that is not here, such as an order, is not done on a workday."""

CAUTIONS: Mapping[str, WorkCaution] = {
    caution.key: caution
    for caution in (
        WorkCaution(
            "hands",
            "Wash hands after work and before eating; nobody works who is ill.",
            ("HYGIENE",),
        ),
        WorkCaution(
            "picking",
            "Wash hands before picking; use clean crates; wash what is picked.",
            ("HYGIENE",),
        ),
        WorkCaution("canes", "Cap the tops of canes: bent over a bed, an eye meets them.", ("CANE_CAPS",)),
        WorkCaution(
            "tools",
            "Lay rakes and forks down with the tines to the ground, carry them low, and keep apart.",
            ("EATSOUTH_SESSION", "WORK_PRACTICE"),
        ),
        WorkCaution(
            "lifting",
            "Lift from the legs, in small loads; take the wheelbarrow for anything heavy.",
            ("WORK_PRACTICE",),
        ),
        WorkCaution(
            "compost dust",
            "Compost and potting mix can carry Legionella: open bags away from the face, dampen what is "
            "dusty, wear gloves and a fitted mask, wash hands. Older people and smokers are most at risk.",
            ("COMPOST_DUST",),
        ),
        WorkCaution(
            "hose",
            "Run out a hose that lay full in the sun before use, and water low without spray.",
            ("COMPOST_DUST",),
        ),
        WorkCaution(
            "children",
            "A child stays within sight of the adult named beside it and changes what it does every 15 to "
            "20 minutes; at most 8 children in a group, 4 to 6 are best. The organiser's own ratio of adults "
            "to children comes first.",
            ("NCCRAHS_2015", "SCHOOLGARDENS"),
        ),
        WorkCaution(
            "allergy",
            "Ask about stings and allergies before work begins, and who carries an auto-injector.",
            ("WORK_PRACTICE",),
        ),
        WorkCaution(
            "heat",
            "Heat index of 91 °F (33 °C) or more expected: shade, a rest every half hour, about four cups of "
            "water an hour each; newcomers tire first. Above 103 °F (39 °C) put the heavy jobs off; above "
            "115 °F (46 °C) do not hold the workday.",
            ("OSHA_HEAT",),
        ),
        WorkCaution(
            "local rules",
            "Local rules, and those of the school or the landowner, come before anything said here.",
            ("WORK_PRACTICE",),
        ),
    )
}
"""By key."""

ALWAYS = ("hands", "allergy", "local rules")

WET_JOBS = (
    "clean, oil and count the tools",
    "write labels for the rows that come next",
    "sort the seed drawer, and set up a germination test of ten seeds on damp paper",
    "wash trays and pots",
    "enter harvest weights and hours in the log",
)
"""Jobs under a roof that are there in any week: common practice, no source."""

WET_RULE = (
    "In the wet leave beds and beans alone: trodden soil packs, and wet leaves spread disease "
    "(common practice, no source)."
)
