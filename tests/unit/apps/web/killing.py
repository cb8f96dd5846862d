"""People at work while their server or its worker is killed, again and again, without warning.

Two phones send lines, somebody changes the book, somebody asks for plans. Each keeps account
of what the server has named as kept; afterwards that is compared with what is there.
"""

from __future__ import annotations

import gzip
import os
import signal
import sqlite3
import threading
import time
import uuid
from collections import Counter
from collections.abc import Callable
from contextlib import closing, suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

from bedwright.store.season import season_from_text
from tests.real_server import Person, RealServer

BOOK = """\
site: {name: Garden 0, latitude_deg: 52, longitude_deg: 0, elevation_m: 20, time_zone: Europe/London}
season: {start: 2027-01-01}
weather: {stated_frost: {last_spring: 05-05, first_autumn: 10-10}}
beds:
  - {code: A, rectangle: {length_m: 6, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 0}, texture: loam}
  - {code: B, rectangle: {length_m: 6, width_m: 1.2, east_m: 3, north_m: 0, bearing_deg: 0}, texture: loam}
wishes:
  - {crop: carrot, row_m: 6}
  - {crop: lettuce, plants: 20}
  - {crop: kale, plants: 6}
  - {crop: beet, row_m: 4}
  - {crop: potato, plants: 8}
"""
LONGEST_PAUSE_S = 7.0
_SETTLE_S = 1800.0
"""A bound: on a busy machine a plan takes many minutes."""
_BREATH_S = 0.05


@dataclass
class Account:
    """What people were told is kept, and what was found."""

    lines: list[str] = field(default_factory=list)
    """Ids of lines named as kept."""
    books: list[int] = field(default_factory=list)
    """Numbers written into the book's name and answered as kept."""
    plans: list[int] = field(default_factory=list)
    """Plans whose making was promised."""
    n_cut: int = 0
    """Requests that ended without an answer."""
    n_server_kills: int = 0
    n_worker_kills: int = 0
    n_at_work: int = 0
    """Kills while a plan was being made."""
    faults: list[str] = field(default_factory=list)
    """Everything that should not be; empty when all is well."""
    states: Counter[str] = field(default_factory=Counter)
    """How the plans ended."""


class Killing:
    """One run: a server, four people, a number of kills."""

    def __init__(self, data: Path, *, n_kills: int, seed: int) -> None:
        self.server = RealServer(data, book=BOOK, n_people=4)
        self.random = Random(seed)
        self.n_kills = n_kills
        self.account = Account()
        self._ending = threading.Event()
        self._lock = threading.Lock()

    def run(self) -> Account:
        """Work and kill; then wait until everything that was begun has ended, and look."""
        self.server.prepare()
        self.server.start()
        people = [
            threading.Thread(target=self._at_work, args=(work, number))
            for number, work in enumerate((self._plans, self._lines, self._book, self._lines))
        ]
        try:
            for person in people:
                person.start()
            with suppress(KeyboardInterrupt):
                # Ended early, it still looks at what was done until then.
                for _ in range(self.n_kills):
                    self._kill()
            self._ending.set()
            for person in people:
                person.join()
            self._wait_for_plans()
        finally:
            self._ending.set()
            self.server.end()
        self._look()
        return self.account

    def _kill(self) -> None:
        of_worker = self.random.random() < 0.5 and self._worker_comes()
        time.sleep(self.random.uniform(0, LONGEST_PAUSE_S))
        ((n_working,),) = self._ask("SELECT count(*) FROM season_savedplan WHERE state = 'working'")
        self.account.n_at_work += n_working > 0
        worker = self._worker() if of_worker else None
        if worker is not None:
            self.account.n_worker_kills += 1
            os.kill(worker, signal.SIGKILL)
        else:
            self.account.n_server_kills += 1
            self.server.kill()
            self.server.start()

    def _worker_comes(self) -> bool:
        """Wait until a worker that was killed before has been started again."""
        until = time.monotonic() + _SETTLE_S
        while time.monotonic() < until:
            if self._worker() is not None:
                return True
            time.sleep(0.1)
        return False

    def _worker(self) -> int | None:
        for (worker_id,) in self._ask("SELECT worker_id FROM season_worker ORDER BY seen_at DESC LIMIT 3"):
            process = int(worker_id.split(":")[1])
            with suppress(OSError):
                if b"season.worker" in Path(f"/proc/{process}/cmdline").read_bytes():
                    return process
        return None

    def _at_work(self, work: Callable[[Person, Random], None], number: int) -> None:
        random = Random(number)
        person = self.server.person(number)
        try:
            work(person, random)
        except Exception as error:
            # Told at the end, whatever it is.
            self.account.faults.append(f"{work.__name__}: {type(error).__name__}: {error}")
        finally:
            person.close()

    def _persist(self, ask: Callable[[], Any]) -> Any:
        """Ask until there is an answer, as people press the button again."""
        while True:
            try:
                return ask()
            except OSError:
                with self._lock:
                    self.account.n_cut += 1
                time.sleep(_BREATH_S)

    def _lines(self, person: Person, random: Random) -> None:
        address = f"/garden/{self.server.garden_id}/field/sync/"
        while not self._ending.is_set():
            now = datetime.now(tz=UTC).isoformat()
            lines = [_line(random, now) for _ in range(random.randint(1, 5))]
            body = {"sent_at": now, "lines": lines}
            answer = self._persist(lambda body=body: person.send_json(address, body))  # type: ignore[misc]
            if answer.status != 200:
                raise RuntimeError(f"lines were answered with {answer.status}")
            named = [each["id"] for each in answer.told["answers"] if each["state"] in {"kept", "had"}]
            with self._lock:
                self.account.lines += named
            time.sleep(_BREATH_S)

    def _book(self, person: Person, random: Random) -> None:
        book = f"/garden/{self.server.garden_id}/book"
        number = 0
        while not self._ending.is_set():
            number += 1
            text = BOOK.replace("Garden 0", f"Garden {number}")

            def keep(text: str = text) -> int:
                shown = self._persist(lambda: person.get(f"{book}/download/"))
                base = shown.headers["Content-Disposition"].rpartition("-")[2].partition(".")[0]
                return person.send(f"{book}/text/", {"base": base, "text": text}).status

            status = self._persist(keep)
            if status != 302:
                raise RuntimeError(f"the book was answered with {status}")
            self.account.books.append(number)
            time.sleep(random.uniform(0, 0.5))

    def _plans(self, person: Person, random: Random) -> None:
        season = f"/garden/{self.server.garden_id}/season"
        seed = 0
        while not self._ending.is_set():
            seed += 1
            form = {"today": "2026-12-01", "seed": str(seed), "name": ""}
            answer = self._persist(lambda form=form: person.send(f"{season}/make/", form))  # type: ignore[misc]
            if answer.status != 302:
                raise RuntimeError(f"a plan was answered with {answer.status}")
            plan_id = int(answer.location.rstrip("/").rpartition("/")[2])
            self.account.plans.append(plan_id)
            while not self._ending.is_set() and self._is_open(plan_id):
                time.sleep(0.2)

    def _is_open(self, plan_id: int) -> bool:
        ((state,),) = self._ask(f"SELECT state FROM season_savedplan WHERE id = {plan_id}")  # noqa: S608
        return state in {"waiting", "working"}

    def _wait_for_plans(self) -> None:
        until = time.monotonic() + _SETTLE_S
        while time.monotonic() < until and any(self._is_open(each) for each in set(self.account.plans)):
            time.sleep(0.5)

    def _ask(self, question: str) -> list[tuple[Any, ...]]:
        file = f"file:{self.server.data / 'bedwright.sqlite3'}?mode=ro"
        with closing(sqlite3.connect(file, uri=True, timeout=30)) as database:
            return database.execute(question).fetchall()

    def _look(self) -> None:
        told, fault = self.account, self.account.faults.append
        if self._ask("PRAGMA integrity_check") != [("ok",)]:
            fault("the database is damaged")
        kept = Counter(row[0].replace("-", "") for row in self._ask("SELECT client_id FROM log_logentry"))
        named = {each.replace("-", "") for each in told.lines}
        if missing := named - set(kept):
            fault(f"{len(missing)} lines named as kept are lost")
        if doubled := [each for each, n in kept.items() if n > 1]:
            fault(f"{len(doubled)} lines are there twice")
        revisions = self._ask("SELECT number, text FROM gardens_bookrevision ORDER BY number")
        if [number for number, _ in revisions] != list(range(1, len(revisions) + 1)):
            fault("numbers of revisions are missing or doubled")
        names = Counter(text.partition("name: Garden ")[2].partition(",")[0] for _, text in revisions)
        if missing_books := [n for n in told.books if names[str(n)] != 1]:
            fault(f"changes of the book are lost or doubled: {missing_books}")
        head = "SELECT r.number, g.name FROM gardens_garden g JOIN gardens_bookrevision r ON g.head_id = r.id"
        ((number, name),) = self._ask(head)
        if number != len(revisions) or f"name: {name}," not in revisions[-1][1]:
            fault("the newest revision is not the newest")
        self._look_at_plans()
        if "Traceback" in (said := self.server.log.read_text()):
            fault(said[said.index("Traceback") :][:2000])

    def _look_at_plans(self) -> None:
        fault = self.account.faults.append
        question = "SELECT id, state, digest, n_plantings, packed FROM season_savedplan"
        rows = {row[0]: row[1:] for row in self._ask(question)}
        if lost := set(self.account.plans) - set(rows):
            fault(f"plans that were promised are lost: {sorted(lost)}")
        for plan_id, (state, digest, n_plantings, packed) in rows.items():
            self.account.states[state] += 1
            if state in {"waiting", "working"}:
                fault(f"plan {plan_id} is still {state}")
            if state != "done":
                continue
            plan = season_from_text(gzip.decompress(packed).decode())
            if (plan.revision, len(plan.plantings)) != (digest, n_plantings):
                fault(f"plan {plan_id} is not the one that its line tells of")
            papers = sorted((self.server.data / "papers" / str(plan_id)).rglob("*.pdf"))
            if not papers or any(not each.read_bytes().rstrip().endswith(b"%%EOF") for each in papers):
                fault(f"papers of plan {plan_id} are missing or cut short")


def _line(random: Random, now: str) -> dict[str, Any]:
    return {
        "id": str(uuid.UUID(int=random.getrandbits(128), version=4)), "kind": "picked", "day": now[:10],
        "written_at": now, "quantity": 1.5, "unit": "kg", "planting": "carrot-1", "crop": "carrot",
    }  # fmt: skip
