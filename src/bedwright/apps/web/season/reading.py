"""Season plans read back, the last few kept in memory."""

from __future__ import annotations

from functools import lru_cache
from threading import Lock

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.model.season import SeasonPlan
from bedwright.store.season import season_from_text

_READING = Lock()


def newest(garden: Garden) -> SavedPlan | None:
    """The newest plan that is done."""
    done = garden.plans.filter(state=PlanState.DONE).defer("packed")
    return done.select_related("revision", "asked_by").first()


def plan_of(saved: SavedPlan) -> SeasonPlan:
    """The plan itself.

    Raises
    ------
    BadDocumentError
        If it was made by a release whose plans this one does not read.
    """
    # Many ask for a new plan at the same moment: they are to wait for one reading, not to read it each.
    with _READING:
        return _read(saved.pk, saved.digest)


@lru_cache(maxsize=8)
def _read(plan_id: int, digest: str) -> SeasonPlan:
    # The digest is part of the key, so that a plan made again is read again.
    return season_from_text(SavedPlan.objects.get(pk=plan_id).json)
