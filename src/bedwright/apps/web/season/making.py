"""Making a plan in the background: the task, its progress, its end."""

from __future__ import annotations

import gzip
import logging
import shutil
from collections.abc import Callable
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from django_tasks import task

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import BOOK_NAME
from bedwright.apps.web.log.reading import records_of
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.asking import AgainAsked, MoveAsked
from bedwright.apps.web.season.loading import book_folder
from bedwright.apps.web.season.models import OPEN_STATES, PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.service.drag import MoveRefusedError, keep_move, move_planting, ready
from bedwright.service.folder import MARK
from bedwright.service.load import Loaded, load
from bedwright.service.make_season import PaperChoice, plan_loaded, write_season
from bedwright.service.replan import events_of
from bedwright.service.replan_from_log import EventRefusedError, replan, what_is_left
from bedwright.service.season_log import season_as_logged

logger = logging.getLogger("bedwright.web")


class StoppedError(Exception):
    """Somebody asked for the plan not to be made after all."""


class Told:
    """Writes progress where the page reads it, and hears there that the work is to stop."""

    def __init__(self, plan: SavedPlan) -> None:
        self._plan_id = plan.pk
        self._last = ("", "")

    def __call__(self, progress: Progress) -> None:
        """Keep what is being worked on.

        Raises
        ------
        StoppedError
            If somebody asked for it.
        """
        now = (progress.stage, progress.text[:200])
        if now != self._last:
            self._last = now
            SavedPlan.objects.filter(pk=self._plan_id).update(stage=now[0], progress=now[1])
        if SavedPlan.objects.filter(pk=self._plan_id, stop_asked=False).exists():
            return
        raise StoppedError

    def enough(self) -> bool:
        """True once somebody wants the best that is found by now."""
        return SavedPlan.objects.filter(pk=self._plan_id, enough_asked=True).exists()


@transaction.atomic
def ask_for_plan(
    garden: Garden,
    person: User,
    *,
    today: Any,
    seed: int,
    name: str = "",
    kind: PlanKind = PlanKind.MADE,
    follows: SavedPlan | None = None,
    asked: dict[str, Any] | None = None,
) -> SavedPlan:
    """Put a plan of the newest revision into the queue; one that is open already is given back.

    Parameters
    ----------
    kind, follows, asked
        How it comes about, from which plan, and what it is made from beside the book.
    """
    Garden.objects.select_for_update().get(pk=garden.pk)
    wanted = {
        "revision": garden.head, "seed": seed, "today": today, "kind": kind, "follows": follows,
        "asked": asked or {},
    }  # fmt: skip
    waiting = garden.plans.filter(state__in=OPEN_STATES, **wanted).first()
    if waiting is not None:
        return waiting
    if garden.head is None:
        raise SavedPlan.DoesNotExist
    plan = SavedPlan.objects.create(garden=garden, asked_by=person, name=name, **wanted)
    # In the same transaction: a plan that nobody was told to make would wait for ever.
    make_plan.enqueue(plan.pk)
    return plan


@task()
def make_plan(plan_id: int) -> None:
    """Make a plan that was asked for, and keep whatever becomes of it."""
    started = SavedPlan.objects.filter(pk=plan_id, state__in=OPEN_STATES, stop_asked=False).update(
        state=PlanState.WORKING, stage="", progress="", problems=[]
    )
    plan = SavedPlan.objects.select_related("garden", "revision", "follows").filter(pk=plan_id).first()
    if plan is None:
        return
    if not started:
        # One that is done already stays so: its worker ended before it could say that.
        if plan.open:
            _end(plan, PlanState.STOPPED)
        return
    try:
        _make(plan)
    except StoppedError:
        _end(plan, PlanState.STOPPED)
    except BadDocumentError as error:
        _end(plan, PlanState.FAILED, [asdict(problem) for problem in error.problems])
    except Exception as error:
        logger.exception("Plan %d could not be made.", plan.pk)
        _end(
            plan,
            PlanState.FAILED,
            [{"text": f"A fault of Bedwright itself: {type(error).__name__}: {error}"}],
        )


def _make(plan: SavedPlan) -> None:
    told = Told(plan)
    with book_folder(plan.revision) as folder:
        loaded = load(folder / BOOK_NAME)
        made = _WAYS[PlanKind(plan.kind)](plan, loaded, told)
        write_season(made, folder / "season", choice=PaperChoice(), progress=told)
        text = (folder / "season" / MARK).read_text(encoding="utf-8")
        site = made.book.site
        _keep_papers(plan, folder / "season", f"{site.paper}-{site.units}")
    _done(plan, made, text)


def _from_book(plan: SavedPlan, loaded: Loaded, told: Told) -> SeasonPlan:
    return plan_loaded(
        loaded,
        today=plan.today,
        seed=plan.seed,
        progress=told,
        stop=told.enough,
        start=None if plan.kind == PlanKind.MADE else _before(plan, loaded.book),
        after=_season_before(plan, loaded.book),
    )


def _season_before(plan: SavedPlan, book: GardenBook) -> SeasonPlan | None:
    """The season before, as its log leaves it: what still stands of it keeps its ground."""
    earlier = SavedPlan.objects.filter(
        garden=plan.garden, state=PlanState.DONE, pk__lt=plan.pk, season_start__lt=book.season_start
    )
    last = earlier.order_by("-season_start", "-pk").first()
    if last is None:
        return None
    made = plan_of(last)
    return what_is_left(made, season_as_logged(made, records_of(plan.garden, made), today=plan.today))


def _from_today(plan: SavedPlan, loaded: Loaded, told: Told) -> SeasonPlan:
    before, asked = _before(plan, loaded.book), AgainAsked.read(plan.asked)
    try:
        return replan(
            before,
            loaded.book,
            loaded.record,
            loaded.catalogue,
            records_of(plan.garden, before),
            today=plan.today,
            unlogged=asked.unlogged,
            events=events_of(before, asked.happened, today=plan.today),
            progress=told,
        )
    except EventRefusedError as error:
        raise _cannot_be("what happened", str(error)) from error


def _by_hand(plan: SavedPlan, loaded: Loaded, told: Told) -> SeasonPlan:
    asked = MoveAsked.read(plan.asked)
    told(Progress("places", "the bed laid out again"))
    table = ready(_before(plan, loaded.book), loaded, today=plan.today)
    try:
        dragged = move_planting(table, asked.planting_code, asked.bed_code, asked.along_m, asked.in_ground)
    except MoveRefusedError as error:
        raise _cannot_be("the move", str(error)) from error
    told(Progress("care", "water, feeding, hours and supplies"))
    return keep_move(table, dragged, loaded, pins=loaded.book.pins)


_WAYS: dict[PlanKind, Callable[[SavedPlan, Loaded, Told], SeasonPlan]] = {
    PlanKind.MADE: _from_book,
    PlanKind.FURTHER: _from_book,
    PlanKind.AGAIN: _from_today,
    PlanKind.MOVED: _by_hand,
}
"""How a plan of each kind is made; one put back is a copy and not made at all."""


def _before(plan: SavedPlan, book: GardenBook) -> SeasonPlan:
    """The plan that another was asked for from, of the same season as the book."""
    if plan.follows is None:
        raise _cannot_be("the plan before", "it was deleted meanwhile")
    before = plan_of(plan.follows)
    if not before.is_of(book):
        raise _cannot_be("the plan before", f"it is of the season from {before.book.season_start}")
    return before


def _cannot_be(where: str, got: str) -> BadDocumentError:
    lines = [line.rstrip(".") for line in got.splitlines()]
    return BadDocumentError(
        tuple(Problem("season plan", None, None, where, line, "what can be") for line in lines)
    )


def _keep_papers(plan: SavedPlan, folder: Path, variant: str) -> None:
    """The papers were set with the plan: keep them, so that nobody waits for them again."""
    target = Path(settings.MADE_PAPERS) / str(plan.pk) / variant
    shutil.rmtree(target, ignore_errors=True)
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copytree(folder, target)


def _done(plan: SavedPlan, made: SeasonPlan, text: str) -> None:
    plan.packed = gzip.compress(text.encode(), mtime=0)
    plan.digest = made.revision
    plan.season_start = made.book.season_start
    plan.n_plantings = len(made.plantings)
    plan.n_plants = sum(planting.n_plants for planting in made.plantings)
    plan.n_shortfalls = len(made.shortfalls)
    plan.save(update_fields=["packed", "digest", "season_start", "n_plantings", "n_plants", "n_shortfalls"])
    _end(plan, PlanState.DONE)


def _end(plan: SavedPlan, state: PlanState, problems: list[dict[str, Any]] | None = None) -> None:
    SavedPlan.objects.filter(pk=plan.pk).update(
        state=state, finished_at=timezone.now(), problems=problems or [], stage="", progress=""
    )
