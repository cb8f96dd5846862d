"""Signs of life of workers, and tasks taken up again that a killed one left."""

from __future__ import annotations

import logging
import os
import secrets
import socket
import threading
from datetime import datetime, timedelta
from typing import Any

from django.db import close_old_connections, transaction
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from bedwright.apps.web.season.making import make_plan
from bedwright.apps.web.season.models import OPEN_STATES, PlanState, SavedPlan, Worker

logger = logging.getLogger("bedwright.web")

BEAT_S = 5.0
DEAD_AFTER = timedelta(seconds=40)
"""A worker silent for so long is dead: it beats from a thread that no planning holds up."""
MOST_ATTEMPTS = 5
"""A task that ends its worker so many times is given up."""


def new_worker_id() -> str:
    """A name that tells host and process, so that its death can be seen at once from there."""
    return f"{socket.gethostname()[:32]}:{os.getpid()}:{secrets.token_hex(6)}"


def take_up_left(now: datetime | None = None) -> int:
    """Put tasks whose worker has died back into the queue; the number of them."""
    now = now or timezone.now()
    n_left = 0
    with transaction.atomic():
        for task in DBTaskResult.objects.select_for_update().filter(status=TaskResultStatus.RUNNING):
            if task.worker_ids and not _is_dead(task.worker_ids[-1], now):
                continue
            n_left += 1
            if len(task.worker_ids) >= MOST_ATTEMPTS:
                task.status, task.finished_at = TaskResultStatus.FAILED, now
                _give_up(task)
            else:
                task.status, task.started_at = TaskResultStatus.READY, None
                _wait_again(task)
            task.save()
        n_left += _ask_again_for_orphans()
        Worker.objects.filter(seen_at__lt=now - timedelta(days=1)).delete()
    if n_left:
        logger.warning("%d tasks of a worker that has died are taken up again.", n_left)
    return n_left


def _is_dead(worker_id: str, now: datetime) -> bool:
    host, _, rest = worker_id.partition(":")
    process = rest.partition(":")[0]
    if host == socket.gethostname()[:32] and process.isdigit() and not _is_running(int(process)):
        return True
    worker = Worker.objects.filter(worker_id=worker_id).first()
    return worker is None or worker.seen_at < now - DEAD_AFTER


def _is_running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        # It is there but belongs to somebody else, or cannot be asked: its beats decide.
        return True
    return True


def start_heartbeat(worker_id: str) -> threading.Event:
    """Tell every few seconds that this worker lives, and look after others; set the event to end it."""
    ending = threading.Event()
    beat_once(worker_id)

    def beat() -> None:
        while not ending.wait(BEAT_S):
            close_old_connections()
            try:
                beat_once(worker_id)
                take_up_left()
            except Exception:
                # A database that is away for a moment must not end the signs of life.
                logger.exception("No sign of life could be given.")

    threading.Thread(target=beat, name="heartbeat", daemon=True).start()
    return ending


def beat_once(worker_id: str) -> None:
    """One sign of life."""
    Worker.objects.update_or_create(worker_id=worker_id, defaults={"seen_at": timezone.now()})


def plan_ids_of(task: DBTaskResult[Any, Any]) -> list[int]:
    """The plan a task is about; none for tasks of another kind."""
    if task.task_path != "bedwright.apps.web.season.making.make_plan":
        return []
    return [number for number in task.args_kwargs.get("args", [])[:1] if isinstance(number, int)]


def _ask_again_for_orphans() -> int:
    """Ask again for plans that are open but have no task: one signalled twice ends as failed."""
    # Plans first: one that ends between the two questions is found closed by the update below.
    open_plans = list(SavedPlan.objects.filter(state__in=OPEN_STATES).values_list("pk", flat=True))
    tasks = DBTaskResult.objects.filter(status__in=(TaskResultStatus.READY, TaskResultStatus.RUNNING))
    waited_for = {plan_id for task in tasks for plan_id in plan_ids_of(task)}
    n_asked = 0
    for plan_id in set(open_plans) - waited_for:
        still_open = SavedPlan.objects.filter(pk=plan_id, state__in=OPEN_STATES)
        if still_open.update(state=PlanState.WAITING, stage="", progress=""):
            make_plan.enqueue(plan_id)
            n_asked += 1
    return n_asked


def _wait_again(task: DBTaskResult[Any, Any]) -> None:
    SavedPlan.objects.filter(pk__in=plan_ids_of(task), state=PlanState.WORKING).update(
        state=PlanState.WAITING, stage="", progress=""
    )


def _give_up(task: DBTaskResult[Any, Any]) -> None:
    SavedPlan.objects.filter(pk__in=plan_ids_of(task)).update(
        state=PlanState.FAILED,
        finished_at=timezone.now(),
        problems=[{"text": "The process that makes plans ended while at it, several times."}],
    )
