"""Walks over the site plan in a real browser: by keyboard alone, by pointer, by finger, by two at once."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from django.conf import settings
from django.urls import reverse
from playwright.sync_api import Browser, Locator, Page, expect

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.model.book import Bed
from tests.browser.conftest import PATIENCE_MS, LiveServer, PageAs, Width, session_of


@pytest.fixture
def leader(transactional_db: None) -> User:
    return User.objects.create_user("lea@example.org", None, name="Lea")


@pytest.fixture
def reader(transactional_db: None) -> User:
    return User.objects.create_user("rada@example.org", None, name="Rada")


@pytest.fixture
def garden(coordinator: User, leader: User, reader: User) -> Garden:
    made = load_demo(coordinator)
    for user, role in ((leader, Role.LEADER), (reader, Role.READER)):
        Membership.objects.create(garden=made, user=user, role=role)
    return made


@pytest.fixture
def by_finger(browser: Browser, live_server: LiveServer, leader: User) -> Iterator[Page]:
    """A phone in the leader's hand."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True)
    cookie = settings.SESSION_COOKIE_NAME
    context.add_cookies([{"name": cookie, "value": session_of(leader), "url": live_server.url}])
    context.set_default_timeout(PATIENCE_MS)
    yield context.new_page()
    context.close()


def opened(page: Page, server: LiveServer, garden: Garden) -> Page:
    page.goto(server.url + reverse("ground:plan", args=[garden.pk]))
    expect(page.locator("[data-ground][data-settled]")).to_be_attached()
    return page


@pytest.fixture
def plan(page_as: PageAs, leader: User, garden: Garden, live_server: LiveServer) -> Page:
    return opened(page_as(leader), live_server, garden)


def part(page: Page, name: str) -> Locator:
    return page.locator(f'[data-part="{name}"]')


def said(page: Page, words: str | re.Pattern[str]) -> None:
    expect(part(page, "last-said")).to_contain_text(words)


def item(page: Page, code: str) -> Locator:
    return page.locator("button[data-id]").filter(has_text=re.compile(rf"^{code}$"))


def field(page: Page, key: str) -> Locator:
    return page.locator(f'[data-key="{key}"]')


def middle(page: Page, code: str) -> tuple[float, float]:
    thing = item(page, code).get_attribute("data-id")
    box = page.locator(f'[data-thing="{thing}"]').bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def pull(page: Page, start: tuple[float, float], by: tuple[float, float]) -> None:
    page.mouse.move(*start)
    page.mouse.down()
    page.mouse.move(start[0] + by[0], start[1] + by[1], steps=8)
    page.mouse.up()


def bed(garden: Garden, code: str) -> Bed:
    garden.refresh_from_db()
    book = head_book(garden)
    assert book is not None
    return book.bed(code)


def press(page: Page, *keys: str) -> None:
    for key in keys:
        page.keyboard.press(key)


def tab_to(page: Page, target: Locator, *, back: bool = False) -> None:
    """Press Tab until something has the focus: it must be reachable so."""
    expect(target).to_be_visible()
    for _ in range(120):
        if target.evaluate("node => node === document.activeElement"):
            return
        page.keyboard.press("Shift+Tab" if back else "Tab")
    raise AssertionError("not reached by Tab")


def test_a_bed_and_a_tree_are_set_by_keyboard_and_numbers_alone(plan: Page, garden: Garden) -> None:
    # a bed by numbers
    tab_to(plan, plan.locator('button[data-kind="rectangle"]'))
    press(plan, "Enter")
    expect(field(plan, "rectangle.length_m")).to_be_focused()
    for text in ("5", "1,2", "13", "2.5"):
        plan.keyboard.press("Control+a")
        plan.keyboard.type(text)
        plan.keyboard.press("Tab")
    expect(part(plan, "what")).to_have_text("bed I")
    tab_to(plan, plan.get_by_label("Soil type"))
    plan.keyboard.type("sandy loam")

    # the sun, then a tree moved from the drawing itself
    tab_to(plan, part(plan, "show-sun"), back=True)
    press(plan, "Space")
    expect(plan.locator("[data-ground][data-sun-count='1']")).to_be_attached()
    hours = plan.locator("tr", has=item(plan, "L")).locator("td").last
    before = hours.inner_text()
    tab_to(plan, part(plan, "sheet"))
    for _ in range(40):
        if part(plan, "what").inner_text().startswith("old apple tree"):
            break
        press(plan, "PageDown")
    press(plan, *["Shift+ArrowLeft"] * 4)
    said(plan, "old apple tree (T1) is now at 20.5")
    expect(hours).not_to_have_text(before)

    # saved, undone, done again
    press(plan, "Control+s")
    said(plan, "Saved as revision 2")
    assert bed(garden, "I").frame.peg_m == (13, 2.5)
    assert bed(garden, "I").texture == "sandy loam"
    press(plan, "Control+z")
    said(plan, "Undone and saved as revision 3")
    expect(item(plan, "I")).to_have_count(0)
    press(plan, "Control+y")
    said(plan, "Done again and saved as revision 4")
    expect(item(plan, "I")).to_have_count(1)


def test_steps_before_saving_are_undone_one_by_one(plan: Page, garden: Garden) -> None:
    item(plan, "A").click()
    field(plan, "rectangle.length_m").fill("7")
    press(plan, "Enter")
    plan.get_by_label("Name", exact=True).fill("West bed")
    press(plan, "Tab")
    expect(part(plan, "unsaved")).to_have_text("Steps not saved: 2")

    part(plan, "undo").click()
    expect(plan.get_by_label("Name", exact=True)).to_have_value("Hedge bed")
    part(plan, "undo").click()
    expect(field(plan, "rectangle.length_m")).to_have_value("8")
    expect(part(plan, "save")).to_be_disabled()
    part(plan, "redo").click()
    expect(field(plan, "rectangle.length_m")).to_have_value("7")
    assert garden.revisions.count() == 1


def test_a_bed_is_moved_and_pulled_larger_by_pointer(plan: Page, garden: Garden) -> None:
    pull(plan, middle(plan, "N"), (60, 75))
    said(plan, "bed N")
    expect(part(plan, "what")).to_contain_text("bed N")
    place = plan.locator('.hit[data-handle="1 0.5"]').bounding_box()
    assert place is not None
    pull(plan, (place["x"] + place["width"] / 2, place["y"] + place["height"] / 2), (40, 0))
    expect(field(plan, "rectangle.length_m")).not_to_have_value("3.6")

    part(plan, "save").click()
    said(plan, "Saved as revision 2")
    frame = bed(garden, "N").frame
    assert frame.length_m > 3.6
    assert frame.width_m == 1.2
    assert frame.peg_m[1] < 6
    # whole steps of ten centimetres
    assert round(frame.length_m * 10, 6).is_integer()


def test_everything_is_drawn_corner_by_corner_or_pulled(plan: Page) -> None:
    sheet = part(plan, "sheet").bounding_box()
    assert sheet is not None
    x, y = sheet["x"] + sheet["width"] * 0.62, sheet["y"] + sheet["height"] * 0.9
    plan.locator('button[data-kind="circle"]').click()
    pull(plan, (x, y), (20, 0))
    expect(part(plan, "what")).to_have_text("bed I")
    plan.locator('button[data-kind="polygon"]').click()
    for dx, dy in ((60, 0), (110, 0), (110, -20), (60, -20)):
        plan.mouse.click(x + dx, y + dy)
    part(plan, "finish").click()
    expect(part(plan, "what")).to_have_text("bed J")
    expect(plan.locator("fieldset", has_text="Corners").locator("tbody tr")).to_have_count(4)
    plan.locator('button[data-kind="fence"]').click()
    plan.mouse.click(x + 60, y + 20)
    plan.mouse.click(x + 120, y + 20)
    press(plan, "Enter")
    expect(part(plan, "what")).to_have_text("fence (FE1)")
    plan.locator('button[data-kind="tap"]').click()
    plan.mouse.click(x + 140, y - 40)
    expect(part(plan, "what")).to_have_text("tap (TAP1)")


def test_a_point_is_set_out_by_two_tapes(plan: Page) -> None:
    item(plan, "TAP").click()
    plan.get_by_text("Set out by tape").click()
    plan.get_by_label("First point").select_option(label="site datum")
    plan.get_by_label("Second point").select_option(label="peg of bed M")  # at 2 east, 6 north
    plan.get_by_role("textbox", name="From the first").fill("5")
    plan.get_by_role("textbox", name="From the second").fill("1")
    expect(plan.locator("[data-outcome]")).to_contain_text("do not meet")
    plan.get_by_role("textbox", name="From the second").fill("5")
    plan.get_by_label("Side, looking").select_option("right")
    plan.get_by_role("button", name="Put it there").click()

    # Half of the base is √10, so the height is √(25 - 10) = √15 square to it.
    expect(field(plan, "at_m.0")).to_have_value(re.compile(r"^4\.674$"))
    expect(field(plan, "at_m.1")).to_have_value(re.compile(r"^1\.775$"))
    expect(plan.locator("[data-readings]")).to_contain_text("5 m from site datum")


def test_problems_sit_at_their_field_on_the_drawing_and_in_a_list(plan: Page, garden: Garden) -> None:
    item(plan, "A").click()
    field(plan, "rectangle.length_m").fill("long")
    press(plan, "Tab")
    expect(plan.locator(".field.wrong")).to_contain_text("got “long”; expected 0.3 to 60 m")
    field(plan, "rectangle.length_m").fill("8")
    press(plan, "Tab")
    field(plan, "rectangle.east_m").fill("3.5")
    press(plan, "Tab")
    part(plan, "save").click()

    expect(part(plan, "notice")).to_contain_text("expected beds beside each other")
    expect(plan.locator(".faults .fault")).to_have_count(1)
    plan.locator("[data-problem]").click()
    expect(part(plan, "thing-problems")).to_contain_text("edges may touch")
    assert garden.revisions.count() == 1


def test_two_people_at_once_are_put_together_or_told(
    plan: Page, page_as: PageAs, coordinator: User, garden: Garden, live_server: LiveServer
) -> None:
    other = opened(page_as(coordinator), live_server, garden)

    def set_length(page: Page, code: str, length: str) -> None:
        item(page, code).click()
        field(page, "rectangle.length_m").fill(length)
        page.keyboard.press("Enter")

    set_length(other, "A", "7.5")
    set_length(other, "M", "3.3")
    part(other, "save").click()
    said(other, "Saved as revision 2")
    set_length(plan, "N", "3.2")
    part(plan, "save").click()
    said(plan, "put together with what Corin changed")
    assert [bed(garden, code).frame.length_m for code in "AMN"] == [7.5, 3.3, 3.2]

    set_length(other, "S", "3.5")
    set_length(other, "N", "3.1")
    part(other, "save").click()
    notice = part(other, "notice")
    expect(notice).to_contain_text("Nothing was kept")
    expect(other.locator(".faults .theirs")).to_have_count(1)
    notice.get_by_label("as I have it").check()
    notice.get_by_role("button", name="Save it like this").click()
    said(other, "Saved as revision 4")
    assert [bed(garden, code).frame.length_m for code in "AMNS"] == [7.5, 3.3, 3.1, 3.5]


def test_a_finger_chooses_first_and_moves_then(
    by_finger: Page, garden: Garden, live_server: LiveServer
) -> None:
    page = opened(by_finger, live_server, garden)
    part(page, "sheet").scroll_into_view_if_needed()
    page.touchscreen.tap(*middle(page, "K"))
    expect(part(page, "what")).to_contain_text("bed K")
    expect(field(page, "circle.radius_m")).to_have_value("1.2")

    # A finger put down and drawn across, told to the browser as its own.
    x, y = middle(page, "K")
    finger = page.context.new_cdp_session(page)

    def touch(kind: str, *places: tuple[float, float]) -> None:
        points = [{"x": east, "y": down} for east, down in places]
        finger.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    touch("touchStart", (x, y))
    for k in range(1, 9):
        touch("touchMove", (x + 4 * k, y + 4 * k))
    touch("touchEnd")
    said(page, "bed K (Herb wheel) is now at")
    expect(field(page, "circle.east_m")).not_to_have_value("13.8")


def test_on_a_phone_the_drawing_comes_first_and_the_tools_are_unfolded(
    page_as: PageAs, leader: User, garden: Garden, live_server: LiveServer
) -> None:
    page = opened(page_as(leader, width="phone"), live_server, garden)
    tools = page.get_by_role("button", name="Tools")
    expect(tools).to_have_attribute("aria-expanded", "false")
    expect(part(page, "palette")).to_be_hidden()
    sheet = part(page, "sheet").bounding_box()
    assert sheet is not None
    assert sheet["y"] + sheet["height"] <= 640

    tools.click()
    expect(tools).to_have_attribute("aria-expanded", "true")
    page.locator('button[data-kind="tap"]').click()
    # what is drawn on is in sight again
    expect(part(page, "palette")).to_be_hidden()
    expect(part(page, "finish")).to_be_hidden()
    sheet = part(page, "sheet").bounding_box()
    assert sheet is not None
    page.mouse.click(sheet["x"] + sheet["width"] * 0.5, sheet["y"] + sheet["height"] * 0.9)
    expect(part(page, "what")).to_have_text("tap (TAP1)")

    # saving stays at hand down at the numbers
    field(page, "at_m.0").scroll_into_view_if_needed()
    expect(part(page, "save")).to_be_in_viewport()
    part(page, "save").click()
    said(page, "Saved as revision 2")
    expect(part(page, "save")).to_be_hidden()


def test_a_reader_sees_the_plan_and_its_sun_but_changes_nothing(
    page_as: PageAs, reader: User, garden: Garden, live_server: LiveServer
) -> None:
    page = opened(page_as(reader), live_server, garden)
    before = middle(page, "N")
    pull(page, before, (60, 60))
    item(page, "N").click()

    expect(field(page, "rectangle.length_m")).to_be_disabled()
    expect(field(page, "rectangle.east_m")).to_have_value("6.6")
    part(page, "show-sun").check()
    expect(page.locator(".isoline").first).to_be_attached()


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_no_barrier_is_found(
    page_as: PageAs,
    leader: User,
    garden: Garden,
    live_server: LiveServer,
    check_both: Callable[[Page], None],
    width: Width,
) -> None:
    page = opened(page_as(leader, width=width), live_server, garden)
    check_both(page)
    if width == "phone":
        part(page, "fold").click()
        check_both(page)
    part(page, "show-sun").check()
    page.get_by_text("Set out by tape").click()
    item(page, "L").click()
    expect(page.locator(".isoline").first).to_be_attached()
    check_both(page)
    page.locator('button[data-kind="hedge"]').click()
    check_both(page)
    part(page, "give-up").click()
    item(page, "A").click()
    field(page, "rectangle.east_m").fill("3.5")
    page.keyboard.press("Tab")
    part(page, "save").click()
    expect(part(page, "notice")).to_be_visible()
    check_both(page)


@pytest.mark.parametrize("size", [(320, 640), (683, 425)])
def test_nothing_runs_off_a_narrow_or_enlarged_page(plan: Page, size: tuple[int, int]) -> None:
    plan.set_viewport_size({"width": size[0], "height": size[1]})
    item(plan, "L").click()
    plan.get_by_text("Set out by tape").click()

    assert plan.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    sheet = part(plan, "sheet").bounding_box()
    assert sheet is not None
    assert sheet["height"] <= size[1]


def test_the_page_breaks_no_rule_of_its_own(
    page_as: PageAs, leader: User, garden: Garden, live_server: LiveServer
) -> None:
    page = page_as(leader)
    faults: list[str] = []
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    page.on("pageerror", lambda error: faults.append(str(error)))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))

    opened(page, live_server, garden)
    part(page, "show-sun").check()
    expect(page.locator(".isoline").first).to_be_attached()

    assert faults == []
    assert all(url.startswith((live_server.url, "data:", "blob:")) for url in asked)


def test_on_paper_the_plan_is_drawn_to_a_usual_scale(plan: Page) -> None:
    plan.evaluate("window.dispatchEvent(new Event('beforeprint'))")

    expect(part(plan, "print-scale")).to_have_text("Scale 1:200, if printed at 100 %.")
    plan.evaluate("window.dispatchEvent(new Event('afterprint'))")
    expect(item(plan, "A")).to_be_visible()
