"""A hundred phones that sync at once against a real server, some cut off in the middle."""

from __future__ import annotations

from collections import Counter
from datetime import UTC, datetime
from pathlib import Path

import pytest

from tests.unit.apps.web.field.live import LiveServer, all_at_once, live_server
from tests.unit.apps.web.field.postgres import postgres_url, there_is_postgres

N_PHONES = 100


def nothing_lost_and_nothing_twice(server: LiveServer) -> None:
    first_day = datetime.now(tz=UTC).date()
    outcomes = all_at_once(server, n_lines=6, n_batches=2, cuts=True)
    last_day = datetime.now(tz=UTC).date()
    assert {status for each in outcomes for status in each.statuses} == {200}
    assert sum(each.n_cut for each in outcomes) > N_PHONES / 2
    written = Counter(client_id for each in outcomes for client_id in each.written)
    assert len(written) == 12 * N_PHONES
    kept = server.kept()
    assert Counter(client_id for client_id, _day in kept) == written
    # Half of the phones are a year wrong.
    assert {day for _client_id, day in kept} <= {first_day.isoformat(), last_day.isoformat()}
    said = server.log.read_text()
    assert "locked" not in said
    assert "deadlock" not in said
    assert "Traceback" not in said


def test_a_hundred_phones_at_once_on_sqlite(tmp_path: Path) -> None:
    with live_server(tmp_path / "data", N_PHONES, {"BEDWRIGHT_DATABASE_URL": ""}) as server:
        nothing_lost_and_nothing_twice(server)


@pytest.mark.skipif(not there_is_postgres(), reason="PostgreSQL 15 of Debian's package is not installed")
def test_a_hundred_phones_at_once_on_postgresql(tmp_path: Path) -> None:
    with (
        postgres_url() as url,
        live_server(tmp_path / "data", N_PHONES, {"BEDWRIGHT_DATABASE_URL": url}) as server,
    ):
        nothing_lost_and_nothing_twice(server)
