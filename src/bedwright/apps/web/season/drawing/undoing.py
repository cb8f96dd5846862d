"""A kept move taken back: the plan before it stands again, and the book before it."""

from __future__ import annotations

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import HeadMovedError, steps_of, undo
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import newest


class NotUndoneError(Exception):
    """It cannot be undone any more; the reason in words."""


def may_be_undone(garden: Garden, saved: SavedPlan) -> bool:
    """Whether a plan comes of a move and nothing was changed since."""
    return saved.kind == PlanKind.MOVED and saved.follows_id is not None and newest(garden) == saved


@transaction.atomic
def put_back(garden: Garden, saved: SavedPlan, person: User) -> SavedPlan:
    """Keep the plan before a move again as the newest; nothing is deleted.

    Raises
    ------
    NotUndoneError
        If there is a newer plan, or the plan before is gone.
    """
    locked = Garden.objects.select_for_update().get(pk=garden.pk)
    if not may_be_undone(locked, saved) or saved.follows is None:
        raise NotUndoneError(_("Meanwhile there is a newer plan; nothing was undone."))
    before = saved.follows
    if locked.head is not None and locked.head_id == saved.revision_id != before.revision_id:
        if not steps_of(locked).back:
            raise NotUndoneError(_("There is nothing to undo."))
        try:
            undo(locked, person, locked.head)
        except HeadMovedError as error:
            raise NotUndoneError(_("Somebody has changed the book meanwhile; nothing was undone.")) from error
        locked.refresh_from_db()
    return SavedPlan.objects.create(
        garden=locked,
        revision=locked.head if locked.head is not None else before.revision,
        asked_by=person,
        today=before.today,
        seed=before.seed,
        name=before.name,
        kind=PlanKind.BACK,
        follows=saved,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        digest=before.digest,
        season_start=before.season_start,
        n_plantings=before.n_plantings,
        n_plants=before.n_plants,
        n_shortfalls=before.n_shortfalls,
        packed=before.packed,
    )
