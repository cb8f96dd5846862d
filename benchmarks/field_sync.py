"""A hundred phones that come back into the network at one moment, on SQLite and on PostgreSQL 15.

The peer is PostgreSQL, measured in the same run where Debian's package is installed: SQLite
takes one writer at a time, so the ratio tells what a garden pays for needing no other server.
A second pass interrupts more than a thousand syncs, cuts the network in the middle of requests
and sends others twice, from phones of which half have a clock that is a year wrong, and counts
what is lost, doubled or put on another day.
"""

from __future__ import annotations

import tempfile
import time
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

from tests.unit.apps.web.field.live import LiveServer, all_at_once, live_server
from tests.unit.apps.web.field.postgres import postgres_url, there_is_postgres

N_PHONES = 100
N_LINES, N_BATCHES = 20, 3
N_CUT_LINES, N_CUT_BATCHES = 3, 20


def measure(name: str, server: LiveServer) -> float:
    """Lines a second with all phones at once; prints what was measured."""
    first_day = datetime.now(tz=UTC).date()
    started = time.perf_counter()
    outcomes = all_at_once(server, n_lines=N_LINES, n_batches=N_BATCHES, cuts=False, seed=1)
    took_s = time.perf_counter() - started
    latencies_s = sorted(each for outcome in outcomes for each in outcome.latencies_s)
    n_lines = sum(len(outcome.written) for outcome in outcomes)
    rate = n_lines / took_s
    p50_s, p95_s = latencies_s[len(latencies_s) // 2], latencies_s[int(0.95 * len(latencies_s))]
    print(
        f"{name}: {n_lines} lines of {N_PHONES} phones in {took_s:.1f} s, {rate:.0f} lines/s; "
        f"request p50 {p50_s:.2f} s, p95 {p95_s:.2f} s, all phones queueing at once"
    )
    cut = all_at_once(server, n_lines=N_CUT_LINES, n_batches=N_CUT_BATCHES, cuts=True, seed=2)
    days = {first_day.isoformat(), datetime.now(tz=UTC).date().isoformat()}
    written = Counter(client_id for outcome in (*outcomes, *cut) for client_id in outcome.written)
    lines = server.kept()
    kept = Counter(client_id for client_id, _day in lines)
    lost, doubled = written - kept, kept - written
    n_astray = sum(day not in days for _client_id, day in lines)
    faults = {status for outcome in (*outcomes, *cut) for status in outcome.statuses} - {200}
    print(
        f"{name}: {sum(outcome.n_cut for outcome in cut)} syncs cut in the middle, "
        f"{sum(outcome.n_twice for outcome in cut)} sent twice; of {written.total()} lines "
        f"lost {lost.total()}, doubled {doubled.total()}, on another day {n_astray}; "
        f"answers other than 200: {sorted(faults) or 'none'}, "
        f"lock errors: {server.log.read_text().count('locked')}"
    )
    return rate


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        data = Path(folder)
        with live_server(data / "sqlite", N_PHONES, {"BEDWRIGHT_DATABASE_URL": ""}) as server:
            sqlite = measure("SQLite", server)
        if not there_is_postgres():
            print("PostgreSQL 15 is not installed; no ratio.")
            return
        with (
            postgres_url() as url,
            live_server(data / "postgres", N_PHONES, {"BEDWRIGHT_DATABASE_URL": url}) as server,
        ):
            postgres = measure("PostgreSQL 15", server)
        print(f"ratio SQLite to PostgreSQL 15: {sqlite / postgres:.2f}")


if __name__ == "__main__":
    main()
