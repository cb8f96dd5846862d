"""The whole application as people start it, `bedwright serve`, with a garden and people in it.

`python -m tests.real_server N_PEOPLE` makes tables, the garden and people in the data folder of
the environment and prints, as JSON, the garden's number and a session of each.
"""

from __future__ import annotations

import gzip
import http.client
import json
import os
import signal
import socket
import subprocess
import sys
import time
import urllib.parse
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

_ROOT = Path(__file__).resolve().parents[1]
_START_S = 600.0
_CSRF = "a" * 32
"""Any secret serves, as long as cookie and header hold the same."""


@dataclass
class RealServer:
    """A server with its worker, in processes of their own; it can be killed and started again."""

    data: Path
    book: str = ""
    """Text of the garden's book; empty for the demonstration garden."""
    n_people: int = 1
    variables: Mapping[str, str] = field(default_factory=dict)
    program: str = "import sys; from bedwright.apps.cli import main; sys.exit(main())"
    """What is run with the words of `bedwright serve`."""
    garden_id: int = 0
    sessions: list[str] = field(default_factory=list)
    port: int = 0
    process: subprocess.Popen[bytes] | None = None

    @property
    def environment(self) -> dict[str, str]:
        """Variables that server and preparation run with."""
        return os.environ | {
            "DJANGO_SETTINGS_MODULE": "bedwright.apps.web.project.settings",
            "BEDWRIGHT_DATA": str(self.data),
            "BEDWRIGHT_DATABASE_URL": "",
            "BEDWRIGHT_SECRET_KEY": "",
            "BEDWRIGHT_HOSTS": "127.0.0.1",
            "BOOK": self.book,
            **self.variables,
        }

    @property
    def log(self) -> Path:
        """What server and worker said."""
        return self.data / "server.log"

    @property
    def url(self) -> str:
        """Where it answers."""
        return f"http://127.0.0.1:{self.port}"

    def prepare(self) -> None:
        """Make the garden and its people."""
        self.data.mkdir(parents=True, exist_ok=True)
        command = [sys.executable, "-m", "tests.real_server", str(self.n_people)]
        made = subprocess.run(command, cwd=_ROOT, env=self.environment, check=True, stdout=subprocess.PIPE)
        told = json.loads(made.stdout)
        self.garden_id, self.sessions = told["garden"], told["sessions"]
        with socket.socket() as free:
            free.bind(("127.0.0.1", 0))
            self.port = free.getsockname()[1]

    def start(self) -> None:
        """Start it, and wait until it answers."""
        command = [sys.executable, "-c", self.program, "serve", "--port", str(self.port)]
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                command, cwd=_ROOT, env=self.environment, stdout=log, stderr=log, stdin=subprocess.DEVNULL
            )
        until = time.monotonic() + _START_S
        while time.monotonic() < until and self.process.poll() is None:
            with suppress(OSError), socket.create_connection(("127.0.0.1", self.port), timeout=1):
                return
            time.sleep(0.05)
        raise RuntimeError(self.log.read_text()[-3000:])

    def kill(self) -> None:
        """End the server as a failing machine does: at once, with no chance to tidy up."""
        assert self.process is not None
        self.process.kill()
        self.process.wait(30)

    def end(self) -> None:
        """End it as Ctrl-C does."""
        if self.process is not None and self.process.poll() is None:
            self.process.send_signal(signal.SIGTERM)
            self.process.wait(60)

    def person(self, number: int) -> Person:
        """A person with a connection of their own; number 0 is the coordinator."""
        return Person(self.port, self.sessions[number])


@dataclass(frozen=True)
class Answer:
    """What the server answered."""

    status: int
    headers: Mapping[str, str]
    body: bytes
    """As it came over the wire, packed or not."""
    path: str = ""
    """What was asked for."""

    @property
    def location(self) -> str:
        """Where it leads on."""
        return self.headers.get("Location", "")

    @property
    def text(self) -> str:
        """Its text."""
        packed = self.headers.get("Content-Encoding") == "gzip"
        return (gzip.decompress(self.body) if packed else self.body).decode()

    @property
    def told(self) -> Any:
        """Its JSON."""
        return json.loads(self.text)


class Person:
    """Somebody at a browser: one connection that is kept open, one session."""

    def __init__(self, port: int, session: str, timeout_s: float = 60.0) -> None:
        self._connection = http.client.HTTPConnection("127.0.0.1", port, timeout=timeout_s)
        self._headers = {
            "Cookie": f"sessionid={session}; csrftoken={_CSRF}",
            "X-CSRFToken": _CSRF,
            "Accept-Encoding": "gzip",
        }

    def get(self, path: str) -> Answer:
        """Ask for a page.

        Raises
        ------
        OSError
            If the server is gone.
        """
        return self._ask("GET", path, None, {})

    def open(self, path: str) -> Answer:
        """Ask for a page, and go on to where it leads."""
        answer = self.get(path)
        return self.get(answer.location) if answer.location else answer

    def send(self, path: str, form: Mapping[str, str]) -> Answer:
        """Send a form."""
        kind = {"Content-Type": "application/x-www-form-urlencoded"}
        return self._ask("POST", path, urllib.parse.urlencode(form).encode(), kind)

    def send_json(self, path: str, body: Any) -> Answer:
        """Send what a script sends."""
        return self._ask("POST", path, json.dumps(body).encode(), {"Content-Type": "application/json"})

    def close(self) -> None:
        """Go away."""
        self._connection.close()

    def _ask(self, method: str, path: str, body: bytes | None, more: Mapping[str, str]) -> Answer:
        try:
            self._connection.request(method, path, body, {**self._headers, **more})
            answer = self._connection.getresponse()
            return Answer(answer.status, dict(answer.getheaders()), answer.read(), path)
        except http.client.HTTPException as error:
            self._connection.close()
            raise ConnectionResetError(str(error)) from error
        except OSError:
            self._connection.close()
            raise


def _prepare(n_people: int) -> None:
    import django  # noqa: PLC0415 - the settings are those of the environment

    django.setup()
    from django.conf import settings  # noqa: PLC0415
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: PLC0415
    from django.contrib.sessions.backends.db import SessionStore  # noqa: PLC0415
    from django.core.management import call_command  # noqa: PLC0415

    from bedwright.apps.web.gardens.demo import load_demo  # noqa: PLC0415
    from bedwright.apps.web.gardens.models import Garden  # noqa: PLC0415
    from bedwright.apps.web.gardens.revisions import keep  # noqa: PLC0415
    from bedwright.apps.web.people.models import Membership, Role, User  # noqa: PLC0415

    call_command("migrate", verbosity=0, interactive=False)
    users = [
        User.objects.create_user(f"person-{n}@example.org", None, name=f"Person {n}") for n in range(n_people)
    ]
    if os.environ.get("BOOK"):
        garden = Garden.objects.create(name="Small garden")
        Membership.objects.create(garden=garden, user=users[0], role=Role.COORDINATOR)
        keep(garden, os.environ["BOOK"], author=users[0], follows=None)
    else:
        garden = load_demo(users[0])
    parts = (Role.READER, Role.VOLUNTEER, Role.LEADER, Role.VOLUNTEER)
    sessions = []
    for number, user in enumerate(users):
        if number:
            Membership.objects.create(garden=garden, user=user, role=parts[number % len(parts)])
        session = SessionStore()
        session[SESSION_KEY] = str(user.pk)
        session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
        session[HASH_SESSION_KEY] = user.get_session_auth_hash()
        session.save()
        sessions.append(session.session_key)
    sys.stdout.write(json.dumps({"garden": garden.pk, "sessions": sessions}) + "\n")


if __name__ == "__main__":
    _prepare(int(sys.argv[1]))
