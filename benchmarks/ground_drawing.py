"""The drawings in a real browser: a bed dragged, a tree moved, a block of the season set down.

Chromium, driven with a real pointer over the real server (Django under waitress) on the example garden
and its season plan, in the month with most plants. Frames are counted by `requestAnimationFrame`; the
peer is the same browser on an empty page, which shows the pace of the machine's own display. The sun
is timed from the pointer's event to the frame in which the new hours are on the sheet; the peer is the
same question to the engine with nothing known from before. A block of the season drawing is timed
from letting go of it to the frame in which its cost is told; the peer is the answer of the server
within that time. How busy the machine is with other work is printed first and last.
"""

from __future__ import annotations

import gzip
import os
import statistics
import tempfile
import threading
import time
from collections.abc import Sequence
from typing import TYPE_CHECKING

from playwright.sync_api import Page, expect, sync_playwright

if TYPE_CHECKING:
    from bedwright.apps.web.gardens.models import Garden
    from bedwright.model.season import SeasonPlan

CHROMIUM = "/usr/bin/chromium"
N_MOVES = 240
N_TREE_STEPS = 30
N_PULLS = 12
DRAGGED = ("A", "F")
LEAST_BLOCK_PX = 30
UNTOLD_S = 10.0
FRAMES = """() => {
  window.frames_ms = [];
  let last = performance.now();
  const next = (now) => { window.frames_ms.push(now - last); last = now; requestAnimationFrame(next); };
  requestAnimationFrame(next);
}"""
SUN = """() => {
  const root = document.querySelector("[data-ground]");
  let moved = 0;
  window.sun_ms = [];
  root.addEventListener("pointermove", () => { moved = performance.now(); }, true);
  new MutationObserver(() => requestAnimationFrame(() => requestAnimationFrame(
    () => window.sun_ms.push(performance.now() - moved),
  ))).observe(root, { attributeFilter: ["data-sun-count"] });
}"""
COST = """() => {
  let let_go = 0;
  window.cost_ms = [];
  window.addEventListener("pointerup", () => { let_go = performance.now(); }, true);
  const side = document.getElementById("side");
  new MutationObserver(() => {
    if (!let_go || !side.querySelector(".cost, [data-refused]")) return;
    const since = let_go;
    let_go = 0;
    requestAnimationFrame(() => requestAnimationFrame(() => {
      const answers = performance.getEntriesByType("resource").filter((each) => each.startTime >= since);
      const server = Math.max(...answers.map((each) => each.duration));
      window.cost_ms.push([performance.now() - since, server, Boolean(side.querySelector(".cost"))]);
    }));
  }).observe(side, { childList: true, subtree: true });
}"""


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        os.environ["BEDWRIGHT_DATA"] = folder
        os.environ["DJANGO_SETTINGS_MODULE"] = "bedwright.apps.web.project.settings"
        busy()
        address, cookie, plan, plan_id = served()
        with sync_playwright() as playwright:
            browser = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
            context = browser.new_context(viewport={"width": 1366, "height": 850})
            context.add_cookies(
                [{"name": "sessionid", "value": cookie, "url": address.partition("/garden/")[0]}]
            )
            page = context.new_page()
            loaded(page, address)
            idle = idle_frames(context.new_page())
            page.bring_to_front()
            choose_month(page, plan)
            for with_sun in (False, True):
                page.locator('[data-part="show-sun"]').set_checked(with_sun)
                page.wait_for_timeout(1500)
                for code in DRAGGED:
                    dragged_frames(page, code, idle, with_sun=with_sun)
            tree_to_sun(page)
            block_to_cost(page, address.replace("/ground/", f"/season/{plan_id}/drawing/"))
            browser.close()
    busy()


def busy() -> None:
    """Processes that wanted a core of late, this benchmark's own included."""
    print(f"on {os.cpu_count()} cores, wanted in the last minute: {os.getloadavg()[0]:.1f}")


def served() -> tuple[str, str, SeasonPlan, int]:
    """Address of a running server with the example garden, a session, its plan and the plan's number."""
    from bedwright.apps.web.project.serving import prepare  # noqa: PLC0415 - needs the settings

    prepare()
    import waitress  # noqa: PLC0415
    from django.test import Client  # noqa: PLC0415

    from bedwright.apps.web.gardens.demo import load_demo  # noqa: PLC0415
    from bedwright.apps.web.people.models import User  # noqa: PLC0415
    from bedwright.apps.web.project.wsgi import application  # noqa: PLC0415

    user = User.objects.create_user("corin@example.org", None, name="Corin")
    garden = load_demo(user)
    plan, plan_id = planned(garden)
    client = Client()
    client.force_login(user)
    server = waitress.create_server(application, host="127.0.0.1", port=0, threads=8)
    threading.Thread(target=server.run, daemon=True).start()
    address = f"http://127.0.0.1:{server.effective_port}/garden/{garden.pk}/ground/"
    return address, client.cookies["sessionid"].value, plan, plan_id


def planned(garden: Garden) -> tuple[SeasonPlan, int]:
    from django.utils import timezone  # noqa: PLC0415

    from bedwright.apps.web.season.models import PlanState, SavedPlan  # noqa: PLC0415
    from bedwright.store.season import season_json  # noqa: PLC0415
    from tests.demo import demo_plan  # noqa: PLC0415

    plan = demo_plan()
    assert garden.head is not None
    saved = SavedPlan.objects.create(
        garden=garden,
        revision=garden.head,
        today=plan.made_on,
        state=PlanState.DONE,
        finished_at=timezone.now(),
        digest=plan.revision,
        packed=gzip.compress(season_json(plan).encode()),
    )
    return plan, saved.pk


def loaded(page: Page, address: str) -> None:
    """First load with an empty cache: what came over the wire."""
    session = page.context.new_cdp_session(page)
    session.send("Network.enable")
    sizes: list[float] = []
    session.on("Network.loadingFinished", lambda event: sizes.append(event["encodedDataLength"]))
    began = time.perf_counter()
    page.goto(address)
    expect(page.locator("[data-ground][data-ready]")).to_be_attached()
    took_ms = (time.perf_counter() - began) * 1000
    page.wait_for_timeout(1500)
    print(f"first load: {sum(sizes) / 1000:.0f} kB in {len(sizes)} answers, ready after {took_ms:.0f} ms")


def idle_frames(page: Page) -> Sequence[float]:
    page.goto("about:blank")
    page.evaluate(FRAMES)
    page.wait_for_timeout(2000)
    frames: list[float] = page.evaluate("window.frames_ms")
    page.close()
    print(f"idle page: median {statistics.median(frames):.1f} ms, p95 {p95(frames):.1f} ms a frame")
    return frames


def choose_month(page: Page, plan: SeasonPlan) -> None:
    """The month on whose fifteenth most plants stand."""

    def standing(month: int) -> int:
        day = plan.book.season_start.replace(month=month, day=15)
        return sum(p.n_plants for p in plan.plantings if p.dates.in_ground <= day <= p.dates.clear_by)

    month = max(range(1, 13), key=standing)
    page.locator('[data-part="month"]').select_option(str(month))
    page.evaluate(FRAMES)
    page.wait_for_timeout(500)
    print(f"month {month}: {page.locator('[data-ground]').get_attribute('data-plants')} plants drawn")


def place(page: Page, code: str) -> tuple[float, float]:
    number = page.locator("button[data-id]").get_by_text(code, exact=True).get_attribute("data-id")
    box = page.locator(f'[data-thing="{number}"]').bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def dragged_frames(page: Page, code: str, idle: Sequence[float], *, with_sun: bool) -> None:
    x, y = place(page, code)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x + 6, y + 6)
    page.evaluate("window.frames_ms.length = 0")
    for k in range(N_MOVES):
        page.mouse.move(x + 6 + k % 120, y + 6 + k % 50)
    frames: list[float] = page.evaluate("window.frames_ms")
    page.mouse.up()
    page.locator('[data-part="undo"]').click()
    page.wait_for_timeout(500)
    ratio = statistics.median(frames) / statistics.median(idle)
    sun = "with" if with_sun else "without"
    print(
        f"dragging bed {code} {sun} sun: "
        f"median {statistics.median(frames):.1f} ms, p95 {p95(frames):.1f} ms, "
        f"longest {max(frames):.1f} ms over {len(frames)} frames; {ratio:.2f} times an idle page"
    )


def tree_to_sun(page: Page) -> None:
    x, y = place(page, "T2")
    page.evaluate(SUN)
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x - 6, y)
    page.wait_for_timeout(1500)
    page.evaluate("window.sun_ms.length = 0")
    root = page.locator("[data-ground]")
    for k in range(N_TREE_STEPS):
        count = root.get_attribute("data-sun-count")
        page.mouse.move(x - 10 - 4 * k, y + k)
        expect(root).not_to_have_attribute("data-sun-count", count or "", timeout=10_000)
        page.wait_for_timeout(120)
    page.mouse.up()
    times: list[float] = page.evaluate("window.sun_ms")
    afresh_ms = engine_afresh_ms()
    print(
        f"tree moved to sun on the sheet: median {statistics.median(times):.0f} ms, p95 {p95(times):.0f} ms; "
        f"the engine alone with nothing known before: {afresh_ms:.0f} ms"
        f" ({statistics.median(times) / afresh_ms:.2f} of it, way to and from the browser included)"
    )


def block_to_cost(page: Page, address: str) -> None:
    """Blocks pulled to another place of their bed, one after another."""
    page.goto(address)
    expect(page.locator("[data-season][data-prepared]")).to_be_attached(timeout=600_000)
    page.evaluate(COST)
    codes = page.locator("[data-planting]").evaluate_all("all => all.map((each) => each.dataset.planting)")
    side = page.locator("#side")
    n_pulled = 0
    for code in codes:
        block = page.locator(f'[data-planting="{code}"]')
        box = block.bounding_box() if block.count() == 1 else None
        if box is None or max(box["width"], box["height"]) < LEAST_BLOCK_PX:
            continue
        x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
        page.mouse.move(x, y)
        page.mouse.down()
        page.mouse.move(x + 3, y + 12, steps=3)
        page.mouse.move(x + 4, y + 25, steps=4)
        page.mouse.up()
        if not _told(page, n_pulled + 1):
            # Pulled off its bed: the page says so, and asks nothing of the server.
            continue
        n_pulled += 1
        if side.locator("[data-put-back]").count():
            side.locator("[data-put-back]").click()
            expect(side.locator(".cost")).to_have_count(0)
        page.wait_for_timeout(200)
        if n_pulled == N_PULLS:
            break
    found: list[tuple[float, float, bool]] = page.evaluate("window.cost_ms")
    whole, server = [each[0] for each in found], [each[1] for each in found]
    typical, answered = statistics.median(whole), statistics.median(server)
    print(
        f"block set down to its cost told: first {whole[0]:.0f} ms, median {typical:.0f} ms, "
        f"longest {max(whole):.0f} ms over {len(whole)} pulls, {sum(each[2] for each in found)} possible; "
        f"the server's answer within it: median {answered:.0f} ms ({typical / answered:.2f} times that)"
    )


def _told(page: Page, n_costs: int) -> bool:
    """Whether so many costs are told by now, or soon."""
    until = time.perf_counter() + UNTOLD_S
    while time.perf_counter() < until:
        if page.evaluate("window.cost_ms.length") >= n_costs:
            return True
        page.wait_for_timeout(20)
    return False


def engine_afresh_ms() -> float:
    from bedwright.service.site_sun import site_sun  # noqa: PLC0415
    from tests.demo import demo_loaded  # noqa: PLC0415

    book = demo_loaded().book
    times = []
    for _ in range(5):
        began = time.perf_counter()
        site_sun(book.site, book.beds, 9)
        times.append((time.perf_counter() - began) * 1000)
    return statistics.median(times)


def p95(values: Sequence[float]) -> float:
    return sorted(values)[int(len(values) * 0.95)]


if __name__ == "__main__":
    main()
