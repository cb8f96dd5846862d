"""Writes the papers of a season plan into a folder."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from pathlib import Path
from typing import Any, Literal, get_args

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.model.work import WeekList
from bedwright.papers.bed_sheets import bed_sheets_data
from bedwright.papers.calendar_file import calendar_bytes
from bedwright.papers.cards import cards_data
from bedwright.papers.changes_sheet import changes_data
from bedwright.papers.climate_pages import climate_data
from bedwright.papers.feeding_sheet import feeding_data
from bedwright.papers.hours_sheet import hours_data
from bedwright.papers.label_sheets import label_sheet_named
from bedwright.papers.labels import labels_data
from bedwright.papers.order_list import order_list_data
from bedwright.papers.picking_sheet import picking_data
from bedwright.papers.planting_plan import planting_plan_data
from bedwright.papers.preparation_sheet import preparation_data
from bedwright.papers.safety_sheet import safety_data
from bedwright.papers.sources_pages import sources_data
from bedwright.papers.tables import TABLES, tables_of
from bedwright.papers.typesetting import typeset
from bedwright.papers.water_sheet import water_data
from bedwright.papers.week_list import one_or_more_weeks, week_list_data
from bedwright.papers.workday_pack import PackInput, workday_pack_data

PaperName = Literal[
    "planting-plan", "bed-sheets", "labels", "cards", "calendar", "preparation", "week-list", "hours",
    "water", "feeding", "picking", "order-list", "safety", "climate", "changes", "sources", "tables",
]  # fmt: skip
PAPER_NAMES: tuple[PaperName, ...] = get_args(PaperName)
Progress = Callable[[str, int, int], None]
"""Told the file just written, how many are done, how many there are."""

_Data = Callable[[SeasonPlan, PaperSize, UnitSystem], dict[str, Any]]
_PAGES: dict[PaperName, tuple[str, _Data]] = {
    "planting-plan": ("planting-plan", planting_plan_data),
    "bed-sheets": ("bed-sheets", bed_sheets_data),
    "cards": ("cards", cards_data),
    "preparation": ("parts", preparation_data),
    "week-list": ("week-list", week_list_data),
    "hours": ("parts", hours_data),
    "water": ("parts", water_data),
    "feeding": ("parts", feeding_data),
    "picking": ("parts", picking_data),
    "order-list": ("parts", order_list_data),
    "safety": ("parts", safety_data),
    "changes": ("parts", changes_data),
    "sources": ("sources", sources_data),
}
"""Template and maker of each paper."""
_OF_CARE: frozenset[PaperName] = frozenset({"preparation", "hours", "water", "feeding", "picking", "safety"})
"""Papers of what the plan asks for: left out where a plan stops at places and dates."""


def papers_of(plan: SeasonPlan) -> tuple[PaperName, ...]:
    """Papers there are for a plan.

    One that stops at places and dates asks for no care, and one made from the book alone has
    nothing before it to differ from.
    """
    again = bool(plan.happened or plan.changes)
    return tuple(
        name
        for name in PAPER_NAMES
        if (plan.care is not None or name not in _OF_CARE) and (again or name != "changes")
    )


def write_papers(
    plan: SeasonPlan,
    folder: Path,
    *,
    paper: PaperSize,
    units: UnitSystem,
    label_sheet: str,
    every_row: bool = False,
    only: Collection[PaperName] | None = None,
    label_codes: Sequence[str] = (),
    link_base: str | None = None,
    progress: Progress | None = None,
) -> tuple[Path, ...]:
    """Write papers of a season plan.

    The files are a function of the arguments alone: the same plan gives the same bytes.

    Parameters
    ----------
    plan
        Season plan.
    folder
        Existing folder; files of the same names in it are replaced.
    paper
        Page size of all papers but the labels, whose sheet names its own.
    units
        System of units on the papers and in the tables.
    label_sheet
        Name of a label sheet, a key of `LABEL_SHEETS`.
    every_row
        A label for each row instead of one for each planting.
    only
        Papers wanted; None for all. `"climate"` is left out where the plan has no record, papers
        of water, feeding, hours and safety where it stops at places and dates.
    label_codes
        Row or planting codes whose labels alone are printed; empty for all.
    link_base
        What comes before a row's code in the address that scanning its label opens; None:
        scanning gives the codes alone.
    progress
        Called after each file.

    Returns
    -------
    tuple of Path
        Files written, in the order written.

    Raises
    ------
    ValueError
        If the label sheet, a paper or a label code is not known; nothing is written then.
    FileNotFoundError
        If the folder does not exist.
    """
    if only is not None and (unknown := sorted(set(only) - set(PAPER_NAMES))):
        raise ValueError(f"no paper is called {', '.join(unknown)}; there are: {', '.join(PAPER_NAMES)}")
    if not folder.is_dir():
        raise FileNotFoundError(f"no folder {folder}")
    sheet = label_sheet_named(label_sheet)
    wanted = [name for name in papers_of(plan) if only is None or name in only]

    def pages(name: PaperName, data: dict[str, Any]) -> tuple[str, Callable[[], bytes]]:
        return f"{name}.pdf", lambda: typeset(name, data, plan.made_on)

    jobs: list[tuple[str, Callable[[], bytes]]] = []
    for name in wanted:
        if name in _PAGES:
            jobs.append((f"{name}.pdf", _page_job(plan, name, paper, units)))
        elif name == "labels":
            labels = labels_data(plan, sheet, every_row=every_row, codes=label_codes, link_base=link_base)
            jobs.append(pages(name, labels))
        elif name == "climate" and plan.climate is not None:
            jobs.append(pages(name, climate_data(plan, plan.climate, paper, units)))
        elif name == "calendar":
            jobs.append(("calendar.ics", lambda: calendar_bytes(plan)))
        elif name == "tables":
            jobs += [(file, _table_job(plan, file, units)) for file in tables_of(plan)]
    written = []
    for k, (file, make) in enumerate(jobs, start=1):
        path = folder / file
        path.write_bytes(make())
        written.append(path)
        if progress is not None:
            progress(file, k, len(jobs))
    return tuple(written)


def _page_job(plan: SeasonPlan, name: PaperName, paper: PaperSize, units: UnitSystem) -> Callable[[], bytes]:
    template, make = _PAGES[name]
    return lambda: typeset(template, make(plan, paper, units), plan.made_on)


def _table_job(plan: SeasonPlan, file: str, units: UnitSystem) -> Callable[[], bytes]:
    return lambda: TABLES[file](plan, units)


def bed_sheet_bytes(plan: SeasonPlan, bed_code: str, *, paper: PaperSize, units: UnitSystem) -> bytes:
    """The sheet of one planted bed as PDF."""
    return typeset("bed-sheets", bed_sheets_data(plan, paper, units, bed_code), plan.made_on)


def pack_bytes(plan: SeasonPlan, pack: PackInput, *, paper: PaperSize, units: UnitSystem) -> bytes:
    """The pack of one workday as PDF."""
    return typeset("parts", workday_pack_data(plan, pack, paper, units), plan.made_on)


def weeks_bytes(plan: SeasonPlan, weeks: Sequence[WeekList], *, paper: PaperSize, units: UnitSystem) -> bytes:
    """The list of some weeks as PDF."""
    return typeset("week-list", one_or_more_weeks(plan, weeks, paper, units), plan.made_on)
