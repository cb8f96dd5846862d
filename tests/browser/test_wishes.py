"""The wishes in a real browser: the estimate follows the form, in both languages and at both widths."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.people.models import User
from tests.browser.conftest import PageAs, Width


@pytest.mark.parametrize(("width", "dark", "language"), [("laptop", False, "en"), ("phone", True, "de")])
def test_the_estimate_follows_the_form_and_is_sound(
    page_as: PageAs,
    coordinator: User,
    check_axe: Callable[[Page], None],
    width: Width,
    dark: bool,
    language: str,
) -> None:
    garden = load_demo(coordinator)
    page = page_as(coordinator, width=width, dark=dark, language=language)
    page.goto(f"/garden/{garden.pk}/book/section/wishes/entry/carrot-1/")
    estimate = page.locator(".estimate")
    own = estimate.locator(".own")
    expect(own).to_contain_text("200")
    crop, amount = ("Crop", "Amount") if language == "en" else ("Kultur", "Menge")
    expect(page.get_by_role("combobox", name=crop).first).to_have_value(
        "carrot" if language == "en" else "Möhre"
    )
    page.get_by_role("textbox", name=amount).fill("500")
    expect(own).to_contain_text("10000")
    expect(estimate).to_contain_text("Not enough." if language == "en" else "Nicht genug.")
    page.get_by_role("textbox", name=amount).fill("ten")
    expect(own).to_have_count(0)
    page.get_by_role("textbox", name=amount).fill("10")
    expect(own).to_contain_text("200")
    check_axe(page)
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    for path in ("section/wishes/", "section/people/", "section/goals/", "section/beds/", "estimate/"):
        page.goto(f"/garden/{garden.pk}/book/{path}")
        expect(page.locator(".estimate dl.suffice")).to_be_visible()
        check_axe(page)
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), path


def test_without_scripts_the_estimate_is_a_page(
    browser_without_scripts: Callable[[User], Page], coordinator: User
) -> None:
    garden = load_demo(coordinator)
    page = browser_without_scripts(coordinator)
    page.goto(f"/garden/{garden.pk}/book/section/wishes/")
    page.get_by_role("link", name="Would it suffice?").click()
    expect(page.locator("dl.suffice")).to_be_visible()
