"""The few kinds of value a garden book is made of, as plain descriptions.

The reader, the JSON Schema and the printed reference all work from these descriptions;
none of them knows a key or a bound of its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from bedwright.model.bounds import Bounds, plain_number
from bedwright.model.units import Quantity, Unit, convert, twins_of, unit_of_symbol


@dataclass(frozen=True, slots=True)
class Number:
    """A number; `whole` for counts."""

    bounds: Bounds
    whole: bool = False
    quantity: Quantity | None = None
    """Where the unit's symbol alone does not tell which other units may stand for it."""


@dataclass(frozen=True, slots=True)
class Text:
    """Words, of a bounded number of characters and perhaps of a set form."""

    length: Bounds
    pattern: str = ""
    form: str = ""
    """The pattern in words."""
    lines: bool = False
    """True where several lines are allowed."""


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    options: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Flag:
    """true or false."""


@dataclass(frozen=True, slots=True)
class Day:
    """A calendar day, year-month-day (ISO 8601)."""

    years: Bounds


@dataclass(frozen=True, slots=True)
class MonthDay:
    """A day that every year has, month-day."""


@dataclass(frozen=True, slots=True)
class Position:
    """A pair of numbers, east and north of the site datum."""

    bounds: Bounds


@dataclass(frozen=True, slots=True)
class ListOf:
    """Several of one kind."""

    item: Kind
    count: Bounds
    unique: bool = False


@dataclass(frozen=True, slots=True)
class Either:
    """One of two kinds: a word or a number, or either in place of a whole record or list."""

    short: Kind
    full: Kind


@dataclass(frozen=True, slots=True)
class Field:
    """One key of a record."""

    key: str
    kind: Kind
    meaning: str
    required: bool = False
    left_out: str = ""
    """What holds where the key is left out, in words."""
    slip: str = ""
    """Hint for a number out of bounds that no other unit explains."""


@dataclass(frozen=True, slots=True)
class Group:
    """Keys of a record of which a certain number must be given."""

    keys: tuple[str, ...]
    low: int
    high: int

    def __str__(self) -> str:
        names = " or ".join(f"`{key}`" for key in self.keys)
        if self.low == 0:
            return f"at most one of {names}"
        return f"exactly one of {names}" if self.high == 1 else f"at least one of {names}"


@dataclass(frozen=True, slots=True)
class Record:
    """Keys with values."""

    name: str
    fields: tuple[Field, ...]
    groups: tuple[Group, ...] = ()
    one_line: bool = False
    """True where the record is written in braces on one line."""


Kind = Number | Text | Choice | Flag | Day | MonthDay | Position | ListOf | Either | Record


@dataclass(frozen=True, slots=True)
class Written:
    """A key as it may be written: the field it stands for, and its unit."""

    field: Field
    unit: Unit | None
    """Unit of the value as written; None where there is nothing to convert."""


def unit_of(field: Field) -> Unit | None:
    """The convertible unit in which a field is kept; None for words, counts and degrees."""
    kind = field.kind
    while isinstance(kind, ListOf | Either):
        kind = kind.item if isinstance(kind, ListOf) else kind.short
    if not isinstance(kind, Number | Position):
        return None
    unit = unit_of_symbol(kind.bounds.unit, kind.quantity if isinstance(kind, Number) else None)
    return unit if unit is not None and field.key.endswith(f"_{unit.suffix}") else None


def spellings(field: Field) -> tuple[tuple[str, Unit | None], ...]:
    """The key of a field, and its twins in other units; the key itself first."""
    unit = unit_of(field)
    if unit is None:
        return ((field.key, None),)
    stem = field.key.removesuffix(unit.suffix)
    return ((field.key, unit), *((f"{stem}{twin.suffix}", twin) for twin in twins_of(unit)))


@cache
def keys_of(record: Record) -> Mapping[str, Written]:
    """Every key a record may be written with."""
    return {key: Written(field, unit) for field in record.fields for key, unit in spellings(field)}


def in_unit(bounds: Bounds, unit: Unit | None) -> Bounds:
    """The same range in another unit of the same quantity."""
    kept = None if unit is None else unit_of_symbol(bounds.unit, unit.quantity)
    if unit is None or kept is None or unit == kept:
        return bounds
    return Bounds(convert(bounds.low, kept, unit), convert(bounds.high, kept, unit), unit.symbol)


def expected(kind: Kind, unit: Unit | None = None) -> str:  # noqa: PLR0911 - one short line for each kind
    """What is expected of a value, in words."""
    match kind:
        case Number():
            return _expected_number(kind, unit)
        case Position():
            return f"[east, north], each {in_unit(kind.bounds, unit)}"
        case Text():
            return kind.form or f"words, {kind.length}"
        case Choice():
            return "one of " + ", ".join(kind.options)
        case Flag():
            return "true or false"
        case Day():
            return f"a date such as 2027-03-20, years {kind.years}"
        case MonthDay():
            return "a day of the year as month-day, such as 05-10"
        case ListOf():
            return _expected_list(kind, unit)
        case Either():
            return f"{expected(kind.short, unit)}, or {expected(kind.full, unit)}"
        case Record():
            return f"{kind.name}: keys with values"


def _expected_number(kind: Number, unit: Unit | None) -> str:
    bounds = in_unit(kind.bounds, unit)
    if bounds.low == bounds.high:
        return plain_number(bounds.low)
    return f"{'a whole number' if kind.whole else 'a number'}, {bounds}"


def count_in_words(count: Bounds) -> str:
    """How many of something, as a range or as one number."""
    return f"{plain_number(count.low)} {count.unit}" if count.low == count.high else str(count)


def _expected_list(kind: ListOf, unit: Unit | None) -> str:
    count = kind.count
    if isinstance(kind.item, Record):
        return f"a list, {count}"
    if count.low == count.high:
        return f"a list of {plain_number(count.low)}, each {expected(kind.item, unit)}"
    return f"a list, each {expected(kind.item, unit)}"
