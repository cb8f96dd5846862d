"""A preparation sheet for each bed: what to clear, what to spread, when."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from bedwright.model.book import Bed, PaperSize, UnitSystem
from bedwright.model.season import Planting, SeasonPlan, Task
from bedwright.model.soil import BedFeeding
from bedwright.papers import parts
from bedwright.papers.cautions import UTILITIES
from bedwright.papers.feeding_sheet import barrow_words, use_words
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import Measures, hours_words, later_day, span_words
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame

_KIND = "prepare"


def preparation_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The preparation sheets for `parts.typ`, the bed that is first to be prepared first."""
    measures = Measures(units)
    tasks = [task for task in plan.tasks if task.kind == _KIND]
    beds = [(min(t.start for t in mine), bed, mine) for bed in plan.book.beds if (mine := _of(bed, tasks))]
    sheets = [_sheet(plan, bed, mine, measures) for _, bed, mine in sorted(beds, key=lambda each: each[0])]
    body = [
        parts.heading("Preparing the beds", 1),
        parts.text(
            "One frame a bed, in the order in which the first row is wanted. Cut them out, or take the page "
            "along. "
            "What a bed gets it gets once, before its first planting; later crops want clearing and raking "
            "only."
        ),
        parts.caution("Caution.", UTILITIES.text, UTILITIES.source),
        *(sheets or [parts.text("No bed is to be prepared.")]),
    ]
    return parts.paper(parts.page(frame(plan, paper, "Preparation sheets", "P"), body))


def _of(bed: Bed, tasks: Sequence[Task]) -> list[Task]:
    return sorted((t for t in tasks if t.bed_code == bed.code), key=lambda t: (t.start, t.code))


def _sheet(plan: SeasonPlan, bed: Bed, tasks: Sequence[Task], measures: Measures) -> Part:
    plantings = {p.code: p for p in plan.plantings}
    fed = (
        next((one for one in plan.care.feeding.beds if one.bed_code == bed.code), None) if plan.care else None
    )
    rows = [_row(task, plantings[task.planting_code], plan, measures) for task in tasks if task.planting_code]
    title = bed_words(bed) + (
        f" ({bed.use})" if bed.use and bed.use.casefold() != bed.name.casefold() else ""
    )
    return parts.framed(
        parts.heading(title),
        parts.text(_first_words(plan, bed, tasks[0].start)),
        *_materials(fed, measures),
        parts.ruled_table(
            ["Prepare", "For", "Crop", "Ground from the peg", "Stands there until", "Plant from", "Hours",
             "Done"],
            rows, [0, 0, 1.0, 1.0, 1.0, 0, 0, 0], bold=(0, 1), size_pt=7.5,
        ),
    )  # fmt: skip


def _first_words(plan: SeasonPlan, bed: Bed, day: date) -> str:
    last_year = sorted(
        (entry for entry in plan.book.history if entry.bed_code == bed.code), key=lambda e: e.year
    )
    start = later_day(day, plan.book.season_start)
    told = f"Clear what is left of last season, weeds roots and all, by {start}."
    if last_year:
        stood = last_year[-1]
        told += f" Stood here in {stood.year}: {', '.join(stood.crops or stood.families)}."
    return told


def _materials(fed: BedFeeding | None, measures: Measures) -> list[Part]:
    if fed is None:
        return []
    lines = [
        ", ".join(word for word in (use_words(use, measures), barrow_words(use)) if word)
        + (", from the shed" if use.from_stock else ", to buy")
        for use in fed.uses
    ]
    if not lines:
        lines = ["Nothing to spread: the soil test asks for nothing."]
    if not fed.tested:
        lines.append("No soil test: no lime, no fertiliser before one.")
    return [parts.bullets(lines, ticks=True)]


def _row(task: Task, planting: Planting, plan: SeasonPlan, measures: Measures) -> list[str]:
    low, high = planting.along_m
    before = _before(planting, plan)
    return [
        span_words(task.start, task.end),
        planting.label_code,
        planting.crop.name,
        f"{measures.place(low)} to {measures.place(high)}",
        f"{before.crop.name}, {later_day(before.dates.clear_by, plan.book.season_start)}" if before else "",
        later_day(planting.dates.in_ground, plan.book.season_start),
        _hours(plan, task),
        "",
    ]


def _hours(plan: SeasonPlan, task: Task) -> str:
    if plan.care is None:
        return ""
    likely_h = sum(s.hours.likely_h for s in plan.care.hours.shares if s.task_code == task.code)
    return hours_words(likely_h) if likely_h >= 0.05 else ""


def _before(planting: Planting, plan: SeasonPlan) -> Planting | None:
    """The last crop on any of the same ground before it goes in."""
    earlier = [
        other
        for other in plan.in_bed(planting.bed_code)
        if other.dates.clear_by < planting.dates.in_ground
        and min(other.along_m[1], planting.along_m[1]) - max(other.along_m[0], planting.along_m[0]) > 1e-6
        and min(other.across_m[1], planting.across_m[1]) - max(other.across_m[0], planting.across_m[0]) > 1e-6
    ]
    return max(earlier, key=lambda other: other.dates.clear_by, default=None)
