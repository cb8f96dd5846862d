"""Numbered notes that give the source of each value on a card or page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from bedwright.model.crop import Fact
from bedwright.model.source import Source
from bedwright.papers.standings import standing_words


class Footnotes:
    """Gives each source one number, in the order first used."""

    def __init__(self, sources: Mapping[str, Source]) -> None:
        self._sources = sources
        self._numbers: dict[str, int] = {}

    def mark(self, source_ids: Iterable[str]) -> str:
        """Numbers of some sources in brackets; empty without sources."""
        numbers = [self._numbers.setdefault(key, len(self._numbers) + 1) for key in source_ids]
        return f"[{', '.join(str(n) for n in sorted(set(numbers)))}]" if numbers else ""

    def fact_mark(self, *facts: Fact) -> str:
        """Standing in words where it is not plainly read, then the number of each source.

        Facts given together say the same and stand alike.
        """
        standing = facts[0].standing
        words = f"({standing_words(standing)})" if standing_words(standing) else ""
        if standing in ("memory", "practice"):
            return words
        return f"{words} {self.mark(fact.source_id for fact in facts)}".strip()

    def lines(self) -> list[str]:
        """The notes themselves, in order."""
        return [f"{number}  {self._citation(key)}" for key, number in self._numbers.items()]

    def _citation(self, key: str) -> str:
        source = self._sources.get(key)
        return source.citation if source is not None else f"{key} (not in the list of sources)"
