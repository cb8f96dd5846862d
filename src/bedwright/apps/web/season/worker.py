"""The process that makes plans: `python -m bedwright.apps.web.season.worker`."""

from __future__ import annotations

import logging
import os
import sys

import django

_LOOK_EVERY_S = 0.5


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


if __name__ == "__main__":
    sys.exit(main())
