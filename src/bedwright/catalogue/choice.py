"""The one rule for which of several facts of a quantity the engine uses."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from bedwright.model.source import Standing

Decision = Literal["", "use", "leave"]

STANDING_ORDER: tuple[Standing, ...] = ("read", "derived", "weak", "practice", "memory")
"""Best first."""

RULE: tuple[str, ...] = (
    "A row marked `use` is used, with its reason in the row; a row marked `leave` is not, with its reason.",
    "Else the best standing wins: read, derived, weak, practice, memory.",
    "Then the best rank of source (see the list of ranks).",
    "Then, of figures, the middle one (of an even number the lower middle); of words, the commonest.",
    "Then the source whose id comes first in the alphabet.",
    "Rows that lose stay listed beside the one that is used.",
)
"""The rule in words; `docs/sources.md` prints it from here."""


RANKS: dict[int, str] = {
    1: "law, standards and original trials",
    2: "government, state and university extension",
    3: "reference works, growers' societies and master gardeners",
    4: "firms, press and unsigned pages",
    9: "no publication",
}
"""Kinds of source, best first; each row of `sources.csv` names its own."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """What the rule looks at in one row."""

    low: float | None
    high: float | None
    text: str
    standing: Standing
    source_rank: int
    source_id: str
    decision: Decision = ""

    @property
    def middle(self) -> float | None:
        """Middle of the range; None for a word."""
        return None if self.low is None or self.high is None else (self.low + self.high) / 2


def chosen(candidates: Sequence[Candidate]) -> int | None:
    """Index of the candidate that `RULE` picks; None if all are marked to be left.

    Parameters
    ----------
    candidates : Sequence[Candidate]
        All rows of one quantity of one crop, at least one.

    Returns
    -------
    int | None
        Index into `candidates`.

    Raises
    ------
    ValueError
        If there is no candidate.
    """
    if not candidates:
        raise ValueError("nothing to choose from")
    for index, candidate in enumerate(candidates):
        if candidate.decision == "use":
            return index
    running = [i for i, candidate in enumerate(candidates) if candidate.decision != "leave"]
    if len(running) < 2:
        return running[0] if running else None

    def standing(index: int) -> tuple[int, int]:
        candidate = candidates[index]
        return STANDING_ORDER.index(candidate.standing), candidate.source_rank

    best = min(map(standing, running))
    tied = [index for index in running if standing(index) == best]
    words = Counter(candidates[index].text for index in tied if candidates[index].middle is None)

    def place(index: int) -> tuple[float, int, str, int]:
        candidate = candidates[index]
        middle = candidate.middle
        return (
            float("-inf") if middle is None else middle,
            -words[candidate.text],
            candidate.source_id,
            index,
        )

    tied.sort(key=place)
    figures = [index for index in tied if candidates[index].middle is not None]
    return figures[(len(figures) - 1) // 2] if len(figures) == len(tied) else tied[0]
