"""A real browser on a real server: fixtures for walks through the application."""

from __future__ import annotations

import os
import shutil
import threading
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Literal

import pytest
import waitress
from axe_playwright_python.sync_playwright import Axe
from django.conf import settings as django_settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.wsgi import get_wsgi_application
from django.db import connection
from django.test.utils import modify_settings, override_settings
from django_tasks_db.management.commands.db_worker import Worker
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from pytest_django import Settings

from bedwright.apps.web.people.models import User
from bedwright.apps.web.project.serving import THREADS, collect_static
from bedwright.apps.web.season.taking_up import new_worker_id

CHROMIUM = os.environ.get("BEDWRIGHT_CHROMIUM") or shutil.which("chromium") or "/usr/bin/chromium"
ARGUMENTS = [
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync",
]  # fmt: skip
Width = Literal["phone", "laptop"]
SIZES: dict[Width, tuple[int, int]] = {"phone": (320, 640), "laptop": (1280, 800)}
PageAs = Callable[..., Page]
REST_S = 120.0
PATIENCE_MS = 120_000
"""A bound for what comes, not a time that is waited: a busy machine answers late and still right."""
RUN_AXE = "(options) => axe.run(document, options).then((all) => all.violations)"
COLOUR_RULES = ("color-contrast", "link-in-text-block")
"""Rules of axe whose outcome can differ between light and dark."""


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    here = Path(__file__).parent
    for item in items:
        if here in item.path.parents:
            item.add_marker(pytest.mark.browser)
            if not Path(CHROMIUM).exists():
                item.add_marker(pytest.mark.skip(reason=f"no browser at {CHROMIUM}"))


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    if not Path(CHROMIUM).exists():
        terminalreporter.write_sep(
            "=", f"NOTHING WAS TESTED IN A BROWSER: there is none at {CHROMIUM}", red=True
        )


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    # Playwright runs an event loop in this thread, which Django takes for asynchronous code.
    with pytest.MonkeyPatch.context() as environment, sync_playwright() as playwright:
        environment.setenv("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
        expect.set_options(timeout=PATIENCE_MS)
        opened = playwright.chromium.launch(executable_path=CHROMIUM, args=ARGUMENTS)
        yield opened
        opened.close()


class LiveServer:
    """The server that `bedwright serve` runs, in a thread; it takes the place of Django's own.

    Static files are gathered, named by their content and packed, as they are in use.
    """

    _live_server_modified_settings = modify_settings()
    """Asked for by the plugin; nothing is to be changed here."""

    def __init__(self) -> None:
        self._application = get_wsgi_application()
        self._n_open = 0
        self._changed = threading.Condition()
        self._server = waitress.create_server(
            self._answer, host="127.0.0.1", port=0, threads=THREADS, ident=None
        )
        self.url = f"http://127.0.0.1:{self._server.effective_port}"
        self._thread = threading.Thread(target=self._server.run, daemon=True)
        self._thread.start()

    def _answer(self, environ: dict[str, Any], start_response: Any) -> Any:
        with self._changed:
            self._n_open += 1
        try:
            return self._application(environ, start_response)
        finally:
            with self._changed:
                self._n_open -= 1
                self._changed.notify_all()

    def rest(self) -> None:
        """Wait until every request that was begun is answered: the next test has another database."""
        with self._changed:
            self._changed.wait_for(lambda: self._n_open == 0, timeout=REST_S)

    def end(self) -> None:
        """Take no more requests, and end those begun."""
        self._server.task_dispatcher.shutdown()
        self._server.close()
        self._thread.join(10)


@pytest.fixture(scope="session")
def live_server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LiveServer]:
    named_by_content = {
        "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
        "staticfiles": {"BACKEND": "bedwright.apps.web.project.static_files.NamedByContent"},
    }
    with override_settings(
        STORAGES=named_by_content,
        STATIC_ROOT=tmp_path_factory.mktemp("static"),
        WHITENOISE_USE_FINDERS=False,
        WHITENOISE_AUTOREFRESH=False,
    ):
        collect_static()
        server = LiveServer()
        yield server
        server.end()


@pytest.fixture(autouse=True)
def requests_end_with_their_test(transactional_db: None, live_server: LiveServer) -> Iterator[None]:
    yield
    live_server.rest()


@pytest.fixture(autouse=True)
def data_folders(settings: Settings, tmp_path: Path) -> None:
    settings.MADE_PAPERS = tmp_path / "papers"
    settings.MEDIA_ROOT = tmp_path / "media"


@pytest.fixture
def page_as(browser: Browser, live_server: LiveServer) -> Iterator[PageAs]:
    """Open a page as a person: `page_as(user, width="phone", dark=True, language="de")`.

    Whatever the browser complains of (a script, a style or a request that the policy
    forbids, an error in a module) fails the test, and so does a request to anywhere else.
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
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        context.on(
            "request", lambda request: complaints.extend(_from_elsewhere(request.url, live_server.url))
        )
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


def _from_elsewhere(url: str, own: str) -> list[str]:
    return [] if url.startswith((f"{own}/", "data:", "blob:")) else [f"a request to {url}"]


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
def check_axe() -> Callable[..., None]:
    """Fail on anything that axe finds on the page; with `colours`, of the rules on colours alone."""
    script = Axe().axe_script

    def check(page: Page, *, colours: bool = False) -> None:
        options = {"runOnly": {"type": "rule", "values": list(COLOUR_RULES)}} if colours else {}
        if not page.evaluate("'axe' in window"):
            page.evaluate(script)
        found = page.evaluate(RUN_AXE, {**options, "resultTypes": ["violations"]})
        told = [
            f"{each['id']}: {node['target']} {node.get('failureSummary', '')}"
            for each in found
            for node in each["nodes"]
        ]
        assert told == [], page.url

    return check


@pytest.fixture
def check_both(check_axe: Callable[..., None]) -> Callable[[Page], None]:
    """Fail on anything that axe finds on the page, light or dark."""

    def check(page: Page) -> None:
        page.emulate_media(color_scheme="dark")
        check_axe(page, colours=True)
        page.emulate_media(color_scheme="light")
        check_axe(page)

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
    context.set_default_timeout(PATIENCE_MS)

    def opened(user: User) -> Page:
        name = django_settings.SESSION_COOKIE_NAME
        context.add_cookies([{"name": name, "value": session_of(user), "url": live_server.url}])
        return context.new_page()

    yield opened
    context.close()
