"""Cases of faulty books: an edit of the tiny book that is refused, and one just accepted."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book import read_book_text
from tests.builders import TINY_TEXT, tiny_catalogue

CATALOGUE = tiny_catalogue()
POLYGON = "rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 90}"


@dataclass(frozen=True)
class Case:
    """One edit of the tiny book that is refused, and the nearest one that is not."""

    fault: str
    old: str
    bad: str
    good: str
    where: str
    words: str
    """Found in the problem's text."""
    n_problems: int = 1
    """Two where one slip rightly shows in two places."""

    def check(self) -> None:
        """The fault is told at its place, once, and the twin is read."""
        text = edited(self.old, self.bad)
        problems = problems_of(text)
        shown = [str(problem) for problem in problems]
        found = [problem for problem in problems if problem.where == self.where]
        assert found, shown
        assert self.words in str(found[0])
        assert found[0].line is not None
        assert 1 <= found[0].line <= text.count("\n")
        assert len(problems) == self.n_problems, shown
        read(edited(self.old, self.good))


def read(text: str) -> GardenBook:
    return read_book_text(text, "book.yaml", CATALOGUE)


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read(text)
    return caught.value.problems


def edited(old: str, new: str) -> str:
    assert old in TINY_TEXT
    return TINY_TEXT.replace(old, new, 1)
