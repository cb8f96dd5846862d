"""The application with everything it needs, started together and ended together."""

from __future__ import annotations

import gc
import logging
import os
import signal
import subprocess
import sys
import threading
from pathlib import Path
from types import FrameType

import django
from django.conf import settings
from django.core.management import call_command
from django.db import OperationalError

from bedwright.model.problem import BadDocumentError, Problem

logger = logging.getLogger("bedwright.web")

_NOT_SERVED = ("ext", "htmax-*", "htmx-4*", "htmx-2.js")
"""Of the files that django_htmx brings; no page uses them."""
THREADS = 8
"""Requests answered side by side."""
_SWITCH_S = 0.001
"""A page that has waited for the database gets on after so long, whatever another works out."""
_RESTART_AFTER_S = 2.0
_WAIT_FOR_WORKER_S = 10.0


def prepare() -> None:
    """Bring tables and static files up to date.

    Raises
    ------
    OSError
        If the data folder cannot be written to.
    BadDocumentError
        If the database cannot be reached.
    """
    django.setup()
    try:
        call_command("migrate", interactive=False, verbosity=0)
    except OperationalError as error:
        got = str(error).strip().splitlines()[0]
        problem = Problem("database", None, None, "BEDWRIGHT_DATABASE_URL", got, "a database that answers")
        raise BadDocumentError((problem,)) from error
    collect_static()


def collect_static() -> None:
    """Put all static files into their folder, under names made from their content, and packed."""
    Path(settings.STATIC_ROOT).mkdir(parents=True, exist_ok=True)
    call_command(
        "collectstatic", interactive=False, verbosity=0, clear=True, ignore_patterns=list(_NOT_SERVED)
    )


def serve(host: str, port: int, *, with_worker: bool) -> int:
    """Answer requests until stopped with Ctrl-C or SIGTERM.

    Parameters
    ----------
    host, port
        Where to listen.
    with_worker
        Also keep a process running that makes plans.
    """
    prepare()
    # Only now: these need the settings, and static files where the manifest is looked for.
    import waitress  # noqa: PLC0415
    from django.urls import get_resolver  # noqa: PLC0415

    from bedwright.apps.web.people.joining import start_secret  # noqa: PLC0415
    from bedwright.apps.web.people.models import User  # noqa: PLC0415
    from bedwright.apps.web.project.wsgi import application  # noqa: PLC0415
    from bedwright.apps.web.season.drawing.warming import start_warming  # noqa: PLC0415

    proxy = settings.ENVIRONMENT.trusted_proxy
    trusted = (
        {
            "trusted_proxy": proxy,
            "trusted_proxy_headers": "x-forwarded-for x-forwarded-proto x-forwarded-host",
        }
        if proxy
        else {}
    )
    # Brings in all pages and the engine, so that the first visitor does not wait for them.
    get_resolver().url_patterns  # noqa: B018
    # Before all else: where the port is taken, nothing is started and nothing promised.
    server = waitress.create_server(
        application,
        host=host,
        port=port,
        threads=THREADS,
        ident=None,
        max_request_body_size=60_000_000,
        **trusted,
    )
    shown = "localhost" if host in {"127.0.0.1", "0.0.0.0", "::"} else host  # noqa: S104 - compared, not bound
    print(f"Bedwright is at http://{shown}:{port}/ (data in {settings.DATA}); Ctrl-C ends it.")  # noqa: T201
    if not User.objects.exists():
        print(f"Make the first account: http://{shown}:{port}/start/{start_secret()}/")  # noqa: T201
    sys.stdout.flush()
    signal.signal(signal.SIGTERM, _stop)
    keeper = WorkerKeeper() if with_worker else None
    if keeper is not None:
        keeper.start()
    sys.setswitchinterval(_SWITCH_S)
    # What is loaded by now stays; it need not be searched for what can be given up.
    gc.collect()
    gc.freeze()
    start_warming()
    try:
        server.run()
    finally:
        if keeper is not None:
            keeper.end()
    return 0


def _stop(signum: int, frame: FrameType | None) -> None:
    raise KeyboardInterrupt


class WorkerKeeper:
    """Keeps one worker process running: starts it, and starts it again should it die."""

    def __init__(self) -> None:
        self._ending = threading.Event()
        self._process: subprocess.Popen[bytes] | None = None
        self._thread = threading.Thread(target=self._keep, name="worker keeper", daemon=True)

    def start(self) -> None:
        """Start the worker."""
        self._thread.start()

    def end(self) -> None:
        """End the worker; a plan it was at is taken up again when it next starts."""
        self._ending.set()
        process = self._process
        if process is not None and process.stdin is not None:
            process.stdin.close()
        self._thread.join(_WAIT_FOR_WORKER_S)
        if process is not None and process.poll() is None:
            process.kill()

    def _keep(self) -> None:
        command = [sys.executable, "-m", "bedwright.apps.web.season.worker", "--with-server"]
        # One processor is enough for a plan: the others are left to the pages.
        env = {"OPENBLAS_NUM_THREADS": "1", **os.environ}
        while not self._ending.is_set():
            # A group of its own, so that Ctrl-C reaches it through its input alone and once; but the
            # session of the server: between sessions Linux shares processors out whatever the niceness.
            self._process = subprocess.Popen(  # noqa: S603
                command, env=env, process_group=0, stdin=subprocess.PIPE
            )
            code = self._process.wait()
            if not self._ending.is_set():
                logger.warning("The worker ended with code %s; it is started again.", code)
                self._ending.wait(_RESTART_AFTER_S)
