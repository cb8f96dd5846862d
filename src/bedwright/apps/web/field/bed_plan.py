"""A bed seen from above with all its rows; the page shows those that stand and marks one planting."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape

from django.utils.translation import gettext as _

from bedwright.apps.web.field.vector import line
from bedwright.model.book import Bed
from bedwright.model.ground import local_vertices_m
from bedwright.model.season import Planting, Row
from bedwright.papers.measures import Measures

_LONGEST_MM, _WIDEST_MM = 100.0, 60.0
_MARGIN_MM = 6.0
_LETTER_MM = 4.6


def bed_plan(bed: Bed, plantings: Sequence[Planting], measures: Measures) -> str:
    """SVG of one bed: outline, peg, rows of every planting of the season, grouped by planting.

    Each planting is a group with `data-planting`, hidden until the page shows it. The baseline
    runs to the right from the peg at the top left, as on the bed sheets.
    """
    frame = bed.frame
    scale = min(_LONGEST_MM / frame.length_m, _WIDEST_MM / frame.width_m)
    width_mm, height_mm = frame.length_m * scale + 2 * _MARGIN_MM, frame.width_m * scale + 2 * _MARGIN_MM + 3

    def at(point_m: tuple[float, float]) -> tuple[float, float]:
        return round(point_m[0] * scale + _MARGIN_MM, 2), round(point_m[1] * scale + _MARGIN_MM, 2)

    outline = line([at(vertex) for vertex in local_vertices_m(bed.outline)], closed=True)
    peg_x, peg_y = at((0.0, 0.0))
    groups = [_rows(planting, at) for planting in plantings]
    title = _("Bed %(code)s from above; the peg is at the top left") % {"code": bed.code}
    foot = _("%(length)s from the peg to the end") % {"length": measures.extent(frame.length_m)}
    box = f"0 0 {width_mm:.1f} {height_mm:.1f}"
    foot_x, foot_y = width_mm - _MARGIN_MM, height_mm - 1.2
    return (
        f'<svg class="bed" viewBox="{box}" role="img" aria-label="{escape(title)}">'
        f'<path class="outline" d="{outline}"/>{"".join(groups)}'
        f'<path class="peg" d="M{peg_x - 2.2:g} {peg_y - 3.8:g}h4.4L{peg_x:g} {peg_y:g}z"/>'
        f'<text class="foot" x="{foot_x:.1f}" y="{foot_y:.1f}">{escape(foot)}</text></svg>'
    )


def _rows(planting: Planting, at: Callable[[tuple[float, float]], tuple[float, float]]) -> str:
    lines = "".join(_row(row, at) for row in planting.rows)
    (x, y), words = at(planting.rows[0].start_m), escape(planting.label_code)
    label = f'<text x="{x:g}" y="{y + 0.35 * _LETTER_MM:.1f}">{words}</text>'
    return f'<g class="rows" data-planting="{escape(planting.code)}">{lines}{label}</g>'


def _row(row: Row, at: Callable[[tuple[float, float]], tuple[float, float]]) -> str:
    (x0, y0), (x1, y1) = at(row.start_m), at(row.end_m)
    if row.n_plants == 1:
        return f'<circle cx="{x0:g}" cy="{y0:g}" r="1.2"/>'
    return f'<path d="M{x0:g} {y0:g}L{x1:g} {y1:g}"/>'
