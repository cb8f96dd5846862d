"""Papers of a plan, set when first asked for and kept beside the database."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Collection
from pathlib import Path
from typing import get_args

from django.conf import settings

from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.papers import PAPER_NAMES, PaperName, default_label_sheet, write_papers
from bedwright.papers.tables import TABLES

_TABLE_FILES: dict[str, PaperName] = dict.fromkeys(TABLES, "tables")
FILES: dict[str, PaperName] = {
    **{f"{name}.pdf": name for name in PAPER_NAMES if name not in {"calendar", "tables"}},
    "calendar.ics": "calendar",
    **_TABLE_FILES,
}
"""Every file that can be asked for, and the paper it belongs to."""

TYPES = {
    ".pdf": "application/pdf",
    ".csv": "text/csv; charset=utf-8",
    ".ics": "text/calendar; charset=utf-8",
}
"""What each ending is told to be."""
SIZES: tuple[PaperSize, ...] = get_args(PaperSize)
SYSTEMS: tuple[UnitSystem, ...] = get_args(UnitSystem)


def paper_file(saved: SavedPlan, file: str, paper: PaperSize, units: UnitSystem) -> Path | None:
    """A paper of a plan that is done; None where the plan has no such paper.

    Parameters
    ----------
    saved
        A finished plan.
    file
        A key of `FILES`.
    paper, units
        Page size and units.
    """
    folder = _folder(saved, paper, units)
    path = folder / file
    if not path.is_file():
        _set(saved, folder, paper, units, {FILES[file]})
    return path if path.is_file() else None


def all_papers(saved: SavedPlan, paper: PaperSize, units: UnitSystem) -> list[Path]:
    """Every paper of a plan."""
    folder = _folder(saved, paper, units)
    missing = {name for file, name in FILES.items() if not (folder / file).is_file()}
    if missing:
        _set(saved, folder, paper, units, missing)
    return [folder / file for file in FILES if (folder / file).is_file()]


def _folder(saved: SavedPlan, paper: PaperSize, units: UnitSystem) -> Path:
    return Path(settings.MADE_PAPERS) / str(saved.pk) / f"{paper}-{units}"


def _set(
    saved: SavedPlan, folder: Path, paper: PaperSize, units: UnitSystem, names: Collection[PaperName]
) -> None:
    """Set papers aside and move them in whole, so that nobody gets half of one."""
    folder.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=folder.parent, prefix=".setting-") as work:
        written = write_papers(
            plan_of(saved),
            Path(work),
            paper=paper,
            units=units,
            label_sheet=default_label_sheet(paper).name,
            only=names,
        )
        for path in written:
            shutil.move(path, folder / path.name)
