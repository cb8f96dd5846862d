"""Building stones of papers that are read from top to bottom: what `parts.typ` sets."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from bedwright.papers.drawing import Drawing

Part = dict[str, Any]
Cells = Sequence[str]


def heading(words: str, level: int = 2) -> Part:
    """A heading: 1 for the paper, 2 for a part of it, 3 for a line above a table."""
    return {"k": "heading", "level": level, "s": words}


def text(words: str, *, size_pt: float = 8.5, bold: bool = False) -> Part:
    """A paragraph."""
    return {"k": "text", "s": words, "size": size_pt, "bold": bold}


def small(words: str, *, leads: bool = False) -> Part:
    """A paragraph of notes; one that leads stays on the page on which the next part begins."""
    return text(words, size_pt=7.5) | {"leads": leads}


def ruled_table(
    head: Cells,
    rows: Sequence[Cells],
    columns: Sequence[float] = (),
    *,
    bold: Sequence[int] = (),
    right: Sequence[int] = (),
    size_pt: float = 8.0,
) -> Part:
    """A table ruled as schedules are.

    Parameters
    ----------
    head, rows
        Words of the cells.
    columns
        Share of the width of each column; 0 for as wide as its words. Left out: all 0.
    bold, right
        Columns in bold, and columns set to the right, counted from 0.
    size_pt
        Letter size of the cells.
    """
    return {
        "k": "table", "head": list(head), "rows": [list(row) for row in rows],
        "columns": list(columns) or [0] * len(head), "bold": list(bold), "right": list(right),
        "size": size_pt,
    }  # fmt: skip


def picture(drawing: Drawing) -> Part:
    """A drawing."""
    return {"k": "drawing", "d": drawing.data()}


def bullets(lines: Sequence[str], *, size_pt: float = 8.5, ticks: bool = False) -> Part:
    """Lines one below the other; `ticks` puts a box to tick before each."""
    return {"k": "list", "items": list(lines), "size": size_pt, "ticks": ticks}


def caution(label: str, words: str, source: str) -> Part:
    """A caution with its source."""
    return {"k": "caution", "label": label, "s": words, "source": source}


def together(*parts: Part) -> Part:
    """Parts that stay on one page."""
    return {"k": "together", "parts": list(parts)}


def framed(*parts: Part) -> Part:
    """Parts inside a frame, on one page."""
    return {"k": "framed", "parts": list(parts)}


def side_by_side(*parts: Part) -> Part:
    """Parts beside each other, in equal columns."""
    return {"k": "beside", "parts": list(parts)}


def page(frame: dict[str, Any], parts: Sequence[Part]) -> dict[str, Any]:
    """One run of pages with the same title block."""
    return {"frame": frame, "parts": list(parts)}


def paper(*pages: dict[str, Any]) -> dict[str, Any]:
    """Everything the template `parts.typ` sets."""
    return {"pages": list(pages)}
