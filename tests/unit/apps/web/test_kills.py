"""A few kills of server and worker; `python -m benchmarks.kills` has a hundred."""

from __future__ import annotations

from pathlib import Path

from tests.unit.apps.web.killing import Killing

N_KILLS = 4


def test_nothing_named_as_kept_is_lost_and_no_plan_is_half_made_when_server_or_worker_are_killed(
    tmp_path: Path,
) -> None:
    found = Killing(tmp_path, n_kills=N_KILLS, seed=3).run()
    assert found.faults == []
    assert found.n_server_kills + found.n_worker_kills == N_KILLS
    assert found.n_worker_kills > 0
    assert found.lines
    assert found.books
    assert found.plans
