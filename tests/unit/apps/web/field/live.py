"""A real server with many phones at it, for tests and benchmarks.

`python -m tests.unit.apps.web.field.live PORT N_PHONES` makes tables, a garden and people in
the database of the environment, prints the garden's number and a session for each phone as
JSON, and serves until its input ends.
"""

from __future__ import annotations

import http.client
import json
import os
import socket
import subprocess
import sys
import threading
import time
import urllib.request
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from random import Random
from typing import Any

_ROOT = Path(__file__).resolve().parents[5]
_START_S = 300.0
_ANSWER_S = 300.0


@dataclass
class LiveServer:
    """A server that runs in a process of its own."""

    port: int
    garden_id: int
    sessions: list[str]
    log: Path

    def kept(self) -> list[tuple[str, str]]:
        """Ids and days of all lines, as the table of the log tells them."""
        request = urllib.request.Request(f"http://127.0.0.1:{self.port}/garden/{self.garden_id}/log/log.csv")
        request.add_header("Cookie", f"sessionid={self.sessions[0]}")
        with urllib.request.urlopen(request, timeout=60) as answer:  # noqa: S310 - own server
            rows = answer.read().decode().splitlines()[1:]
        return [(row.split(",")[0], row.split(",")[1]) for row in rows]


@contextmanager
def live_server(data: Path, n_phones: int, variables: Mapping[str, str]) -> Iterator[LiveServer]:
    """Start a server with its own data folder, and end it."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    environment = os.environ | {
        "DJANGO_SETTINGS_MODULE": "bedwright.apps.web.project.settings",
        "BEDWRIGHT_DATA": str(data),
        "BEDWRIGHT_HOSTS": "127.0.0.1",
        **variables,
    }
    data.mkdir(parents=True, exist_ok=True)
    log = data / "server.log"
    command = [sys.executable, "-m", "tests.unit.apps.web.field.live", str(port), str(n_phones)]
    with (
        log.open("wb") as errors,
        subprocess.Popen(
            command, cwd=_ROOT, env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=errors
        ) as process,
    ):
        assert process.stdout is not None
        assert process.stdin is not None
        try:
            told = process.stdout.readline()
            if not told:
                raise RuntimeError(log.read_text())
            made = json.loads(told)
            _wait_for(port)
            yield LiveServer(port, made["garden"], made["sessions"], log)
        finally:
            process.stdin.close()
            process.wait(30)


def _wait_for(port: int) -> None:
    until = time.monotonic() + _START_S
    while time.monotonic() < until:
        with suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1):
            return
        time.sleep(0.05)
    raise RuntimeError("the server does not answer")


@dataclass
class Outcome:
    """What one phone came away with."""

    written: list[str] = field(default_factory=list)
    statuses: list[int] = field(default_factory=list)
    latencies_s: list[float] = field(default_factory=list)
    n_cut: int = 0
    n_twice: int = 0


CLOCKS_OFF = (timedelta(0), timedelta(days=365), -timedelta(days=365), timedelta(hours=9))
"""How far the clocks of phones are off, in turn."""


def all_at_once(
    server: LiveServer, *, n_lines: int, n_batches: int, cuts: bool, seed: int = 1
) -> list[Outcome]:
    """Every phone syncs in its own thread, all starting at one moment.

    With `cuts` the network is cut in the middle of requests, and what arrived is sent again.
    """
    barrier = threading.Barrier(len(server.sessions))
    outcomes = [Outcome() for _ in server.sessions]

    def work(number: int) -> None:
        phone = _WirePhone(server, server.sessions[number], Random(seed * 1000 + number), outcomes[number])
        phone.clock_off = CLOCKS_OFF[number % len(CLOCKS_OFF)]
        barrier.wait()
        for _ in range(n_batches):
            phone.sync(n_lines, cuts=cuts)

    threads = [threading.Thread(target=work, args=(number,)) for number in range(len(outcomes))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return outcomes


class _WirePhone:
    def __init__(self, server: LiveServer, session: str, random: Random, outcome: Outcome) -> None:
        self.server, self.random, self.outcome = server, random, outcome
        self.cookie = f"sessionid={session}"
        self.address = f"/garden/{server.garden_id}/field"

    def sync(self, n_lines: int, *, cuts: bool) -> None:
        """Send lines until the server has named all of them, with the network cut now and then."""
        state, csrf = self._state()
        now = datetime.fromisoformat(state["server_time"]) + self.clock_off
        waiting = {str(uuid.UUID(int=self.random.getrandbits(128), version=4)) for _ in range(n_lines)}
        self.outcome.written += sorted(waiting)
        while waiting:
            items = [self._line(each, now) for each in sorted(waiting)]
            body = json.dumps({"sent_at": now.isoformat(), "lines": items}).encode()
            if cuts and self.random.random() < 0.4:
                self._cut(body, csrf)
                cuts = self.random.random() < 0.7
                continue
            status, answer = self._ask("POST", "/sync/", body, csrf)
            self.outcome.statuses.append(status)
            if status != 200:
                return
            if cuts and self.random.random() < 0.2:
                # The network delivers it a second time.
                self.outcome.n_twice += 1
                self.outcome.statuses.append(self._ask("POST", "/sync/", body, csrf)[0])
            waiting -= {each["id"] for each in answer["answers"] if each["state"] in {"kept", "had"}}

    def _line(self, client_id: str, now: datetime) -> dict[str, Any]:
        return {
            "id": client_id, "kind": "picked", "day": now.date().isoformat(), "written_at": now.isoformat(),
            "quantity": 1.5, "unit": "kg", "crop": "carrot", "planting": "carrot-1", "bed": "A",
        }  # fmt: skip

    def _state(self) -> tuple[dict[str, Any], str]:
        status, state = self._ask("GET", "/state.json", None, "")
        self.outcome.statuses.append(status)
        return state, str(state["csrf"])

    def _headers(self, csrf: str) -> dict[str, str]:
        cookie = self.cookie + (f"; csrftoken={self.csrf_cookie}" if csrf else "")
        return {"Cookie": cookie, "Content-Type": "application/json", "X-CSRFToken": csrf}

    csrf_cookie = ""
    clock_off = timedelta(0)

    def _ask(self, method: str, path: str, body: bytes | None, csrf: str) -> tuple[int, dict[str, Any]]:
        started = time.perf_counter()
        connection = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=_ANSWER_S)
        try:
            connection.request(method, self.address + path, body, self._headers(csrf))
            answer = connection.getresponse()
            text = answer.read()
            for cookie in answer.headers.get_all("Set-Cookie") or ():
                if cookie.startswith("csrftoken="):
                    self.csrf_cookie = cookie.split(";")[0].removeprefix("csrftoken=")
        finally:
            connection.close()
        self.outcome.latencies_s.append(time.perf_counter() - started)
        return answer.status, json.loads(text) if answer.status == 200 else {}

    def _cut(self, body: bytes, csrf: str) -> None:
        """Send a part of the request, or all of it, and go away without reading the answer."""
        self.outcome.n_cut += 1
        head = f"POST {self.address}/sync/ HTTP/1.1\r\nHost: 127.0.0.1:{self.server.port}\r\n"
        head += "".join(f"{name}: {value}\r\n" for name, value in self._headers(csrf).items())
        whole = head.encode() + f"Content-Length: {len(body)}\r\n\r\n".encode() + body
        share = self.random.choice((0.3, 0.8, 1.0))
        with suppress(OSError), socket.create_connection(("127.0.0.1", self.server.port), timeout=30) as out:
            out.sendall(whole[: round(share * len(whole))])


def _serve(port: int, n_phones: int) -> None:
    import django  # noqa: PLC0415 - the settings are those of the environment

    django.setup()
    from django.conf import settings  # noqa: PLC0415
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: PLC0415
    from django.contrib.sessions.backends.db import SessionStore  # noqa: PLC0415
    from django.core.management import call_command  # noqa: PLC0415
    from django.urls import get_resolver  # noqa: PLC0415
    from waitress.server import create_server  # noqa: PLC0415

    from bedwright.apps.web.gardens.models import Garden  # noqa: PLC0415
    from bedwright.apps.web.people.models import Membership, Role, User  # noqa: PLC0415
    from bedwright.apps.web.project.wsgi import application  # noqa: PLC0415

    call_command("migrate", verbosity=0, interactive=False)
    garden = Garden.objects.create(name="Garden of many phones")
    sessions = []
    for number in range(n_phones):
        user = User.objects.create_user(f"phone-{number}@example.org", None, name=f"Phone {number}")
        Membership.objects.create(garden=garden, user=user, role=Role.VOLUNTEER)
        session = SessionStore()
        session[SESSION_KEY] = str(user.pk)
        session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        session[HASH_SESSION_KEY] = user.get_session_auth_hash()
        session.set_expiry(timedelta(days=1))
        session.save()
        sessions.append(session.session_key)
    # As `bedwright serve` does: all pages are brought in before the first is asked for.
    get_resolver().url_patterns  # noqa: B018
    server = create_server(application, host="127.0.0.1", port=port, threads=8)
    sys.stdout.write(json.dumps({"garden": garden.pk, "sessions": sessions}) + "\n")
    sys.stdout.flush()
    threading.Thread(target=server.run, daemon=True).start()
    # Ends with the one who started it, also when that one is killed.
    sys.stdin.read()


if __name__ == "__main__":
    _serve(int(sys.argv[1]), int(sys.argv[2]))
