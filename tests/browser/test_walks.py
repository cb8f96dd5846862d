"""Whole walks, as a coordinator would go them."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.people.models import User
from tests.browser.conftest import PageAs

KEYS_AT_MOST = 150


def tab_to(page: Page, words: str) -> None:
    """Press Tab until the focus is on something with a name, as people without a mouse do."""
    for _ in range(KEYS_AT_MOST):
        page.keyboard.press("Tab")
        name = page.evaluate(
            "(() => { const e = document.activeElement; const l = e.labels && e.labels[0];"
            " return (l ? l.textContent : e.textContent || '').trim().replace(/\\s+/g, ' '); })()"
        )
        if name.startswith(words):
            outline = page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
            assert outline != "none", f"no mark of the focus on {words}"
            return
    pytest.fail(f"{words} cannot be reached with the keyboard on {page.url}")


def press(page: Page, words: str) -> None:
    tab_to(page, words)
    with page.expect_navigation():
        page.keyboard.press("Enter")


def test_by_keyboard_alone_from_signing_in_to_the_papers(
    page_as: PageAs, coordinator: User, worker: None
) -> None:
    page = page_as()
    page.goto("/")
    tab_to(page, "Email address")
    page.keyboard.type("corin@example.org")
    tab_to(page, "Password")
    page.keyboard.type("lantern field gate")
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("Your gardens")
    press(page, "Load the demonstration garden")
    expect(page.get_by_role("heading", level=1)).to_have_text("Lantern Field learning garden")
    press(page, "Make the season plan")
    press(page, "Make the season plan")
    expect(page.get_by_role("heading", name="Plantings")).to_be_visible(timeout=600_000)
    press(page, "Papers")
    expect(page.get_by_role("heading", level=1)).to_have_text("Papers")
    tab_to(page, "Planting plan")
    href = page.evaluate("document.activeElement.href")
    answer = page.request.get(href)
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.body().startswith(b"%PDF")


def test_a_wish_is_searched_changed_undone_and_redone(page_as: PageAs, coordinator: User) -> None:
    garden = load_demo(coordinator)
    page = page_as(coordinator)
    page.goto(f"/garden/{garden.pk}/book/crops/")
    page.get_by_label("Name, other name or family").press_sequentially("beetr")
    expect(page.locator("#crop-list li")).to_have_count(0)
    page.get_by_label("Name, other name or family").fill("swede")
    expect(page.locator("#crop-list li")).to_have_count(1)
    page.get_by_role("link", name="Wish for it").click()
    page.get_by_role("textbox", name="Amount").fill("abc")
    page.get_by_role("button", name="Keep").click()
    expect(page.locator(".field.wrong .problem")).to_contain_text("expected a whole number")
    page.get_by_role("textbox", name="Amount").fill("12")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("status")).to_contain_text("Kept as revision 2.")
    assert "rutabaga" in crops(garden)
    page.goto(f"/garden/{garden.pk}/book/")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("status")).to_contain_text("Undone")
    assert "rutabaga" not in crops(garden)
    page.get_by_role("button", name="Redo").click()
    expect(page.get_by_role("status")).to_contain_text("Redone")
    assert "rutabaga" in crops(garden)


def crops(garden: Garden) -> set[str]:
    garden.refresh_from_db()
    assert garden.head is not None
    return {wish.crop for wish in book_of(garden.head.text).wishes}


def test_two_people_at_one_entry_see_each_other(page_as: PageAs, coordinator: User) -> None:
    garden = load_demo(coordinator)
    path = f"/garden/{garden.pk}/book/section/wishes/entry/kale-1/"
    first, second = page_as(coordinator), page_as(coordinator)
    first.goto(path)
    second.goto(path)
    first.get_by_label("Priority").fill("1")
    first.get_by_role("button", name="Keep").click()
    expect(first.get_by_role("status")).to_contain_text("Kept")
    second.get_by_label("Priority").fill("2")
    second.get_by_role("button", name="Keep").click()
    expect(second.get_by_role("alert")).to_contain_text("Somebody changed the same entries meanwhile")
    expect(second.get_by_label("Priority")).to_have_value("2")


def test_the_first_link_makes_the_first_account(page_as: PageAs, transactional_db: None) -> None:
    from bedwright.apps.web.people.joining import start_secret  # noqa: PLC0415

    page = page_as(width="phone")
    page.goto(f"/start/{start_secret()}/")
    page.get_by_label("Your name").fill("Rowan")
    page.get_by_label("Email address").fill("rowan@example.org")
    page.get_by_label("Password").fill("lantern field gate")
    page.get_by_role("button", name="Make the account").click()
    expect(page.get_by_role("heading", name="What comes next")).to_be_visible()


def test_pages_work_without_scripts(
    browser_without_scripts: Callable[[User], Page], coordinator: User
) -> None:
    garden = load_demo(coordinator)
    page = browser_without_scripts(coordinator)
    page.goto(f"/garden/{garden.pk}/book/crops/?q=kale")
    page.get_by_role("link", name="Wish for it").first.click()
    page.get_by_role("textbox", name="Amount").fill("3")
    page.get_by_role("button", name="Keep").click()
    expect(page.get_by_role("status")).to_contain_text("Kept as revision 2.")
