"""Papers of a plan, set when first asked for and kept beside the database."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Collection
from hashlib import sha256
from pathlib import Path
from typing import get_args

from django.conf import settings

from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.papers import PAPER_NAMES, PaperName, bed_sheet_bytes, default_label_sheet, write_papers
from bedwright.papers.tables import TABLES

_LINKED: PaperName = "labels"
"""The paper whose codes may hold addresses."""
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


def paper_file(
    saved: SavedPlan, file: str, paper: PaperSize, units: UnitSystem, link_base: str | None = None
) -> Path | None:
    """A paper of a plan that is done; None where the plan has no such paper.

    Parameters
    ----------
    saved
        A finished plan.
    file
        A key of `FILES`.
    paper, units
        Page size and units.
    link_base
        What comes before a row's code in the addresses on labels; None: labels hold codes alone.
    """
    linked = link_base if FILES[file] == _LINKED else None
    folder = _folder(saved, paper, units, linked)
    path = folder / file
    if not path.is_file():
        _set(saved, folder, paper, units, {FILES[file]}, linked)
    return path if path.is_file() else None


def all_papers(
    saved: SavedPlan, paper: PaperSize, units: UnitSystem, link_base: str | None = None
) -> list[Path]:
    """Every paper of a plan; `link_base` as for `paper_file`."""
    folder = _folder(saved, paper, units)
    missing = {
        name
        for file, name in FILES.items()
        if not (folder / file).is_file() and (name != _LINKED or link_base is None)
    }
    if missing:
        _set(saved, folder, paper, units, missing)
    paths = [
        folder / file
        for file, name in FILES.items()
        if (folder / file).is_file() and (name != _LINKED or link_base is None)
    ]
    labels = None if link_base is None else paper_file(saved, f"{_LINKED}.pdf", paper, units, link_base)
    return paths if labels is None else [*paths, labels]


def bed_sheet(saved: SavedPlan, bed_code: str, paper: PaperSize, units: UnitSystem) -> bytes:
    """The sheet of one planted bed."""
    return bed_sheet_bytes(plan_of(saved), bed_code, paper=paper, units=units)


def _folder(saved: SavedPlan, paper: PaperSize, units: UnitSystem, link_base: str | None = None) -> Path:
    # Labels with other addresses are other papers: new links must never bring out old ones.
    tail = "" if link_base is None else f"-{sha256(link_base.encode()).hexdigest()[:16]}"
    return Path(settings.MADE_PAPERS) / str(saved.pk) / f"{paper}-{units}{tail}"


def _set(
    saved: SavedPlan,
    folder: Path,
    paper: PaperSize,
    units: UnitSystem,
    names: Collection[PaperName],
    link_base: str | None = None,
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
            link_base=link_base,
        )
        for path in written:
            shutil.move(path, folder / path.name)
