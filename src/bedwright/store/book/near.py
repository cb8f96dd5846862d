"""Hints for a word that is almost a known one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from difflib import get_close_matches

LONGEST_COMPARED = 60
"""Comparing costs the product of the lengths; no name is longer than this."""


def nearest(word: str, known: Iterable[str], n: int = 3) -> tuple[str, ...]:
    """The known words most like a word, best first; none if nothing is alike."""
    if len(word) > LONGEST_COMPARED:
        return ()
    by_plain = {name.casefold(): name for name in known}
    return tuple(by_plain[found] for found in get_close_matches(word.casefold(), by_plain, n, 0.6))


def nearest_hint(word: str, known: Iterable[str]) -> str:
    """A question that offers the most similar known words; empty if nothing is alike."""
    return offer(nearest(word, known))


def offer(names: Sequence[str]) -> str:
    """The question whether one of a few names is meant; empty for no names."""
    if not names:
        return ""
    *others, last = names
    return f"Is {', '.join(others) + ' or ' if others else ''}{last} meant?"
