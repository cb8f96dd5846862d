"""Beds that got another code or went, wherever the rest of the book names them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

Document = dict[str, Any]


def with_bed_codes(document: Document, new_codes: Mapping[str, str | None]) -> Document:
    """The document with beds called otherwise in history and wishes.

    Parameters
    ----------
    document
        A book under the schema's keys.
    new_codes
        New code of each bed named; None for a bed to be forgotten: its history goes, and
        wishes that named it alone may stand anywhere.
    """
    if not new_codes:
        return document
    changed = dict(document)
    if "history" in document:
        history = [
            {**entry, "bed": new_codes.get(entry["bed"], entry["bed"])} for entry in document["history"]
        ]
        changed["history"] = [entry for entry in history if entry["bed"] is not None]
    changed["wishes"] = [_wish(entry, new_codes) for entry in document.get("wishes", ())]
    return changed


def _wish(wish: Mapping[str, Any], new_codes: Mapping[str, str | None]) -> dict[str, Any]:
    changed = dict(wish)
    beds = {key: kept for key, codes in wish.get("beds", {}).items() if (kept := _codes(codes, new_codes))}
    changed.pop("beds", None)
    if beds:
        changed["beds"] = beds
    return changed


def _codes(codes: Sequence[str], new_codes: Mapping[str, str | None]) -> list[str]:
    named = (new_codes.get(code, code) for code in codes)
    return [code for code in named if code is not None]
