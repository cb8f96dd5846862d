"""Collects the problems of one weather file, so that all are told at once."""

from __future__ import annotations

from collections import Counter

from bedwright.model.problem import BadDocumentError, Problem

N_LISTED = 20
"""Problems of one kind that are listed; the rest is counted."""


class Faults:
    """Problems of one file; a kind that repeats is listed up to a limit and then counted."""

    def __init__(self, file: str) -> None:
        self.file = file
        self._problems: list[Problem] = []
        self._count: Counter[str] = Counter()

    def __bool__(self) -> bool:
        return bool(self._problems)

    def add(
        self,
        kind: str,
        where: str,
        got: str,
        expected: str,
        hint: str = "",
        line: int | None = None,
        column: int | None = None,
    ) -> None:
        """Take note of one problem.

        Parameters
        ----------
        kind : str
            Plain words shared by problems of the same sort.
        where, got, expected, hint : str
            As in `Problem`.
        line, column : int, optional
            Counted from 1.
        """
        self._count[kind] += 1
        if self._count[kind] <= N_LISTED:
            self._problems.append(Problem(self.file, line, column, where, got, expected, hint))

    def listing_is_full(self, kind: str) -> bool:
        """True if another problem of this kind would only be counted."""
        return self._count[kind] >= N_LISTED

    def count_more(self, kind: str, n: int) -> None:
        """Count further problems of a kind without listing them."""
        self._count[kind] += n

    def raise_if_any(self) -> None:
        """Raise everything found.

        Raises
        ------
        BadDocumentError
            If there is a problem; in order of lines, problems of the whole file first.
        """
        if not self._problems:
            return
        listed = sorted(self._problems, key=lambda problem: (problem.line or 0, problem.column or 0))
        rest = [
            Problem(self.file, None, None, kind, f"{count - N_LISTED} more of the same kind", "none")
            for kind, count in self._count.items()
            if count > N_LISTED
        ]
        raise BadDocumentError((*listed, *rest))
