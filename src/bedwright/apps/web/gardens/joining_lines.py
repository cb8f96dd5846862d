"""Two people's changes of one text put together, where they touch different lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from difflib import SequenceMatcher


@dataclass(frozen=True, slots=True)
class _Change:
    """Lines of the old text, from and to, and what stands in their place."""

    start: int
    end: int
    lines: tuple[str, ...]


def join_lines(base: str, mine: str, theirs: str) -> str | None:
    """Both changes in one text; None where they touch the same or neighbouring lines.

    Parameters
    ----------
    base
        The text both started from.
    mine, theirs
        The two changed ones.
    """
    old = base.split("\n")
    left, right = list(_changes(old, mine.split("\n"))), list(_changes(old, theirs.split("\n")))
    both: list[_Change] = []
    for change in sorted({*left, *right}, key=lambda each: (each.start, each.end)):
        # Neighbouring lines count as the same: two entries added at one place have no order.
        if both and change.start <= both[-1].end:
            return None
        both.append(change)
    out: list[str] = []
    at = 0
    for change in both:
        out += old[at : change.start]
        out += change.lines
        at = change.end
    return "\n".join(out + old[at:])


def _changes(old: list[str], new: list[str]) -> Iterator[_Change]:
    for tag, start, end, new_start, new_end in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
        if tag != "equal":
            yield _Change(start, end, tuple(new[new_start:new_end]))
