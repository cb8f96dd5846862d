"""Server or worker killed at a hundred random moments while four people are at work.

No time is measured, so there is no peer: what counts is that nothing named as kept is lost
or doubled, no plan is half made, and every plan that was promised comes to an end.

`python -m benchmarks.kills [KILLS [SEED]]` does a part of them, or others; the seed, which is
drawn where none is said, is printed.
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from random import SystemRandom

from tests.unit.apps.web.killing import Killing

N_KILLS = 100


def main() -> None:
    asked = [int(word) for word in sys.argv[1:] if word.isdecimal()]
    left_out = (N_KILLS, SystemRandom().randrange(1_000_000))
    n_kills, seed = (*asked, *left_out[len(asked) :])
    print(f"seed {seed}", flush=True)
    with tempfile.TemporaryDirectory() as folder:
        found = Killing(Path(folder), n_kills=n_kills, seed=seed).run()
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
