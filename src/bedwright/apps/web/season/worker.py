"""The process that makes plans: `python -m bedwright.apps.web.season.worker [--with-server]`.

With `--with-server` it ends when its standard input does, which is when the server that
started it ends, even where that is killed: no worker is left that nobody knows of.
"""

from __future__ import annotations

import logging
import os
import signal
import sys
import threading

import django

_LOOK_EVERY_S = 0.5
_NICENESS = 10
"""Pages go before plans: somebody waits for each page. More would starve plans where the machine is busy."""


def main() -> int:
    """Take up what an earlier worker left, then work on what is asked for, until stopped."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "bedwright.apps.web.project.settings")
    django.setup()
    # Only now: these need the settings.
    from django.core.management import call_command  # noqa: PLC0415

    from bedwright.apps.web.season.taking_up import (  # noqa: PLC0415
        new_worker_id,
        start_heartbeat,
        take_up_left,
    )

    if hasattr(os, "nice"):
        os.nice(_NICENESS)
    if "--with-server" in sys.argv[1:]:
        threading.Thread(target=_end_with_server, name="end with server", daemon=True).start()
    logging.getLogger("django_tasks").setLevel(logging.WARNING)
    worker_id = new_worker_id()
    start_heartbeat(worker_id)
    take_up_left()
    call_command(
        "db_worker",
        interval=_LOOK_EVERY_S,
        startup_delay=False,
        reload=False,
        verbosity=1,
        worker_id=worker_id,
    )
    return 0


def _end_with_server() -> None:
    """Wait for the end of the input, then end as Ctrl-C does: after the plan it is at."""
    sys.stdin.buffer.read()
    os.kill(os.getpid(), signal.SIGTERM)


if __name__ == "__main__":
    sys.exit(main())
