"""The garden book as JSON Schema 2020-12, for editors that check while one types.

It holds the shape and the bounds; what needs more than one value (beds that overlap,
crops that are not known, dates in the wrong order) only the reader checks.
"""

from __future__ import annotations

from typing import Any

from bedwright.model.bounds import Bounds
from bedwright.model.units import Unit
from bedwright.store.book.kinds import (
    Choice,
    Day,
    Either,
    Field,
    Flag,
    Group,
    Kind,
    ListOf,
    MonthDay,
    Number,
    Position,
    Record,
    Text,
    in_unit,
    keys_of,
    spellings,
)
from bedwright.store.book.schema import GARDEN_BOOK

Schema = dict[str, Any]
"""`Any` because a JSON Schema is JSON of any shape."""


def json_schema() -> Schema:
    """The schema of the whole document."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Garden book",
        **_record(GARDEN_BOOK),
    }


def _record(record: Record) -> Schema:
    written = keys_of(record)
    schema: Schema = {
        "type": "object",
        "properties": {
            key: {"description": entry.field.meaning} | _kind(entry.field.kind, entry.unit)
            for key, entry in written.items()
        },
        "additionalProperties": False,
    }
    rules = [rule for field in record.fields if (rule := _presence(field)) is not None]
    rules += [_group(record, group) for group in record.groups]
    if rules:
        schema["allOf"] = rules
    return schema


def _presence(field: Field) -> Schema | None:
    """That a key is there when it must be, and only in one of its units."""
    keys = [key for key, _ in spellings(field)]
    if field.required:
        return _one_of(keys, 1)
    return _one_of(keys, 0) if len(keys) > 1 else None


def _one_of(keys: list[str], low: int) -> Schema:
    each: list[Schema] = [{"required": [key]} for key in keys]
    if low == 0:
        each.append({"not": {"anyOf": each.copy()}})
    return {"oneOf": each} if len(each) > 1 else each[0]


def _group(record: Record, group: Group) -> Schema:
    fields = [field for field in record.fields if field.key in group.keys]
    keys = [key for field in fields for key, _ in spellings(field)]
    if group.high == 1:
        return _one_of(keys, group.low)
    return {"anyOf": [{"required": [key]} for key in keys]}


def _kind(kind: Kind, unit: Unit | None) -> Schema:
    match kind:
        case Record():
            return _record(kind)
        case ListOf():
            return _list(kind, unit)
        case Either():
            return {"anyOf": [_kind(kind.short, unit), _kind(kind.full, unit)]}
        case Position():
            number = _number(Number(kind.bounds), unit)
            return {"type": "array", "prefixItems": [number, number], "items": False, "minItems": 2}
        case Number():
            return _number(kind, unit)
        case _:
            return _words(kind)


def _list(kind: ListOf, unit: Unit | None) -> Schema:
    schema: Schema = {"type": "array", "items": _kind(kind.item, unit), **_count(kind.count, "Items")}
    return schema | ({"uniqueItems": True} if kind.unique else {})


def _number(kind: Number, unit: Unit | None) -> Schema:
    bounds = in_unit(kind.bounds, unit)
    name = "integer" if kind.whole else "number"
    return {"type": name, "minimum": bounds.low, "maximum": bounds.high}


def _words(kind: Text | Choice | Flag | Day | MonthDay) -> Schema:
    match kind:
        case Text():
            pattern = {"pattern": f"^{kind.pattern}$"} if kind.pattern else {}
            return {"type": "string", **_count(kind.length, "Length"), **pattern}
        case Choice():
            return {"enum": list(kind.options)}
        case Flag():
            return {"type": "boolean"}
        case Day():
            return {"type": "string", "format": "date", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
        case MonthDay():
            return {"type": "string", "pattern": "^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$"}


def _count(bounds: Bounds, what: str) -> Schema:
    return {f"min{what}": int(bounds.low), f"max{what}": int(bounds.high)}
