"""What an entry of a list of the book is called, so that it is known again in another revision."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any

_DEEPEST = 2
"""Lists further down belong to one entry and are taken whole."""

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


def _first_words(entry: Entry) -> str:
    """Entries of other lists go by the first two values they begin with."""
    plain = [str(value) for value in entry.values() if not isinstance(value, Mapping | tuple | list)]
    return " ".join(plain[:2])


def names_of(path: tuple[str, ...], entries: Iterable[Entry]) -> tuple[str, ...]:
    """A name for each entry, no two alike: a second of the same name gets a number."""
    name_of = NAMED.get(path, _first_words)
    seen: dict[str, int] = {}
    names: list[str] = []
    for entry in entries:
        name = name_of(entry)
        seen[name] = seen.get(name, 0) + 1
        names.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return tuple(names)


def is_named_list(path: tuple[str, ...], value: object) -> bool:
    """Whether a value is a list of entries that have names; an empty one is a plain value."""
    if not isinstance(value, Sequence) or isinstance(value, str) or len(path) > _DEEPEST:
        return False
    return bool(value) and all(isinstance(entry, Mapping) for entry in value)
