"""The newest plan laid out for trying before anybody asks: once in the life of a server.

The first plan laid out in a process costs some three seconds of a core, most of it for reading
the compiled search. Done after the start, nobody waits for it at the first block they pull.
"""

from __future__ import annotations

import logging
import threading

from django.db import connection

from bedwright.apps.web.season.drawing.table import ready_unless_busy
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.model.problem import BadDocumentError

logger = logging.getLogger(__name__)

_FIRST_S = 3.0
"""Whoever opens the page right after the start is answered first."""
_LOOK_EVERY_S = 5.0
"""A new data folder has no plan yet; the first one is waited for."""


def start_warming() -> None:
    """Do it in a thread of its own.

    The thread is not made nice: pages would wait for it while it holds the interpreter. They get on
    after a millisecond as it is.
    """
    threading.Thread(target=_warm, name="warming", daemon=True).start()


def warm() -> bool:
    """Lay the newest of all plans out for trying; False while there is none."""
    newest = SavedPlan.objects.filter(state=PlanState.DONE).defer("packed").first()
    if newest is None:
        return False
    try:
        ready_unless_busy(newest)
    except BadDocumentError:
        # Told in words where somebody opens it.
        logger.info("Plan %d cannot be read any more; nothing is made ready.", newest.pk)
    return True


def _warm() -> None:
    pause = threading.Event()
    pause.wait(_FIRST_S)
    try:
        while not warm():
            # Kept open it would hold a place in the database for a thread that sleeps.
            connection.close()
            pause.wait(_LOOK_EVERY_S)
    except Exception:
        # It saves time and is needed for nothing.
        logger.exception("The newest plan could not be made ready.")
    finally:
        connection.close()
