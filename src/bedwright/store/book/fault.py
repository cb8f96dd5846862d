"""Collects the faults of one document so that all are reported at once."""

from __future__ import annotations

from typing import NoReturn, Protocol

from bedwright.model.problem import BadDocumentError, Problem

MOST_PROBLEMS = 200
"""Reading stops here: a longer list helps nobody, and bounds the work on a broken file."""


class Placed(Protocol):
    """Anything that knows where it was written."""

    @property
    def line(self) -> int:
        """Counted from 1."""

    @property
    def column(self) -> int:
        """Counted from 1."""


class Faults:
    """The problems found so far in one file."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._problems: list[Problem] = []

    def __len__(self) -> int:
        return len(self._problems)

    def at(self, place: Placed, where: str, got: str, expected: str, hint: str = "") -> None:
        """Add a problem at the place of a value.

        Raises
        ------
        BadDocumentError
            If `MOST_PROBLEMS` have been found.
        """
        self._problems.append(Problem(self.file, place.line, place.column, where, got, expected, hint))
        if len(self._problems) >= MOST_PROBLEMS:
            self.raise_if_any()

    def stop(self, problem: Problem) -> NoReturn:
        """Add a problem after which nothing more can be read, and raise all."""
        self._problems.append(problem)
        raise BadDocumentError(self._sorted())

    def raise_if_any(self) -> None:
        """Raise BadDocumentError with every problem in the order of the text, if there is one."""
        if self._problems:
            raise BadDocumentError(self._sorted())

    def _sorted(self) -> tuple[Problem, ...]:
        return tuple(sorted(self._problems, key=lambda p: (p.line or 0, p.column or 0)))
