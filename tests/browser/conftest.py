"""A real browser on a real server: fixtures for walks through the application."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings as django_settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.db import connection
from django_tasks_db.management.commands.db_worker import Worker
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright
from pytest_django import Settings
from pytest_django.live_server_helper import LiveServer

from bedwright.apps.web.people.models import User
from bedwright.apps.web.season.taking_up import new_worker_id

CHROMIUM = os.environ.get("BEDWRIGHT_CHROMIUM") or shutil.which("chromium") or "/usr/bin/chromium"
ARGUMENTS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
Width = Literal["phone", "laptop"]
SIZES: dict[Width, tuple[int, int]] = {"phone": (320, 640), "laptop": (1280, 800)}
PageAs = Callable[..., Page]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if not Path(CHROMIUM).exists():
                item.add_marker(pytest.mark.skip(reason=f"no browser at {CHROMIUM}"))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    # Playwright runs an event loop in this thread, which Django takes for asynchronous code.
    with pytest.MonkeyPatch.context() as environment, sync_playwright() as playwright:
        environment.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()


@pytest.fixture(autouse=True)
def data_folders(settings: Settings, tmp_path: Path) -> None:
    settings.MADE_PAPERS = tmp_path / "papers"
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def page_as(browser: Browser, live_server: LiveServer) -> Iterator[PageAs]:
    """Open a page as a person: `page_as(user, width="phone", dark=True, language="de")`.

    Whatever the browser complains of (a script, a style or a request that the policy
    forbids, an error in a module) fails the test.
    """
    contexts: list[BrowserContext] = []
    complaints: list[str] = []

    def opened(
        user: User | None = None, *, width: Width = "laptop", dark: bool = False, language: str = "en"
    ) -> Page:
        wide, high = SIZES[width]
        context = browser.new_context(
            # Colours are judged at rest, not half-way through a fade.
            reduced_motion="reduce",
            viewport={"width": wide, "height": high},
            color_scheme="dark" if dark else "light",
            locale=language,
            base_url=live_server.url,
        )
        contexts.append(context)
        if user is not None:
            context.add_cookies(
                [
                    {
                        "name": django_settings.SESSION_COOKIE_NAME,
                        "value": session_of(user),
                        "url": live_server.url,
                    }
                ]
            )
        page = context.new_page()
        page.set_default_timeout(10_000)
        page.on(
            "console", lambda message: complaints.append(message.text) if message.type == "error" else None
        )
        page.on("pageerror", lambda error: complaints.append(str(error)))
        return page

    yield opened
    for context in contexts:
        context.close()
    # An answer of 4xx is logged by the browser too; the walks look at those themselves.
    assert [text for text in complaints if "Failed to load resource" not in text] == []


def session_of(user: User) -> str:
    """A session in which a person has signed in."""
    session = SessionStore()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.create()
    return str(session.session_key)


@pytest.fixture
def coordinator(transactional_db: None) -> User:
    return User.objects.create_user("corin@example.org", "lantern field gate", name="Corin")


@pytest.fixture
def check_axe() -> Callable[[Page], None]:
    """Fail on anything that axe finds on the page."""
    axe = Axe()

    def check(page: Page) -> None:
        found: dict[str, Any] = axe.run(page).response
        told = [
            f"{each['id']}: {node['target']} {node.get('failureSummary', '')}"
            for each in found["violations"]
            for node in each["nodes"]
        ]
        assert told == [], page.url

    return check


@pytest.fixture
def worker(transactional_db: None) -> Iterator[None]:
    """Work on what is asked for, as the worker process does, until the test ends."""
    working = Worker(
        queue_names=["default"],
        excluded_queue_names=[],
        interval=0.2,
        batch=False,
        backend_name="default",
        startup_delay=False,
        max_tasks=None,
        worker_id=new_worker_id(),
    )

    def work() -> None:
        working.run()
        connection.close()

    thread = threading.Thread(target=work)
    thread.start()
    yield
    working.running = False
    thread.join()


@pytest.fixture
def browser_without_scripts(browser: Browser, live_server: LiveServer) -> Iterator[Callable[[User], Page]]:
    """Open a page as a person, with scripts switched off."""
    context = browser.new_context(base_url=live_server.url, java_script_enabled=False)

    def opened(user: User) -> Page:
        name = django_settings.SESSION_COOKIE_NAME
        context.add_cookies([{"name": name, "value": session_of(user), "url": live_server.url}])
        return context.new_page()

    yield opened
    context.close()
