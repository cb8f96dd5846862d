from __future__ import annotations

from datetime import date, timedelta
from itertools import pairwise

import pytest

from bedwright.engine.timing import date_choices, date_table, successions
from bedwright.model.season import DateChoice
from tests.unit.engine.timing.case import EQUATOR_DEG, quick_leaf, steady_years, wave_years


def daily_choices() -> tuple[DateChoice, ...]:
    """A spring in which sowings catch each other up, as they do."""
    table = date_table(quick_leaf(), wave_years(mean_c=11.0, swing_c=6.0), "sow", latitude_deg=EQUATOR_DEG)
    return date_choices(table, days=range(365))


def pick_days(found: tuple[DateChoice, ...]) -> list[int]:
    return [each.first_pick.toordinal() for each in found]


def gaps(days: list[int]) -> list[int]:
    return [later - earlier for earlier, later in pairwise(days)]


def test_pickings_are_spaced_evenly_and_sowings_are_not() -> None:
    found = successions(daily_choices(), 4, 14)
    best = tuple(each.choices[each.best] for each in found)
    picking = gaps(pick_days(best))
    sowing = gaps([each.in_ground.toordinal() for each in best])
    assert len(best) == 4
    assert max(picking) - min(picking) <= 2
    assert max(sowing) - min(sowing) > max(picking) - min(picking)


def test_each_sowing_begins_to_yield_when_the_one_before_ends() -> None:
    found = successions(daily_choices(), 3, 14)
    best = [each.choices[each.best] for each in found]
    for earlier, later in pairwise(best):
        assert 0 <= (later.first_pick - earlier.last_pick).days - 1 <= 2


def test_a_given_number_is_squeezed_into_a_short_season() -> None:
    choices = daily_choices()[:40]
    span_days = (max(pick_days(choices)) - min(pick_days(choices))) or 1
    found = successions(choices, 4, span_days)
    assert len(found) == 4


def test_fewer_are_given_where_so_many_cannot_be_told_apart() -> None:
    assert len(successions(daily_choices()[:1], 5, 14)) == 1


def test_keep_picking_goes_on_to_the_end_of_the_season() -> None:
    choices = daily_choices()
    found = successions(choices, "keep picking", 14)
    last = found[-1].choices[found[-1].best]
    assert (max(each.first_pick for each in choices) - last.first_pick).days < 14


def test_no_dates_give_no_successions() -> None:
    assert successions((), 3, 14) == ()


@pytest.mark.parametrize("wanted", [2, 5, "keep picking"])
def test_other_dates_offered_stay_within_half_a_turn(wanted: int) -> None:
    for each in successions(daily_choices(), wanted, 14):
        own = each.choices[each.best].first_pick
        assert all(abs((other.first_pick - own).days) <= 7 for other in each.choices)
        assert list(each.choices) == sorted(each.choices, key=lambda choice: choice.in_ground)


def test_in_steady_weather_sowing_and_picking_keep_step() -> None:
    table = date_table(quick_leaf(), steady_years(), "sow", latitude_deg=EQUATOR_DEG)
    found = successions(date_choices(table, days=range(100)), 3, 14)
    days = [each.choices[each.best].in_ground for each in found]
    assert days == [date(2027, 1, 1) + timedelta(days=14 * turn) for turn in range(3)]
