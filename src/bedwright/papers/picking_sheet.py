"""What is picked when: crop by crop, week by week."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.care import PickingWeek
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Standing
from bedwright.papers import parts
from bedwright.papers.drawing import FINE_MM, HAIR_MM, Drawing
from bedwright.papers.letters import text_width_mm
from bedwright.papers.measures import Measures, month_words
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame, room_mm
from bedwright.papers.standings import standing_words
from bedwright.papers.week_axis import week_axis

_NAME_MM, _SUM_MM, _ROW_MM = 34.0, 34.0, 4.6
_HEAD_MM = 6.0
_FIRST_PAGE_HEAD_MM, _NEXT_PAGE_HEAD_MM = 80.0, 14.0
"""Taken by heading, words and plot of the sums above the rows."""
_YIELDS = ("yield_kg_per_plant", "yield_kg_per_m_row")


def picking_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The sheet of picking for `parts.typ`."""
    measures = Measures(units)
    weeks = () if plan.care is None else plan.care.picking
    body: list[Part] = [parts.heading("Picking, crop by crop", 1)]
    if not weeks:
        body.append(parts.text("Nothing to pick is planned, or no yield is known."))
    else:
        width, height = room_mm(paper, wide=False)
        body.append(parts.text(_words(weeks, measures)))
        body.append(parts.picture(_total_chart(weeks, measures, width)))
        standings = _standings(plan)
        crops = sorted({week.crop for week in weeks}, key=lambda crop: (_first(weeks, crop), crop))
        n_rows = int((height - _FIRST_PAGE_HEAD_MM) // _ROW_MM)
        while crops:
            chunk, crops = crops[:n_rows], crops[n_rows:]
            body.append(parts.picture(_crop_chart(weeks, chunk, standings, measures, width)))
            n_rows = int((height - _NEXT_PAGE_HEAD_MM) // _ROW_MM)
    if plan.care is not None and plan.care.picking_unknown:
        body.append(parts.small(f"Not drawn, yield not known: {', '.join(plan.care.picking_unknown)}."))
    return parts.paper(parts.page(frame(plan, paper, "Picking", "H2"), body))


def _words(weeks: Sequence[PickingWeek], measures: Measures) -> str:
    total = sum(week.kg for week in weeks)
    return (
        f"About {measures.mass(total)} in an ordinary year in which all plants live, spread evenly from "
        "first to last pick of "
        "each planting: a picture of when hands and crates are wanted, no promise. Each row is drawn to its "
        "own best week, "
        "which is named at the right."
    )


def _first(weeks: Sequence[PickingWeek], crop: str) -> date:
    return min(week.week for week in weeks if week.crop == crop)


def _standings(plan: SeasonPlan) -> Mapping[str, Standing]:
    """How well the yield of each crop stands."""
    return {
        p.crop.name: fact.standing
        for p in plan.plantings
        for fact in p.crop.facts
        if fact.used and fact.quantity in _YIELDS
    }


def _mondays(weeks: Sequence[PickingWeek]) -> list[date]:
    first, last = min(w.week for w in weeks), max(w.week for w in weeks)
    return [first + timedelta(weeks=k) for k in range((last - first).days // 7 + 1)]


def _total_chart(weeks: Sequence[PickingWeek], measures: Measures, width_mm: float) -> Drawing:
    mondays = _mondays(weeks)
    factor = measures.kg_factor
    sums = dict.fromkeys(mondays, 0.0)
    for week in weeks:
        sums[week.week] += week.kg * factor
    axis = week_axis(mondays, max(sums.values()), "lb" if measures.us else "kg", (width_mm, 44.0))
    for monday, total in sums.items():
        axis.column(monday, 0.0, total, fill="grey 68")
    axis.drawing.text(22.0, 3.0, "all crops, a week")
    return axis.drawing


def _crop_chart(
    weeks: Sequence[PickingWeek],
    crops: Sequence[str],
    standings: Mapping[str, Standing],
    measures: Measures,
    width_mm: float,
) -> Drawing:
    """A row of columns for each crop under one scale of weeks."""
    mondays = _mondays(weeks)
    drawing = Drawing(width_mm, _HEAD_MM + _ROW_MM * len(crops) + 1.0)
    step = (width_mm - _NAME_MM - _SUM_MM) / len(mondays)
    place = {monday: _NAME_MM + k * step for k, monday in enumerate(mondays)}
    _months(drawing, mondays, place)
    for k, crop in enumerate(crops):
        foot = _HEAD_MM + (k + 1) * _ROW_MM
        mine = {week.week: week.kg for week in weeks if week.crop == crop}
        best = max(mine.values())
        drawing.path([(0.0, foot), (width_mm, foot)], HAIR_MM, grey=55)
        drawing.text(0.0, foot - 1.9, crop, bold=True)
        for monday, kg in mine.items():
            top = foot - (_ROW_MM - 1.0) * kg / best
            x = place[monday]
            drawing.path([(x + 0.2, foot), (x + 0.2, top), (x + step - 0.2, top), (x + step - 0.2, foot)],
                         HAIR_MM, closed=True, fill="grey 68")  # fmt: skip
        mark = standing_words(standings.get(crop, "read"))
        mark = "" if mark == "derived" else mark.split(",")[0]
        told = f"{measures.mass(sum(mine.values()))}, best {measures.mass(best)}"
        drawing.text(width_mm - _SUM_MM + 1.5, foot - 1.9, told)
        if mark:
            drawing.text(_NAME_MM - 1.5, foot - 1.9, _short_mark(mark), align="right", italic=True)
    return drawing


def _short_mark(mark: str) -> str:
    return {"common practice": "practice", "weak source": "weak"}.get(mark, mark)


def _months(drawing: Drawing, mondays: Sequence[date], place: Mapping[date, float]) -> None:
    firsts = [day for k, day in enumerate(mondays) if k == 0 or day.month != mondays[k - 1].month]
    ends = [*(place[day] for day in firsts[1:]), drawing.width_mm - _SUM_MM]
    for day, end in zip(firsts, ends, strict=True):
        x, words = place[day], month_words(day.month)
        drawing.path([(x, 1.0), (x, drawing.height_mm - 1.0)], FINE_MM, grey=70)
        if x + 1.6 + text_width_mm(words, 7) <= end:
            drawing.text(x + 0.8, 3.0, words)
