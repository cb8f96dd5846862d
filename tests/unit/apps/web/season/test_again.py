"""The rest of a season planned again, a search stopped with the best so far and searched on."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.asking import AgainAsked
from bedwright.apps.web.season.making import ask_for_plan, make_plan
from bedwright.apps.web.season.models import PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.service.replan import Happened
from tests.unit.apps.web.conftest import SMALL_BOOK

SignIn = Callable[[User | None], Client]


@pytest.fixture
def small_garden(garden: Garden, saved_plan: SavedPlan, coordinator: User) -> Garden:
    """The garden with the book that its plan was made from."""
    saved_plan.revision = keep(garden, SMALL_BOOK, author=coordinator, follows=garden.head)
    saved_plan.save()
    return garden


def made(plan: SavedPlan) -> SavedPlan:
    make_plan.call(plan.pk)
    plan.refresh_from_db()
    assert plan.state == PlanState.DONE, plan.problems
    return plan


def logged(garden: Garden, plan: SavedPlan, kind: str, day: date) -> str:
    """A line of the log about the carrots; their code."""
    carrot = next(each for each in plan_of(plan).plantings if each.crop.name == "carrot")
    LogEntry.objects.create(
        garden=garden,
        day=day,
        kind=kind,
        written_at=timezone.now(),
        bed_code=carrot.bed_code,
        row_code=carrot.label_code,
        planting_code=carrot.code,
        crop="carrot",
    )
    return carrot.code


def test_what_happened_is_kept_with_the_plan_and_read_back_the_same() -> None:
    told = Happened(
        ("A",), ("B",), not_delivered={"carrot-1": None, "beet-1": date(2027, 5, 1)}, hours_share=0.5
    )
    asked = AgainAsked("not gone in", told)
    assert AgainAsked.read(asked.kept()) == asked


def test_the_page_tells_what_the_log_tells(
    sign_in: SignIn,
    leader: User,
    small_garden: Garden,
    saved_plan: SavedPlan,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    carrot = next(each for each in plan_of(saved_plan).plantings if each.crop.name == "carrot")
    day = carrot.dates.in_ground
    monkeypatch.setattr("bedwright.apps.web.season.views_again.today_in", lambda _: day + timedelta(days=30))
    logged(small_garden, saved_plan, "sown", day + timedelta(days=9))
    html = sign_in(leader).get(reverse("season:again", args=[small_garden.pk])).content.decode()
    assert "9 days" in html
    assert "Due, not written down" in html
    for name in ("plan", "drawing"):
        page = sign_in(leader).get(reverse(f"season:{name}", args=[small_garden.pk, saved_plan.pk]))
        assert "9 days late" in page.content.decode()


def test_a_lost_bed_is_planned_round_and_the_difference_is_listed_and_drawn(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan
) -> None:
    client = sign_in(leader)
    answer = client.post(
        reverse("season:again", args=[small_garden.pk]),
        {"today": "2026-12-05", "unlogged": "stand", "lost_beds": ["A"]},
    )
    again = made(small_garden.plans.latest("pk"))
    assert answer.headers["Location"] == reverse("season:plan", args=[small_garden.pk, again.pk])
    assert (again.kind, again.follows) == (PlanKind.AGAIN, saved_plan)
    assert plan_of(again).happened == ("Bed A is lost.",)
    html = client.get(reverse("season:changes", args=[small_garden.pk, again.pk])).content.decode()
    assert "Bed A is lost." in html
    assert 'class="drawn-sheet"' in html


def test_what_failed_by_the_log_is_put_back(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan
) -> None:
    carrot = next(each for each in plan_of(saved_plan).plantings if each.crop.name == "carrot")
    sown, failed = carrot.dates.in_ground, carrot.dates.in_ground + timedelta(days=12)
    logged(small_garden, saved_plan, "sown", sown)
    logged(small_garden, saved_plan, "failed", failed)
    today = (failed + timedelta(days=1)).isoformat()
    data = {"today": today, "unlogged": "stand"}
    sign_in(leader).post(reverse("season:again", args=[small_garden.pk]), data)
    again = plan_of(made(small_garden.plans.latest("pk")))
    assert any("failed" in text for text in again.happened)


def test_a_form_with_a_fault_is_shown_again(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan
) -> None:
    url = reverse("season:again", args=[small_garden.pk])
    answer = sign_in(leader).post(url, {"today": "soon", "unlogged": "stand"})
    assert answer.status_code == 422
    assert small_garden.plans.count() == 1


def test_a_garden_without_a_plan_is_led_to_its_plans(sign_in: SignIn, leader: User, garden: Garden) -> None:
    answer = sign_in(leader).get(reverse("season:again", args=[garden.pk]))
    assert answer.headers["Location"] == reverse("season:plans", args=[garden.pk])


def test_stopping_with_the_best_so_far_gives_a_plan_that_says_so_and_can_be_searched_on(
    sign_in: SignIn, leader: User, small_garden: Garden, saved_plan: SavedPlan
) -> None:
    client = sign_in(leader)
    asked = ask_for_plan(small_garden, leader, today=saved_plan.today, seed=1)
    page = client.get(reverse("season:plan", args=[small_garden.pk, asked.pk])).content.decode()
    assert "Stop and take the best so far" in page
    client.post(reverse("season:stop", args=[small_garden.pk, asked.pk]), {"keep": "1"})
    stopped = made(asked)
    assert any("stopped early" in text for text in plan_of(stopped).warnings)
    client.post(reverse("season:search-on", args=[small_garden.pk, stopped.pk]))
    further = made(small_garden.plans.latest("pk"))
    assert (further.kind, further.follows) == (PlanKind.FURTHER, stopped)
    before, after = plan_of(stopped).value, plan_of(further).value
    assert before is not None
    assert after is not None
    assert after >= before - 1e-6
