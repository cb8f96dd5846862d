"""What a season plan asks for once it is planted: water, feeding, hours, supplies, caution."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from bedwright.model.safety import SafetySheet
from bedwright.model.soil import BedFeeding, HoleCompost, MulchNeed, SideDressing
from bedwright.model.source import Origin
from bedwright.model.supplies import Supplies
from bedwright.model.water import BedWater, TankSizing, WaterWeek
from bedwright.model.work import Relief, SeasonHours, WeekList


@dataclass(frozen=True, slots=True)
class WateringIn:
    """Water given on planting day."""

    planting_code: str
    bed_code: str
    water_l: float


@dataclass(frozen=True, slots=True)
class WaterPlan:
    """Water of a season, before it begins."""

    beds: tuple[BedWater, ...]
    weeks: tuple[WaterWeek, ...]
    """Whole garden."""
    busiest: date | None
    """Monday of the week that needs most."""
    tap_flow_l_min: float | None
    """None: not stated, so minutes of tap are not told."""
    tanks: tuple[TankSizing, ...]
    """Empty where no roof is stated."""
    roof_m2: float
    watering_in: tuple[WateringIn, ...]
    not_counted: tuple[str, ...]
    """Plantings of crops whose water needs are not tabled."""
    origins: tuple[Origin, ...]
    busiest_day_l: float = 0.0
    """Most water put on in one day, enough in 80 % of the recorded years; 0: not worked out."""


@dataclass(frozen=True, slots=True)
class FeedingPlan:
    """What goes on the ground, and when."""

    beds: tuple[BedFeeding, ...]
    side_dressings: tuple[SideDressing, ...]
    mulches: tuple[MulchNeed, ...]
    holes: tuple[HoleCompost, ...] = ()
    """For beds of which compost is short."""


@dataclass(frozen=True, slots=True)
class PickingWeek:
    """What one crop is expected to give in one week, in a year like the middle one."""

    week: date
    crop: str
    kg: float


@dataclass(frozen=True, slots=True)
class Care:
    """Everything the plan asks for."""

    water: WaterPlan | None
    """None where there is no weather record."""
    feeding: FeedingPlan
    safety: SafetySheet
    hours: SeasonHours
    relief: tuple[Relief, ...]
    weeks: tuple[WeekList, ...]
    supplies: Supplies
    picking: tuple[PickingWeek, ...]
    picking_unknown: tuple[str, ...]
    """Crops whose yield is not known and so is not drawn."""
