"""Sun of a planting over its own weeks."""

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.sunlight import planting_own_sun_h, planting_sun_h
from bedwright.model.light import BedWeeks
from tests.plantings import DATES, planting


def weeks(n_along: int = 4, n_across: int = 2) -> BedWeeks:
    """Week k has k hours everywhere; the second column across has one hour more."""
    sun_h = np.zeros((52, n_along, n_across)) + np.arange(52.0)[:, None, None]
    sun_h[:, :, 1] += 1
    return BedWeeks("A", 0.25, sun_h)


def test_whole_weeks_are_averaged() -> None:
    # 8 to 21 January: weeks 1 and 2.
    assert planting_sun_h(weeks(), (0.0, 1.0), (0.0, 0.25), date(2027, 1, 8), date(2027, 1, 21)) == 1.5


def test_parts_of_cells_count_in_part() -> None:
    found_h = planting_sun_h(weeks(), (0.0, 1.0), (0.125, 0.5), date(2027, 1, 1), date(2027, 1, 1))
    assert found_h == pytest.approx(2 / 3)


def test_a_stay_over_new_year_counts_the_weeks_of_both_years() -> None:
    # 31 December is in the last week (51), 1 January in the first (0).
    found_h = planting_sun_h(weeks(), (0.0, 1.0), (0.0, 0.25), date(2027, 12, 31), date(2028, 1, 1))
    assert found_h == pytest.approx(25.5)


def test_the_leap_day_counts_with_the_day_before_it() -> None:
    same = [
        planting_sun_h(weeks(), (0.0, 1.0), (0.0, 0.25), day, day)
        for day in (date(2028, 2, 28), date(2028, 2, 29))
    ]
    assert same[0] == same[1]


def test_cells_outside_the_bed_are_left_out() -> None:
    light = weeks()
    light.sun_h[:, :, 1] = np.nan
    assert planting_sun_h(light, (0.0, 1.0), (0.0, 0.5), date(2027, 1, 8), date(2027, 1, 8)) == 1
    assert np.isnan(planting_sun_h(light, (0.0, 1.0), (0.25, 0.5), date(2027, 1, 8), date(2027, 1, 8)))


def test_an_end_before_the_start_is_refused() -> None:
    with pytest.raises(ValueError, match="before it is planted"):
        planting_sun_h(weeks(), (0.0, 1.0), (0.0, 0.5), date(2027, 5, 2), date(2027, 5, 1))


def test_a_planting_counts_from_going_in_to_being_cleared() -> None:
    plants = replace(planting(), along_m=(0.0, 1.0), across_m=(0.0, 0.25))
    expected_h = planting_sun_h(weeks(), (0.0, 1.0), (0.0, 0.25), DATES.in_ground, DATES.clear_by)
    assert planting_own_sun_h(weeks(), plants) == expected_h
