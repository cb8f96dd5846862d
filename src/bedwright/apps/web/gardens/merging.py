"""Two people's changes of one book put together, where they touch different entries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from bedwright.store.weaving import is_named_list, names_of

Path = tuple[str, ...]
Document = Mapping[str, Any]


class _Absent:
    """Stands for a value that is not there."""


ABSENT: Final = _Absent()


@dataclass(slots=True)
class _Flat:
    """A document cut into the pieces that are merged whole."""

    pieces: dict[Path, Any] = field(default_factory=dict)
    order: dict[Path, tuple[str, ...]] = field(default_factory=dict)
    """Names of the entries of each list."""


@dataclass(frozen=True, slots=True)
class Merged:
    """The outcome; `conflicts` names pieces that both changed, in words."""

    document: dict[str, Any]
    conflicts: tuple[str, ...]


def merge(base: Document, mine: Document, theirs: Document) -> Merged:
    """Put two changes of one document together.

    Parameters
    ----------
    base
        The document both started from.
    mine, theirs
        The two changed ones. Entries of lists are known by their codes or names; all else by
        its key. Order follows `theirs`, with my new entries behind the one they followed.

    Returns
    -------
    Merged
        The document, and what both changed differently: there, `theirs` is kept in it.
    """
    flat_base, flat_mine, flat_theirs = _flat(base), _flat(mine), _flat(theirs)
    out = _Flat()
    conflicts: list[str] = []
    for path in dict.fromkeys((*flat_theirs.pieces, *flat_mine.pieces)):
        was, own, other = (flat.pieces.get(path, ABSENT) for flat in (flat_base, flat_mine, flat_theirs))
        value = own if other == was else other
        if own not in (was, other) and other != was:
            conflicts.append(" ".join(path))
        if value is not ABSENT:
            out.pieces[path] = value
    for path in dict.fromkeys((*flat_theirs.order, *flat_mine.order)):
        theirs_order = flat_theirs.order.get(path, ())
        mine_order = flat_mine.order.get(path, ())
        base_order = flat_base.order.get(path, ())
        merged = _order(base_order, mine_order, theirs_order)
        # One that was removed here but stays, since the other changed it, goes to the end.
        names = dict.fromkeys((*merged, *theirs_order, *mine_order))
        out.order[path] = tuple(name for name in names if (*path, name) in out.pieces)
    return Merged(_document(out), tuple(conflicts))


def _order(base: tuple[str, ...], mine: tuple[str, ...], theirs: tuple[str, ...]) -> list[str]:
    if theirs == base:
        return list(mine)
    order = list(theirs)
    for position, name in enumerate(mine):
        if name not in order:
            before = next((each for each in reversed(mine[:position]) if each in order), None)
            order.insert(order.index(before) + 1 if before is not None else 0, name)
    return order


def _flat(document: Document) -> _Flat:
    flat = _Flat()
    for key, value in document.items():
        _cut(flat, (key,), value)
    return flat


def _cut(flat: _Flat, path: Path, value: Any) -> None:
    if is_named_list(path, value):
        names = names_of(path, value)
        flat.order[path] = names
        flat.pieces.update({(*path, name): entry for name, entry in zip(names, value, strict=True)})
    elif len(path) == 1 and isinstance(value, Mapping):
        for key, below in value.items():
            _cut(flat, (*path, key), below)
    else:
        flat.pieces[path] = value


def _document(flat: _Flat) -> dict[str, Any]:
    document: dict[str, Any] = {}
    entries = {(*path, name) for path, names in flat.order.items() for name in names}
    for path, names in flat.order.items():
        if not names:
            continue
        _put(document, path, tuple(flat.pieces[*path, name] for name in names))
    for path, value in flat.pieces.items():
        # An empty list beside entries of the same list is one that somebody began or emptied.
        if path not in entries and not flat.order.get(path):
            _put(document, path, value)
    return document


def _put(document: dict[str, Any], path: Path, value: Any) -> None:
    for key in path[:-1]:
        document = document.setdefault(key, {})
    document[path[-1]] = value
