"""What goes where: ground, rows and dates for every planting, with reasons and shortages."""

from bedwright.engine.placement.check import check
from bedwright.engine.placement.check_violation import Violation
from bedwright.engine.placement.numbering import number_rows
from bedwright.engine.placement.pins import PinRefusedError
from bedwright.engine.placement.plan import Placement, PlacementProgress, place
from bedwright.engine.placement.rules import COMMON_RULES, PlantingRules
from bedwright.engine.placement.sources import PLACEMENT_SOURCES
from bedwright.engine.placement.terms import TERMS, WORTH_BY_PRIORITY, Term
from bedwright.engine.placement.weekly import NOTHING_KNOWN, BedHours, WeekMeasures

__all__ = [
    "COMMON_RULES",
    "NOTHING_KNOWN",
    "PLACEMENT_SOURCES",
    "TERMS",
    "WORTH_BY_PRIORITY",
    "BedHours",
    "PinRefusedError",
    "Placement",
    "PlacementProgress",
    "PlantingRules",
    "Term",
    "Violation",
    "WeekMeasures",
    "check",
    "number_rows",
    "place",
]
