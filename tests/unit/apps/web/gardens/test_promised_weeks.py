"""Weeks short of hours, apart by whether anybody has promised any for that time."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

import pytest

from bedwright.apps.web.gardens.promised_weeks import short_weeks
from bedwright.model.estimate import WeekEstimate
from bedwright.model.work import Hours

FIRST = date(2027, 1, 4)


def weeks_of(needed_and_promised_h: Sequence[tuple[float, float]]) -> list[WeekEstimate]:
    return [
        WeekEstimate(
            FIRST + timedelta(weeks=k), 0.0, Hours(needed_h, needed_h, needed_h), promised_h, "enough"
        )
        for k, (needed_h, promised_h) in enumerate(needed_and_promised_h)
    ]


def test_weeks_before_and_after_the_promises_stand_apart() -> None:
    weeks = weeks_of([(1, 0), (2, 3), (5, 3), (4, 0), (2, 3), (0, 0), (0.5, 0)])
    found = short_weeks(weeks, [week for week in weeks if week.short_h > 0])
    assert (found.first, found.last) == (weeks[1].week, weeks[4].week)
    # a week in which nobody can come is short as long as others come before and after it
    assert found.within == (weeks[2], weeks[3])
    assert found.worst is weeks[3]
    assert found.outside == (weeks[0], weeks[6])
    assert found.outside_h == pytest.approx(1.5)
    assert found.outside_most_h == pytest.approx(1)


def test_where_nothing_is_promised_all_weeks_are_outside() -> None:
    weeks = weeks_of([(1, 0), (2, 0)])
    found = short_weeks(weeks, weeks)
    assert found.first is None
    assert found.worst is None
    assert found.outside == tuple(weeks)


def test_where_hours_suffice_nothing_is_short() -> None:
    weeks = weeks_of([(1, 2), (2, 2)])
    found = short_weeks(weeks, [])
    assert (found.within, found.outside, found.outside_h, found.outside_most_h) == ((), (), 0, 0)
