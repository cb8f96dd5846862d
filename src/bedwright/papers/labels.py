"""Peg labels: row code, crop, date and a code to scan."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import segno

from bedwright.model.season import Planting, Row, SeasonPlan
from bedwright.papers.label_sheets import LabelSheet
from bedwright.papers.letters import SMALLEST_PT, text_width_mm
from bedwright.papers.measures import code_runs, count_words, day_words
from bedwright.papers.sheet import frame

_PAD_MM = 2.2
_QUIET_MODULES = 4
"""Light border a QR code needs: ISO/IEC 18004."""
_LARGEST_QR_MM = 24.0


def scan_text(planting: Planting, row: Row, link_base: str | None = None) -> str:
    """What scanning a label gives: row code, then planting code; or the address of the row's page."""
    if link_base is not None:
        return f"{link_base.rstrip('/')}/{row.code}"
    return f"{row.code} {planting.code}"


def scan_matrix(text: str) -> tuple[bytearray, ...]:
    """Modules of the QR code, dark is 1, without the quiet border (ISO/IEC 18004, level M)."""
    return tuple(segno.make(text, error="m", micro=False).matrix)


def _scan_drawing(text: str) -> str:
    """The code as one vector path; runs of dark modules are single bars."""
    matrix = scan_matrix(text)
    size = len(matrix) + 2 * _QUIET_MODULES
    bars = []
    for y, line in enumerate(matrix):
        x = 0
        while x < len(line):
            start = x
            while x < len(line) and line[x]:
                x += 1
            if x > start:
                bars.append(f"M{start + _QUIET_MODULES} {y + _QUIET_MODULES}h{x - start}v1h{start - x}z")
            else:
                x += 1
    path = "".join(bars)
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size} {size}"><path d="{path}"/></svg>'


def chosen_rows(
    plan: SeasonPlan, *, every_row: bool = False, codes: Sequence[str] = ()
) -> tuple[tuple[Planting, Row], ...]:
    """Rows that get a label, in the order one walks: bed, then row.

    Parameters
    ----------
    plan
        Season plan.
    every_row
        A label for each row; otherwise one for each planting, at its first row.
    codes
        Only these row codes or planting codes (a reprint); empty for all.

    Raises
    ------
    ValueError
        If a code is neither a row nor a planting of the plan.
    """
    everyone = [(p, row) for bed in plan.book.beds for p in plan.in_bed(bed.code) for row in p.rows]
    if codes:
        known = {row.code for _, row in everyone} | {p.code for p, _ in everyone}
        unknown = [code for code in codes if code not in known]
        if unknown:
            raise ValueError(f"no row or planting has the code {', '.join(unknown)}")
        wanted = set(codes)
        return tuple(
            (p, row)
            for p, row in everyone
            if row.code in wanted or (p.code in wanted and (every_row or row is p.rows[0]))
        )
    if every_row:
        return tuple(everyone)
    return tuple((p, row) for p, row in everyone if row is p.rows[0])


def labels_data(
    plan: SeasonPlan,
    sheet: LabelSheet,
    *,
    every_row: bool = False,
    codes: Sequence[str] = (),
    link_base: str | None = None,
) -> dict[str, Any]:
    """Everything the template `labels.typ` sets."""
    qr_mm = min(_LARGEST_QR_MM, sheet.height_mm - 2.0)
    chosen = chosen_rows(plan, every_row=every_row, codes=codes)
    covers_all = not every_row and not codes
    labels = [
        _label(plan, p, row, sheet, qr_mm, covers_all=covers_all, link_base=link_base) for p, row in chosen
    ]
    return {
        "frame": frame(plan, sheet.paper, "Peg labels", "L"),
        "labels": labels,
        "sheet": {
            "columns": sheet.n_columns, "rows": sheet.n_rows, "w": sheet.width_mm, "h": sheet.height_mm,
            "step": sheet.column_step_mm, "left": sheet.left_mm, "top": sheet.top_mm,
            "cut": sheet.cut_marks, "pad": _PAD_MM, "qr": qr_mm,
        },
    }  # fmt: skip


def _label(
    plan: SeasonPlan,
    planting: Planting,
    row: Row,
    sheet: LabelSheet,
    qr_mm: float,
    *,
    covers_all: bool,
    link_base: str | None,
) -> dict[str, Any]:
    room = sheet.width_mm - qr_mm - _PAD_MM - 1.5
    tall = sheet.height_mm >= 33
    put_in = "sow" if planting.way == "sow" else "set out"
    if covers_all:
        rows = code_runs(r.code for r in planting.rows)
        covers = f"rows {rows}" if len(planting.rows) > 1 else f"row {rows}"
        covers += f", {count_words(planting.n_plants, 'plant')}"
    else:
        covers = f"bed {planting.bed_code}, {count_words(row.n_plants, 'plant')}"
    lines = [
        _line(row.code, room, 48.0 if sheet.height_mm >= 48 else 30.0 if tall else 20.0, bold=True),
        _line(planting.crop.name, room, 12.0 if tall else 10.0, bold=True),
    ]
    if planting.variety:
        lines.append(_line(planting.variety, room, 9.0 if tall else 8.0))
    lines.append(_line(f"{put_in} {day_words(planting.dates.in_ground)}", room, 9.0 if tall else 8.0))
    lines.append(_line(covers, room, 8.0 if tall else SMALLEST_PT))
    if tall:
        lines.append(_line(f"{plan.revision}, {plan.book.site.name}", room, SMALLEST_PT))
    return {"lines": lines, "svg": _scan_drawing(scan_text(planting, row, link_base))}


def _line(words: str, room_mm: float, size_pt: float, *, bold: bool = False) -> dict[str, Any]:
    """Words at the largest size that fits; the tail is cut only at the smallest size."""
    while size_pt > SMALLEST_PT and text_width_mm(words, size_pt, bold=bold) > room_mm:
        size_pt = max(SMALLEST_PT, size_pt - 0.5)
    while len(words) > 2 and text_width_mm(words, size_pt, bold=bold) > room_mm:
        words = f"{words.rstrip('…')[:-1]}…"
    return {"s": words, "size": size_pt, "bold": bold}
