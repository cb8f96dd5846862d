"""Label sheets by their geometry, in plain names.

Sizes are those printed on the packs of common label sheets; margins follow from the
sheet being centred (common practice, no source). A first page on plain paper, held
against the label sheet, shows whether printer and sheet agree.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from bedwright.model.book import PaperSize
from bedwright.model.units import MM_PER_INCH
from bedwright.papers.sheet import PAGE_MM


@dataclass(frozen=True, slots=True)
class LabelSheet:
    """Columns and rows of equal labels, centred on the page."""

    name: str
    paper: PaperSize
    n_columns: int
    n_rows: int
    width_mm: float
    height_mm: float
    column_step_mm: float
    """From the left edge of one label to that of the next."""
    cut_marks: bool = False
    """Plain paper, cut along marks."""

    @property
    def n_labels(self) -> int:
        """Labels on one page."""
        return self.n_columns * self.n_rows

    @property
    def left_mm(self) -> float:
        """Left edge of the first label."""
        taken = (self.n_columns - 1) * self.column_step_mm + self.width_mm
        return (PAGE_MM[self.paper][0] - taken) / 2

    @property
    def top_mm(self) -> float:
        """Top edge of the first label; plain sheets leave the foot free for the title block."""
        if self.cut_marks:
            return 12.0
        return (PAGE_MM[self.paper][1] - self.n_rows * self.height_mm) / 2


def _inch(
    name: str, columns: int, rows: int, width_in: float, height_in: float, step_in: float
) -> LabelSheet:
    width_mm, height_mm, step_mm = (length * MM_PER_INCH for length in (width_in, height_in, step_in))
    return LabelSheet(name, "letter", columns, rows, width_mm, height_mm, step_mm)


LABEL_SHEETS: Mapping[str, LabelSheet] = {
    sheet.name: sheet
    for sheet in (
        LabelSheet("A4 24 per sheet 70 x 37 mm", "a4", 3, 8, 70.0, 37.0, 70.0),
        LabelSheet("A4 21 per sheet 63.5 x 38.1 mm", "a4", 3, 7, 63.5, 38.1, 66.0),
        LabelSheet("A4 10 per sheet 99.1 x 57 mm", "a4", 2, 5, 99.1, 57.0, 101.6),
        LabelSheet("A4 plain, cut to 90 x 35 mm", "a4", 2, 7, 90.0, 35.0, 90.0, cut_marks=True),
        _inch("Letter 30 per sheet 2 5/8 x 1 in", 3, 10, 2.625, 1.0, 2.75),
        _inch("Letter 20 per sheet 4 x 1 in", 2, 10, 4.0, 1.0, 4.1875),
        _inch("Letter 10 per sheet 4 x 2 in", 2, 5, 4.0, 2.0, 4.1875),
        LabelSheet(
            "Letter plain, cut to 3 1/2 x 1 3/8 in", "letter", 2, 6, 88.9, 34.925, 88.9, cut_marks=True
        ),
    )
}


def label_sheet_named(name: str) -> LabelSheet:
    """A label sheet by name.

    Raises
    ------
    ValueError
        If there is no such sheet; the message lists those there are.
    """
    if name not in LABEL_SHEETS:
        known = "; ".join(LABEL_SHEETS)
        raise ValueError(f"no label sheet is called {name!r}; there are: {known}")
    return LABEL_SHEETS[name]


def default_label_sheet(paper: PaperSize) -> LabelSheet:
    """The sheet taken where none is named."""
    return next(sheet for sheet in LABEL_SHEETS.values() if sheet.paper == paper)
