"""A garden book as a nested document, perhaps with faults in it, turned into a book or told why not."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from datetime import date

from bedwright.apps.web.gardens.reading import book_of
from bedwright.model.book import GardenBook

Raw = str | int | float | bool | date | None | Sequence["Raw"] | Mapping[str, "Raw"]
"""A value under the schema's keys as a form or a script sent it; None and empty records are left out."""


def book_of_document(document: Mapping[str, Raw]) -> GardenBook:
    """The book that a document stands for.

    Parameters
    ----------
    document
        Values under the schema's keys; keys of other units (`length_ft`) are allowed. A text
        where a number belongs is reported as it would be in a file.

    Raises
    ------
    BadDocumentError
        With every problem; lines in it count in no file and mean nothing.
    """
    lines = [f"{key}: {_flow(value)}" for key, value in document.items() if value is not None]
    return book_of("\n".join(lines) + "\n")


def _flow(value: Raw) -> str:
    if isinstance(value, Mapping):
        inner = (f"{_quoted(key)}: {_flow(below)}" for key, below in value.items() if below is not None)
        return "{" + ", ".join(inner) + "}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return "[" + ", ".join(_flow(below) for below in value) + "]"
    return _scalar(value)


def _scalar(value: str | float | bool | date | None) -> str:
    if isinstance(value, str):
        return _quoted(value)
    if isinstance(value, date):
        return value.isoformat()
    # Numbers, true, false and null are written alike in JSON and YAML.
    return json.dumps(value)


def _quoted(text: str) -> str:
    """Text in quotation marks; JSON's escapes are YAML's too, save for signs beyond 16 bits."""
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(c if c.isprintable() else f"\\U{ord(c):08x}" for c in quoted)
