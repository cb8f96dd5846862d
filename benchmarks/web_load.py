"""Fifty people at the pages at once, first alone, then while season plans are made one after another.

The load is our own: a thread for each person with a connection that stays open, who opens a
page with all that its scripts ask for, reads for a while, and opens the next; who may change the
plan has it made ready for moving blocks by opening its drawing. Server, worker and load run on the
same machine, as do whatever other programs; so beside what people waited two things are told: the
processor time that the server spent on a request, which others hardly change, and how much of the
processors other programs used. The peer is the same server with nothing being planned.
"""

from __future__ import annotations

import os
import tempfile
import threading
import time
import uuid
from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any
from urllib.parse import urljoin

from bedwright.store.season import season_from_text
from benchmarks import _machine
from tests.real_server import Answer, Person, RealServer

N_PEOPLE = 50
MEAN_READING_S = 4.0
LASTS_S = 60.0
WARM_UP_S = 10.0
_PLAN_S = 1200.0
_TIMING = "Server-Timing"
_BEHIND = "made ready (behind a page)"
"""Nobody waits for it, so it is told but not counted with the others."""
_VOLUNTEER, _LEADER = 1, 2
"""Parts go round among people in this order."""


@dataclass(frozen=True)
class Visit:
    """A page, what its scripts ask for, and how often people go there."""

    name: str
    paths: tuple[str, ...]
    weight: int
    ready: str = ""
    """What is sent for those who may change the plan."""


@dataclass
class Waits:
    """What was measured of one page."""

    waited_ms: list[float] = field(default_factory=list)
    cpu_ms: list[float] = field(default_factory=list)


@dataclass
class Load:
    """One pass."""

    server: RealServer
    visits: list[Visit]
    begins: float = 0.0
    ends: float = 0.0
    found: dict[str, Waits] = field(default_factory=lambda: defaultdict(Waits))
    faults: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)
    machine: str = ""
    """What was used of the processors."""

    def run(self) -> None:
        """Let everybody work for a while; the beginning is not counted."""
        self.begins = time.monotonic() + WARM_UP_S
        self.ends = self.begins + LASTS_S
        people = [threading.Thread(target=self._work, args=(number,)) for number in range(N_PEOPLE)]
        for person in people:
            person.start()
        time.sleep(WARM_UP_S)
        before = self._read_machine()
        time.sleep(LASTS_S)
        self.machine = _machine.told(before, self._read_machine())
        for person in people:
            person.join()

    def _read_machine(self) -> _machine.Reading | None:
        process = self.server.process
        return _machine.read([os.getpid(), *([process.pid] if process else [])])

    def _work(self, number: int) -> None:
        random = Random(number)
        person = self.server.person(number)
        time.sleep(random.uniform(0, MEAN_READING_S))
        while time.monotonic() < self.ends:
            visit = random.choices(self.visits, [each.weight for each in self.visits])[0]
            shown = self._asked(visit.name, lambda v=visit: person.open(v.paths[0]))  # type: ignore[misc]
            for path in visit.paths[1:]:
                self._asked(f"{visit.name}: data", lambda p=path: person.get(p))  # type: ignore[misc]
            if visit.ready and number % 4 == _LEADER:
                ready = urljoin(shown.path, visit.ready)
                self._asked(_BEHIND, lambda p=ready: person.send(p, {}))  # type: ignore[misc]
            if number % 4 == _VOLUNTEER and random.random() < 0.15:
                self._asked("line of the log", lambda: self._line(person, random))
            time.sleep(random.expovariate(1 / MEAN_READING_S))
        person.close()

    def _asked(self, name: str, ask: Callable[[], Answer]) -> Answer:
        started = time.perf_counter()
        answer = ask()
        waited_ms = 1000 * (time.perf_counter() - started)
        with self.lock:
            if answer.status not in {200, 202, 204}:
                self.faults.append(f"{name}: {answer.status}")
            if time.monotonic() > self.begins:
                self.found[name].waited_ms.append(waited_ms)
                self.found[name].cpu_ms.append(float(answer.headers[_TIMING].rpartition("=")[2]))
        return answer

    def _line(self, person: Person, random: Random) -> Answer:
        now = datetime.now(tz=UTC).isoformat()
        line = {
            "id": str(uuid.UUID(int=random.getrandbits(128), version=4)), "kind": "picked", "day": now[:10],
            "written_at": now, "quantity": 1.5, "unit": "kg", "crop": "carrot",
        }  # fmt: skip
        body = {"sent_at": now, "lines": [line]}
        return person.send_json(f"/garden/{self.server.garden_id}/field/sync/", body)


def visits_of(garden_id: int, plan_id: int, codes: list[str]) -> list[Visit]:
    """Where people go: the season and today's jobs most, the book and the ground less."""
    garden = f"/garden/{garden_id}"
    season = f"{garden}/season/{plan_id}"
    return [
        Visit("overview", (f"{garden}/",), 10),
        Visit("plan", (f"{season}/",), 10),
        Visit("drawing", (f"{season}/drawing/",), 7, "../ready/"),
        Visit("drawing of the newest", (f"{garden}/season/drawing/",), 3, "../ready/"),
        Visit("beds", (f"{season}/beds/",), 6),
        Visit("curves", (f"{season}/curves/",), 4),
        *(Visit("why", (f"{season}/why/{code}/",), 1) for code in codes[:8]),
        Visit("planting", (f"{season}/planting/{codes[0]}/",), 4),
        Visit("plans", (f"{garden}/season/",), 5),
        Visit("book", (f"{garden}/book/",), 6),
        Visit("wishes", (f"{garden}/book/section/wishes/",), 5),
        Visit("wish", (f"{garden}/book/section/wishes/entry/carrot-1/",), 5),
        Visit("crops", (f"{garden}/book/crops/",), 5),
        Visit("crop", (f"{garden}/book/crops/carrot/",), 3),
        Visit("ground", (f"{garden}/ground/", f"{garden}/ground/plants/"), 5),
        Visit("papers", (f"{garden}/papers/",), 5),
        Visit("planting plan, PDF", (f"{garden}/papers/{plan_id}/planting-plan.pdf",), 4),
        Visit("today", (f"{garden}/field/", f"{garden}/field/state.json", f"{garden}/field/data.json"), 10),
        Visit("log", (f"{garden}/log/",), 6),
        Visit("planned and done", (f"{garden}/log/season/",), 3),
    ]


def make_plan(server: RealServer, person: Person, seed: int, ending: threading.Event | None = None) -> int:
    """Ask for a plan and wait until it is done, or until nobody wants it any more."""
    ending = ending or threading.Event()
    season = f"/garden/{server.garden_id}/season"
    asked = person.send(f"{season}/make/", {"today": "2026-12-01", "seed": str(seed), "name": ""})
    plan_id = int(asked.location.rstrip("/").rpartition("/")[2])
    until = time.monotonic() + _PLAN_S
    while not ending.wait(1.0) and time.monotonic() < until:
        if person.get(f"{season}/{plan_id}/season.json").status == 200:
            break
    return plan_id


def report(name: str, load: Load) -> float:
    """Print what was measured; gives the wait that 95 of 100 requests stayed below [ms]."""
    print(f"\n{name}\n{'page':28}{'n':>6}{'p50 ms':>9}{'p95 ms':>9}{'cpu p50':>9}{'cpu p95':>9}")
    for page, waits in sorted(load.found.items(), key=lambda each: -_share(each[1].waited_ms, 0.95)):
        print(_row(page, waits))
    whole = Waits(
        [each for name, waits in load.found.items() if name != _BEHIND for each in waits.waited_ms],
        [each for name, waits in load.found.items() if name != _BEHIND for each in waits.cpu_ms],
    )
    print(_row("all", whole))
    rate = len(whole.waited_ms) / LASTS_S
    print(f"{rate:.1f} requests/s; answers that are none: {load.faults[:3] or 'none'}; {load.machine}")
    return _share(whole.waited_ms, 0.95)


def _row(name: str, waits: Waits) -> str:
    figures = (_share(each, share) for each in (waits.waited_ms, waits.cpu_ms) for share in (0.5, 0.95))
    return f"{name:28}{len(waits.waited_ms):6}" + "".join(f"{each:9.1f}" for each in figures)


def _share(values: Iterable[float], share: float) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))]


def serve() -> int:
    """`bedwright serve`, with the processor time of each request told in a header."""
    from bedwright.apps.cli import main as bedwright  # noqa: PLC0415 - in the server's process alone
    from bedwright.apps.web.project import wsgi  # noqa: PLC0415

    application = wsgi.application

    def timed(environ: dict[str, Any], start_response: Callable[..., Any]) -> Iterable[bytes]:
        started_s = time.thread_time()

        def start(status: str, headers: list[tuple[str, str]], *more: Any) -> Any:
            cpu_ms = 1000 * (time.thread_time() - started_s)
            return start_response(status, [*headers, (_TIMING, f"cpu;dur={cpu_ms:.2f}")], *more)

        return application(environ, start)

    wsgi.application = timed  # type: ignore[assignment]
    return bedwright()


def main() -> None:
    load_before = os.getloadavg()[0]
    program = "import sys; from benchmarks.web_load import serve; sys.exit(serve())"
    with tempfile.TemporaryDirectory() as folder:
        server = RealServer(Path(folder), n_people=N_PEOPLE, program=program)
        server.prepare()
        server.start()
        ending = threading.Event()
        try:
            coordinator = server.person(0)
            plan_id = make_plan(server, coordinator, 1)
            answer = coordinator.get(f"/garden/{server.garden_id}/season/{plan_id}/season.json")
            codes = [each.code for each in season_from_text(answer.text).plantings]
            visits = visits_of(server.garden_id, plan_id, codes)
            alone = Load(server, visits)
            alone.run()
            planner = threading.Thread(target=_keep_planning, args=(server, ending))
            planner.start()
            beside = Load(server, visits)
            beside.run()
            ending.set()
            planner.join()
        finally:
            ending.set()
            server.end()
    print(f"{os.cpu_count()} processors, load average {load_before:.1f} before; {N_PEOPLE} people; SQLite")
    quiet_ms = report("nothing planned", alone)
    busy_ms = report("while plans are made", beside)
    print(f"\nratio of p95, while planning to alone: {busy_ms / quiet_ms:.2f}")


def _keep_planning(server: RealServer, ending: threading.Event) -> None:
    person = server.person(0)
    seed = 1
    while not ending.is_set():
        seed += 1
        make_plan(server, person, seed, ending)


if __name__ == "__main__":
    main()
