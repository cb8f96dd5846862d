"""Every page there is, found from the list of addresses: at both widths, light and dark.

A page that is new is looked at without a line here. Nothing that axe finds, nothing wider than
its screen or cut off at 200 %, little to load, nothing from elsewhere, a strict policy.
"""

from __future__ import annotations

import gzip
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import pytest
from django.test import Client
from django.utils import timezone
from playwright.sync_api import Page, Response, expect

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, catalogue
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.apps.web.project.headers import CONTENT_SECURITY_POLICY
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.engine.pipeline import plan_season
from bedwright.model.season import SeasonPlan
from bedwright.store.season import season_json
from tests.browser.conftest import REST_S, PageAs, Width
from tests.unit.apps.web.access_table import ACCESS, LATER
from tests.unit.apps.web.addresses import ALL, address_of, objects_of

MOST_BYTES_OF_FIRST_LOAD = 200_000
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
FURTHER = (
    "/no-such-page/",
    "book/section/site/", "book/section/beds/entry/H/", "book/section/beds/entry/L/",
    "book/section/features/entry/T1/", "book/section/wishes/", "book/section/wishes/entry/carrot-1/",
    "book/section/wishes/add/?crop=kale", "book/section/history/", "book/section/people/add/",
    "book/section/seed-drawer/entry/S02/", "book/section/goals/", "book/section/notes/",
    "season/{failed}/", "season/{waiting}/", "season/compare/?plan={done}&plan={older}", "log/?history=1",
)  # fmt: skip
"""Pages that an address shows for other objects; without a slash in front, of the garden."""

WRONG: tuple[tuple[str, str, str], ...] = (
    ("/new/", "form[data-keep]", ""),
    ("/new/book/", "main form", ""),
    ("/account/", "main form", ""),
    ("/account/password/", "main form", "short"),
    ("book/text/", "form[data-keep]", "beds: ["),
    ("book/weather/", "form[data-keep]", "?"),
    ("book/weather/", "form[action$='upload/']", ""),
    ("book/section/site/", "form[data-keep]", "?"),
    ("book/section/beds/entry/H/", "form[data-keep]", "?"),
    ("book/section/beds/add/", "form[data-keep]", ""),
    ("book/section/features/add/", "form[data-keep]", "?"),
    ("book/section/wishes/add/?crop=kale", "form[data-keep]", "?"),
    ("book/section/people/add/", "form[data-keep]", "?"),
    ("book/section/goals/", "form[data-keep]", "?"),
    ("season/", "form[action$='make/']", "?"),
    ("log/new/", "form[data-keep]", "?"),
)
"""(page, form, what is typed into every box): each is sent back with its faults."""

FILL_AND_SEND = """(form, typed) => {
  for (const each of form.querySelectorAll("input, textarea")) {
    if (!["hidden", "radio", "checkbox", "file", "submit"].includes(each.type)) each.value = typed;
  }
  form.noValidate = true;
  form.requestSubmit();
}"""
CUT_OFF = """() => [...document.querySelectorAll("main *")].filter((each) => {
  if (each.closest(".unseen, .labelled > thead, svg, [hidden]") || !each.textContent.trim()) return false;
  const style = getComputedStyle(each);
  const cut = (axis) => ["hidden", "clip"].includes(style["overflow" + axis]);
  return (cut("X") && each.scrollWidth > each.clientWidth + 1)
    || (cut("Y") && each.scrollHeight > each.clientHeight + 1);
}).map((each) => each.outerHTML.slice(0, 200))"""
AT_REST = "new Promise((done) => requestIdleCallback(() => setTimeout(done)))"
TOO_WIDE = "document.documentElement.scrollWidth > document.documentElement.clientWidth"


@dataclass(frozen=True)
class Pages:
    """Paths of all pages: with a garden in use, with an empty one, and for those outside."""

    of_coordinator: tuple[str, ...]
    of_visitor: tuple[str, ...]
    garden: str
    """Begin of the paths of the garden."""


@pytest.fixture(scope="module")
def plan() -> SeasonPlan:
    return plan_season(book_of(SMALL_BOOK), None, catalogue(), seed=1, today=date(2026, 12, 1))


@pytest.fixture(scope="module")
def whole() -> dict[str, tuple[bool, ...]]:
    """Which addresses give whole pages, once it is found out: the same whatever the numbers in them."""
    return {}


@pytest.fixture
def pages(coordinator: User, plan: SeasonPlan, whole: dict[str, tuple[bool, ...]]) -> Pages:
    garden = load_demo(coordinator)
    member = User.objects.create_user("rada@example.org", None, name="Rada")
    Membership.objects.create(garden=garden, user=member, role=Role.READER)
    packed = gzip.compress(season_json(plan).encode())
    made = {
        name: _saved(garden, coordinator, plan, state, packed if state == PlanState.DONE else None)
        for name, state in (
            ("older", PlanState.DONE), ("failed", PlanState.FAILED),
            ("waiting", PlanState.WAITING), ("done", PlanState.DONE),
        )
    }  # fmt: skip
    objects = objects_of(garden, coordinator, member, made["done"])
    inside = f"/garden/{garden.pk}/"
    numbers = {name: each.pk for name, each in made.items()}
    further = [each if each.startswith("/") else inside + each.format(**numbers) for each in FURTHER]
    paths = [address_of(each, objects) for each in ALL if ACCESS.get(each.name, (None,))[0] is not None]

    def whole_of(kind: str, person: User | None, asked: list[str]) -> tuple[str, ...]:
        if kind not in whole:
            whole[kind] = _are_whole_pages(person, asked)
        return tuple(path for path, is_whole in zip(asked, whole[kind], strict=True) if is_whole)

    own = whole_of("with a garden in use", coordinator, paths)
    empty = Garden.objects.create(name="New garden")
    Membership.objects.create(garden=empty, user=coordinator, role=Role.COORDINATOR)
    keep(
        empty,
        SMALL_BOOK.partition("  - {crop")[0].replace("wishes:", "wishes: []"),
        author=coordinator,
        follows=None,
    )
    begun = f"/garden/{empty.pk}/"
    empty_paths = [path.replace(inside, begun) for path in own if path.startswith(inside)]
    own += (*further, *whole_of("with an empty garden", coordinator, empty_paths))
    return Pages(own, whole_of("outside", None, paths), inside)


def _saved(
    garden: Garden, coordinator: User, plan: SeasonPlan, state: PlanState, packed: bytes | None
) -> SavedPlan:
    assert garden.head is not None
    return SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        asked_by=coordinator,
        today=plan.made_on,
        state=state,
        finished_at=timezone.now(),
        digest=plan.revision,
        season_start=plan.book.season_start,
        packed=packed,
        problems=[{"text": "It went wrong for the test."}] if state == PlanState.FAILED else [],
    )


def _are_whole_pages(person: User | None, paths: list[str]) -> tuple[bool, ...]:
    """Whether each answers with a page, and not with a file, a part of a page or another address."""
    client = Client()
    if person is not None:
        client.force_login(person)
    answers = (client.get(path) for path in paths)
    return tuple(
        answer.status_code == 200 and not answer.streaming and b"</html>" in answer.content
        for answer in answers
    )


def look_at(page: Page, check_both: Callable[[Page], None], width: Width) -> None:
    """Light, dark, as wide as the screen, and enlarged."""
    page.evaluate("document.querySelectorAll('main details').forEach((each) => { each.open = true; })")
    assert page.locator("h1").count() == 1, page.url
    check_both(page)
    assert not page.evaluate(TOO_WIDE), page.url
    if width == "laptop":
        # A window of 1280 px at 200 % shows as much as one of 640 px.
        page.set_viewport_size({"width": 640, "height": 400})
        assert not page.evaluate(TOO_WIDE), f"{page.url} at 200 %"
        assert page.evaluate(CUT_OFF) == [], f"{page.url} at 200 %"
        page.set_viewport_size({"width": 1280, "height": 800})


def opened(page: Page, path: str) -> Response:
    answer = page.goto(path)
    assert answer is not None
    assert answer.headers["content-security-policy"] == CONTENT_SECURITY_POLICY, path
    # The field pages draw themselves once their store is open and the day's jobs have come.
    expect(page.locator("[aria-busy=true]")).to_have_count(0)
    return answer


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_no_page_has_a_fault_that_axe_finds_or_is_wider_than_its_screen(
    page_as: PageAs, pages: Pages, coordinator: User, check_both: Callable[[Page], None], width: Width
) -> None:
    assert not LATER
    assert len(pages.of_coordinator) > 60
    page = page_as(coordinator, width=width)
    for path in pages.of_coordinator:
        opened(page, path)
        look_at(page, check_both, width)
    # The same in German, where words are longer; what axe looks at does not depend on them.
    page = page_as(coordinator, width=width, language="de")
    for path in pages.of_coordinator:
        opened(page, path)
        assert page.evaluate("document.documentElement.lang") == "de", path
        assert not page.evaluate(TOO_WIDE), path


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_pages_for_visitors_are_sound_too(
    page_as: PageAs, pages: Pages, check_both: Callable[[Page], None], width: Width
) -> None:
    assert "/sign-in/" in pages.of_visitor
    page = page_as(width=width)
    for path in pages.of_visitor:
        opened(page, path)
        look_at(page, check_both, width)
    page.goto("/sign-in/")
    page.get_by_label("Email address").fill("nobody@example.org")
    page.get_by_label("Password").fill("whatever it was")
    page.get_by_role("button", name="Sign in").click()
    page.get_by_role("alert").wait_for()
    look_at(page, check_both, width)


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_forms_sent_back_with_their_faults_are_sound_too(
    page_as: PageAs, pages: Pages, coordinator: User, check_both: Callable[[Page], None], width: Width
) -> None:
    page = page_as(coordinator, width=width)
    for path, form, typed in WRONG:
        page.goto(path if path.startswith("/") else pages.garden + path)
        with page.expect_navigation() as sent:
            page.locator(form).first.evaluate(FILL_AND_SEND, typed)
        assert sent.value is not None
        assert sent.value.status in {409, 422}, f"{path} {form}"
        assert page.locator(".problem, .problems, [role=alert]").count(), f"{path} {form}"
        look_at(page, check_both, width)


def test_a_first_visit_of_any_page_loads_little(page_as: PageAs, pages: Pages, coordinator: User) -> None:
    page = page_as(coordinator)
    wire = page.context.new_cdp_session(page)
    wire.send("Network.enable")
    # Every page as if it were the first.
    wire.send("Network.setCacheDisabled", {"cacheDisabled": True})
    begun: dict[str, tuple[str, str]] = {}
    n_bytes: dict[str, int] = {}
    wire.on(
        "Network.requestWillBeSent",
        lambda event: begun.update({event["requestId"]: (event["loaderId"], event["request"]["url"])}),
    )
    wire.on("Network.loadingFailed", lambda event: n_bytes.update({event["requestId"]: 0}))
    wire.on(
        "Network.loadingFinished",
        lambda event: n_bytes.update({event["requestId"]: int(event["encodedDataLength"])}),
    )

    def on_their_way() -> list[str]:
        """What this page has asked for and not got; the page left behind may never hear of its own."""
        loader = wire.send("Page.getFrameTree")["frameTree"]["frame"]["loaderId"]
        return [url for name, (of, url) in begun.items() if of == loader and name not in n_bytes]

    loaded: dict[str, int] = {}
    for path in pages.of_coordinator:
        begun.clear()
        n_bytes.clear()
        opened(page, path)
        # Modules belong to the load; what they ask for at once is waited for too.
        page.evaluate(AT_REST)
        until = time.monotonic() + REST_S
        while waited_for := on_their_way():
            assert time.monotonic() < until, f"{path} still waits for {waited_for}"
            page.evaluate(AT_REST)
        loaded[path] = sum(n_bytes.values())
    assert min(loaded.values()) > 10_000
    assert {path: n for path, n in loaded.items() if n > MOST_BYTES_OF_FIRST_LOAD} == {}
