"""From a garden book to a folder with the season plan and its papers."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from dataclasses import dataclass
from datetime import date
from difflib import get_close_matches
from pathlib import Path

from bedwright.engine.pipeline import plan_season
from bedwright.engine.placement import PinRefusedError
from bedwright.model.book import GardenBook, PaperSize, UnitSystem
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.papers import default_label_sheet, pack_bytes, write_papers
from bedwright.service.folder import MARK, refuse_foreign_folder, whole_folder
from bedwright.service.load import Loaded, load
from bedwright.service.workday import planned_packs
from bedwright.store.season import read_season, season_json

DEFAULT_SEED = 1


@dataclass(frozen=True, slots=True)
class PaperChoice:
    """How papers are to look; None follows the book."""

    paper: PaperSize | None = None
    units: UnitSystem | None = None
    label_sheet: str | None = None
    every_row: bool = False
    labels: tuple[str, ...] = ()
    """Codes of labels to print; empty for all."""


def make_season(
    book_file: Path,
    folder: Path,
    *,
    today: date,
    seed: int = DEFAULT_SEED,
    weather_file: Path | None = None,
    choice: PaperChoice = PaperChoice(),
    progress: Callable[[Progress], None] = lambda _: None,
    stop: Callable[[], bool] | None = None,
    resume: bool = False,
    after: Path | None = None,
) -> SeasonPlan:
    """Plan a season and write all of its files; the folder appears whole or not at all.

    Parameters
    ----------
    book_file
        The garden book.
    folder
        Where the season goes; new, empty, or an earlier season, which is replaced.
    today
        No task is planned before it.
    seed
        Seed of the search for places.
    weather_file
        Used in place of the record that the book names.
    choice
        Paper size, units and labels, where they differ from the book's.
    progress
        Called as work goes on.
    stop
        Asked while places are sought: once it says True, the best plan so far is finished and
        written.
    resume
        Search on from the season that the folder holds.
    after
        Folder of the season before: what still stands of it keeps its ground.

    Raises
    ------
    BadDocumentError
        If book, weather or folder cannot be used; nothing is written then.
    """
    refuse_foreign_folder(folder.absolute())
    start = open_season(folder) if resume else None
    before = None if after is None else open_season(after)
    loaded = load(book_file, weather_file)
    if start is not None and before is None:
        _refuse_to_forget(start, folder)
    if before is not None and after is not None:
        _refuse_later(before, after, loaded.book)
    plan = plan_loaded(
        loaded, today=today, seed=seed, progress=progress, stop=stop, start=start, after=before
    )
    write_season(plan, folder, choice=choice, progress=progress)
    return plan


def _refuse_to_forget(start: SeasonPlan, folder: Path) -> None:
    """Searching on from a plan with plantings of the season before needs that season again."""
    first = start.book.season_start
    if any(planting.dates.in_ground < first for planting in start.plantings):
        got = "a season in which plantings of the season before stand"
        hint = "Give the folder of the season before as well: --after DIR"
        raise BadDocumentError((Problem(str(folder), None, None, "--resume", got, "--after too", hint),))


def _refuse_later(before: SeasonPlan, folder: Path, book: GardenBook) -> None:
    """The season before that of a book begins before it."""
    first, last = before.book.season_start, book.season_start
    if first >= last:
        expected = f"a season that begins before {last.isoformat()}"
        problem = Problem(str(folder), None, None, "--after", f"one from {first.isoformat()}", expected)
        raise BadDocumentError((problem,))


def write_season(
    plan: SeasonPlan, folder: Path, *, choice: PaperChoice, progress: Callable[[Progress], None]
) -> None:
    """Write all files of a season plan; the folder appears whole or not at all.

    Raises
    ------
    BadDocumentError
        If the folder holds something else, or a label is not known; nothing is written then.
    """
    refuse_foreign_folder(folder.absolute())
    refuse_unknown_labels(plan, choice.labels)
    with whole_folder(folder) as work:
        (work / MARK).write_text(season_json(plan), encoding="utf-8")
        print_papers(plan, work, choice, progress)


def plan_loaded(
    loaded: Loaded,
    *,
    today: date,
    seed: int,
    progress: Callable[[Progress], None],
    stop: Callable[[], bool] | None = None,
    start: SeasonPlan | None = None,
    after: SeasonPlan | None = None,
) -> SeasonPlan:
    """Plan a season from what has been read; `stop`, `start` and `after` as for `plan_season`.

    Raises
    ------
    BadDocumentError
        If a pin of the book names what no plan can keep, such as a day that is none of those
        worked out for its planting.
    """
    try:
        return plan_season(
            loaded.book,
            loaded.record,
            loaded.catalogue,
            seed=seed,
            today=today,
            progress=progress,
            stop=stop,
            start=start,
            after=after,
        )
    except PinRefusedError as error:
        raise BadDocumentError(
            tuple(
                Problem("garden book", None, None, "pins", line, "what can be kept this season")
                for line in str(error).splitlines()
            )
        ) from error


def refuse_unknown_labels(plan: SeasonPlan, codes: Collection[str]) -> None:
    """Raise BadDocumentError naming every label code that is no row or planting of the plan."""
    known = {row.code for planting in plan.plantings for row in planting.rows}
    known |= {planting.code for planting in plan.plantings}
    problems = [
        Problem(
            "labels", None, None, "label", code, "the code of a row or planting", nearest_hint(code, known)
        )
        for code in codes
        if code not in known
    ]
    if problems:
        raise BadDocumentError(tuple(problems))


def nearest_hint(code: str, known: Collection[str]) -> str:
    """Codes that look like one that is not known, as a sentence; empty where none does."""
    near = get_close_matches(code, sorted(known), n=3)
    return f"Nearest: {', '.join(near)}." if near else ""


def open_season(folder: Path) -> SeasonPlan:
    """Read the season plan of a folder written earlier.

    Raises
    ------
    BadDocumentError
        If there is no season plan in it, or one that cannot be read.
    """
    file = folder / MARK
    try:
        return read_season(file)
    except OSError as error:
        problem = Problem(
            str(file),
            None,
            None,
            "the file",
            error.strerror or "no access",
            "a season plan",
            "Make one with: bedwright plan BOOK --out DIR",
        )
        raise BadDocumentError((problem,)) from error


def print_papers(
    plan: SeasonPlan, folder: Path, choice: PaperChoice, progress: Callable[[Progress], None]
) -> tuple[Path, ...]:
    """Write a plan's papers into an existing folder."""
    site = plan.book.site
    paper = choice.paper or site.paper
    units = choice.units or site.units
    written = write_papers(
        plan,
        folder,
        paper=paper,
        units=units,
        label_sheet=choice.label_sheet or default_label_sheet(paper).name,
        every_row=choice.every_row,
        label_codes=choice.labels,
        progress=lambda file, done, total: progress(Progress("papers", f"{file} ({done} of {total})")),
    )
    return written + tuple(_packs(plan, folder, paper, units, progress))


def _packs(
    plan: SeasonPlan,
    folder: Path,
    paper: PaperSize,
    units: UnitSystem,
    progress: Callable[[Progress], None],
) -> Iterator[Path]:
    """A pack for every workday that the book plans."""
    for name, pack in planned_packs(plan):
        progress(Progress("papers", name))
        path = folder / name
        path.write_bytes(pack_bytes(plan, pack, paper=paper, units=units))
        yield path
