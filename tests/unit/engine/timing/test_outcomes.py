from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from bedwright.engine.timing import CAUSES, Outcomes, sowing_outcomes
from bedwright.engine.timing.outcomes import PICKING_WANTED_DAYS, SEASON_DAYS
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.weather import SeasonYears
from benchmarks.timing import invented_crops, invented_years, plain_fates
from tests.unit.engine.timing.case import (
    EQUATOR_DEG,
    quick_leaf,
    steady_years,
    table,
    tender_fruit,
    wave_years,
    with_night,
)


def outcomes(crop: Crop, years: SeasonYears, way: Way = "sow") -> Outcomes:
    return sowing_outcomes(crop, years, way, latitude_deg=EQUATOR_DEG)


def cause_on(found: Outcomes, day: int, year: int = 0) -> str:
    index = int(found.cause[day, year])
    return "" if index < 0 else CAUSES[index]


@pytest.mark.parametrize("way", ["sow", "raise"])
@pytest.mark.parametrize("crop", list(invented_crops())[:3], ids=["hardy", "tender", "bolts in heat"])
def test_arrays_tell_the_same_fates_as_a_plain_loop_over_days(crop: Crop, way: Way) -> None:
    years = invented_years(2, seed=7)
    found = sowing_outcomes(crop, years, way, latitude_deg=52.0)
    for year in range(years.n_years):
        for day, fate in enumerate(plain_fates(crop, years, way, 52.0, year)):
            told = cause_on(found, day, year), found.first_pick[day, year], found.last_pick[day, year]
            assert told == (fate.cause, fate.first_pick, fate.last_pick), (day, year)


def test_every_day_of_the_season_and_every_recorded_year_is_followed() -> None:
    found = outcomes(quick_leaf(), steady_years(n_years=3))
    assert found.first_pick.shape == (SEASON_DAYS, 3)


def test_seed_comes_up_after_the_days_of_the_trial_at_that_temperature() -> None:
    found = outcomes(quick_leaf(), steady_years(mean_c=15.0))
    assert (found.emerges[:, 0] - np.arange(SEASON_DAYS) == 10).all()


def test_emergence_between_two_trial_temperatures_lies_on_the_line_between_them() -> None:
    found = outcomes(quick_leaf(), steady_years(mean_c=10.0))
    assert found.emerges[0, 0] == 20


def test_at_the_packet_temperature_the_packet_days_hold() -> None:
    # 45 days from sowing, of which 5 to come up at 20 °C; at 15.6 °C it comes up later instead.
    crop = replace(quick_leaf(), germination=table((5.0, 5.0), (25.0, 5.0)))
    found = outcomes(crop, steady_years(mean_c=15.6))
    assert (found.first_pick[:, 0] - np.arange(SEASON_DAYS) == 45).all()


def test_picking_lasts_the_harvest_span_where_nothing_ends_it() -> None:
    found = outcomes(quick_leaf(), steady_years())
    assert (found.last_pick - found.first_pick == 13).all()


def test_young_plants_are_in_sight_from_the_day_they_are_set_out() -> None:
    found = outcomes(tender_fruit(), steady_years(mean_c=16.9), "raise")
    assert (found.emerges[:, 0] == np.arange(SEASON_DAYS)).all()
    assert (found.first_pick[:, 0] - np.arange(SEASON_DAYS) == 70).all()


def test_cooler_weather_puts_off_the_first_picking() -> None:
    warm = outcomes(tender_fruit(), steady_years(mean_c=16.9), "raise").first_pick[0, 0]
    # Half the warmth above the base of 10 °C, so twice the days.
    cool = outcomes(tender_fruit(), steady_years(mean_c=13.45), "raise").first_pick[0, 0]
    assert cool == pytest.approx(2 * warm, abs=1)


def test_a_frost_between_setting_out_and_picking_kills_a_tender_crop() -> None:
    years = with_night(steady_years(mean_c=16.9), year=0, day=40, tmin_c=0.0)
    found = outcomes(tender_fruit(), years, "raise")
    assert cause_on(found, 40) == "killing frost"
    assert cause_on(found, 41) == ""
    assert cause_on(found, 40, year=1) == ""
    assert found.ended[40, 0] == 40


def test_a_night_just_above_the_limit_does_no_harm() -> None:
    years = with_night(steady_years(mean_c=16.9), year=0, day=40, tmin_c=0.01)
    assert outcomes(tender_fruit(), years, "raise").worked.all()


def test_seed_below_the_ground_is_out_of_reach_of_frost() -> None:
    crop = replace(tender_fruit(), ways=("sow",), maturity_basis="sowing", germination=table((16.0, 10.0)))
    years = with_night(steady_years(mean_c=16.9), year=0, day=40, tmin_c=-3.0)
    found = outcomes(crop, years)
    assert cause_on(found, 40 - 10) == "killing frost"
    assert cause_on(found, 40 - 9) == ""


def test_shoots_of_tubers_are_out_of_reach_until_they_show() -> None:
    crop = replace(tender_fruit(), ways=("buy",), planting_stock="tuber")
    years = with_night(steady_years(mean_c=16.9), year=0, day=40, tmin_c=-3.0)
    found = outcomes(crop, years, "buy")
    assert cause_on(found, 40 - 22) == "killing frost"
    assert cause_on(found, 40 - 20) == ""


def test_a_frost_as_the_year_cools_is_told_as_a_season_too_short() -> None:
    years = wave_years(mean_c=14, swing_c=10)
    found = outcomes(tender_fruit(), years, "raise")
    assert cause_on(found, 25) == "killing frost"
    assert cause_on(found, 230) == "season too short"


def test_frost_during_picking_ends_it_on_the_day_before() -> None:
    years = with_night(steady_years(mean_c=16.9), year=0, day=100, tmin_c=-1.0)
    found = outcomes(tender_fruit(), years, "raise")
    assert found.first_pick[10, 0] == 80
    assert found.last_pick[10, 0] == 99


def test_less_than_a_week_of_picking_does_not_count_as_having_worked() -> None:
    years = with_night(steady_years(mean_c=16.9), year=0, day=100, tmin_c=-1.0)
    found = outcomes(tender_fruit(), years, "raise")
    last_that_works = 100 - PICKING_WANTED_DAYS - 70
    assert cause_on(found, last_that_works) == ""
    assert cause_on(found, last_that_works + 1) == "killing frost"


def test_lasting_heat_before_picking_ruins_a_leaf_crop() -> None:
    crop = replace(quick_leaf(), heat_limit_c=24.0)
    years = steady_years(mean_c=15.6)
    years.tmax_c[0, 100:120] = 30.0
    found = outcomes(crop, years)
    assert "heat" in {cause_on(found, day) for day in range(60, 100)}
    assert cause_on(found, 150) == ""
    assert found.worked[:, 1].all()


def test_a_hot_week_is_not_lasting_heat() -> None:
    crop = replace(quick_leaf(), heat_limit_c=24.0)
    years = steady_years(mean_c=15.6)
    years.tmax_c[0, 100:107] = 26.0
    assert outcomes(crop, years).worked.all()


def test_heat_only_delays_roots_and_fruit() -> None:
    years = steady_years(mean_c=16.9)
    years.tmax_c[0, 30:60] = 40.0
    root = replace(quick_leaf(), heat_limit_c=30.0, edible_parts=("root",))
    fruit = replace(tender_fruit(), heat_limit_c=35.0)
    assert outcomes(root, years).worked.all()
    found = outcomes(fruit, years, "raise")
    assert found.worked.all()
    assert found.first_pick[20, 0] > found.first_pick[20, 1]


def test_seed_that_has_not_come_up_in_sixty_days_is_given_up() -> None:
    cold = outcomes(quick_leaf(), steady_years(mean_c=2.0))
    assert cause_on(cold, 0) == "soil too cold"
    assert cold.ended[0, 0] == 60
    hot = outcomes(quick_leaf(), steady_years(mean_c=32.0))
    assert cause_on(hot, 0) == "soil too hot"


def test_a_crop_that_never_ripens_is_a_season_too_short() -> None:
    found = outcomes(tender_fruit(), steady_years(mean_c=10.5), "raise")
    assert {cause_on(found, day) for day in range(SEASON_DAYS)} == {"season too short"}
    assert (found.first_pick == -1).all()


def test_garlic_counts_plain_days_through_winter_and_grows_again_after_frost() -> None:
    garlic = replace(
        quick_leaf(),
        ways=("buy",),
        life_cycle="overwintering",
        planting_stock="clove",
        germination=(),
        days_to_maturity_days=(260.0, 260.0),
        frost_kill_c=-5.0,
    )
    found = outcomes(garlic, wave_years(mean_c=5.0), "buy")
    assert found.worked.all()
    assert (found.first_pick[:, 0] - np.arange(SEASON_DAYS) == 260).all()


def test_winter_kills_a_sown_crop_that_cannot_stand_it() -> None:
    clover = replace(
        quick_leaf(), life_cycle="overwintering", kind="cover crop", days_to_maturity_days=(220.0, 220.0)
    )
    found = outcomes(clover, wave_years(mean_c=5.0, swing_c=12.0))
    assert cause_on(found, 250) == "killing frost"


def test_a_slow_perennial_is_first_picked_in_the_spring_after_its_days_are_up() -> None:
    crown = replace(
        quick_leaf(),
        ways=("buy",),
        planting_stock="crown",
        life_cycle="perennial",
        days_to_maturity_days=(380.0, 380.0),
        soil_temp_min_c=8.0,
    )
    found = outcomes(crown, wave_years(), "buy")
    assert found.worked.all()
    # Planted in April, its days are up in the spring of the next year; in July, the spring after that.
    assert 365 + 60 <= found.first_pick[100, 0] <= 365 + 160
    assert 2 * 365 + 60 <= found.first_pick[200, 0] <= 2 * 365 + 160


def test_short_days_slow_growth() -> None:
    years = steady_years()
    near_pole = sowing_outcomes(quick_leaf(), years, "sow", latitude_deg=55.0)
    equator = outcomes(quick_leaf(), years)
    june, october = 150, 280
    assert near_pole.ripe[june, 0] == equator.ripe[june, 0]
    assert near_pole.ripe[october, 0] > equator.ripe[october, 0] + 14


def test_an_autumn_crop_needs_about_two_weeks_longer_as_virginia_extension_says() -> None:
    # Virginia Cooperative Extension's fall factor of about two weeks; A. McDaniel, Virginia Tech, at
    # gardening.mwcog.org (29 August 2011): a 65-day crop could need closer to 80 days. The temperatures are
    # a smooth year with the monthly means of Richmond, Virginia (January 3 °C, July 26 °C; from memory).
    # A week either way, since "about" is all the rule says.
    years = wave_years(mean_c=14.5, swing_c=11.5, n_years=1)
    crop = replace(
        quick_leaf(), days_to_maturity_days=(65.0, 65.0), germination=table((0.0, 7.0), (35.0, 7.0))
    )
    found = sowing_outcomes(crop, years, "sow", latitude_deg=37.5)
    early_august = 217
    days = found.ripe[early_august, 0] - early_august
    assert days == pytest.approx(80, abs=7)
