from __future__ import annotations

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.apps.web.log.clocks import Settled, settle
from bedwright.apps.web.log.models import Clock

LONDON = ZoneInfo("Europe/London")
RECEIVED = datetime(2027, 5, 10, 15, 0, tzinfo=UTC)
YEAR = timedelta(days=365)


def settled(written: datetime, sent: datetime, seen: datetime | None = None) -> Settled:
    return settle(
        written.astimezone(LONDON).date(),
        written_at=written,
        sent_at=sent,
        received_at=RECEIVED,
        seen_at=seen,
        zone=LONDON,
    )


def test_a_clock_that_agrees_is_believed() -> None:
    found = settled(RECEIVED - timedelta(days=3), RECEIVED + timedelta(seconds=4))
    assert found == Settled(date(2027, 5, 7), Clock.SOUND, 0.0)


@pytest.mark.parametrize("wrong", [YEAR, -YEAR, timedelta(hours=-14)])
def test_a_clock_that_is_wrong_by_a_year_is_set_right_by_the_sending(wrong: timedelta) -> None:
    found = settled(RECEIVED - timedelta(days=2) + wrong, RECEIVED + wrong)
    assert found.day == date(2027, 5, 8)
    assert found.clock == Clock.SET_RIGHT
    assert found.ahead_s == wrong.total_seconds()


def test_a_clock_put_right_before_sending_leaves_a_day_that_cannot_be_and_is_marked() -> None:
    ahead = settled(RECEIVED + YEAR, RECEIVED)
    assert (ahead.day, ahead.clock) == (date(2027, 5, 10), Clock.DOUBTFUL)
    seen = RECEIVED - timedelta(days=4)
    behind = settled(datetime(1970, 1, 1, tzinfo=UTC), RECEIVED, seen)
    assert (behind.day, behind.clock) == (date(2027, 5, 6), Clock.DOUBTFUL)


def test_a_line_written_weeks_ago_without_a_network_keeps_its_day() -> None:
    found = settled(RECEIVED - timedelta(days=40), RECEIVED, RECEIVED - timedelta(days=41))
    assert (found.day, found.clock) == (date(2027, 3, 31), Clock.SOUND)


@given(
    written=st.datetimes(timezones=st.just(UTC)),
    sent=st.datetimes(timezones=st.just(UTC)),
    seen=st.one_of(st.none(), st.datetimes(timezones=st.just(UTC))),
)
def test_no_clock_leads_to_a_day_after_tomorrow_or_to_a_fault(
    written: datetime, sent: datetime, seen: datetime | None
) -> None:
    found = settle(
        written.date(), written_at=written, sent_at=sent, received_at=RECEIVED, seen_at=seen, zone=LONDON
    )
    assert found.day <= date(2027, 5, 11)
