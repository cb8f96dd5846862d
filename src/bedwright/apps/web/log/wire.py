"""Lines as phones send them, checked before anything is kept."""

from __future__ import annotations

import hashlib
import json
import math
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.utils.translation import gettext as _

from bedwright.model.log import LOG_KINDS, UNITS_OF_KIND, LogKind, LogUnit

MOST_QUANTITY: Mapping[str, float] = {
    "plants": 100_000,
    "kg": 5_000,
    "L": 1_000_000,
    "mm": 1_000,
    "row m": 10_000,
}
"""Beyond these an amount is a slip of the thumb."""
MOST_PEOPLE = 500
MOST_MINUTES = MOST_PEOPLE * 24 * 60
MOST_NOTE = 4000
MOST_DIGEST = 16
_OF_PLAN = re.compile(r"([0-9a-f]{8})\|(.*)", re.DOTALL)
"""A code of a plan whose season is yet to begin, as `coming_code` writes it."""


class BadLineError(Exception):
    """A line that cannot be kept, with every reason."""

    def __init__(self, problems: tuple[str, ...]) -> None:
        super().__init__("; ".join(problems))
        self.problems = problems


@dataclass(frozen=True, slots=True)
class SentLine:
    """One line as it came, every field checked by itself."""

    id: UUID
    author_id: int | None
    """Who had signed in when it was written."""
    day: date
    kind: LogKind
    written_at: datetime
    seen_at: datetime | None
    device: UUID | None
    device_count: int | None
    bed_code: str
    row_code: str
    planting_code: str
    crop: str
    task_code: str
    quantity: float | None
    unit: LogUnit
    person_min: int | None
    n_people: int
    ends: UUID | None
    partly: bool
    corrects: UUID | None
    struck: bool
    note: str
    plan_digest: str
    digest: str


class _Fields:
    """Takes the fields of one line, gathering everything that is wrong with them."""

    def __init__(self, given: Mapping[str, Any]) -> None:
        self.given = given
        self.problems: list[str] = []

    def wrong(self, name: str, got: object, expected: str) -> None:
        shown = str(got)[:60]
        self.problems.append(_("%(field)s: got %(got)s; expected %(expected)s.") % {
            "field": name, "got": shown, "expected": expected,
        })  # fmt: skip

    def text(self, name: str, most: int) -> str:
        value = self.given.get(name, "")
        if not isinstance(value, str) or len(value) > most or "\x00" in value:
            self.wrong(name, value, _("at most %(n)d characters of text") % {"n": most})
            return ""
        return value

    def code(self, name: str, most: int) -> tuple[str, str]:
        """A plan's digest and a code of that plan; without a digest the code is one of the line's plan."""
        given = self.text(name, MOST_DIGEST + 1 + most)
        of_plan = _OF_PLAN.fullmatch(given)
        plan, code = of_plan.groups() if of_plan else ("", given)
        if len(code) > most:
            self.wrong(name, code, _("at most %(n)d characters of text") % {"n": most})
            return "", ""
        return plan, code

    def number(self, name: str, most: float) -> float | None:
        value = self.given.get(name)
        if value is None:
            return None
        fits = isinstance(value, int | float) and not isinstance(value, bool)
        if not fits or not math.isfinite(value) or not 0 <= value <= most:
            self.wrong(name, value, _("a number from 0 to %(most)s") % {"most": f"{most:g}"})
            return None
        return float(value)

    def whole(self, name: str, most: int, otherwise: int | None) -> int | None:
        value = self.given.get(name)
        if value is None:
            return otherwise
        if not isinstance(value, int) or isinstance(value, bool) or not 0 <= value <= most:
            self.wrong(name, value, _("a whole number from 0 to %(most)d") % {"most": most})
            return otherwise
        return value

    def flag(self, name: str) -> bool:
        value = self.given.get(name, False)
        if not isinstance(value, bool):
            self.wrong(name, value, _("true or false"))
            return False
        return value

    def read(self, name: str, reader: Callable[[str], Any], expected: str, *, needed: bool = False) -> Any:
        value = self.given.get(name)
        if value in (None, "") and not needed:
            return None
        try:
            if not isinstance(value, str):
                raise ValueError
            return reader(value)
        except (ValueError, OverflowError):
            self.wrong(name, value, expected)
            return None

    def chosen(self, name: str, allowed: tuple[str, ...]) -> Any:
        value = self.given.get(name, "")
        if value not in allowed:
            self.wrong(name, value, _("one of %(words)s") % {"words": ", ".join(allowed) or '""'})
        return value


def moment(text: str) -> datetime:
    """A moment with its offset from UTC, ISO 8601.

    Raises
    ------
    ValueError
        If it is none, or names no offset.
    """
    read = datetime.fromisoformat(text)
    if read.tzinfo is None:
        raise ValueError(text)
    return read


def coming_code(plan_revision: str, code: str) -> str:
    """A code as phones hold it where it is one of a plan whose season is yet to begin.

    Codes of the plan that is followed may be the same, and may hold a slash: `lettuce-1/2`.
    """
    return f"{plan_revision}|{code}"


def sent_line(given: object) -> SentLine:
    """Read one line.

    Raises
    ------
    BadLineError
        With everything that is wrong with it.
    """
    if not isinstance(given, dict):
        raise BadLineError((_("not a record"),))
    fields = _Fields(given)
    iso = _("a moment in ISO 8601 with its offset")
    kind = fields.chosen("kind", LOG_KINDS)
    quantity = fields.number("quantity", 1e9)
    units: tuple[str, ...] = UNITS_OF_KIND.get(kind, ()) if quantity is not None else ("",)
    unit = fields.chosen("unit", units)
    if quantity is not None and quantity > MOST_QUANTITY.get(unit, math.inf):
        fields.number("quantity", MOST_QUANTITY[unit])
    of_planting, planting_code = fields.code("planting", 60)
    of_task, task_code = fields.code("task", 100)
    plan_digest = fields.text("plan", MOST_DIGEST)
    line = SentLine(
        id=fields.read("id", UUID, "UUID", needed=True),
        author_id=fields.whole("author", 2**63 - 1, None),
        day=fields.read("day", date.fromisoformat, _("a day such as 2027-05-04"), needed=True),
        kind=kind,
        written_at=fields.read("written_at", moment, iso, needed=True),
        seen_at=fields.read("seen_at", moment, iso),
        device=fields.read("device", UUID, "UUID"),
        device_count=fields.whole("count", 2**62, None),
        bed_code=fields.text("bed", 6),
        row_code=fields.text("row", 10),
        planting_code=planting_code,
        crop=fields.text("crop", 60),
        task_code=task_code,
        quantity=quantity,
        unit=unit,
        person_min=fields.whole("person_min", MOST_MINUTES, None),
        n_people=fields.whole("n_people", MOST_PEOPLE, 1) or 1,
        ends=fields.read("ends", UUID, "UUID"),
        partly=fields.flag("partly"),
        corrects=fields.read("corrects", UUID, "UUID"),
        struck=fields.flag("struck"),
        note=fields.text("note", MOST_NOTE),
        plan_digest=of_task or of_planting or plan_digest,
        digest=hashlib.sha256(json.dumps(given, sort_keys=True).encode()).hexdigest()[:32],
    )
    if line.struck and line.corrects is None:
        fields.wrong("corrects", "", _("the line that is taken away"))
    if line.corrects is not None and line.corrects == line.id:
        fields.wrong("corrects", line.id, _("another line"))
    if fields.problems:
        raise BadLineError(tuple(fields.problems))
    return line
