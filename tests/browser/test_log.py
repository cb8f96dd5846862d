"""The log's pages, the links on pegs and the visitors' card in a browser."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

import pytest
from django.utils import timezone
from playwright.sync_api import Page, expect

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import accept
from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.reading import newest, plan_of
from tests.browser.conftest import PageAs, Width
from tests.browser.garden_now import garden_now
from tests.unit.apps.web.log.lines import line, sender


@pytest.fixture
def garden(coordinator: User) -> Garden:
    """A garden with a log in which something of everything has happened."""
    other = User.objects.create_user("vela@example.org", None, name="Vela")
    garden = garden_now(coordinator, other, later_days=12)
    now = timezone.now()
    accept(
        garden,
        sender(garden, coordinator),
        [
            line(now - timedelta(days=3), kind="sown", quantity=40, unit="plants", task="carrot-1:sow"),
            line(now, note="a long word: " + "Rindfleisch" * 12),
            line(now, kind="rain", quantity=12, unit="mm", bed="", row="", crop="", planting="", note="noon"),
            line(now, kind="left", quantity=None, unit="", person_min=150, bed="", row="", crop=""),
            line(now + timedelta(days=400)),
            line(now, kind="work", quantity=None, unit="", task="carrot-1:prepare"),
        ],
    )
    tick = line(now - timedelta(days=4), kind="sown", quantity=36, unit="plants", task="carrot-1:sow")
    accept(garden, sender(garden, other), [tick])
    return garden


@pytest.mark.parametrize("width", ["phone", "laptop"])
def test_no_page_has_a_fault_that_axe_finds_or_is_wider_than_its_screen(
    page_as: PageAs,
    garden: Garden,
    coordinator: User,
    check_both: Callable[[Page], None],
    width: Width,
) -> None:
    peg = PegLink.objects.create(garden=garden, public=True)
    saved = newest(garden)
    assert saved is not None
    row = next(each.label_code for each in plan_of(saved).plantings if each.code == "potato-1")
    some = garden.log_entries.filter(kind="picked").first()
    assert some is not None
    page = page_as(coordinator, width=width)
    inside = ("log/", "log/?history=1&bed=A", "log/new/", "log/season/", "field/pegs/")
    one = tuple(f"log/line/{some.client_id}/{tail}" for tail in ("", "correct/"))
    addresses = [f"/garden/{garden.pk}/{each}" for each in (*inside, *one)]
    for address in (*addresses, f"/p/{peg.token}/{row}?card=1", f"/p/{peg.token}/Z9?card=1"):
        page.goto(address)
        check_both(page)
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address


def test_a_line_is_written_corrected_and_taken_away_by_keyboard(
    page_as: PageAs, garden: Garden, coordinator: User
) -> None:
    page = page_as(coordinator)
    page.goto(f"/garden/{garden.pk}/log/new/")
    page.get_by_label("What happened").select_option("picked")
    page.get_by_label("Row and crop").select_option("carrot-1")
    page.get_by_label("Amount").fill("2.25")
    page.get_by_label("Unit").select_option("kg")
    page.get_by_role("button", name="Write down").press("Enter")
    line_made = page.locator("ol.log li", has_text="2.25 kg")
    expect(line_made).to_have_count(1)
    line_made.get_by_role("link").press("Enter")
    page.get_by_role("link", name="Correct").press("Enter")
    page.get_by_label("Amount").fill("3.75")
    page.get_by_role("button", name="Write down").press("Enter")
    expect(page.locator("ol.history li")).to_have_count(2)
    page.get_by_role("button", name="Take away").press("Enter")
    expect(page.locator("ol.log li", has_text="3.75 kg")).to_have_count(0)
    page.goto(f"/garden/{garden.pk}/log/?history=1")
    expect(page.locator("ol.log li", has_text="3.75 kg")).to_have_count(1)
    assert garden.log_entries.count() == 10


def test_planned_and_done_shows_what_is_late(page_as: PageAs, garden: Garden, coordinator: User) -> None:
    page = page_as(coordinator)
    page.goto(f"/garden/{garden.pk}/log/season/")
    carrots = page.locator("tr", has_text="carrot")
    expect(carrots.locator("td").nth(3)).to_have_text("8")
    expect(carrots).to_contain_text("5.00 kg")
