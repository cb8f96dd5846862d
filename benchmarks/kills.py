"""Server or worker killed at a hundred random moments while four people are at work.

No time is measured, so there is no peer: what counts is that nothing named as kept is lost
or doubled, no plan is half made, and every plan that was promised comes to an end.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.unit.apps.web.killing import Killing

N_KILLS = 100


def main() -> None:
    n_kills = int(sys.argv[1]) if len(sys.argv) > 1 and sys.argv[1].isdecimal() else N_KILLS
    with tempfile.TemporaryDirectory() as folder:
        found = Killing(Path(folder), n_kills=n_kills, seed=1).run()
    n_kills = found.n_server_kills + found.n_worker_kills
    print(
        f"{n_kills} kills: {found.n_server_kills} of the server, {found.n_worker_kills} of the worker, "
        f"{found.n_at_work} while a plan was being made; {found.n_cut} requests cut or refused"
    )
    print(
        f"kept as told: {len(found.lines)} lines, {len(found.books)} changes of the book, "
        f"{len(set(found.plans))} plans ({', '.join(f'{n} {state}' for state, n in found.states.items())})"
    )
    print("faults: " + ("; ".join(found.faults) or "none"))
    if found.faults:
        raise SystemExit(1)


if __name__ == "__main__":
    main()
