"""The quick way to read a season plan: makers of records, put together once for each kind.

It knows files that hold every field just as they are written, and gives up at the first thing
that is otherwise; what to say of that is left to the reader of `store.season`.
"""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import date
from functools import cache
from operator import itemgetter
from typing import Any, Literal, Union, get_args, get_origin

from bedwright.model.crop import Crop
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Origin

Maker = Callable[[Any], Any]
"""Makes a value of the records from what JSON holds."""


class NotSoundError(Exception):
    """Something in the file is not as it is written."""


@cache
def hints_of(kind: type) -> dict[str, Any]:
    """Type hints of a record's fields."""
    return typing.get_type_hints(kind)


def sound_season(document: Mapping[str, Any], *, rows: tuple[type, ...], shape: str) -> SeasonPlan:
    """The plan of a document.

    Parameters
    ----------
    document
        The whole file, its format and version looked at.
    rows
        Records that are written as arrays of their fields.
    shape
        Key under which an outline names its kind.

    Raises
    ------
    NotSoundError
        If anything is missing, too much or of another kind.
    """
    try:
        return _Makers(document, rows, shape).plan()
    except (TypeError, ValueError, LookupError, AttributeError) as error:
        raise NotSoundError from error


class _Makers:
    """Makers for one document: crops and origins are called by name and place."""

    def __init__(self, document: Mapping[str, Any], rows: tuple[type, ...], shape: str) -> None:
        self._document = document
        self._rows = rows
        self._shape = shape
        self._made: dict[Any, Maker] = {date: _Days().__getitem__, **_SCALARS}

    def plan(self) -> SeasonPlan:
        origins = list(map(self._record(Origin), _checked(self._document["origins"], list)))
        crop = self._record(Crop, origin=origins)
        crops = {name: crop(plain) for name, plain in self._document["crops"].items()}
        self._made[Crop] = lambda plain: crops[_checked(plain, str)]
        made: SeasonPlan = self._record(SeasonPlan)(self._document["plan"])
        return made

    def _maker(self, hint: Any) -> Maker:
        # Some records are of a kind that holds itself only through a list; none holds itself.
        if hint not in self._made:
            self._made[hint] = self._new_maker(hint)
        return self._made[hint]

    def _new_maker(self, hint: Any) -> Maker:
        if dataclasses.is_dataclass(hint):
            return self._record(typing.cast("type", hint))
        args = get_args(hint)
        makers: dict[Any, Callable[[Sequence[Any]], Maker]] = {
            Union: self._one_of,
            types.UnionType: self._one_of,
            Literal: _word_of,
            tuple: self._tuple,
        }
        return makers.get(get_origin(hint), self._mapping)(args)

    def _record(self, kind: type, origin: Sequence[Origin] | None = None) -> Maker:
        if origin is not None:
            self._made[Origin] = lambda plain: origin[_place(plain)]
        names = [each.name for each in dataclasses.fields(kind)]
        makers = [self._maker(hints_of(kind)[name]) for name in names]
        if kind in self._rows:
            return _of_array(kind, makers)
        return _of_object(kind, names, makers, self._shape)

    def _one_of(self, hints: Sequence[Any]) -> Maker:
        rest = [hint for hint in hints if hint is not type(None)]
        if len(rest) == 1:
            make = self._maker(rest[0])
            return lambda plain: None if plain is None else make(plain)
        if all(dataclasses.is_dataclass(hint) for hint in rest):
            by_shape = {hint.__name__.lower(): self._maker(hint) for hint in rest}
            return lambda plain: by_shape[plain[self._shape]](plain)
        return _first_of([self._maker(hint) for hint in rest], may_be_none=len(rest) < len(hints))

    def _tuple(self, hints: Sequence[Any]) -> Maker:
        if len(hints) == 2 and hints[1] is Ellipsis:
            make = self._maker(hints[0])
            return lambda plain: tuple(map(make, _checked(plain, list)))
        makers = [self._maker(hint) for hint in hints]
        return lambda plain: tuple(
            [make(each) for make, each in zip(makers, _checked(plain, list), strict=True)]
        )

    def _mapping(self, hints: Sequence[Any]) -> Maker:
        key: Maker = _whole if hints[0] is int else _same
        make = self._maker(hints[1])
        return lambda plain: {key(name): make(each) for name, each in plain.items()}


class _Days(dict[str, date]):
    """Days by their text, each made once."""

    def __missing__(self, text: str) -> date:
        made = self[text] = date.fromisoformat(text)
        return made


def _same(plain: Any) -> Any:
    return plain


def _whole(text: str) -> int:
    if not text.lstrip("-").isdigit():
        raise ValueError
    return int(text)


def _checked(plain: Any, kind: type) -> Any:
    if type(plain) is not kind:
        raise TypeError
    return plain


def _place(plain: Any) -> int:
    if type(plain) is not int or plain < 0:
        raise TypeError
    return plain


def _number(plain: Any) -> float:
    # A number less itself is nought unless it is not finite.
    if (type(plain) is float or type(plain) is int) and plain - plain == 0:
        return float(plain)
    raise TypeError


def _only(kind: type) -> Maker:
    def make(plain: Any) -> Any:
        if type(plain) is not kind:
            raise TypeError
        return plain

    return make


_SCALARS: dict[Any, Maker] = {float: _number, str: _only(str), int: _only(int), bool: _only(bool)}


def _first_of(makers: Sequence[Maker], *, may_be_none: bool) -> Maker:
    def make(plain: Any) -> Any:
        if plain is None and may_be_none:
            return None
        for each in makers:
            with suppress(TypeError, ValueError, LookupError):
                return each(plain)
        raise TypeError

    return make


def _word_of(allowed: Sequence[Any]) -> Maker:
    words = {word: word for word in allowed}
    return words.__getitem__


def _of_array(kind: type, makers: Sequence[Maker]) -> Maker:
    def make(plain: Any) -> Any:
        values = [each(value) for each, value in zip(makers, _checked(plain, list), strict=True)]
        return kind(*values)

    return make


def _of_object(kind: type, names: Sequence[str], makers: Sequence[Maker], shape: str) -> Maker:
    fields = itemgetter(*names) if len(names) > 1 else lambda plain: (plain[names[0]],)
    n_fields = len(names)

    def make(plain: Any) -> Any:
        if len(plain) - (shape in plain) != n_fields:
            raise LookupError
        return kind(*[each(value) for each, value in zip(makers, fields(plain), strict=True)])

    return make
