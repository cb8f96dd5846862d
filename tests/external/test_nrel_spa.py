"""Sun position and rise and set against NREL's Solar Position Algorithm.

Reda, I. & Andreas, A. (2004) Solar Position Algorithm for Solar Radiation Applications,
NREL/TP-560-34302, worked instant (Table A5.1) and the values of NREL's web calculator, as
quoted in the public tests of pvlib-python.
"""

from datetime import date, datetime

import pytest

from bedwright.engine.sunlight import days_since_j2000, rise_and_set, sun_position

GOLDEN = (39.742476, -105.1786)


def test_the_worked_instant_of_the_report() -> None:
    moment = datetime.fromisoformat("2003-10-17T12:30:30-07:00")
    elevation_deg, azimuth_deg = sun_position(days_since_j2000(moment), *GOLDEN)
    # The report's elevation without refraction. Ours is the almanac's low-precision method: 0.01° a unit.
    assert float(elevation_deg) == pytest.approx(39.872046, abs=0.02)
    assert float(azimuth_deg) == pytest.approx(194.340241, abs=0.02)


@pytest.mark.parametrize(
    ("day", "place", "utc_offset_h", "rise", "set_"),
    [
        (date(2003, 10, 17), GOLDEN, -7, "06:12:43", "17:20:19"),
        (date(2015, 1, 2), GOLDEN, -7, "07:21:55", "16:47:43"),
        (date(1996, 7, 5), (-35.0, 0.0), 0, "07:08:15", "17:01:04"),
    ],
)
def test_rise_and_set_within_two_minutes_of_the_calculator(
    day: date, place: tuple[float, float], utc_offset_h: float, rise: str, set_: str
) -> None:
    times = rise_and_set(day, *place, utc_offset_h)
    assert times is not None
    # Two minutes: the calculator's own refraction constant differs from the almanac's.
    assert times[0] == pytest.approx(_hours(rise), abs=2 / 60)
    assert times[1] == pytest.approx(_hours(set_), abs=2 / 60)


def _hours(clock: str) -> float:
    hour, minute, second = (int(part) for part in clock.split(":"))
    return hour + minute / 60 + second / 3600
