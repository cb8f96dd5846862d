"""A changed book written into its old text, so that comments and layout of the rest stay.

The old text is cut into parts (keys of the book, entries of its lists). Parts whose value
is the same keep their lines; changed ones are written anew with their old comments: those on
lines of their own above, those at the end of a line behind the same key. The outcome is read
again: where it does not give exactly the new book, comments at ends of lines go above too, then
coarser parts are tried, and in the end the whole book is written anew under all its comments.
Only what is taken out takes the comments inside it along.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError
from bedwright.store.book import write_book
from bedwright.store.book.document import to_document
from bedwright.store.book.fault import Faults
from bedwright.store.book.nodes import Mapping, Node, read_nodes
from bedwright.store.book.nodes import Sequence as ListNode
from bedwright.store.weaving.end_comments import end_comments, put_back
from bedwright.store.weaving.naming import is_named_list, names_of

_VERSION = "garden_book"
Reader = Callable[[str], GardenBook]


@dataclass(slots=True)
class _Part:
    """Lines of one key or entry, with the comments above it."""

    name: str
    value: Any
    lead: list[str]
    """Comments and empty lines above."""
    lines: list[str]
    """All of its own lines, or only the first of them where `parts` holds the rest."""
    column: int
    """Of its first sign, counted from 0."""
    parts: list[_Part] = field(default_factory=list)
    is_list: bool = False


@dataclass(frozen=True, slots=True)
class _Weaving:
    """How parts are put together."""

    keep_alike: bool
    """Whether entries of lists that say the same keep their lines."""
    behind: bool
    """Whether comments at ends of lines stay there; else they go above the part."""


def weave(old_text: str, new_book: GardenBook, read: Reader) -> str:
    """The text of a changed book, as near to its old text as can be.

    Parameters
    ----------
    old_text
        A text without problems.
    new_book
        What the new text must say.
    read
        How a text is read, against the same catalogue as `new_book`; raises `BadDocumentError`.

    Returns
    -------
    str
        A text that reads as exactly `new_book`.
    """
    canonical = write_book(new_book)
    old, new = _cut(old_text, read), _cut(canonical, read)
    if all(part.name != _VERSION for part in old.parts):
        # Left out before, and left out again.
        new.parts = [part for part in new.parts if part.name != _VERSION]
    for depth, keep_alike, behind in product((3, 2, 1), (True, False), (True, False)):
        weaving = _Weaving(keep_alike=keep_alike, behind=behind)
        text = "\n".join(_woven(old, new, depth, weaving)).strip("\n") + "\n"
        if _says(text, new_book, read):
            return text
    return "".join(f"{line}\n" for line in _comments(old)) + canonical


def _says(text: str, book: GardenBook, read: Reader) -> bool:
    try:
        return read(text) == book
    except BadDocumentError:
        return False


def _cut(text: str, read: Reader) -> _Part:
    """A text without problems as a tree of parts."""
    lines = text.removeprefix("\N{BYTE ORDER MARK}").replace("\r\n", "\n").split("\n")
    root = _Part("", to_document(read(text)), [], [], 0)
    node = read_nodes(text, Faults(""))
    if isinstance(node, Mapping):
        _divide(root, node, lines, 0, len(lines), ())
    return root


def _divide(part: _Part, node: Node, lines: list[str], start: int, end: int, path: tuple[str, ...]) -> None:
    """Give a part its own lines, and cut what lies below into parts."""
    below = list(_below(node, part.value, path))
    firsts = [line for _, _, line, _ in below]
    own_line = bool(path) and firsts and firsts[0] <= start
    if not below or own_line or firsts != sorted(set(firsts)):
        # Written on one line, or in a way that lines cannot cut: kept or replaced whole.
        part.lines = lines[start:end]
        return
    starts = [_with_comments(lines, line, start + (1 if path else 0)) for line in firsts]
    part.lines = lines[start : starts[0]]
    part.is_list = isinstance(node, ListNode)
    for (name, value, line, inner), begin, stop in zip(below, starts, [*starts[1:], end], strict=True):
        column = len(lines[line]) - len(lines[line].lstrip())
        piece = _Part(name, value, lines[begin:line], [], column)
        inside = (*path, name) if not part.is_list else path
        if part.is_list or inner is None:
            piece.lines = lines[line:stop]
        else:
            _divide(piece, inner, lines, line, stop, inside)
        part.parts.append(piece)


def _below(node: Node, value: Any, path: tuple[str, ...]) -> Iterator[tuple[str, Any, int, Node | None]]:
    """(name, value, line, node) of what a key or entry holds; nothing for plain values."""
    if isinstance(node, Mapping) and len(path) < 2 and isinstance(value, dict):
        for key, (written, inner) in node.entries.items():
            # A key in another unit is not in the document under its own name: left whole.
            yield key, value.get(key, inner), written.line - 1, inner
    elif isinstance(node, ListNode) and is_named_list(path, value) and len(node.items) == len(value):
        for name, entry, item in zip(names_of(path, value), value, node.items, strict=True):
            yield name, entry, item.line - 1, None


def _with_comments(lines: Sequence[str], line: int, lowest: int) -> int:
    """The first of the comments and empty lines directly above a line."""
    while line > lowest and (not lines[line - 1].strip() or lines[line - 1].lstrip().startswith("#")):
        line -= 1
    return line


def _woven(old: _Part, new: _Part, depth: int, weaving: _Weaving) -> Iterator[str]:
    """Lines of the new part, taken from the old where both say the same."""
    if old.value == new.value:
        yield from _all_lines(old)
    elif old.parts and new.parts and old.is_list == new.is_list and depth > 0:
        yield from old.lead
        yield from old.lines
        yield from _woven_parts(old, new, depth, weaving)
    else:
        yield from _anew(old, new, old.column - new.column, weaving)


def _woven_parts(old: _Part, new: _Part, depth: int, weaving: _Weaving) -> Iterator[str]:
    shift = old.parts[0].column - new.parts[0].column
    known = {part.name: part for part in old.parts}
    wanted = {part.name: part for part in new.parts}
    for part in _in_order(old, new):
        before = known.get(part.name)
        after = wanted.get(part.name)
        if after is None:
            # What is gone leaves its comments: they are the person's own words.
            yield from (line for line in part.lead if line.strip())
        elif before is None:
            if not new.is_list:
                yield ""
            yield from _moved(after, shift)
        elif new.is_list and not weaving.keep_alike:
            yield from _anew(before, after, shift, weaving)
        else:
            yield from _woven(before, after, depth - 1, weaving)


def _anew(old: _Part, new: _Part, by: int, weaving: _Weaving) -> Iterator[str]:
    """A part that says something else, written anew with its old comments."""
    own = list(_all_lines(old))[len(old.lead) :]
    at_ends = end_comments(own)
    yield from old.lead
    yield from (line for line in own if line.lstrip().startswith("#"))
    lines = list(_moved(new, by))
    if weaving.behind:
        lines = put_back(lines, at_ends)
    else:
        yield from (" " * old.column + comment.text for comment in at_ends)
    yield from lines


def _in_order(old: _Part, new: _Part) -> list[_Part]:
    """All parts: a list in its new order, keys in their old; those gone stay where they were."""
    first, second = (new, old) if new.is_list else (old, new)
    order = list(first.parts)
    names = [part.name for part in order]
    for position, part in enumerate(second.parts):
        if part.name not in names:
            before = [each.name for each in second.parts[:position]]
            at = max((names.index(name) + 1 for name in before if name in names), default=0)
            order.insert(at, part)
            names.insert(at, part.name)
    return order


def _all_lines(part: _Part) -> Iterator[str]:
    yield from part.lead
    yield from part.lines
    for below in part.parts:
        yield from _all_lines(below)


def _comments(part: _Part) -> Iterator[str]:
    """Every comment, on a line of its own."""
    lines = list(_all_lines(part))
    yield from (line.lstrip() for line in lines if line.lstrip().startswith("#"))
    yield from (comment.text for comment in end_comments(lines))


def _moved(part: _Part, by: int) -> Iterator[str]:
    """The lines of a part written anew, moved to the indentation of its neighbours."""
    lines = [line for line in _all_lines(part) if line.strip() or by == 0]
    first = next((k for k, line in enumerate(lines) if line.strip()), 0)
    for line in lines[first:]:
        yield " " * by + line if by > 0 else line[min(-by, len(line) - len(line.lstrip())) :]
