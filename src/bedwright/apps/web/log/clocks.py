"""What to believe of a phone's clock, which may be wrong by a year."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta, tzinfo

from bedwright.apps.web.log.models import Clock

TOLERATED = timedelta(minutes=10)
"""Two clocks that differ by less are taken to agree."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The day a line is booked on, and why."""

    day: date
    clock: Clock
    ahead_s: float
    """By how much the sender's clock was ahead when it sent; 0 where the clocks agree."""


def settle(
    stated_day: date,
    *,
    written_at: datetime,
    sent_at: datetime,
    received_at: datetime,
    seen_at: datetime | None,
    zone: tzinfo,
) -> Settled:
    """Decide on which day something happened that a phone reports.

    Parameters
    ----------
    stated_day
        The day by the phone's clock.
    written_at
        When it was written, by the phone's clock.
    sent_at
        When the phone sent it, by the same clock: tells by how much that clock is wrong, as
        long as nobody has set it in between.
    received_at
        When it came, by the server's clock.
    seen_at
        The last time of the server that the phone had heard of when the line was written;
        None: none. The line cannot be older.
    zone
        The garden's time zone.

    Returns
    -------
    Settled
        With the day moved by as many days as the clock was wrong. Where that leads to a
        moment that cannot be, the nearest possible day, marked as doubtful.
    """
    ahead = sent_at - received_at
    clock = Clock.SOUND
    if abs(ahead) <= TOLERATED:
        ahead = timedelta(0)
    else:
        clock = Clock.SET_RIGHT
    if not _writable(written_at, ahead):
        return Settled(received_at.astimezone(zone).date(), Clock.DOUBTFUL, ahead.total_seconds())
    moment = written_at - ahead
    earliest = seen_at - TOLERATED if seen_at is not None and seen_at <= received_at else None
    if moment > received_at + TOLERATED or (earliest is not None and moment < earliest):
        bound = received_at if moment > received_at else (seen_at or received_at)
        return Settled(bound.astimezone(zone).date(), Clock.DOUBTFUL, ahead.total_seconds())
    shift = moment.astimezone(zone).date() - written_at.astimezone(zone).date()
    return Settled(stated_day + shift, clock, ahead.total_seconds())


def _writable(moment: datetime, ahead: timedelta) -> bool:
    """Whether a moment set right is one that a calendar has, with room for any time zone."""
    margin = timedelta(days=2)
    lowest = datetime.min.replace(tzinfo=moment.tzinfo) + margin
    highest = datetime.max.replace(tzinfo=moment.tzinfo) - margin
    return lowest < moment < highest and lowest - moment < -ahead < highest - moment
