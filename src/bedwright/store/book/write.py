"""A garden book written as YAML that people can go on editing."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from datetime import date

from bedwright.model.book import GardenBook
from bedwright.store.book.document import to_document
from bedwright.store.book.kinds import Either, Kind, ListOf, Record
from bedwright.store.book.plain import Plain
from bedwright.store.book.schema import GARDEN_BOOK

_UNQUOTED = re.compile(r"[A-Za-z](?:[A-Za-z0-9 _./()'-]*[A-Za-z0-9)])?")
"""Text that means itself in YAML, in brackets too; everything else is quoted."""

_MONTH_DAY = re.compile(r"[0-9]{2}-[0-9]{2}")
_KEPT_WORDS = frozenset({"null", "true", "false", "yes", "no", "on", "off", "y", "n"})


def write_book(book: GardenBook) -> str:
    """The book as YAML text in SI; reading it gives an equal book.

    Parameters
    ----------
    book
        A book as the reader returns it.

    Returns
    -------
    str
        YAML 1.2, one blank line between the parts of the book.

    Limits
    ------
    Comments of an earlier text are not kept.
    """
    parts = [
        "\n".join(_entry(key, value, _kind(GARDEN_BOOK, key), 0)) for key, value in to_document(book).items()
    ]
    return "\n\n".join(parts) + "\n"


def _kind(record: Record, key: str) -> Kind:
    return next(field.kind for field in record.fields if field.key == key)


def _entry(key: str, value: Plain, kind: Kind, indent: int) -> Iterator[str]:
    """Lines of one key with its value."""
    margin = " " * indent
    if isinstance(value, dict) and isinstance(kind, Record) and not kind.one_line:
        yield f"{margin}{key}:"
        yield from _block(value, kind, indent + 2)
    elif isinstance(value, tuple) and value and isinstance(kind, ListOf) and isinstance(kind.item, Record):
        yield f"{margin}{key}:"
        for item in value:
            yield from _item(item, kind.item, indent + 2)
    elif isinstance(value, str) and "\n" in value and not value[0].isspace():
        yield f"{margin}{key}: |-"
        yield from (f"{margin}  {line}" if line else "" for line in value.split("\n"))
    else:
        yield f"{margin}{key}: {_flow(value, kind)}"


def _block(value: dict[str, Plain], record: Record, indent: int) -> Iterator[str]:
    for key, below in value.items():
        yield from _entry(key, below, _kind(record, key), indent)


def _item(value: Plain, record: Record, indent: int) -> Iterator[str]:
    """Lines of one entry of a list of records."""
    if record.one_line or not isinstance(value, dict):
        yield f"{' ' * indent}- {_flow(value, record)}"
        return
    lines = list(_block(value, record, indent + 2))
    yield f"{' ' * indent}- {lines[0].lstrip()}"
    yield from lines[1:]


def _flow(value: Plain, kind: Kind) -> str:
    """A value on one line."""
    if isinstance(value, dict):
        record = kind.full if isinstance(kind, Either) else kind
        if not isinstance(record, Record):
            raise TypeError(f"keys with values where the schema has {type(kind).__name__}")
        inner = (f"{key}: {_flow(below, _kind(record, key))}" for key, below in value.items())
        return "{" + ", ".join(inner) + "}"
    if isinstance(value, tuple):
        item = kind.item if isinstance(kind, ListOf) else kind
        return "[" + ", ".join(_flow(below, item) for below in value) + "]"
    return _scalar(value)


def _scalar(value: str | float | bool | date) -> str:
    if isinstance(value, str):
        means_itself = _UNQUOTED.fullmatch(value) or _MONTH_DAY.fullmatch(value)
        return value if means_itself and value.lower() not in _KEPT_WORDS else _quoted(value)
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, date):
        return value.isoformat()
    return str(int(value)) if float(value).is_integer() and abs(value) < 1e15 else repr(value)


def _quoted(text: str) -> str:
    """Text in quotation marks; JSON's escapes are YAML's too, save for signs beyond 16 bits."""
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(c if c.isprintable() else f"\\U{ord(c):08x}" for c in quoted)
