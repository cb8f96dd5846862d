"""The season plan that a command of the season works from: kept in a folder, or made now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from bedwright.engine.pipeline import revision_of
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.service.load import Loaded, load
from bedwright.service.make_season import DEFAULT_SEED, open_season, plan_loaded


@dataclass(frozen=True, slots=True)
class AtHand:
    """A season plan with the book and record it was made from, where they were read."""

    plan: SeasonPlan
    loaded: Loaded | None
    notes: tuple[str, ...]
    """What the reader should know of where the plan comes from."""


def plan_at_hand(
    book_file: Path | None,
    season: Path | None,
    *,
    today: date,
    weather_file: Path | None = None,
    with_book: bool = False,
    progress: Callable[[Progress], None] = lambda _: None,
) -> AtHand:
    """The plan kept in a season's folder; without one, the plan of the book.

    Parameters
    ----------
    book_file
        The garden book; may be None where `season` is given and `with_book` is False.
    season
        Folder of a season, which is read at once; None: the book is planned.
    today
        A plan made here is made as of the first day of the season, or of today if that is
        earlier, so that what has been planted by now is in it.
    weather_file
        Used in place of the record that the book names.
    with_book
        Whether book and record are wanted beside a plan that is kept.
    progress
        Called as work goes on.

    Raises
    ------
    BadDocumentError
        If book, weather or season cannot be read.
    """
    kept = None if season is None else open_season(season)
    loaded = load(book_file, weather_file) if book_file is not None and (with_book or kept is None) else None
    if kept is not None:
        return AtHand(kept, loaded, _of_another_state(kept, loaded))
    if loaded is None:
        raise ValueError("neither a garden book nor a season is given")
    as_of = min(today, loaded.book.season_start)
    plan = plan_loaded(loaded, today=as_of, seed=DEFAULT_SEED, progress=progress)
    note = (
        f"Planned now, as of {as_of.isoformat()}, revision {plan.revision}. With --season DIR the plan you "
        "have "
        "printed is used, and the answer comes at once."
    )
    return AtHand(plan, loaded, (note,))


def _of_another_state(plan: SeasonPlan, loaded: Loaded | None) -> tuple[str, ...]:
    if loaded is None:
        return ()
    now = revision_of(loaded.book, loaded.record, loaded.catalogue, plan.seed, plan.made_on)
    if now == plan.revision:
        return ()
    return (
        (
            f"The season's plan, revision {plan.revision}, was made from another state of the garden book or "
            "its "
            "weather record: make it again with bedwright plan if that was not meant."
        ),
    )
