"""The sun's path at the ends of the earth, and what is refused."""

from datetime import date, datetime

import numpy as np
import pytest

from bedwright.engine.sunlight import days_since_j2000, rise_and_set, sun_day, sun_position


def test_a_moment_without_its_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="no time zone"):
        days_since_j2000(datetime(2026, 6, 1, 12))  # noqa: DTZ001


def test_midnight_sun_and_polar_night_have_no_rise() -> None:
    assert rise_and_set(date(2026, 6, 21), 75.0, 20.0, 1) is None
    assert rise_and_set(date(2026, 12, 21), 75.0, 20.0, 1) is None
    assert len(sun_day(date(2026, 6, 21), 75.0, 20.0).elevation_deg) == 288
    assert len(sun_day(date(2026, 12, 21), 75.0, 20.0).elevation_deg) == 0


def test_the_noon_sun_of_the_south_stands_in_the_north() -> None:
    path = sun_day(date(2026, 6, 21), -52.0, 0.0)
    noon = int(np.argmax(path.elevation_deg))
    assert abs((path.azimuth_deg[noon] + 180) % 360 - 180) < 2


def test_paths_north_and_south_of_the_equator_mirror_each_other_under_the_same_declination() -> None:
    # At the same instant, east of the one and of the other, heights differ only by the noon sun's side:
    # on the equator itself the day is the same seen from both sides.
    days = days_since_j2000(datetime.fromisoformat("2026-03-20T14:46:00+00:00")) + np.array([0.0])
    north, south = sun_position(days, 40.0, 0.0), sun_position(days, -40.0, 0.0)
    # The March equinox of 2026 (14:46 UTC, from memory): declination is zero within 0.01 degrees.
    assert float(north[0][0]) == pytest.approx(float(south[0][0]), abs=0.02)
    assert float(north[1][0]) == pytest.approx(180 - float(south[1][0]) + 360, abs=0.02)
