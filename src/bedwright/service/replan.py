"""From an earlier season and what happened to a new season with its papers."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from bedwright.engine.pipeline import plan_again
from bedwright.engine.placement.changes import EventRefusedError, begun_before
from bedwright.model.book import GardenBook
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    BedOpened,
    Event,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.progress import Progress
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers import Measures
from bedwright.service.folder import refuse_foreign_folder
from bedwright.service.load import load
from bedwright.service.make_season import (
    PaperChoice,
    nearest_hint,
    open_season,
    write_season,
)

AS_THE_BOOK_SAYS = PaperChoice()


@dataclass(frozen=True, slots=True)
class Happened:
    """What happened, as a person tells it: by codes of beds, rows, plantings, wishes and crops."""

    lost_beds: tuple[str, ...] = ()
    closed_beds: tuple[str, ...] = ()
    opened_beds: tuple[str, ...] = ()
    failed: tuple[str, ...] = ()
    """Codes of a row or planting."""
    late_weeks: Mapping[str, float] = field(default_factory=dict)
    """Code of a row or planting to weeks."""
    not_delivered: Mapping[str, date | None] = field(default_factory=dict)
    """Crop, wish or planting to the day it comes; None: not this season."""
    hours_share: float | None = None


def events_of(plan: SeasonPlan, happened: Happened, *, today: date) -> tuple[Event, ...]:
    """The events behind what a person tells.

    Raises
    ------
    BadDocumentError
        With every code that names nothing in the plan.
    """
    found: list[Event] = []
    problems: list[Problem] = []

    def plantings(told: str, option: str, known: Mapping[str, tuple[Planting, ...]]) -> Iterator[str]:
        named = known.get(told.strip().casefold())
        if named:
            yield from (planting.code for planting in named)
        else:
            begun = told.strip().casefold() in {one.crop.name.casefold() for one in plan.plantings}
            hint = (
                "All of it is sown or bought for by then: name the code of a row that is to be put back."
                if begun
                else nearest_hint(told, known)
            )
            problems.append(Problem("what happened", None, None, option, told, "a code of this season", hint))

    found += [BedLost(code) for code in happened.lost_beds]
    found += [BedClosed(code) for code in happened.closed_beds]
    found += [BedOpened(code) for code in happened.opened_beds]
    codes, names = _by_code(plan), _by_name(plan, today)
    for told in happened.failed:
        found += [PlantingFailed(code) for code in plantings(told, "failed", codes)]
    for told, weeks in happened.late_weeks.items():
        found += [PlantingLate(code, weeks) for code in plantings(told, "late", codes)]
    for told, until in happened.not_delivered.items():
        found += [NotDelivered(code, until) for code in plantings(told, "not delivered", names)]
    if happened.hours_share is not None:
        found.append(HoursChanged(happened.hours_share))
    if problems:
        raise BadDocumentError(tuple(problems))
    return tuple(dict.fromkeys(found))


def _by_code(plan: SeasonPlan) -> dict[str, tuple[Planting, ...]]:
    found: dict[str, tuple[Planting, ...]] = {}
    for planting in plan.plantings:
        found[planting.code.casefold()] = (planting,)
        found.update({row.code.casefold(): (planting,) for row in planting.rows})
    return found


def _by_name(plan: SeasonPlan, today: date) -> dict[str, tuple[Planting, ...]]:
    """Plantings not begun yet by crop, wish and own code; a code of its own names any."""
    found: dict[str, tuple[Planting, ...]] = {}
    for planting in plan.plantings:
        if not begun_before(planting, today):
            for name in dict.fromkeys((planting.crop.name.casefold(), planting.wish_code.casefold())):
                found[name] = (*found.get(name, ()), planting)
    return _by_code(plan) | found


def remake_season(
    season: Path,
    book_file: Path,
    folder: Path,
    happened: Happened,
    *,
    today: date,
    weather_file: Path | None = None,
    choice: PaperChoice = AS_THE_BOOK_SAYS,
    progress: Callable[[Progress], None] = lambda _: None,
) -> SeasonPlan:
    """Make a season again after something happened and write all of its files.

    Parameters
    ----------
    season
        Folder of the earlier season.
    book_file
        The garden book as it is now.
    folder
        Where the new season goes; new, empty or an earlier season, which is replaced.
    happened
        What happened.
    today
        What went into the ground before it stands.
    weather_file
        Used in place of the record that the book names.
    choice
        Paper size, units and labels, where they differ from the book's.
    progress
        Called as work goes on.

    Raises
    ------
    BadDocumentError
        If season, book, weather, folder or what happened cannot be used; nothing is written then.
    """
    refuse_foreign_folder(folder.absolute())
    old = open_season(season)
    loaded = load(book_file, weather_file)
    _refuse_another_season(old, loaded.book, book_file)
    events = events_of(old, happened, today=today)
    try:
        plan = plan_again(
            old, loaded.book, loaded.record, loaded.catalogue, events, today=today, progress=progress
        )
    except EventRefusedError as error:
        raise BadDocumentError(
            tuple(
                Problem("what happened", None, None, "events", line.rstrip("."), "what can be")
                for line in str(error).splitlines()
            )
        ) from error
    write_season(plan, folder, choice=choice, progress=progress)
    return plan


def _refuse_another_season(plan: SeasonPlan, book: GardenBook, book_file: Path) -> None:
    """A plan is made again within its season: what it holds would be taken for next year's."""
    if not plan.is_of(book):
        raise BadDocumentError(
            (
                Problem(
                    str(book_file),
                    None,
                    None,
                    "season.start",
                    str(book.season_start),
                    f"a day of the season that is made again, which began {plan.book.season_start}",
                    "For another year ask `bedwright carry` what goes into its book, and plan that anew.",
                ),
            )
        )


def changes_text(plan: SeasonPlan) -> str:
    """What happened and what is different since, as lines to print."""
    lines = [*plan.happened, ""] if plan.happened else []
    if not plan.changes:
        return "\n".join((*lines, "Nothing in the plan changes.")) + "\n"
    n = len(plan.changes)
    lines.append(f"{n} change{'' if n == 1 else 's'}:")
    measures = Measures(plan.book.site.units)
    lines += [measures.alone(f"  {one.text} {one.why}".rstrip()) for one in plan.changes]
    return "\n".join(lines) + "\n"
