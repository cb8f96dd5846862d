"""Pictures of every page, at both widths, light and dark, to be looked at by people.

`python -m tests.browser.screens FOLDER [PART ...]` starts the application with the example garden,
has its plan made, and writes a picture of each page whose path holds one of the parts. With
`--readme` only the pictures of the README are taken.
"""

from __future__ import annotations

import os
import sys
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Literal

from PIL import Image
from playwright.sync_api import Browser, BrowserContext, Page, sync_playwright

from tests.real_server import Person, RealServer

SIZES = {"phone": (390, 780), "laptop": (1280, 800)}
TIMEOUT_MS = 120_000
SETTLE_MS = 500
"""Scripts have drawn by then."""
README = (
    ("ground/", "laptop", "ground"),
    ("season/{plan}/drawing/?week=2027-06-14", "laptop", "season"),
    ("season/{plan}/beds/", "laptop", "beds"),
)
"""(path within the garden, width, name of the picture)."""
FURTHER = (
    "book/section/wishes/entry/carrot-1/", "book/section/beds/entry/H/", "book/section/site/",
    "book/section/people/", "book/section/goals/", "book/section/features/entry/T1/",
)  # fmt: skip


@dataclass(frozen=True)
class Shown:
    """A server with something to show."""

    url: str
    session: str
    garden: str
    paths: tuple[str, ...]


def paths_of(person: Person, garden_id: int, plan_id: int) -> tuple[str, ...]:
    """All addresses that give a page for the example garden."""
    import django  # noqa: PLC0415 - the settings are named by `main`

    django.setup()
    from tests.unit.apps.web.access_table import ACCESS  # noqa: PLC0415
    from tests.unit.apps.web.addresses import ALL, address_of  # noqa: PLC0415

    known = {"garden_id": garden_id, "plan_id": plan_id, "number": 1, "slug": "beds", "code": "carrot-1"}
    asked = [
        address_of(each, known)
        for each in ALL
        if ACCESS[each.name][0] is not None and each.keys <= {*known, "name"}
    ]
    asked += [f"/garden/{garden_id}/{each}" for each in FURTHER]
    found = []
    for path in asked:
        answer = person.get(path)
        if (
            answer.status == 200
            and "text/html" in answer.headers["Content-Type"]
            and "</html>" in answer.text
        ):
            found.append(path)
    return tuple(found)


def take_all(browser: Browser, shown: Shown, out: Path) -> None:
    """Every page, whole, at both widths, light and dark."""
    for width in SIZES:
        for scheme in ("light", "dark"):
            context = _context(browser, shown, width, scheme)
            page = context.new_page()
            for path in shown.paths:
                page.goto(path)
                _settled(page)
                name = path.strip("/").replace("/", "_") or "start"
                page.screenshot(path=out / f"{name}-{width}-{scheme}.png", full_page=True)
            context.close()


def _settled(page: Page) -> None:
    """Wait until scripts have drawn, and the plants are on the site plan."""
    page.locator("[data-ground]:not([data-settled])").wait_for(state="detached")
    page.wait_for_timeout(SETTLE_MS)


def take_for_readme(browser: Browser, shown: Shown, plan_id: int, out: Path) -> None:
    """The pictures that the README shows: what is seen without scrolling."""
    for path, width, name in README:
        context = _context(browser, shown, width, "light")
        page = context.new_page()
        page.goto(shown.garden + path.format(plan=plan_id))
        _settled(page)
        file = out / f"{name}.png"
        page.screenshot(path=file)
        # Few colours are in a drawing; a small file says the same.
        with Image.open(file) as picture:
            picture.convert("RGB").quantize(48).save(file, optimize=True)
        context.close()


def _context(browser: Browser, shown: Shown, width: str, scheme: Literal["light", "dark"]) -> BrowserContext:
    wide, high = SIZES[width]
    context = browser.new_context(
        viewport={"width": wide, "height": high},
        color_scheme=scheme,
        locale="en",
        reduced_motion="reduce",
        base_url=shown.url,
    )
    context.set_default_timeout(TIMEOUT_MS)
    context.add_cookies([{"name": "sessionid", "value": shown.session, "url": shown.url}])
    return context


def _write_lines(server: RealServer) -> None:
    now = datetime.now(tz=UTC).isoformat()
    lines = [
        {"id": f"00000000-0000-4000-8000-{number:012}", "kind": "picked", "day": now[:10], "written_at": now,
         "quantity": 1.5 + number, "unit": "kg", "crop": crop}
        for number, crop in enumerate(("carrot", "kale", "lettuce"))
    ]  # fmt: skip
    server.person(0).send_json(f"/garden/{server.garden_id}/field/sync/", {"sent_at": now, "lines": lines})


def main(words: list[str]) -> None:
    """Take the pictures."""
    from benchmarks.web_load import make_plan  # noqa: PLC0415

    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.web_settings"
    readme = "--readme" in words
    out, *parts = [word for word in words if not word.startswith("--")]
    Path(out).mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        server = RealServer(Path(folder))
        server.prepare()
        server.start()
        try:
            person = server.person(0)
            plan_id = make_plan(server, person, 1)
            _write_lines(server)
            paths = () if readme else paths_of(person, server.garden_id, plan_id)
            wanted = tuple(path for path in paths if not parts or any(part in path for part in parts))
            shown = Shown(server.url, server.sessions[0], f"/garden/{server.garden_id}/", wanted)
            take(shown, plan_id, Path(out), readme=readme)
        finally:
            server.end()


def take(shown: Shown, plan_id: int, out: Path, *, readme: bool) -> None:
    """Open a browser and take pictures."""
    chromium = os.environ.get("BEDWRIGHT_CHROMIUM") or "/usr/bin/chromium"
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=chromium, args=["--headless", "--no-sandbox", "--disable-gpu"]
        )
        if readme:
            take_for_readme(browser, shown, plan_id, out)
        else:
            take_all(browser, shown, out)
        browser.close()


if __name__ == "__main__":
    main(sys.argv[1:])
