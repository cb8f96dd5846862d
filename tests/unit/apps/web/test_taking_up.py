"""Tasks of workers that died are taken up again, and those of living ones left alone."""

from __future__ import annotations

import os
import socket
from datetime import date, timedelta
from types import SimpleNamespace

import pytest
from django.db import transaction
from django.utils import timezone
from django_tasks import TaskResultStatus
from django_tasks_db.models import DBTaskResult

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.making import ask_for_plan, make_plan
from bedwright.apps.web.season.models import PlanState, SavedPlan, Worker
from bedwright.apps.web.season.taking_up import DEAD_AFTER, MOST_ATTEMPTS, new_worker_id, take_up_left

HOST = socket.gethostname()[:32]
NO_PROCESS = 2**22 + 1
"""Above the largest process number there is."""


@pytest.fixture
def running(garden: Garden, coordinator: User) -> tuple[SavedPlan, str]:
    """A plan that is being made, and its task."""
    assert garden.head is not None
    plan = SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        asked_by=coordinator,
        today=date(2026, 12, 1),
        state=PlanState.WORKING,
    )
    return plan, str(make_plan.enqueue(plan.pk).id)


def claimed(task_id: str, *workers: str) -> None:
    DBTaskResult.objects.filter(pk=task_id).update(
        status=TaskResultStatus.RUNNING, started_at=timezone.now(), worker_ids=list(workers)
    )


def state_of(task_id: str) -> str:
    return DBTaskResult.objects.get(pk=task_id).status


def test_a_task_of_a_process_that_is_gone_waits_again(running: tuple[SavedPlan, str]) -> None:
    plan, task_id = running
    claimed(task_id, f"{HOST}:{NO_PROCESS}:a")
    Worker.objects.create(worker_id=f"{HOST}:{NO_PROCESS}:a", seen_at=timezone.now())
    assert take_up_left() == 1
    assert state_of(task_id) == TaskResultStatus.READY
    plan.refresh_from_db()
    assert plan.state == PlanState.WAITING


def test_a_task_of_a_living_worker_is_left_alone(running: tuple[SavedPlan, str]) -> None:
    _, task_id = running
    worker_id = new_worker_id()
    assert f":{os.getpid()}:" in worker_id
    claimed(task_id, worker_id)
    Worker.objects.create(worker_id=worker_id, seen_at=timezone.now())
    assert take_up_left() == 0
    assert state_of(task_id) == TaskResultStatus.RUNNING


def test_a_worker_elsewhere_is_dead_once_it_is_silent(running: tuple[SavedPlan, str]) -> None:
    _, task_id = running
    claimed(task_id, "another-host:77:a")
    Worker.objects.create(worker_id="another-host:77:a", seen_at=timezone.now())
    assert take_up_left() == 0
    later = timezone.now() + DEAD_AFTER + timedelta(seconds=1)
    assert take_up_left(later) == 1
    assert state_of(task_id) == TaskResultStatus.READY


def test_a_task_that_kills_its_workers_is_given_up(running: tuple[SavedPlan, str]) -> None:
    plan, task_id = running
    claimed(task_id, *(f"{HOST}:{NO_PROCESS + n}:a" for n in range(MOST_ATTEMPTS)))
    assert take_up_left() == 1
    assert state_of(task_id) == TaskResultStatus.FAILED
    plan.refresh_from_db()
    assert plan.state == PlanState.FAILED
    assert plan.problems


def test_a_plan_whose_task_is_gone_is_asked_for_again_once(running: tuple[SavedPlan, str]) -> None:
    plan, task_id = running
    DBTaskResult.objects.filter(pk=task_id).update(status=TaskResultStatus.FAILED)
    assert take_up_left() == 1
    assert take_up_left() == 0
    plan.refresh_from_db()
    assert plan.state == PlanState.WAITING
    assert DBTaskResult.objects.filter(status=TaskResultStatus.READY).count() == 1


def test_a_plan_and_its_task_are_kept_together_or_not_at_all(
    garden: Garden, coordinator: User, monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(*_args: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("bedwright.apps.web.season.making.make_plan", SimpleNamespace(enqueue=killed))
    with pytest.raises(KeyboardInterrupt), transaction.atomic():
        ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=1)
    assert not garden.plans.exists()


def test_a_plan_that_was_done_before_its_worker_could_say_so_stays_done(saved_plan: SavedPlan) -> None:
    packed = bytes(saved_plan.packed or b"")
    make_plan.call(saved_plan.pk)
    saved_plan.refresh_from_db()
    assert saved_plan.state == PlanState.DONE
    assert bytes(saved_plan.packed or b"") == packed


def test_asking_twice_gives_the_plan_that_is_open_already(garden: Garden, coordinator: User) -> None:
    first = ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=1)
    assert ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=1) == first
    assert ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=2) != first


def test_a_plan_stopped_before_it_began_is_not_made(garden: Garden, coordinator: User) -> None:
    plan = ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=1)
    SavedPlan.objects.filter(pk=plan.pk).update(stop_asked=True)
    make_plan.call(plan.pk)
    plan.refresh_from_db()
    assert plan.state == PlanState.STOPPED


def test_a_book_without_its_weather_record_fails_with_the_problem(garden: Garden, coordinator: User) -> None:
    garden.weather_files.all().delete()
    plan = ask_for_plan(garden, coordinator, today=date(2026, 12, 1), seed=1)
    make_plan.call(plan.pk)
    plan.refresh_from_db()
    assert plan.state == PlanState.FAILED
    assert plan.problems[0]["where"] == "weather.file"
