"""A season plan as a file: complete, versioned, the same bytes for the same plan.

The file is JSON (RFC 8259). It is written from the records themselves, so that no field
can be forgotten: a record is an object, a day is `YYYY-MM-DD`, a tuple is an array, and an
outline carries its `shape`. Crops hold hundreds of sourced facts and many plantings share
one; they stand once in `crops` and plantings name them. Origins are shared by still more
numbers; they stand once in `origins` and are called by their place in it, counted from 0.
Small records that come by the thousand are arrays of their fields, in the order the schema
gives.
"""

from __future__ import annotations

import dataclasses
import json
import math
import numbers
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import Any, Literal, Union, get_args, get_origin

from bedwright.model.care import PickingWeek
from bedwright.model.crop import Crop, Fact
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Origin
from bedwright.model.water import WaterWeek
from bedwright.model.work import Hours, WeekJob, WorkShare
from bedwright.store.sound_season import NotSoundError, hints_of, sound_season

FORMAT = "bedwright season plan"
SCHEMA_VERSION = 2
"""Grows when a reader of the last version would misread a file."""
_THIS = (FORMAT, SCHEMA_VERSION)
_SHAPE = "shape"
_ROWS: tuple[type, ...] = (Fact, Hours, PickingWeek, WaterWeek, WeekJob, WorkShare)
"""Records written as arrays."""
_DIALECT = "https://json-schema.org/draft/2020-12/schema"


def season_json(plan: SeasonPlan) -> str:
    """The whole plan as text.

    Raises
    ------
    ValueError
        If a number of the plan is not finite.
    """
    shelf = _Shelf()
    body = _plain(plan, shelf)
    parts = {
        "format": FORMAT,
        "schema_version": SCHEMA_VERSION,
        "origins": shelf.origins(),
        "crops": shelf.crops(),
    }
    lines = [f'"{name}": {_one_line(part)}' for name, part in parts.items()]
    inner = [f'"{name}": {_one_line(part)}' for name, part in body.items()]
    return "{\n" + ",\n".join(lines) + ',\n"plan": {\n' + ",\n".join(inner) + "\n}\n}\n"


def _one_line(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(",", ":"))


class _Shelf:
    """Gives every different crop record one name, and every different origin one number."""

    def __init__(self) -> None:
        self._names: dict[Crop, str] = {}
        self._plain: dict[str, Any] = {}
        self._numbers: dict[Origin, int] = {}

    def number(self, origin: Origin) -> int:
        return self._numbers.setdefault(origin, len(self._numbers))

    def origins(self) -> list[Any]:
        return [_fields(origin, self) for origin in self._numbers]

    def name(self, crop: Crop) -> str:
        if crop not in self._names:
            n_alike = sum(1 for known in self._names if known.name == crop.name)
            name = crop.name if not n_alike else f"{crop.name}, as packed {n_alike}"
            self._names[crop] = name
            self._plain[name] = _fields(crop, self)
        return self._names[crop]

    def crops(self) -> dict[str, Any]:
        return dict(sorted(self._plain.items()))


def _fields(record: Any, shelf: _Shelf) -> dict[str, Any]:
    return {f.name: _plain(getattr(record, f.name), shelf) for f in dataclasses.fields(record)}


def _plain(value: Any, shelf: _Shelf) -> Any:
    """A value of the records as JSON can hold it."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return _plain_record(value, shelf)
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Mapping):
        return {str(key): _plain(item, shelf) for key, item in sorted(value.items())}
    if isinstance(value, tuple | list):
        return [_plain(item, shelf) for item in value]
    return _plain_scalar(value)


def _plain_record(value: Any, shelf: _Shelf) -> Any:
    if isinstance(value, Crop):
        return shelf.name(value)
    if isinstance(value, Origin):
        return shelf.number(value)
    fields = _fields(value, shelf)
    if isinstance(value, _ROWS):
        return list(fields.values())
    return {_SHAPE: type(value).__name__.lower(), **fields} if type(value).__name__ in _SHAPES else fields


def _plain_scalar(value: Any) -> Any:
    """Numbers of any library as plain numbers; everything else as it is."""
    if value is None or isinstance(value, str | bool):
        return value
    if isinstance(value, numbers.Integral):
        return int(value)
    if isinstance(value, numbers.Real):
        return float(value)
    raise TypeError(f"a season plan holds no {type(value).__name__}")


_SHAPES = ("Rectangle", "Polygon", "Circle")


def read_season(path: Path) -> SeasonPlan:
    """Read a season plan back.

    Raises
    ------
    BadDocumentError
        With every fault found, if the file is not a season plan of this version.
    OSError
        If the file cannot be read.
    """
    return season_from_text(path.read_text(encoding="utf-8"), str(path))


def season_from_text(text: str, file: str = "season plan") -> SeasonPlan:
    """A season plan from its text; `file` is named in problems.

    Raises
    ------
    BadDocumentError
        With every fault found.
    """
    try:
        document = json.loads(text)
    except json.JSONDecodeError as fault:
        problem = Problem(file, fault.lineno, fault.colno, "file", fault.msg, "JSON")
        raise BadDocumentError((problem,)) from fault
    if isinstance(document, dict) and (document.get("format"), document.get("schema_version")) == _THIS:
        with suppress(NotSoundError):
            return sound_season(document, rows=_ROWS, shape=_SHAPE)
    reader = _Reader(file)
    plan = reader.document(document)
    if reader.problems or plan is None:
        raise BadDocumentError(tuple(reader.problems))
    return plan


class _Reader:
    """Builds records from JSON by their type hints and notes every fault."""

    def __init__(self, file: str) -> None:
        self.problems: list[Problem] = []
        self._file = file
        self._crops: dict[str, Crop] = {}
        self._origins: list[Origin | None] = []

    def document(self, document: Any) -> SeasonPlan | None:
        if not isinstance(document, dict) or document.get("format") != FORMAT:
            self._fault("format", document, f"an object with format {FORMAT!r}")
            return None
        version = document.get("schema_version")
        if version != SCHEMA_VERSION:
            hint = "Make the plan again from its garden book."
            self._fault("schema_version", version, str(SCHEMA_VERSION), hint)
            return None
        origins = document.get("origins")
        if not isinstance(origins, list):
            self._fault("origins", origins, "an array")
            return None
        self._origins = [self._fields(Origin, plain, f"origins[{k}]") for k, plain in enumerate(origins)]
        crops = document.get("crops")
        if not isinstance(crops, dict):
            self._fault("crops", crops, "an object")
            return None
        for name, plain in crops.items():
            made = self._fields(Crop, plain, f"crops.{name}")
            if made is not None:
                self._crops[name] = made
        plan = self._record(SeasonPlan, document.get("plan"), "plan")
        return plan if isinstance(plan, SeasonPlan) else None

    def _fault(self, where: str, got: Any, expected: str, hint: str = "") -> None:
        shown = json.dumps(got, ensure_ascii=False, default=str)
        shown = shown if len(shown) <= 60 else f"{shown[:57]}…"
        self.problems.append(Problem(self._file, None, None, where, shown, expected, hint))

    def _record(self, kind: type, plain: Any, where: str) -> Any:
        if kind is Crop:
            return self._crop(plain, where)
        if kind is Origin:
            return self._origin(plain, where)
        if kind in _ROWS:
            names = [f.name for f in dataclasses.fields(kind)]
            if not isinstance(plain, list) or len(plain) != len(names):
                self._fault(where, plain, f"an array of {len(names)}: {', '.join(names)}")
                return None
            plain = dict(zip(names, plain, strict=True))
        return self._fields(kind, plain, where)

    def _fields(self, kind: type, plain: Any, where: str) -> Any:
        if not isinstance(plain, dict):
            self._fault(where, plain, f"an object ({kind.__name__})")
            return None
        n_before = len(self.problems)
        hints, values = hints_of(kind), {}
        fields = {f.name: f for f in dataclasses.fields(kind)}
        for name in plain:
            if name not in fields and name != _SHAPE:
                self._fault(f"{where}.{name}", plain[name], "no such field")
        for name, field in fields.items():
            if name in plain:
                values[name] = self._value(hints[name], plain[name], f"{where}.{name}")
            elif field.default is dataclasses.MISSING and field.default_factory is dataclasses.MISSING:
                self._fault(f"{where}.{name}", None, "a value: the field is missing")
        return kind(**values) if len(self.problems) == n_before else None

    def _value(self, hint: Any, plain: Any, where: str) -> Any:
        if dataclasses.is_dataclass(hint):
            return self._record(typing.cast("type", hint), plain, where)
        makers: dict[Any, Callable[[Sequence[Any], Any, str], Any]] = {
            Union: self._one_of,
            types.UnionType: self._one_of,
            Literal: self._literal,
            tuple: self._tuple,
        }
        origin = get_origin(hint)
        if origin is None:
            return self._scalar(hint, plain, where)
        return makers.get(origin, self._mapping)(get_args(hint), plain, where)

    def _crop(self, plain: Any, where: str) -> Any:
        if not isinstance(plain, str) or plain not in self._crops:
            self._fault(where, plain, "the name of a crop under crops")
            return None
        return self._crops[plain]

    def _origin(self, plain: Any, where: str) -> Any:
        if type(plain) is not int or not 0 <= plain < len(self._origins):
            self._fault(where, plain, "the place of an origin under origins")
            return None
        return self._origins[plain]

    def _one_of(self, hints: Sequence[Any], plain: Any, where: str) -> Any:
        if plain is None and type(None) in hints:
            return None
        rest = [hint for hint in hints if hint is not type(None)]
        if len(rest) == 1:
            return self._value(rest[0], plain, where)
        if isinstance(plain, dict) and _SHAPE in plain:
            for hint in hints:
                if getattr(hint, "__name__", "").lower() == plain[_SHAPE]:
                    return self._record(hint, plain, where)
            self._fault(f"{where}.{_SHAPE}", plain[_SHAPE], " or ".join(h.__name__.lower() for h in hints))
            return None
        for hint in rest:
            attempt = _Reader(self._file)
            attempt._crops, attempt._origins = self._crops, self._origins
            value = attempt._value(hint, plain, where)
            if not attempt.problems:
                return value
        self._fault(where, plain, " or ".join(_words(hint) for hint in hints))
        return None

    def _literal(self, allowed: Sequence[Any], plain: Any, where: str) -> Any:
        if plain not in allowed:
            self._fault(where, plain, " or ".join(json.dumps(word) for word in allowed))
        return plain

    def _tuple(self, hints: Sequence[Any], plain: Any, where: str) -> Any:
        if not isinstance(plain, list):
            self._fault(where, plain, "an array")
            return ()
        if len(hints) == 2 and hints[1] is Ellipsis:
            return tuple(self._value(hints[0], item, f"{where}[{k}]") for k, item in enumerate(plain))
        if len(plain) != len(hints):
            self._fault(where, plain, f"an array of {len(hints)}")
            return ()
        pairs = zip(hints, plain, strict=True)
        return tuple(self._value(hint, item, f"{where}[{k}]") for k, (hint, item) in enumerate(pairs))

    def _mapping(self, hints: Sequence[Any], plain: Any, where: str) -> Any:
        if not isinstance(plain, dict):
            self._fault(where, plain, "an object")
            return {}
        made = {}
        for key, item in plain.items():
            name: Any = key
            if hints[0] is int:
                if not key.lstrip("-").isdigit():
                    self._fault(f"{where}.{key}", key, "a whole number as key")
                    continue
                name = int(key)
            made[name] = self._value(hints[1], item, f"{where}.{key}")
        return made

    def _scalar(self, hint: Any, plain: Any, where: str) -> Any:
        if hint is date and isinstance(plain, str):
            try:
                return date.fromisoformat(plain)
            except ValueError:
                self._fault(where, plain, _words(date))
                return None
        if hint is float and isinstance(plain, int | float) and not isinstance(plain, bool):
            if math.isfinite(plain):
                return float(plain)
        elif hint in (str, int, bool) and type(plain) is hint:
            return plain
        self._fault(where, plain, _words(hint))
        return None


_WORDS: dict[Any, str] = {
    str: "text", int: "a whole number", float: "a number", bool: "true or false",
    date: "a day, YYYY-MM-DD", type(None): "null",
}  # fmt: skip


def _words(hint: Any) -> str:
    return _WORDS.get(hint, str(hint))


def season_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of the season file, made from the records."""
    kinds: dict[str, type] = {}
    origin, crop = (_schema_of_object(kind, kinds) for kind in (Origin, Crop))
    plan = _schema_of_record(SeasonPlan, kinds)
    done: dict[str, Any] = {}
    while len(done) < len(kinds):
        for name, kind in list(kinds.items()):
            if name not in done:
                done[name] = _schema_of_record(kind, kinds)
    return {
        "$schema": _DIALECT,
        "title": "Bedwright season plan",
        "type": "object",
        "additionalProperties": False,
        "required": ["format", "schema_version", "origins", "crops", "plan"],
        "properties": {
            "format": {"const": FORMAT},
            "schema_version": {"const": SCHEMA_VERSION},
            "plan": plan,
            "origins": {"type": "array", "items": origin},
            "crops": {"type": "object", "additionalProperties": crop},
        },
        "$defs": dict(sorted(done.items())),
    }


def _schema_of_record(kind: type, kinds: dict[str, type]) -> dict[str, Any]:
    if kind not in _ROWS:
        return _schema_of_object(kind, kinds)
    described = _schema_of_object(kind, kinds)
    columns = [{"title": name, **schema} for name, schema in described["properties"].items()]
    return {
        "type": "array",
        "description": described["description"],
        "prefixItems": columns,
        "minItems": len(columns),
        "maxItems": len(columns),
    }


def _schema_of_object(kind: type, kinds: dict[str, type]) -> dict[str, Any]:
    hints = hints_of(kind)
    properties = {f.name: _schema(hints[f.name], kinds) for f in dataclasses.fields(kind)}
    if kind.__name__ in _SHAPES:
        properties = {_SHAPE: {"const": kind.__name__.lower()}, **properties}
    described = (kind.__doc__ or "").strip().splitlines()[0]
    return {
        "type": "object",
        "description": described,
        "additionalProperties": False,
        "required": list(properties),
        "properties": properties,
    }


_SCALARS: dict[Any, dict[str, Any]] = {
    str: {"type": "string"}, int: {"type": "integer"}, float: {"type": "number"}, bool: {"type": "boolean"},
    date: {"type": "string", "format": "date"}, type(None): {"type": "null"},
}  # fmt: skip


def _schema(hint: Any, kinds: dict[str, type]) -> dict[str, Any]:
    if hint is Crop:
        return {"type": "string", "description": "name of a crop under crops"}
    if hint is Origin:
        return {"type": "integer", "minimum": 0, "description": "place of an origin under origins"}
    if hint in _SCALARS:
        return _SCALARS[hint]
    if dataclasses.is_dataclass(hint):
        kind = typing.cast("type", hint)
        kinds[kind.__name__] = kind
        return {"$ref": f"#/$defs/{kind.__name__}"}
    args = get_args(hint)
    makers: dict[Any, Callable[[], dict[str, Any]]] = {
        Literal: lambda: {"enum": list(args)},
        Union: lambda: {"anyOf": [_schema(arg, kinds) for arg in args]},
        types.UnionType: lambda: {"anyOf": [_schema(arg, kinds) for arg in args]},
        tuple: lambda: _schema_of_tuple(args, kinds),
    }
    maker = makers.get(get_origin(hint))
    return maker() if maker else {"type": "object", "additionalProperties": _schema(args[1], kinds)}


def _schema_of_tuple(args: Sequence[Any], kinds: dict[str, type]) -> dict[str, Any]:
    if len(args) == 2 and args[1] is Ellipsis:
        return {"type": "array", "items": _schema(args[0], kinds)}
    items = [_schema(arg, kinds) for arg in args]
    return {"type": "array", "prefixItems": items, "minItems": len(items), "maxItems": len(items)}
