"""A plan laid out so that blocks can be tried elsewhere; kept at hand, since making it takes a while."""

from __future__ import annotations

import threading
from contextlib import suppress
from datetime import date
from functools import lru_cache

from django.utils import timezone

from bedwright.apps.web.gardens.models import BookRevision
from bedwright.apps.web.season.loading import loaded_of
from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.service.drag import MoveRefusedError, ReadyToMove, move_planting, ready

_MAKING = threading.Lock()


def day_now(saved: SavedPlan) -> date:
    """The day before which nothing can be moved any more."""
    return max(saved.today, timezone.localdate())


def table_of(saved: SavedPlan) -> ReadyToMove:
    """A plan ready for trying.

    Raises
    ------
    BadDocumentError
        If book or record of the plan cannot be read any more.
    """
    # Two who ask at once are to wait for one table, not to make two.
    with _MAKING:
        return _table(saved.pk, saved.digest, day_now(saved))


def ready_unless_busy(saved: SavedPlan) -> bool:
    """Lay a plan out for trying; False, and at once, while that is being done for anybody.

    Whoever waited here would keep a thread from those who wait for pages.

    Raises
    ------
    BadDocumentError
        If book or record of the plan cannot be read any more.
    """
    if not _MAKING.acquire(blocking=False):
        return False
    try:
        _table(saved.pk, saved.digest, day_now(saved))
    finally:
        _MAKING.release()
    return True


@lru_cache(maxsize=4)
def _table(plan_id: int, digest: str, today: date) -> ReadyToMove:
    saved = SavedPlan.objects.defer("packed").get(pk=plan_id, digest=digest)
    revision = BookRevision.objects.select_related("garden").get(pk=saved.revision_id)
    plan = plan_of(saved)
    table = ready(plan, loaded_of(revision), today=today)
    # The first move of a process reads the compiled search, so that nobody waits for it later.
    movable = next((one for one in plan.plantings if one.dates.in_ground >= today), None)
    with suppress(MoveRefusedError):
        if movable is not None:
            move_planting(table, movable.code, movable.bed_code, movable.along_m[0])
    return table
