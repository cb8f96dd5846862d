"""Rules of safety with their dates, and the cautions worked out from them.

A rule of an authority changes; each one here carries the day it was issued, and every
function that uses one takes others as an argument. Local rules always prevail.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.model.source import Origin

ASK_LOCALLY = "Ask your local authority: its rule comes first."

CautionKind = Literal[
    "raw manure",
    "lead",
    "herbicide residue",
    "roof water",
    "heat",
    "frost",
    "poisonous parts",
    "no soil test",
]
Gravity = Literal["stop", "act", "know"]
"""stop: do not do it as planned; act: something must be done first; know: bear it in mind."""
HeatRisk = Literal["lower", "moderate", "high", "very high"]


@dataclass(frozen=True, slots=True)
class LeadRule:
    """Levels of lead in soil that one document sets, in force from a day on."""

    id: str
    authority: str
    issued: date
    screening_mg_kg: float
    """Above it an authority would look closer; no clean-up level and no promise below it."""
    several_sources_mg_kg: float | None
    """The lower level where lead comes from several sources; None if the document has none."""
    removal_mg_kg: float | None
    """Above it the authority considers taking soil away at sites it regulates."""
    source_id: str
    entered: bool = False
    """True for a rule that the coordinator has entered, newer or local."""


EPA_2024 = LeadRule(
    "EPA 2024", "US Environmental Protection Agency", date(2024, 1, 17), 200.0, 100.0, 200.0, "EPA_LEAD_2024"
)
EPA_2025 = LeadRule(
    "EPA 2025", "US Environmental Protection Agency", date(2025, 10, 16), 200.0, None, 600.0, "EPA_LEAD_2025"
)
LEAD_RULES: tuple[LeadRule, ...] = (EPA_2024, EPA_2025)
"""Residential levels of US EPA, oldest first. They are written for regulated sites, not for
gardens; no US federal level for soil that grows vegetables was found."""


def lead_rule_on(day: date, rules: Sequence[LeadRule] = LEAD_RULES) -> LeadRule:
    """The latest rule issued on or before a day, unless one that was entered is stricter.

    An older rule of the town or the country does not lapse when another authority issues a
    laxer one, so of the rules entered the strictest holds where it is stricter than the latest.

    Raises
    ------
    ValueError
        If every rule is younger than the day.
    """
    in_force = [rule for rule in rules if rule.issued <= day]
    if not in_force:
        raise ValueError(f"no rule on lead had been issued by {day.isoformat()}")
    latest = max(in_force, key=lambda rule: rule.issued)
    own = [rule for rule in in_force if rule.entered and rule.screening_mg_kg < latest.screening_mg_kg]
    return min(own, key=lambda rule: rule.screening_mg_kg, default=latest)


@dataclass(frozen=True, slots=True)
class ManureRule:
    """Days that must pass between digging raw manure in and harvest."""

    id: str
    authority: str
    as_of: date
    """Day on which the text was checked against the official one by the copy that was read."""
    touching_soil_days: int
    off_the_soil_days: int
    source_id: str


NOP_MANURE = ManureRule(
    "7 CFR 205.203(c)(1)", "US National Organic Program", date(2026, 6, 20), 120, 90, "CFR_205_203"
)


@dataclass(frozen=True, slots=True)
class ManureSpread:
    """Manure dug into a bed on a day; raw unless it was composted as the rule asks."""

    bed_code: str
    incorporated_on: date
    material: str = ""
    """What it is, such as horse manure."""
    composted: bool = False


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution with what it rests on."""

    kind: CautionKind
    gravity: Gravity
    text: str
    """Whole sentences with numbers, units and dates."""
    rule: str
    """The rule in few words, with the date of the document."""
    source_ids: tuple[str, ...]
    bed_code: str | None = None
    planting_code: str | None = None
    day: date | None = None


@dataclass(frozen=True, slots=True)
class WorkdayWeather:
    """What the record says of one planned workday, from the days round it in every year."""

    day: date
    n_days: int
    """Recorded days looked at."""
    hottest_heat_index_c: float | None
    """Highest in the record at that time of year; None without humidity."""
    shares: tuple[tuple[HeatRisk, float], ...]
    """Share of recorded days at or above each level of risk, "moderate" first; empty without humidity."""
    frost_share: float
    """Share of recorded days with a shelter minimum at or below 0 °C."""
    hottest_tmax_c: float
    note: str


@dataclass(frozen=True, slots=True)
class SafetySheet:
    """Every caution of a season, gravest first, with the origin of each figure."""

    cautions: tuple[Caution, ...]
    workdays: tuple[WorkdayWeather, ...]
    origins: tuple[Origin, ...]
    ask: str = ASK_LOCALLY
