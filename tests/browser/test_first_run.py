"""A newcomer from an empty data folder to a printed bed sheet, led by nothing but the pages.

Every step is what the page before offers. Labels and links are looked for by their words, as a
person does. `STEPS` and `BOXES` say how much there is to press and to type: at three seconds a
step and ten a box, which is slow, the way takes some five minutes beside the planning itself.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pypdf
import pytest
from django.conf import settings
from playwright.sync_api import Page, expect

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.joining import start_secret
from bedwright.apps.web.people.models import User
from tests.browser.conftest import PageAs, Width

BOXES = 24
"""Boxes filled in or chosen from, at most."""
STEPS = 18
"""Links and buttons pressed, at most."""


class Newcomer:
    """Fills in and presses, and counts."""

    def __init__(self, page: Page) -> None:
        self.page, self.boxes, self.steps = page, 0, 0

    def fill(self, label: str, text: str) -> None:
        self.page.get_by_role("textbox", name=label, exact=True).fill(text)
        self.boxes += 1

    def choose(self, label: str, text: str) -> None:
        self.page.get_by_label(label, exact=True).select_option(label=text)
        self.boxes += 1

    def follow(self, words: str) -> None:
        self.page.get_by_role("link", name=words, exact=True).first.click()
        self.steps += 1

    def press(self, words: str) -> None:
        self.page.get_by_role("button", name=words, exact=True).click()
        self.steps += 1

    def heading(self, words: str) -> None:
        expect(self.page.get_by_role("heading", level=1)).to_have_text(words)


def no_account_yet() -> str:
    assert not User.objects.exists()
    assert not Garden.objects.exists()
    return f"/start/{start_secret()}/"


@pytest.mark.parametrize("width", ["laptop", "phone"])
def test_from_an_empty_folder_to_a_printed_bed_sheet(
    page_as: PageAs, transactional_db: None, worker: None, width: Width, check_axe: Callable[[Page], None]
) -> None:
    page = page_as(width=width)
    me = Newcomer(page)
    page.goto(no_account_yet())
    me.fill("Your name", "Rowan")
    me.fill("Email address", "rowan@example.org")
    page.get_by_label("Password").fill("lantern field gate")
    page.get_by_label("Start with the demonstration garden").uncheck()
    me.press("Make the account")

    # no garden yet: the page says what to do
    expect(page.get_by_text("You have no garden yet.")).to_be_visible()
    check_axe(page)
    me.follow("New garden")
    check_axe(page)
    for label, text in (
        ("Latitude", "51.75"), ("Longitude", "-1.25"), ("Elevation", "63"),
        ("Last frost of spring", "05-05"), ("First frost of autumn", "10-12"),
        ("Length", "5"), ("Width", "1.2"), ("Bearing", "90"),
    ):  # fmt: skip
        me.fill(label, text)
    page.get_by_role("textbox", name="Name", exact=True).fill("Wicket Lane plot")
    expect(page.get_by_label("Time zone")).not_to_have_value("")
    me.press("Make the garden")

    # what is missing is told at its box, and nothing typed is lost
    expect(page.get_by_role("alert")).to_contain_text("1 box has a problem")
    expect(page.locator(".field.wrong")).to_have_count(1)
    expect(page.locator(".field.wrong")).to_contain_text("Please choose.")
    check_axe(page)
    me.choose("Texture", "sandy loam")
    me.press("Make the garden")
    me.heading("Wicket Lane plot")

    # each next step is offered by the overview
    me.follow("Say what you want to grow")
    for crop, amount in (("carrot", "4"), ("lettuce", "10"), ("bush bean", "3")):
        page.get_by_label("Name, other name or family").fill(crop)
        me.boxes += 1
        page.get_by_role("link", name=re.compile(rf"^Wish for it ?: {crop}$")).click()
        me.steps += 1
        me.fill("Amount", amount)
        expect(page.locator(".estimate")).to_contain_text("This wish:")
        me.press("Keep")
        expect(page.get_by_role("status")).to_contain_text("Kept as revision")
        if crop != "bush bean":
            me.follow("Search the catalogue")
    check_axe(page)
    me.follow("Make the season plan")
    me.press("Make the season plan")
    expect(page.get_by_role("heading", name="Plantings")).to_be_visible(timeout=600_000)
    me.follow("Papers")
    answer = page.request.get(str(page.get_by_role("link", name="Bed sheets").first.get_attribute("href")))
    me.steps += 1
    assert answer.headers["content-type"] == "application/pdf"
    sheets = pypdf.PdfReader(io.BytesIO(answer.body()))
    text = " ".join(sheet.extract_text() for sheet in sheets.pages)
    assert "Wicket Lane plot" in text
    assert "carrot" in text
    assert me.boxes <= BOXES
    assert me.steps <= STEPS
    assert not (settings.DATA / "start-link").exists()
