"""Rise and set against the US Naval Observatory.

Whole-minute times for Golden, Colorado, 1 January 2015, as quoted in the public tests of pvlib-python.
"""

from datetime import date

import pytest

from bedwright.engine.sunlight import rise_and_set


def test_new_years_day_in_golden() -> None:
    times = rise_and_set(date(2015, 1, 1), 39.742476, -105.1786, -7)
    assert times is not None
    # The table is rounded to the minute.
    assert times[0] == pytest.approx(7 + 22 / 60, abs=1.5 / 60)
    assert times[1] == pytest.approx(16 + 47 / 60, abs=1.5 / 60)
