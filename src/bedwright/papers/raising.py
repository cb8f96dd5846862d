"""Trays and bench: what is raised under cover, week by week."""

from __future__ import annotations

from bedwright.model.season import SeasonPlan
from bedwright.model.supplies import RaisingSpace, Supplies
from bedwright.model.units import m2_to_square_feet
from bedwright.papers import parts
from bedwright.papers.drawing import Drawing
from bedwright.papers.measures import Measures, later_day
from bedwright.papers.parts import Part
from bedwright.papers.standings import doubt_lines
from bedwright.papers.week_axis import key_box, week_axis


def raising_parts(plan: SeasonPlan, supplies: Supplies, measures: Measures, width_mm: float) -> list[Part]:
    """Plot of bench space, weeks without room, and a table of trays; nothing if none is raised."""
    if not supplies.raising:
        return []
    space = plan.book.propagation.space if plan.book.propagation is not None else RaisingSpace()
    return [
        parts.together(
            parts.heading("Trays and bench"),
            parts.picture(bench_chart(supplies, space, measures, width_mm)),
        ),
        *(parts.text(week.text) for week in supplies.over_limit),
        _tray_table(plan, supplies, measures),
        *(parts.small(line) for line in doubt_lines(o for tray in supplies.trays for o in tray.origins)),
    ]


def bench_chart(supplies: Supplies, space: RaisingSpace, measures: Measures, width_mm: float) -> Drawing:
    """Bench the trays cover in each week against what there is."""
    factor = m2_to_square_feet(1.0) if measures.us else 1.0
    limit = None if space.bench_m2 is None else space.bench_m2 * factor
    weeks = supplies.raising
    largest = max(*(week.bench_m2 * factor for week in weeks), limit or 0.0, 0.0)
    over = {week.week for week in supplies.over_limit}
    unit = "ft²" if measures.us else "m²"
    axis = week_axis([week.week for week in weeks], largest, unit, (width_mm, 48.0))
    for week in weeks:
        fill = "grey 50" if week.week in over else "grey 84"
        axis.column(week.week, 0.0, week.bench_m2 * factor, fill=fill)  # type: ignore[arg-type]
        if week.trays and axis.week_mm > 3.0:
            x = axis.x_mm(week.week) + axis.week_mm / 2
            axis.drawing.text(x, axis.y_mm(week.bench_m2 * factor) - 2.0, str(week.trays), align="centre")
    if limit is not None:
        axis.level(limit, "room there is")
    x = key_box(axis.drawing, 22.0, "bench under trays, number of trays above", fill="grey 84")
    if over:
        key_box(axis.drawing, x, "more than there is room for", fill="grey 50")
    return axis.drawing


def _tray_table(plan: SeasonPlan, supplies: Supplies, measures: Measures) -> Part:
    first = plan.book.season_start
    labels = {p.code: p.label_code for p in plan.plantings}
    rows = [
        [
            later_day(tray.sown, first),
            labels.get(tray.planting_code, tray.planting_code),
            f"{tray.crop} {tray.variety}".strip(),
            str(tray.n_plants),
            str(tray.n_cells),
            f"{tray.n_trays} of {tray.cells_per_tray}",
            measures.bulk(tray.mix_l),
            later_day(tray.leaves, first),
        ]
        for tray in sorted(supplies.trays, key=lambda tray: (tray.sown, tray.planting_code))
    ]
    head = ["Sow", "Row", "Crop", "Plants wanted", "Cells to sow", "Trays", "Potting mix", "Set out"]
    return parts.ruled_table(head, rows, [0, 0, 1.5, 1, 1, 1, 1, 1], bold=(0, 1), right=(3, 4))
