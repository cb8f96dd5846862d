"""Writes the papers of a season plan into a folder."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from pathlib import Path
from typing import Any, Literal, get_args

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.papers.bed_sheets import bed_sheets_data
from bedwright.papers.calendar_file import calendar_bytes
from bedwright.papers.cards import cards_data
from bedwright.papers.climate_pages import climate_data
from bedwright.papers.label_sheets import label_sheet_named
from bedwright.papers.labels import labels_data
from bedwright.papers.order_list import order_list_data
from bedwright.papers.planting_plan import planting_plan_data
from bedwright.papers.sources_pages import sources_data
from bedwright.papers.tables import TABLES
from bedwright.papers.typesetting import typeset
from bedwright.papers.week_list import week_list_data

PaperName = Literal[
    "planting-plan", "bed-sheets", "labels", "cards", "calendar", "week-list", "order-list", "climate",
    "sources", "tables",
]  # fmt: skip
PAPER_NAMES: tuple[PaperName, ...] = get_args(PaperName)
Progress = Callable[[str, int, int], None]
"""Told the file just written, how many are done, how many there are."""

_PAGES: dict[PaperName, Callable[[SeasonPlan, PaperSize, UnitSystem], dict[str, Any]]] = {
    "planting-plan": planting_plan_data,
    "bed-sheets": bed_sheets_data,
    "cards": cards_data,
    "week-list": week_list_data,
    "order-list": order_list_data,
    "sources": sources_data,
}


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
        Papers wanted; None for all. `"climate"` is left out where the plan has no record.
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
    wanted = [name for name in PAPER_NAMES if only is None or name in only]

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
            jobs += [(file, _table_job(plan, file, units)) for file in TABLES]
    written = []
    for k, (file, make) in enumerate(jobs, start=1):
        path = folder / file
        path.write_bytes(make())
        written.append(path)
        if progress is not None:
            progress(file, k, len(jobs))
    return tuple(written)


def _page_job(plan: SeasonPlan, name: PaperName, paper: PaperSize, units: UnitSystem) -> Callable[[], bytes]:
    return lambda: typeset(name, _PAGES[name](plan, paper, units), plan.made_on)


def _table_job(plan: SeasonPlan, file: str, units: UnitSystem) -> Callable[[], bytes]:
    return lambda: TABLES[file](plan, units)
