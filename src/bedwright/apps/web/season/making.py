"""Making a plan in the background: the task, its progress, its end."""

from __future__ import annotations

import gzip
import logging
import shutil
import tempfile
from dataclasses import asdict
from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import transaction
from django.utils import timezone
from django_tasks import task

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import BOOK_NAME, book_of
from bedwright.apps.web.gardens.weather import put_beside_book
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import OPEN_STATES, PlanState, SavedPlan
from bedwright.model.problem import BadDocumentError
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.service.folder import MARK
from bedwright.service.make_season import make_season

logger = logging.getLogger("bedwright.web")


class StoppedError(Exception):
    """Somebody asked for the plan not to be made after all."""


@transaction.atomic
def ask_for_plan(garden: Garden, person: User, *, today: Any, seed: int, name: str = "") -> SavedPlan:
    """Put a plan of the newest revision into the queue; one that is open already is given back."""
    Garden.objects.select_for_update().get(pk=garden.pk)
    waiting = garden.plans.filter(state__in=OPEN_STATES, revision=garden.head, seed=seed, today=today).first()
    if waiting is not None:
        return waiting
    if garden.head is None:
        raise SavedPlan.DoesNotExist
    plan = SavedPlan.objects.create(
        garden=garden, revision=garden.head, asked_by=person, today=today, seed=seed, name=name
    )
    # In the same transaction: a plan that nobody was told to make would wait for ever.
    make_plan.enqueue(plan.pk)
    return plan


@task()
def make_plan(plan_id: int) -> None:
    """Make a plan that was asked for, and keep whatever becomes of it."""
    started = SavedPlan.objects.filter(pk=plan_id, state__in=OPEN_STATES, stop_asked=False).update(
        state=PlanState.WORKING, stage="", progress="", problems=[]
    )
    plan = SavedPlan.objects.select_related("garden", "revision").filter(pk=plan_id).first()
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
    with tempfile.TemporaryDirectory(prefix="bedwright-plan-") as work:
        folder = Path(work)
        book_file = folder / BOOK_NAME
        book_file.write_text(plan.revision.text, encoding="utf-8")
        put_beside_book(plan.garden, book_of(plan.revision.text).weather_file, folder)
        made = make_season(
            book_file, folder / "season", today=plan.today, seed=plan.seed, progress=Told(plan)
        )
        text = (folder / "season" / MARK).read_text(encoding="utf-8")
        site = made.book.site
        _keep_papers(plan, folder / "season", f"{site.paper}-{site.units}")
    _done(plan, made, text)


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


def _keep_papers(plan: SavedPlan, folder: Path, variant: str) -> None:
    """The papers were set with the plan: keep them, so that nobody waits for them again."""
    target = Path(settings.MADE_PAPERS) / str(plan.pk) / variant
    shutil.rmtree(target, ignore_errors=True)
    target.parent.mkdir(parents=True, exist_ok=True)
    shutil.copytree(folder, target)


def _done(plan: SavedPlan, made: SeasonPlan, text: str) -> None:
    plan.packed = gzip.compress(text.encode(), mtime=0)
    plan.digest = made.revision
    plan.n_plantings = len(made.plantings)
    plan.n_plants = sum(planting.n_plants for planting in made.plantings)
    plan.n_shortfalls = len(made.shortfalls)
    plan.save(update_fields=["packed", "digest", "n_plantings", "n_plants", "n_shortfalls"])
    _end(plan, PlanState.DONE)


def _end(plan: SavedPlan, state: PlanState, problems: list[dict[str, Any]] | None = None) -> None:
    SavedPlan.objects.filter(pk=plan.pk).update(
        state=state, finished_at=timezone.now(), problems=problems or [], stage="", progress=""
    )
