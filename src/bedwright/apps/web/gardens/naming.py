"""What an entry of a list of the book is called, so that it is known again in another revision."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

Entry = Mapping[str, Any]
"""`Any`: an entry may come from a form, with anything in it."""


def _code(entry: Entry) -> str:
    return str(entry.get("code", ""))


def _span(entry: Entry) -> str:
    return f"{entry.get('name', '')} {entry.get('start', '')}"


def _pair(entry: Entry) -> str:
    crops = entry.get("together") or entry.get("apart") or ()
    return " and ".join(sorted(str(crop) for crop in crops))


NAMED: Mapping[tuple[str, ...], Callable[[Entry], str]] = {
    ("beds",): _code,
    ("site", "features"): _code,
    ("history",): lambda entry: f"{entry.get('bed', '')} {entry.get('year', '')}",
    ("wishes",): _code,
    ("neighbours",): _pair,
    ("goals", "quiet_weeks"): _span,
    ("people",): _span,
    ("seed_drawer",): _code,
    ("stock",): lambda entry: str(entry.get("material", "")),
}
"""Lists whose entries have a name of their own, by their place in the book."""


def names_of(path: tuple[str, ...], entries: Iterable[Entry]) -> tuple[str, ...]:
    """A name for each entry, no two alike: a second of the same name gets a number."""
    name_of = NAMED[path]
    seen: dict[str, int] = {}
    names: list[str] = []
    for entry in entries:
        name = name_of(entry)
        seen[name] = seen.get(name, 0) + 1
        names.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return tuple(names)


def is_named_list(path: tuple[str, ...], value: object) -> bool:
    """Whether a value is a list whose entries have names."""
    return path in NAMED and isinstance(value, Sequence) and not isinstance(value, str)
