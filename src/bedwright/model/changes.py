"""What else could have been done, what happened, and what a changed plan does differently."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

AlternativeKind = Literal["another bed", "another date"]
ChangeKind = Literal["added", "put back", "moved", "lengthened", "shortened", "later", "dropped"]


@dataclass(frozen=True, slots=True)
class Alternative:
    """The best other place or date of one planting, everything else staying as it is."""

    kind: AlternativeKind
    bed_code: str
    along_m: tuple[float, float]
    across_m: tuple[float, float]
    in_ground: date
    points: float
    """What the plan would gain by it; negative: lose."""
    text: str
    """Whole sentence with numbers and units."""


@dataclass(frozen=True, slots=True)
class Place:
    """Ground, time and plants of one planting, as far as a change of them is told or drawn."""

    bed_code: str
    along_m: tuple[float, float]
    across_m: tuple[float, float]
    in_ground: date
    clear_by: date
    n_plants: int
    row_codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Change:
    """One planting that is not what it was in an earlier plan."""

    kind: ChangeKind
    planting_code: str
    crop: str
    before: Place | None
    """None for what is new."""
    after: Place | None
    """None for what is gone."""
    text: str
    """Whole sentence: old and new place and date."""
    why: str = ""
    """Sentence on what brought it about; empty where it is not known."""


@dataclass(frozen=True, slots=True)
class BedLost:
    """A bed cannot be used any more, and what stands in it is lost."""

    bed_code: str


@dataclass(frozen=True, slots=True)
class BedClosed:
    """Nothing more goes into a bed; what stands in it is left to grow."""

    bed_code: str


@dataclass(frozen=True, slots=True)
class BedOpened:
    """A bed may be planted: new in the book, or left alone so far."""

    bed_code: str


@dataclass(frozen=True, slots=True)
class PlantingFailed:
    """What stood is gone; its ground is free."""

    planting_code: str


@dataclass(frozen=True, slots=True)
class PlantingLate:
    """A planting goes in later than planned, or, where it stands, is picked and cleared later."""

    planting_code: str
    weeks: float
    """Above 0."""


@dataclass(frozen=True, slots=True)
class NotDelivered:
    """Seed or plants of a planting are not there."""

    planting_code: str
    until: date | None = None
    """Day from which they will be; None: not this season."""


@dataclass(frozen=True, slots=True)
class HoursChanged:
    """Only a share of the hours promised can be counted on from today."""

    share: float
    """Of the hours promised; 0 or more."""


Event = BedLost | BedClosed | BedOpened | PlantingFailed | PlantingLate | NotDelivered | HoursChanged
