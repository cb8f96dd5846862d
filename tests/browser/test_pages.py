"""Every page at both widths, light and dark: nothing that axe finds, nothing wider than the screen."""

from __future__ import annotations

import gzip
from collections.abc import Callable
from datetime import date

import pytest
from django.utils import timezone
from playwright.sync_api import Page

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.engine.pipeline import plan_season
from bedwright.model.season import SeasonPlan
from bedwright.store.season import season_json
from tests.browser.conftest import PageAs, Width

SMALL_BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4}
  - {crop: lettuce, plants: 8}
"""
OUTSIDE = ("/", "/new/", "/new/book/", "/account/", "/account/password/", "/no-such-page/")
INSIDE = (
    "", "close/", "people/",
    "book/", "book/text/", "book/revisions/", "book/revisions/1/", "book/weather/",
    "book/crops/", "book/crops/carrot/",
    "book/section/site/", "book/section/beds/", "book/section/beds/entry/H/", "book/section/beds/entry/L/",
    "book/section/features/entry/T1/", "book/section/wishes/", "book/section/wishes/entry/carrot-1/",
    "book/section/wishes/add/?crop=kale", "book/section/history/", "book/section/people/add/",
    "book/section/seed-drawer/entry/S02/", "book/section/goals/", "book/section/notes/",
    "season/", "season/compare/", "papers/",
)  # fmt: skip


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    return plan_season(book_of(SMALL_BOOK), None, catalogue(), seed=1, today=date(2026, 12, 1))


@pytest.fixture
def garden(coordinator: User, plan: SeasonPlan) -> Garden:
    made = load_demo(coordinator)
    assert made.head is not None
    for state, packed in (
        (PlanState.FAILED, None),
        (PlanState.DONE, gzip.compress(season_json(plan).encode())),
    ):
        SavedPlan.objects.create(
            garden=made,
            revision=made.head,
            asked_by=coordinator,
            today=plan.made_on,
            state=state,
            finished_at=timezone.now(),
            digest=plan.revision,
            packed=packed,
            problems=[{"text": "It went wrong for the test."}] if packed is None else [],
        )
    return made


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("width", ["phone", "laptop"])
@pytest.mark.parametrize("language", ["en", "de"])
def test_no_page_has_a_fault_that_axe_finds_or_is_wider_than_its_screen(
    page_as: PageAs,
    garden: Garden,
    coordinator: User,
    check_axe: Callable[[Page], None],
    width: Width,
    dark: bool,
    language: str,
) -> None:
    if language == "de" and dark:
        pytest.skip("colours do not depend on the language")
    page = page_as(coordinator, width=width, dark=dark, language=language)
    failed, done = garden.plans.order_by("pk")
    inside = (*INSIDE, f"season/{failed.pk}/", f"season/{done.pk}/", f"season/{done.pk}/planting/carrot-1/")
    for path in (*OUTSIDE, *(f"/garden/{garden.pk}/{each}" for each in inside)):
        page.goto(path)
        check_axe(page)
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), path
        assert page.locator("h1").count() == 1, path
        assert page.evaluate("document.documentElement.lang") == language, path


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_pages_before_signing_in_are_sound_too(
    page_as: PageAs, transactional_db: None, check_axe: Callable[[Page], None], width: Width
) -> None:
    page = page_as(width=width)
    page.goto("/sign-in/")
    check_axe(page)
    page.get_by_label("Email address").fill("nobody@example.org")
    page.get_by_label("Password").fill("whatever it was")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("alert").wait_for()
    check_axe(page)


def test_text_twice_as_large_still_fits(page_as: PageAs, garden: Garden, coordinator: User) -> None:
    # A window of 1280 px at 200 % shows as much as one of 640 px.
    page = page_as(coordinator)
    page.set_viewport_size({"width": 640, "height": 400})
    for each in INSIDE:
        page.goto(f"/garden/{garden.pk}/{each}")
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), each


def test_a_first_visit_loads_little(page_as: PageAs, garden: Garden, coordinator: User) -> None:
    page = page_as(coordinator)
    sizes: list[int] = []
    page.on("response", lambda response: sizes.append(len(response.body())))
    page.goto(f"/garden/{garden.pk}/")
    page.wait_for_load_state("networkidle")
    assert sum(sizes) < 200_000
