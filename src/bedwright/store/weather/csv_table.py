"""Cuts CSV text into a header and rows, and knows where each field stands."""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass

from bedwright.store.weather.headers import n_understood

DELIMITERS = (",", ";", "\t")
N_LINES_BEFORE_HEADER = 40
"""Lines of explanation that may stand above the header."""

COMMENT = re.compile(r"#\s*(?P<key>[a-z ]+?)\s*:\s*(?P<text>.*)", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class CsvTable:
    """Header and rows of a CSV text."""

    lines: list[str]
    delimiter: str
    header_line: int
    """Counted from 1; 0 if the text has no header."""
    names: list[str]
    rows: list[list[str]]
    row_lines: list[int]
    """Line of each row, from 1."""
    comments: dict[str, str]
    """Lines such as `# station: Mill Lane`, by their key in small letters."""
    preamble: list[str]
    """Other lines above the header."""

    def column_at(self, line: int, index: int) -> int:
        """Column (from 1) at which a field of a line starts; quoted delimiters are passed over."""
        position, quoted = 0, False
        text = self.lines[line - 1]
        for place, character in enumerate(text):
            if index == 0:
                break
            if character == '"':
                quoted = not quoted
            elif character == self.delimiter and not quoted:
                index -= 1
                position = place + 1
        return position + 1


def split_table(text: str, *, with_header: bool = True) -> CsvTable | None:
    """Header and rows of a text, or None if no line names a date and something else that is known."""
    lines = text.split("\n")
    comments: dict[str, str] = {}
    preamble: list[str] = []
    delimiter, names, header_line = ",", [""], 0
    if with_header:
        found = _header(lines)
        if found is None:
            return None
        header_line, delimiter, names = found
    for line in lines[: max(header_line - 1, 0)]:
        if matched := COMMENT.fullmatch(line.strip()):
            comments[matched["key"].lower()] = matched["text"].strip()
        elif stripped := line.strip(' \t",;#'):
            preamble.append(stripped)
    rows, row_lines = _rows(lines, header_line, delimiter)
    return CsvTable(lines, delimiter, header_line, names, rows, row_lines, comments, preamble)


def _header(lines: list[str]) -> tuple[int, str, list[str]] | None:
    """Line, delimiter and names of the first line that reads as a header."""
    for number, line in enumerate(lines[:N_LINES_BEFORE_HEADER], start=1):
        if line.startswith("#"):
            continue
        splits = [(delimiter, _fields(line, delimiter)) for delimiter in DELIMITERS]
        delimiter, names = max(splits, key=lambda split: n_understood(split[1]))
        if n_understood(names) > 1:
            return number, delimiter, names
    return None


def _rows(lines: list[str], header_line: int, delimiter: str) -> tuple[list[list[str]], list[int]]:
    """Each line by itself, so that a stray quotation mark spoils one row and not the rest."""
    rows: list[list[str]] = []
    row_lines: list[int] = []
    for number, line in enumerate(lines[header_line:], start=header_line + 1):
        row = _fields(line, delimiter)
        if any(row) and not line.startswith("#"):
            rows.append(row)
            row_lines.append(number)
    return rows, row_lines


def _fields(line: str, delimiter: str) -> list[str]:
    if '"' not in line:
        return line.split(delimiter)
    return next(csv.reader([line], delimiter=delimiter), [])
