"""What a plan is to be made from beside the book, as it is kept with the plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from bedwright.service.replan import Happened
from bedwright.service.replan_from_log import Unlogged


@dataclass(frozen=True, slots=True)
class MoveAsked:
    """One planting put to another place or day by hand."""

    planting_code: str
    bed_code: str
    along_m: float
    in_ground: date

    def kept(self) -> dict[str, Any]:
        """As it is kept."""
        return {
            "planting": self.planting_code,
            "bed": self.bed_code,
            "along_m": self.along_m,
            "in_ground": self.in_ground.isoformat(),
        }

    @classmethod
    def read(cls, kept: Mapping[str, Any]) -> MoveAsked:
        """From what was kept."""
        return cls(kept["planting"], kept["bed"], kept["along_m"], date.fromisoformat(kept["in_ground"]))


@dataclass(frozen=True, slots=True)
class AgainAsked:
    """The rest of a season planned again."""

    unlogged: Unlogged = "stand"
    """What to think of plantings planned for earlier days of which nothing is written down."""
    happened: Happened = field(default_factory=Happened)

    def kept(self) -> dict[str, Any]:
        """As it is kept."""
        told = self.happened
        return {
            "unlogged": self.unlogged,
            "lost_beds": list(told.lost_beds),
            "closed_beds": list(told.closed_beds),
            "not_delivered": [
                [name, None if day is None else day.isoformat()] for name, day in told.not_delivered.items()
            ],
            "hours_share": told.hours_share,
        }

    @classmethod
    def read(cls, kept: Mapping[str, Any]) -> AgainAsked:
        """From what was kept."""
        missing = {
            name: None if day is None else date.fromisoformat(day) for name, day in kept["not_delivered"]
        }
        return cls(
            kept["unlogged"],
            Happened(
                lost_beds=tuple(kept["lost_beds"]),
                closed_beds=tuple(kept["closed_beds"]),
                not_delivered=missing,
                hours_share=kept["hours_share"],
            ),
        )
