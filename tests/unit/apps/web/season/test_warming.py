"""The newest plan is laid out for trying after the start of a server."""

from __future__ import annotations

import gzip

import pytest

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.drawing import table
from bedwright.apps.web.season.drawing.warming import warm
from bedwright.apps.web.season.models import PlanState, SavedPlan
from tests.unit.apps.web.conftest import SMALL_BOOK


@pytest.fixture(autouse=True)
def fresh_process() -> None:
    table._table.cache_clear()


def n_laid_out() -> int:
    return table._table.cache_info().currsize


@pytest.mark.django_db
def test_without_a_plan_there_is_nothing_to_warm() -> None:
    assert not warm()
    assert n_laid_out() == 0


def test_the_newest_plan_is_laid_out_once(
    garden: Garden, coordinator: User, saved_plan: SavedPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    saved_plan.revision = keep(garden, SMALL_BOOK, author=coordinator, follows=garden.head)
    saved_plan.save()
    monkeypatch.setattr(table, "day_now", lambda saved: saved.today)
    assert warm()
    assert n_laid_out() == 1
    table.table_of(saved_plan)
    assert table._table.cache_info().misses == 1


def test_a_plan_still_being_made_is_not_waited_for(saved_plan: SavedPlan) -> None:
    SavedPlan.objects.filter(pk=saved_plan.pk).update(state=PlanState.WORKING)
    assert not warm()


def test_a_plan_of_another_release_is_passed_over(saved_plan: SavedPlan) -> None:
    SavedPlan.objects.filter(pk=saved_plan.pk).update(packed=gzip.compress(b"{}"), digest="other")
    assert warm()
    assert n_laid_out() == 0
