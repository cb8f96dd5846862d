"""Comments at the ends of lines, taken from an entry and put back when it is written anew."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

Path = tuple[str, ...]

_KEY = re.compile(r"^(?P<lead>\s*(?:- +)*)(?P<key>[\w-]+|\"[^\"]*\"|'[^']*')\s*:(?:\s|$)")
_BLOCK = re.compile(r"(?:^|[\s:-])[|>][+-]?\d*[+-]?$")
_OPENS_TEXT = ":,[{-?"
"""A quotation mark opens a text only behind one of these; elsewhere it is a sign like any other."""


@dataclass(frozen=True, slots=True)
class EndComment:
    """A comment behind something, and the keys that lead there within its entry."""

    path: Path
    text: str
    """From the number sign on."""


@dataclass(frozen=True, slots=True)
class _Line:
    """A line of an entry that is not the inside of a text over several lines."""

    number: int
    path: Path
    comment_at: int | None


def end_comments(lines: Sequence[str]) -> list[EndComment]:
    """The comments at the ends of an entry's lines; those on lines of their own are not among them."""
    return [
        EndComment(line.path, lines[line.number][line.comment_at :].rstrip())
        for line in _lines(lines)
        if line.comment_at is not None and lines[line.number][: line.comment_at].strip()
    ]


def put_back(lines: Sequence[str], comments: Sequence[EndComment]) -> list[str]:
    """The lines of the entry written anew, each comment behind the key it stood behind.

    Where that key is gone it stands behind the next above it that is left.
    """
    out = list(lines)
    # The first line of each path; a text that is empty has none to carry a comment.
    where = {line.path: line.number for line in reversed(list(_lines(lines))) if lines[line.number].strip()}
    first = min(where.values(), default=None)
    for comment in comments:
        kept = (comment.path[:n] for n in range(len(comment.path), -1, -1))
        at = next((where[path] for path in kept if path in where), first)
        if at is not None:
            out[at] = f"{out[at].rstrip()}  {comment.text}"
    return out


def _lines(lines: Sequence[str]) -> Iterator[_Line]:
    """Lines with their paths; the inside of quoted texts and of text blocks is passed over."""
    above: list[tuple[int, str]] = []
    quote = ""
    block_column: int | None = None
    for number, line in enumerate(lines):
        column = len(line) - len(line.lstrip())
        if block_column is not None and (not line.strip() or column > block_column):
            continue
        block_column = None
        inside = bool(quote)
        comment_at, quote = _scan(line, quote)
        if inside:
            if comment_at is not None:
                yield _Line(number, tuple(key for _, key in above), comment_at)
            continue
        written = line[:comment_at].rstrip()
        found = _KEY.match(written)
        if found is not None:
            column = len(found["lead"])
            above = [each for each in above if each[0] < column]
            above.append((column, found["key"].strip("\"'")))
        if _BLOCK.search(written):
            block_column = len(line) - len(line.lstrip())
        yield _Line(number, tuple(key for _, key in above), comment_at)


def _scan(line: str, quote: str) -> tuple[int | None, str]:
    """Where the comment of a line begins, and the quotation mark that is open at its end."""
    before = ""
    position = 0
    while position < len(line):
        sign = line[position]
        if quote:
            doubled = quote == "'" and line[position : position + 2] == "''"
            if doubled or (sign == "\\" and quote == '"'):
                position += 1
            elif sign == quote:
                quote = ""
        elif sign in "\"'" and (not before or before in _OPENS_TEXT):
            quote = sign
        elif sign == "#" and (position == 0 or line[position - 1] in " \t"):
            return position, quote
        before = before if sign.isspace() else sign
        position += 1
    return None, quote
