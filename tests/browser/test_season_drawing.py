"""The season drawn, in a real browser: by keyboard, by pointer, at both widths, light and dark."""

from __future__ import annotations

import gzip
import re
from collections.abc import Callable
from datetime import date

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.engine.pipeline import plan_season
from bedwright.model.season import Planting, SeasonPlan
from bedwright.service.drag import move_planting, ready
from bedwright.service.load import Loaded
from bedwright.store.season import season_json
from tests.browser.conftest import PageAs, Width

BOOK = """\
site: {name: Small garden, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: B, rectangle: {length_m: 4, width_m: 1.2, east_m: 2, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: C, circle: {radius_m: 0.9, east_m: 5, north_m: 2}, texture: loam}
wishes:
  - {crop: carrot, row_m: 4, beds: {only: [A, B]}}
  - {crop: lettuce, plants: 8, beds: {only: [A]}}
  - {crop: beet, plants: 20}
  - {crop: chives, plants: 4, beds: {only: [C]}}
"""
PAGES = ("drawing/", "beds/", "curves/", "changes/", "why/carrot-1/", "short/carrot-1/")


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    made = plan_season(book_of(BOOK), None, catalogue(), seed=1, today=date(2026, 12, 1))
    # The first move compiles the laying out of a bed where that was not done before.
    carrot = planting_of(made, "carrot-1")
    table = ready(made, Loaded(made.book, None, catalogue()), today=made.made_on)
    move_planting(table, carrot.code, carrot.bed_code, carrot.along_m[0])
    return made


@pytest.fixture
def season(coordinator: User, plan: SeasonPlan) -> str:
    """Address of the plan."""
    garden = Garden.objects.create(name="Small garden")
    Membership.objects.create(garden=garden, user=coordinator, role=Role.COORDINATOR)
    revision = keep(garden, BOOK, author=coordinator, follows=None)
    saved = SavedPlan.objects.create(
        garden=garden,
        revision=revision,
        asked_by=coordinator,
        today=plan.made_on,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        digest=plan.revision,
        season_start=plan.book.season_start,
        n_plantings=len(plan.plantings),
        packed=gzip.compress(season_json(plan).encode()),
    )
    return f"/garden/{garden.pk}/season/{saved.pk}/"


def opened_drawing(page: Page, season: str, week: str = "2027-06-14") -> None:
    page.goto(f"{season}drawing/?week={week}")
    page.locator("[data-ready]").wait_for()


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_nothing_is_wider_than_the_screen_and_axe_finds_nothing(
    page_as: PageAs,
    coordinator: User,
    season: str,
    check_both: Callable[[Page], None],
    width: Width,
) -> None:
    page = page_as(coordinator, width=width)
    for name in PAGES:
        page.goto(season + name)
        wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        assert wide <= 0, name
        for details in page.locator("details").all():
            details.evaluate("(each) => { each.open = true; }")
        check_both(page)


def test_the_slider_shows_only_what_stands_that_week(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    page = page_as(coordinator)
    opened_drawing(page, season)
    slider = page.locator("#week")
    slider.focus()
    for key, times in (("Home", 1), ("ArrowRight", 12), ("PageDown", 1), ("End", 1)):
        for _ in range(times):
            slider.press(key)
        monday = date.fromisoformat(page.evaluate("new URLSearchParams(location.search).get('week')"))
        sunday = date.fromordinal(monday.toordinal() + 6)
        standing = {
            each.code
            for each in plan.plantings
            if each.dates.in_ground <= sunday and each.dates.clear_by >= monday
        }
        drawn = page.locator("[data-planting]").evaluate_all("(all) => all.map((e) => e.dataset.planting)")
        listed = page.locator("tr[data-code]:not([hidden])").evaluate_all(
            "(all) => all.map((e) => e.dataset.code)"
        )
        assert set(drawn) == set(listed) == standing
    assert (slider.get_attribute("aria-valuetext") or "").startswith("Week from Monday")


def test_a_row_of_the_list_opens_the_reasons_and_takes_the_keyboard_there(
    page_as: PageAs, coordinator: User, season: str
) -> None:
    page = page_as(coordinator)
    opened_drawing(page, season)
    page.locator('tr[data-code="carrot-1"] a').press("Enter")
    side = page.locator("#side")
    expect(side.get_by_role("heading", name="Why here")).to_be_visible()
    expect(side).to_be_focused()
    source = side.locator("details.tap summary").first
    source.press("Enter")
    expect(side.locator("details.tap[open] p").first).to_be_visible()
    expect(page.locator('tr[data-code="carrot-1"] a[aria-current]')).to_be_visible()


def test_the_chart_of_beds_is_walked_by_arrow_keys(page_as: PageAs, coordinator: User, season: str) -> None:
    page = page_as(coordinator)
    page.goto(f"{season}beds/")
    bars = page.locator(".bar-link")
    expect(page.locator('.bar-link[tabindex="0"]')).to_have_count(1)
    bars.first.focus()
    page.keyboard.press("ArrowRight")
    expect(bars.nth(1)).to_be_focused()
    page.keyboard.press("End")
    expect(bars.last).to_be_focused()
    page.keyboard.press("Enter")
    expect(page.locator("#side").get_by_role("heading", name="Why then")).to_be_visible()


def test_without_scripts_the_week_is_chosen_from_a_list(
    browser_without_scripts: Callable[[User], Page], coordinator: User, season: str
) -> None:
    page = browser_without_scripts(coordinator)
    page.goto(f"{season}drawing/")
    page.locator("noscript select, select[name=week]").first.select_option("2027-06-14")
    page.get_by_role("button", name="Show").click()
    page.wait_for_url("**week=2027-06-14**")
    page.locator("tr[data-code]:not([hidden]) a").first.click()
    expect(page.get_by_role("heading", name="Why here")).to_be_visible()


def pulled(page: Page, start: tuple[float, float], end: tuple[float, float]) -> None:
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move((start[0] + end[0]) / 2, (start[1] + end[1]) / 2, steps=4)
    page.mouse.move(*end, steps=4)
    page.mouse.up()


def pins(season: str) -> list[tuple[str, str | None, float | None]]:
    garden = Garden.objects.get(pk=int(season.split("/")[2]))
    assert garden.head is not None
    return [(pin.planting_code, pin.bed_code, pin.along_m) for pin in book_of(garden.head.text).pins]


def planting_of(plan: SeasonPlan, code: str) -> Planting:
    return next(each for each in plan.plantings if each.code == code)


@pytest.fixture(autouse=True)
def season_to_come(monkeypatch: pytest.MonkeyPatch) -> None:
    """The day before the season of the book, whenever the tests run."""
    monkeypatch.setattr("bedwright.apps.web.season.drawing.table.day_now", lambda saved: saved.today)
    monkeypatch.setattr("bedwright.apps.web.season.drawing.views_moves.day_now", lambda saved: saved.today)


def drawn_plan(season: str) -> str:
    """Address of the newest plan of the garden."""
    garden = Garden.objects.get(pk=int(season.split("/")[2]))
    newest = garden.plans.filter(state=PlanState.DONE).latest("pk")
    return f"/garden/{garden.pk}/season/{newest.pk}/"


def opened_for_pulling(page: Page, season: str, planting: Planting) -> None:
    """The drawing in the week a planting goes in, once what moves are judged by is at hand."""
    opened_drawing(page, season, planting.dates.in_ground.isoformat())
    page.locator("[data-prepared]").wait_for()


def pulled_to_other_bed(page: Page, planting: Planting) -> str:
    """Pull the drawn block of a planting from bed A to B or back; the bed it comes to."""
    other = "B" if planting.bed_code == "A" else "A"
    box = page.locator(f'[data-planting="{planting.code}"]').first.bounding_box()
    target = page.get_by_text(other, exact=True).locator("visible=true").first.bounding_box()
    assert box is not None
    assert target is not None
    start = (box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    pulled(page, start, (target["x"] + target["width"] / 2, start[1]))
    return other


def test_a_block_pulled_to_another_bed_is_tried_with_its_cost_and_put_back(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    planting = planting_of(plan, "carrot-1")
    page = page_as(coordinator)
    opened_for_pulling(page, season, planting)
    before = page.locator('[data-planting="carrot-1"]').first.get_attribute("d")
    assert before is not None
    other = pulled_to_other_bed(page, planting)
    side = page.locator("#side")
    expect(side.get_by_role("heading", name="Tried, not kept")).to_be_visible()
    expect(side.locator(".cost")).to_contain_text("This ")
    expect(side.locator(".trial")).to_contain_text(f"bed {other}")
    expect(page.locator('[data-planting="carrot-1"]').first).not_to_have_attribute("d", before)
    expect(page.locator('tr[data-code="carrot-1"] [data-part="bed"]')).to_have_text(other)
    assert pins(season) == []
    side.get_by_role("link", name="Put it back").click()
    expect(side.get_by_role("heading", name="Why here")).to_be_visible()
    expect(page.locator('[data-planting="carrot-1"]').first).to_have_attribute("d", before)
    assert pins(season) == []


def test_the_answer_to_a_pulled_block_comes_at_once(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    planting = planting_of(plan, "carrot-1")
    page = page_as(coordinator)
    opened_for_pulling(page, season, planting)
    pulled_to_other_bed(page, planting)
    # One question and one answer: nothing else is asked of the server on the way.
    asked = page.evaluate(
        "performance.getEntriesByType('resource').filter((e) => e.initiatorType === 'xmlhttprequest').length"
    )
    expect(page.locator("#side [data-keep]")).to_be_visible()
    assert asked <= 1


def test_without_an_answer_a_pulled_block_goes_back_and_it_is_said(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    planting = planting_of(plan, "carrot-1")
    page = page_as(coordinator)
    opened_for_pulling(page, season, planting)
    # Without a word to the console, which would be taken for a fault of the page.
    page.evaluate("htmx.logger = null; console.error = () => {}")
    page.route("**/move/**", lambda route: route.fulfill(status=503, body=""))
    pulled_to_other_bed(page, planting)
    side = page.locator("#side")
    expect(side.get_by_role("alert")).to_have_text("No answer came. Try again in a moment.")
    expect(page.locator(".ghost")).to_have_count(0)
    page.unroute("**/move/**")
    other = pulled_to_other_bed(page, planting)
    expect(side.locator(".trial")).to_contain_text(f"bed {other}")
    expect(side.get_by_role("alert")).to_have_count(0)


@pytest.mark.usefixtures("worker")
def test_a_tried_move_is_kept_as_a_new_plan_and_undone_again(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    planting = planting_of(plan, "carrot-1")
    page = page_as(coordinator)
    opened_for_pulling(page, season, planting)
    other = pulled_to_other_bed(page, planting)
    page.locator("#side").get_by_role("button", name="Keep it").click()
    expect(page.locator("#side [role=status]")).to_contain_text("Kept in the garden book")
    page.wait_for_url(lambda url: season not in url)
    page.locator("[data-ready]").wait_for()
    assert [(code, bed) for code, bed, _ in pins(season)] == [("carrot-1", other)]
    expect(page.locator('tr[data-code="carrot-1"] [data-part="bed"]')).to_have_text(other)
    page.get_by_role("link", name="What is different").click()
    expect(page.get_by_role("heading", name="What is different")).to_be_visible()
    page.get_by_role("button", name="Undo the move").click()
    page.locator("[data-ready]").wait_for()
    expect(page.locator(".message").first).to_contain_text("as it was before the move")
    assert pins(season) == []
    expect(page.locator('tr[data-code="carrot-1"] [data-part="bed"]')).to_have_text(planting.bed_code)


@pytest.mark.usefixtures("worker")
def test_a_block_is_tried_kept_and_pinned_by_keyboard_alone(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    page = page_as(coordinator)
    opened_drawing(page, season, planting_of(plan, "lettuce-1").dates.in_ground.isoformat())
    page.locator('tr[data-code="lettuce-1"] a').press("Enter")
    side = page.locator("#side")
    side.get_by_role("button", name="Pin it here and then").press("Enter")
    expect(side.get_by_role("button", name="Unpin")).to_be_visible()
    side.get_by_role("button", name="Unpin").press("Enter")
    expect(side.get_by_role("button", name="Pin it here and then")).to_be_visible()
    assert pins(season) == []
    along = side.get_by_label("Start along the string line")
    along.press("Control+a")
    along.press_sequentially("2.5")
    along.press("Enter")
    side.get_by_role("button", name="Keep it").press("Enter")
    page.wait_for_url(lambda url: season not in url)
    assert pins(season) == [("lettuce-1", "A", 2.5)]


def test_a_bar_pulled_to_another_week_is_tried_there(
    page_as: PageAs, coordinator: User, season: str, plan: SeasonPlan
) -> None:
    planting = planting_of(plan, "carrot-1")
    page = page_as(coordinator)
    page.goto(f"{season}beds/")
    bar = page.locator('.bar-link[data-code="carrot-1"] .block')
    bar.scroll_into_view_if_needed()
    box = bar.bounding_box()
    assert box is not None
    week_px = 7 * float(page.locator(".occupancy").get_attribute("data-day-px") or "0")
    start = (box["x"] + 30, box["y"] + box["height"] / 2)
    pulled(page, start, (start[0] + 2 * week_px, start[1]))
    expect(page.locator("#side [data-keep]")).to_be_visible()
    later = date.fromordinal(planting.dates.in_ground.toordinal() + 14)
    expect(page.locator("#side .trial")).to_contain_text(f"{later.day} {later:%B} {later.year}")
    page.locator("#side").get_by_role("link", name="Put it back").click()
    put_back = page.locator('.bar-link[data-code="carrot-1"]')
    expect(put_back).not_to_have_attribute("transform", re.compile("."))
    assert pins(season) == []


@pytest.mark.usefixtures("worker")
def test_the_rest_is_planned_again_from_today_and_the_difference_is_listed_and_drawn(
    page_as: PageAs, coordinator: User, season: str, check_axe: Callable[[Page], None]
) -> None:
    page = page_as(coordinator)
    page.goto(season)
    page.get_by_role("link", name="Plan the rest again from today").click()
    check_axe(page)
    page.get_by_label("From this day on").fill("2027-01-05")
    page.get_by_text("Something else happened").press("Enter")
    page.get_by_role("group", name="Beds that are lost").get_by_label("B").check()
    page.get_by_role("button", name="Plan the rest again").click()
    page.get_by_role("link", name="Since the last plan").first.click()
    expect(page.get_by_text("Bed B is lost.").first).to_be_visible()
    expect(page.get_by_role("img", name="Ground that changes").first).to_be_visible()
    check_axe(page)
