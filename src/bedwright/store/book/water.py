"""The most water a garden can have in a week: keys, checks, records and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from bedwright.model import bounds
from bedwright.model.book import WaterLimit
from bedwright.store.book.checks import check_order
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Field, Number, Record
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.read import Row
from bedwright.store.book.texts import DAY, NAME

WATER_LIMIT = Record(
    "limit on water",
    (
        Field("name", NAME, "What sets it: a permit, a tank filled once a week, a meter.", required=True),
        Field("week_l", Number(bounds.WEEK_WATER_L), "Most water to be had in a week.", required=True),
        Field("start", DAY, "First day it holds.", required=True),
        Field("end", DAY, "Last day it holds.", required=True),
    ),
    one_line=True,
)


def water_limits(rows: Sequence[Row], faults: Faults) -> tuple[WaterLimit, ...]:
    """Limits in periods in order."""
    for row in rows:
        check_order(row, "start", "end", faults)
    return tuple(
        WaterLimit(
            name=row.one("name", str),
            week_l=row.one("week_l", float),
            start=row.one("start", date),
            end=row.one("end", date),
        )
        for row in rows
        if row.sound
    )


def water_limit_document(limit: WaterLimit) -> dict[str, Plain]:
    """A limit under its keys."""
    return given(name=limit.name, week_l=limit.week_l, start=limit.start, end=limit.end)
