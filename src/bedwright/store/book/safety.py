"""Manure and a rule on lead of one's own: keys, checks, records and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bedwright.model import bounds
from bedwright.model.book import StatedLeadRule
from bedwright.model.bounds import plain_number
from bedwright.model.safety import ManureSpread
from bedwright.store.book.checks import check_in_reach, check_not_after
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Choice, Field, Number, Record
from bedwright.store.book.names import known_beds
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.read import Row, Value
from bedwright.store.book.texts import BED_CODE, DAY, NAME, NOTE

COMPOSTED = "composted"
MANURE = Record(
    "manure",
    (
        Field("bed", BED_CODE, "Code of the bed.", required=True),
        Field("dug_in_on", DAY, "Day it was, or will be, spread or dug in.", required=True),
        Field("material", NAME, "What it is, such as horse manure.", required=True),
        Field(
            "state",
            Choice(("raw", COMPOSTED)),
            "Composted means kept at 55 to 77 °C (131 to 170 °F) and turned as 7 CFR 205.203(c)(2) asks; "
            "manure that was only stored is raw.",
            required=True,
        ),
    ),
    one_line=True,
)
LEAD_RULE = Record(
    "rule on lead",
    (
        Field("authority", NAME, "Who set it.", required=True),
        Field("issued", DAY, "Day it was issued.", required=True),
        Field(
            "screening_mg_kg",
            Number(bounds.LEAD_LEVEL_MG_KG),
            "Level above which no root or leaf crops are planned.",
            required=True,
        ),
        Field(
            "several_sources_mg_kg",
            Number(bounds.LEAD_LEVEL_MG_KG),
            "Lower level where lead comes from several sources.",
            left_out="none",
        ),
        Field(
            "removal_mg_kg",
            Number(bounds.LEAD_LEVEL_MG_KG),
            "Level above which nothing is grown in the soil.",
            left_out="none",
        ),
        Field("source", NOTE, "Document, and where you read it.", required=True),
    ),
)


def manure(
    rows: Sequence[Row], bed_codes: dict[str, Value], season_start: date | None, faults: Faults
) -> tuple[ManureSpread, ...]:
    """Manure on beds that exist, on days not far from the season."""
    for row in rows:
        if "bed" in row:
            known_beds((row.values["bed"],), bed_codes, faults)
        check_in_reach(row, "dug_in_on", season_start, faults, bounds.MANURE_REACH_DAYS)
    return tuple(
        ManureSpread(
            bed_code=row.one("bed", str),
            incorporated_on=row.one("dug_in_on", date),
            material=row.one("material", str),
            composted=row.one("state", str) == COMPOSTED,
        )
        for row in rows
        if row.sound
    )


def manure_document(entry: ManureSpread) -> dict[str, Plain]:
    """Manure under its keys."""
    return given(
        bed=entry.bed_code,
        dug_in_on=entry.incorporated_on,
        material=entry.material,
        state=COMPOSTED if entry.composted else "raw",
    )


def lead_rule(row: Row | None, season_start: date | None, faults: Faults) -> StatedLeadRule | None:
    """A rule whose levels stand in order; None where none is stated."""
    if row is None:
        return None
    check_not_after(row, "issued", season_start, faults)
    _check_levels(row, "several_sources_mg_kg", "screening_mg_kg", faults)
    _check_levels(row, "screening_mg_kg", "removal_mg_kg", faults)
    if not row.sound:
        return None
    return StatedLeadRule(
        authority=row.one("authority", str),
        issued=row.one("issued", date),
        screening_mg_kg=row.one("screening_mg_kg", float),
        source_text=row.one("source", str),
        several_sources_mg_kg=row.maybe("several_sources_mg_kg", float),
        removal_mg_kg=row.maybe("removal_mg_kg", float),
    )


def _check_levels(row: Row, low_key: str, high_key: str, faults: Faults) -> None:
    if low_key not in row or high_key not in row:
        return
    low, high = row.one(low_key, float), row.one(high_key, float)
    if low > high:
        place = row.values[low_key]
        expected = f"at most the {plain_number(high)} mg/kg of `{high_key}`"
        faults.at(place, place.where, plain_number(low), expected, "The two levels may be swapped.")


def lead_rule_document(rule: StatedLeadRule) -> dict[str, Plain]:
    """A rule on lead under its keys."""
    return given(
        authority=rule.authority,
        issued=rule.issued,
        screening_mg_kg=rule.screening_mg_kg,
        several_sources_mg_kg=rule.several_sources_mg_kg,
        removal_mg_kg=rule.removal_mg_kg,
        source=rule.source_text,
    )
