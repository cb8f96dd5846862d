"""Plain nested values, as a document holds them."""

from __future__ import annotations

from datetime import date

Plain = str | int | float | bool | date | tuple["Plain", ...] | dict[str, "Plain"]


def given(**values: Plain | None) -> dict[str, Plain]:
    """The keys that have a value; a trailing underscore marks a word Python keeps for itself."""
    return {key.rstrip("_"): value for key, value in values.items() if value is not None}
