"""The field pages on a phone: without a network, after it was off, with two of them, when things go wrong."""

from __future__ import annotations

import io
import re
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path

import pytest
from django.conf import settings as django_settings
from django.utils import timezone
from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.models import Clock, LogEntry
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.reading import newest, plan_of
from tests.browser.conftest import ARGUMENTS, CHROMIUM, PATIENCE_MS, LiveServer, PageAs, session_of
from tests.browser.garden_now import garden_now, season_to_come

THUMB_PX = 56
KEPT_AT_HAND = """async () => {
  while (!navigator.serviceWorker.controller) await new Promise((resolve) => setTimeout(resolve, 50));
}"""
TOO_WIDE = """() => document.documentElement.scrollWidth <= window.innerWidth ? [] :
  [...document.querySelectorAll("main *")]
    .filter((each) => each.getBoundingClientRect().right > window.innerWidth)
    .map((each) => each.outerHTML.slice(0, 80))"""
PEGS_TOO = """async () => {
  for (;;) {
    const all = await navigator.serviceWorker.getRegistrations();
    if (all.length === 2 && all.every((each) => each.active)) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}"""
"""Promises, since the pages' own policy forbids what waiting for a condition would evaluate."""
VIEWS = ("today", "rows", "row=A1", "weigh=?", "weigh=carrot-1", "rain", "hours", "sent")


@pytest.fixture
def volunteer(transactional_db: None) -> User:
    return User.objects.create_user("vela@example.org", None, name="Vela")


@pytest.fixture
def garden(coordinator: User, volunteer: User) -> Garden:
    return garden_now(coordinator, volunteer)


def field(garden: Garden, view: str = "today") -> str:
    return f"/garden/{garden.pk}/field/#{view}"


def open_field(page: Page, garden: Garden) -> None:
    """Open the field pages and wait until they would work without a network."""
    page.goto(field(garden))
    expect(page.locator("#sending")).to_have_text("All sent")
    page.evaluate(KEPT_AT_HAND)


def waits(page: Page, n: int) -> None:
    expect(page.locator("#sending")).to_contain_text(f"Waiting: {n}")


def sent(page: Page, n: int | None = None) -> None:
    """Nothing waits any more; with a number, once the server has as many lines."""
    until = time.monotonic() + PATIENCE_MS / 1000
    while n is not None and LogEntry.objects.count() < n and time.monotonic() < until:
        page.wait_for_timeout(50)
    expect(page.locator("#sending")).to_have_text("All sent")


def tick(page: Page, task: str) -> None:
    page.locator(f'[data-task="{task}"] button.tick').click()


def weigh(page: Page, figures: str) -> None:
    for figure in figures:
        page.get_by_role("button", name=figure, exact=True).click()
    page.get_by_role("button", name="Save", exact=True).click()


def row_of_carrots(garden: Garden) -> str:
    saved = newest(garden)
    assert saved is not None
    return next(each.label_code for each in plan_of(saved).plantings if each.code == "carrot-1")


@contextmanager
def phone(browser: Browser, folder: Path, live_server: LiveServer, *, offline: bool) -> Iterator[Page]:
    """A phone whose storage outlives it being switched off."""
    context: BrowserContext = browser.browser_type.launch_persistent_context(
        folder,
        executable_path=CHROMIUM,
        args=ARGUMENTS,
        viewport={"width": 320, "height": 568},
        has_touch=True,
        is_mobile=True,
        base_url=live_server.url,
        offline=offline,
    )
    context.set_default_timeout(PATIENCE_MS)
    try:
        yield context.pages[0]
    finally:
        context.close()


def sign_in(context: BrowserContext, user: User, live_server: LiveServer) -> None:
    name = django_settings.SESSION_COOKIE_NAME
    expires = time.time() + 86400
    cookie = {"name": name, "value": session_of(user), "url": live_server.url, "expires": expires}
    context.add_cookies([cookie])  # type: ignore[list-item]  # a typed dictionary


def test_what_is_written_without_a_network_outlives_the_phone_being_off_and_is_sent_once(
    browser: Browser, live_server: LiveServer, garden: Garden, volunteer: User, tmp_path: Path
) -> None:
    folder = tmp_path / "phone"
    with phone(browser, folder, live_server, offline=False) as page:
        sign_in(page.context, volunteer, live_server)
        open_field(page, garden)
        page.context.set_offline(True)
        tick(page, "carrot-1:sow")
        waits(page, 1)
        expect(page.locator('[data-task="carrot-1:sow"]')).to_contain_text("waits on this phone")
        page.goto(field(garden, "weigh=carrot-1"))
        weigh(page, "4.2")
        waits(page, 2)
        page.get_by_role("button", name="Again 4.2 kg").click()
        waits(page, 3)
        page.reload()
        waits(page, 3)
        expect(page.locator("ul.rows li")).to_have_count(2)
    assert not LogEntry.objects.exists()
    with phone(browser, folder, live_server, offline=True) as page:
        page.goto(field(garden))
        waits(page, 3)
        expect(page.locator('[data-task="carrot-1:sow"]')).to_contain_text("Done")
        page.context.set_offline(False)
        sent(page)
        page.reload()
        sent(page)
        expect(page.locator('[data-task="carrot-1:sow"]')).to_have_count(0)
        page.goto(f"/garden/{garden.pk}/log/")
        expect(page.locator("ol.log li", has_text="picked carrot")).to_have_count(2)
        expect(page.locator("ol.log li", has_text="sown carrot")).to_have_count(1)
    kept = LogEntry.objects.order_by("device_count")
    assert [(each.kind, each.quantity) for each in kept] == [("sown", None), ("picked", 4.2), ("picked", 4.2)]
    assert len({each.device for each in kept}) == 1
    assert {each.clock for each in kept} == {Clock.SOUND}


def test_two_phones_that_tick_one_job_with_different_counts_keep_both_and_the_log_shows_it(
    page_as: PageAs, garden: Garden, volunteer: User, coordinator: User
) -> None:
    phones = [page_as(user, width="phone") for user in (volunteer, coordinator)]
    for page, count in zip(phones, ("36", "40"), strict=True):
        open_field(page, garden)
        page.context.set_offline(True)
        job = page.locator('[data-task="carrot-1:sow"]')
        job.locator("summary").first.click()
        job.get_by_label("How many plants?").fill(count)
        job.locator(".write").get_by_role("button", name="Done", exact=True).click()
        waits(page, 1)
    for page in phones:
        page.context.set_offline(False)
        sent(page)
    log = page_as(coordinator)
    log.goto(f"/garden/{garden.pk}/log/")
    expect(log.locator(".conflict li")).to_have_count(2)
    log.locator(".conflict li", has_text="36").get_by_role("button").click()
    expect(log.locator(".conflict")).to_have_count(0)
    assert LogEntry.objects.count() == 3


def test_a_tick_can_be_taken_back_before_and_after_it_was_sent(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.context.set_offline(True)
    tick(page, "carrot-1:sow")
    waits(page, 1)
    page.locator('[data-task="carrot-1:sow"]').get_by_role("button", name="Undo").click()
    waits(page, 2)
    expect(page.locator('[data-task="carrot-1:sow"] button.tick')).to_contain_text("Done")
    page.context.set_offline(False)
    sent(page)
    tick(page, "carrot-1:sow")
    sent(page, 3)
    page.get_by_role("button", name="Undo", exact=True).first.click()
    sent(page, 4)
    assert LogEntry.objects.count() == 4
    assert LogEntry.objects.filter(struck=True).count() == 2
    page.reload()
    expect(page.locator('[data-task="carrot-1:sow"] button.tick')).to_contain_text("Done")


def test_a_full_phone_says_so_and_keeps_what_was_typed(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.evaluate(
        "() => { IDBObjectStore.prototype.add = () => {"
        " throw new DOMException('full', 'QuotaExceededError'); }; }"
    )
    page.goto(field(garden, "weigh=carrot-1"))
    weigh(page, "12")
    expect(page.locator("#said")).to_contain_text("NOT written down")
    expect(page.locator(".figure")).to_have_text("12")
    assert not LogEntry.objects.exists()


def test_all_sent_is_not_said_before_the_jobs_are_on_the_phone(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    held: list[Route] = []
    page.context.route("**/field/data.json", lambda route: held.extend([route]))
    page.goto(field(garden))
    page.evaluate(KEPT_AT_HAND)
    until = time.monotonic() + PATIENCE_MS / 1000
    while not held and time.monotonic() < until:
        page.wait_for_timeout(50)
    expect(page.locator("#sending")).to_have_text("One moment.")
    held[0].continue_()
    expect(page.locator("#sending")).to_have_text("All sent")
    assert page.locator('[data-task="carrot-1:sow"] button.tick').count() == 1


def test_signed_out_with_lines_waiting_keeps_them_asks_to_sign_in_and_then_sends(
    page_as: PageAs, garden: Garden, volunteer: User, live_server: LiveServer
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.context.set_offline(True)
    tick(page, "carrot-1:sow")
    waits(page, 1)
    page.context.clear_cookies()
    page.context.set_offline(False)
    expect(page.locator("#banners")).to_contain_text("You are signed out. Nothing is lost: 1 wait")
    page.reload()
    waits(page, 1)
    expect(page.locator('[data-task="carrot-1:sow"]')).to_contain_text("Done")
    assert not LogEntry.objects.exists()
    sign_in(page.context, volunteer, live_server)
    page.reload()
    sent(page)
    assert LogEntry.objects.get().author == volunteer


def test_lines_of_one_person_wait_while_another_is_signed_in_on_the_same_phone(
    page_as: PageAs, garden: Garden, volunteer: User, coordinator: User, live_server: LiveServer
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.context.set_offline(True)
    tick(page, "carrot-1:sow")
    waits(page, 1)
    page.context.clear_cookies()
    sign_in(page.context, coordinator, live_server)
    page.context.set_offline(False)
    expect(page.locator("#sending")).to_have_text("Waiting: 1")
    assert not LogEntry.objects.exists()
    page.context.clear_cookies()
    sign_in(page.context, volunteer, live_server)
    page.reload()
    sent(page)
    assert LogEntry.objects.get().author == volunteer


def test_signed_out_with_nothing_waiting_leaves_no_plan_on_the_phone(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.context.clear_cookies()
    page.reload()
    expect(page.locator("#banners")).to_contain_text("Sign in")
    expect(page.locator("[data-task]")).to_have_count(0)
    page.context.set_offline(True)
    page.reload()
    expect(page.locator("main")).to_contain_text("Nothing has been fetched yet")


def test_a_phone_whose_clock_is_a_year_ahead_is_warned_and_its_day_set_right(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    page.clock.set_fixed_time(timezone.now() + timedelta(days=365))
    page.goto(field(garden))
    expect(page.locator("#banners")).to_contain_text("cannot be right")
    page.goto(field(garden, "weigh=carrot-1"))
    weigh(page, "3")
    sent(page, 1)
    kept = LogEntry.objects.get()
    assert kept.clock == Clock.SET_RIGHT
    assert abs((kept.day - timezone.now().date()).days) <= 1
    assert kept.stated_day is not None
    assert kept.stated_day.year > kept.day.year


def test_a_crate_is_weighed_with_few_touches_of_large_keys(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.goto(field(garden, "weigh=carrot-1"))
    for key in page.locator(".key").all():
        box = key.bounding_box()
        assert box is not None
        assert box["height"] >= THUMB_PX
        assert box["width"] >= THUMB_PX
    for label in ("Save",):
        button = page.get_by_role("button", name=label, exact=True)
        box = button.bounding_box()
        assert box is not None
        # Above the tabs at the foot, without scrolling.
        assert box["y"] + box["height"] < page.locator("nav.tabs").bounding_box()["y"]  # type: ignore[index]
    weigh(page, "7")
    page.get_by_role("button", name="Again 7 kg").click()
    page.get_by_role("button", name="lb", exact=True).click()
    weigh(page, "10")
    sent(page, 3)
    expect(page.locator("ul.rows li")).to_have_count(3)
    assert sorted(each.quantity or 0 for each in LogEntry.objects.all()) == pytest.approx([4.5359237, 7, 7])


def test_a_crate_that_is_too_heavy_is_asked_about(page_as: PageAs, garden: Garden, volunteer: User) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.goto(field(garden, "weigh=carrot-1"))
    weigh(page, "420")
    expect(page.locator(".confirm")).to_contain_text("a lot for one crate")
    page.get_by_role("button", name="Yes, save 420 kg").click()
    sent(page, 1)
    assert LogEntry.objects.get().quantity == 420


def test_rain_and_hours_are_written_down(page_as: PageAs, garden: Garden, volunteer: User) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.goto(field(garden, "rain"))
    weigh(page, "0")
    expect(page.locator("#said")).to_contain_text("Rain 0 mm")
    page.goto(field(garden, "hours"))
    page.get_by_role("button", name="One more").click()
    page.get_by_role("button", name="Sign in to work").click()
    expect(page.locator(".signed")).to_contain_text("people: 2")
    page.clock.install(time=timezone.now() + timedelta(hours=2))
    page.get_by_role("button", name="Sign out of work").click()
    expect(page.locator("main")).to_contain_text("4 h, people: 2")
    sent(page, 3)
    rain = LogEntry.objects.get(kind="rain")
    assert (rain.quantity, rain.unit) == (0.0, "mm")
    left = LogEntry.objects.get(kind="left")
    assert left.person_min == pytest.approx(240, abs=4)
    assert left.ends == LogEntry.objects.get(kind="came").client_id


def test_somebody_who_forgot_to_sign_out_is_asked_for_the_hours(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.goto(field(garden, "hours"))
    page.get_by_role("button", name="Sign in to work").click()
    sent(page, 1)
    page.clock.install(time=timezone.now() + timedelta(hours=20))
    page.get_by_role("button", name="Sign out of work").click()
    page.get_by_label("put the hours right").fill("3.5")
    page.locator(".confirm").get_by_role("button", name="Save").click()
    sent(page, 2)
    assert LogEntry.objects.get(kind="left").person_min == 210


def test_a_photo_waits_with_its_note_and_is_shown_in_the_log(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.context.set_offline(True)
    row = row_of_carrots(garden)
    page.goto(field(garden, f"row={row}"))
    out = io.BytesIO()
    Image.new("RGB", (2000, 1000), (70, 120, 50)).save(out, "JPEG")
    page.get_by_label("Note or photo").fill("aphids on the third plant")
    page.locator("#row-photo").set_input_files(
        {"name": "field.jpg", "mimeType": "image/jpeg", "buffer": out.getvalue()}
    )
    page.locator(".row-actions").get_by_role("button", name="Write down").last.click()
    waits(page, 2)
    page.context.set_offline(False)
    sent(page)
    seen = LogEntry.objects.get()
    page.goto(f"/garden/{garden.pk}/log/line/{seen.client_id}/")
    expect(page.locator("main")).to_contain_text("aphids on the third plant")
    width = page.locator("img.photograph").evaluate("image => image.decode().then(() => image.naturalWidth)")
    assert width == 1600


def test_a_peg_opens_its_row_for_members_without_a_network_and_the_card_for_visitors(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    peg = PegLink.objects.create(garden=garden, public=True)
    row = row_of_carrots(garden)
    visitor = page_as(None, width="phone")
    visitor.goto(f"/p/{peg.token}/{row}")
    expect(visitor.locator("h1")).to_contain_text("carrot")
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    page.evaluate(PEGS_TOO)
    page.context.set_offline(True)
    page.goto(f"/p/{peg.token}/{row}")
    expect(page.locator("h1")).to_contain_text(f"{row} carrot")
    page.get_by_role("button", name="Seedlings are through").click()
    waits(page, 1)


def test_a_reader_sees_the_jobs_and_can_write_nothing(
    page_as: PageAs, garden: Garden, transactional_db: None
) -> None:
    reader = User.objects.create_user("rada@example.org", None, name="Rada")
    garden.memberships.create(user=reader, role="reader")
    page = page_as(reader, width="phone")
    open_field(page, garden)
    expect(page.locator('[data-task="carrot-1:sow"]')).to_be_visible()
    expect(page.locator("button.tick")).to_have_count(0)
    page.goto(field(garden, "weigh"))
    expect(page.locator("main")).to_contain_text("Your part in this garden is to read")


@pytest.mark.parametrize("language", ["en", "de"])
def test_no_view_has_a_fault_that_axe_finds_or_is_wider_than_a_phone(
    page_as: PageAs,
    garden: Garden,
    volunteer: User,
    check_both: Callable[[Page], None],
    language: str,
) -> None:
    page = page_as(volunteer, width="phone", language=language)
    page.goto(field(garden))
    page.wait_for_selector("[data-task]")
    for view in VIEWS:
        page.goto(field(garden, view))
        page.wait_for_selector("h1")
        check_both(page)
        assert page.evaluate(TOO_WIDE) == [], view
    page.goto(field(garden))
    for job in page.locator("details.job-more:visible").all()[:3]:
        job.locator("summary").first.click()
    page.wait_for_selector(".cautions")
    check_both(page)
    tall = page.locator("main button, main .button, nav.tabs a")
    heights = tall.evaluate_all("all => all.map(each => each.getBoundingClientRect().height).filter(Boolean)")
    assert min(heights) >= THUMB_PX


def test_a_tick_that_was_sent_stays_in_its_place_and_no_longer_waits(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    jobs = page.locator("[data-task]").evaluate_all("all => all.map(each => each.dataset.task)")
    tick(page, "carrot-1:sow")
    sent(page, 1)
    job = page.locator('[data-task="carrot-1:sow"]')
    expect(job.locator(".state")).to_have_text(re.compile(r"^Done \w+ \d+ \w+$"))
    expect(job.get_by_role("button", name="Undo")).to_be_visible()
    assert page.locator("[data-task]").evaluate_all("all => all.map(each => each.dataset.task)") == jobs


def test_jobs_left_from_before_stay_unfolded_while_they_are_ticked(
    page_as: PageAs, garden: Garden, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    left = page.locator("details.left-over")
    left.locator("summary").first.click()
    n_left = left.locator("[data-task]").count()
    assert n_left > 1
    for n in (1, 2):
        left.get_by_role("button", name=re.compile("^Done ")).first.click()
        sent(page, n)
        expect(left.locator("summary").first).to_have_text(f"Left from before: {n_left - n}")
        expect(left.get_by_role("button", name=re.compile("^Undo ")).first).to_be_visible()


def test_a_first_job_of_the_season_to_come_is_ticked_among_those_of_this_one(
    page_as: PageAs, garden: Garden, coordinator: User, volunteer: User
) -> None:
    page = page_as(volunteer, width="phone")
    open_field(page, garden)
    tick(page, "carrot-1:sow")
    sent(page, 1)
    coming = season_to_come(garden, coordinator)
    page.reload()
    code = f"{coming.digest}|lettuce-1:sow-under-cover"
    job = page.locator(f'[data-task="{code}"]')
    expect(job).to_contain_text("Sow under cover lettuce")
    tick(page, code)
    sent(page, 2)
    expect(job).to_contain_text("Done")
    job.locator("summary").first.click()
    expect(job.locator(".words").first).to_be_visible()
    kept = LogEntry.objects.get(plan_digest=coming.digest)
    assert (kept.task_code, kept.planting_code, kept.crop) == (
        "lettuce-1:sow-under-cover", "lettuce-1", "lettuce",
    )  # fmt: skip
