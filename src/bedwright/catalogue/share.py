"""How many of the catalogue's values end at a publication."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from bedwright.model.crop import Catalogue
from bedwright.model.source import PUBLISHED, Standing


@dataclass(frozen=True, slots=True)
class PublishedShare:
    """Counts of facts by standing, of all rows and of the used ones."""

    n_facts: int
    n_published: int
    n_used: int
    n_used_published: int
    by_standing: tuple[tuple[Standing, int, int], ...]
    """Standing, rows, used rows; most rows first."""

    @property
    def facts_pct(self) -> float:
        """Share of all rows that end at a publication [%]."""
        return 100 * self.n_published / self.n_facts

    @property
    def used_pct(self) -> float:
        """Share of the values in use that end at a publication [%]."""
        return 100 * self.n_used_published / self.n_used


def share_published(catalogue: Catalogue) -> PublishedShare:
    """Share of the values whose source is a publication that was seen.

    Standings `read`, `weak` and `derived` count; `practice` and `memory` do not.
    """
    rows: Counter[Standing] = Counter()
    used: Counter[Standing] = Counter()
    for crop in catalogue.crops.values():
        for fact in crop.facts:
            rows[fact.standing] += 1
            used[fact.standing] += fact.used
    return PublishedShare(
        n_facts=rows.total(),
        n_published=sum(rows[standing] for standing in PUBLISHED),
        n_used=used.total(),
        n_used_published=sum(used[standing] for standing in PUBLISHED),
        by_standing=tuple((standing, count, used[standing]) for standing, count in rows.most_common()),
    )
