"""Faults of a document, reported all at once."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault of an input document, in words a gardener can act on."""

    file: str
    line: int | None
    """Counted from 1; None if the fault is of the file as a whole."""
    column: int | None
    where: str
    """Path of the value, such as `beds[3].rectangle.width_m`; entries of a list count from 1."""
    got: str
    expected: str
    hint: str = ""

    def __str__(self) -> str:
        place = self.file
        if self.line is not None:
            place += f":{self.line}"
            if self.column is not None:
                place += f":{self.column}"
        text = f"{place}: {self.where}: got {self.got}; expected {self.expected}."
        return f"{text} {self.hint}".rstrip()


class BadDocumentError(Exception):
    """A document cannot be used; carries every problem found in it."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems
