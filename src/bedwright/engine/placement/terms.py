"""The one table of what makes a plan better or worse.

A planting that is placed whole and well is worth its wish's points. Most terms take or add
a share of that worth, so that the same fault weighs more on a crop wanted more.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from bedwright.model.crop import Grade


@dataclass(frozen=True, slots=True)
class Term:
    """One named part of a plan's value."""

    name: str
    weight: float
    unit: str
    meaning: str


WORTH_BY_PRIORITY: Mapping[int, float] = MappingProxyType({1: 10.0, 2: 20.0, 3: 40.0, 4: 70.0, 5: 120.0})
"""Points of one wish met in full."""

NEIGHBOUR_BY_GRADE: Mapping[Grade, float] = MappingProxyType({"A": 1.0, "B": 0.5, "C": 0.1})
"""Share of the neighbour weight: replicated trials, one trial, belief."""

TERMS: Mapping[str, Term] = MappingProxyType(
    {
        term.name: term
        for term in (
            Term(
                "amount",
                1.0,
                "of the worth, by share of the plants wanted",
                "Plants placed; worth by priority 1 to 5 is 10, 20, 40, 70, 120 points a wish",
            ),
            Term(
                "date",
                1.0,
                "% of worth per percentage point under certainty",
                "Chance that the date works on this site's own weather",
            ),
            Term(
                "date preference",
                0.4,
                "% of worth per week away from the date preferred",
                "Keeps to the preferred date unless ground is worth more",
            ),
            Term(
                "light",
                8.0,
                "% of worth per hour a day short of the need",
                "Direct sun on each cell of the block in the months it stands, against the crop's need",
            ),
            Term(
                "rotation",
                12.0,
                "% of worth per year short of the return time",
                "The same rotation group stood in this bed too short a time ago",
            ),
            Term(
                "rotation in the season",
                6.0,
                "% of worth",
                "The same rotation group follows itself on the same ground within the season",
            ),
            Term(
                "neighbour",
                6.0,
                "% of worth by share of the neighbour that stands there, at grade A; half at B, a tenth at C",
                "Crops that help or harm each other side by side, by evidence",
            ),
            Term(
                "neighbour wish",
                10.0,
                "% of worth by share of the neighbour that stands there",
                "The coordinator's own wish for two crops; replaces the evidence for that pair",
            ),
            Term(
                "shade by a taller crop",
                8.0,
                "% of worth of the lower crop per hour a day short of the need, by share of its days",
                "Direct sun a lower crop loses to one more than 0.4 m taller in its bed or another",
            ),
            Term(
                "support",
                8.0,
                "% of worth",
                "Climber at a support (added); trellis crop without (taken); other crop in its way (half)",
            ),
            Term(
                "reach",
                6.0,
                "% of worth, by share of the block out of reach",
                "Ground farther than an arm's length from where one can stand",
            ),
            Term(
                "watering",
                3.0,
                "% of worth for a bed watered by can, three times that where no water reaches",
                "How water reaches the bed",
            ),
            Term(
                "families together",
                1.0,
                "points per rotation group and bed it stands in",
                "Each family stands in few beds, which keeps the next years' rotation free",
            ),
            Term(
                "pollination",
                10.0,
                "% of worth",
                "Maize in fewer than three rows: wind pollinates a block, not a line",
            ),
            Term(
                "side of a bed",
                2.0,
                "% of worth",
                "On one side of a bed only, not at a support: full stretches are easier to tend and follow",
            ),
            Term(
                "split",
                8.0,
                "% of worth per patch after the first",
                "One planting in several places is harder to tend",
            ),
            Term(
                "setting out",
                0.12,
                "points per row",
                "Each row is a line to stretch and a peg to write",
            ),
            Term(
                "quiet weeks",
                10.0,
                "% of worth, by share of the days of picking",
                "Picking falls in weeks in which nothing should be picked",
            ),
            Term(
                "even picking",
                20.0,
                "% of the worth of the plants that a week brings too many or too few",
                "Sowings of one wish are picked in turn: no glut, no gap",
            ),
            Term(
                "hours of work",
                2.0,
                "points per hour over the hours promised in a week",
                "Work in the beds week by week stays within the hours people promise",
            ),
            Term(
                "room for raising",
                150.0,
                "points per tray over the room for trays in a week",
                "Trays under cover find room on the bench in every week from sowing to setting out",
            ),
            Term(
                "water",
                0.5,
                "points per litre over the water there is in a week",
                "Water the beds want beyond rain stays within what the garden can have",
            ),
            Term(
                "kept place",
                20.0,
                "% of worth: half for the bed, a quarter each for place and date",
                "What was planned before stays where and when it was",
            ),
            Term(
                "even use",
                6.0,
                "points per bed, by the square of the share of ground and season taken",
                "Ground is used sparingly and no bed is packed while another stands idle",
            ),
        )
    }
)

TALLER_BY_M = 0.4
"""Difference in height from which a crop shades its neighbour."""

LEAST_DAYS_TOGETHER = 14
"""Neighbours, and shade from another bed, count from two weeks together on. Common practice, no source."""


def share(name: str) -> float:
    """Weight of a term in percent of worth, as a fraction."""
    return TERMS[name].weight / 100
