from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from bedwright.engine.timing import (
    DateTable,
    allowed_days,
    best_choice,
    date_choices,
    date_table,
    last_useful_sowing,
)
from bedwright.engine.timing.choices import season_ready, weekly_days
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice
from bedwright.model.weather import SeasonYears
from tests.unit.engine.timing.case import (
    EQUATOR_DEG,
    quick_leaf,
    steady_years,
    tender_fruit,
    wave_years,
    with_night,
)

START = date(2027, 1, 1)


def dates(crop: Crop, years: SeasonYears, way: Way = "sow") -> DateTable:
    return date_table(crop, years, way, latitude_deg=EQUATOR_DEG)


def choice(in_ground: date, first_pick: date, chance: float = 1.0, n_picking_days: int = 14) -> DateChoice:
    last = first_pick + timedelta(days=n_picking_days - 1)
    return DateChoice(
        None, None, in_ground, None, first_pick, first_pick, first_pick, last, last, chance, 10, ()
    )


def test_dates_are_the_mondays_of_the_season() -> None:
    days = weekly_days(START)
    assert {(START + timedelta(days=int(day))).weekday() for day in days} == {0}
    assert len(days) == 52
    assert days[0] == 3  # 1 January 2027 is a Friday


def test_chance_is_the_share_of_recorded_years_in_which_it_would_have_worked() -> None:
    years = with_night(steady_years(mean_c=16.9, n_years=10), year=3, day=40, tmin_c=-1.0)
    table = dates(tender_fruit(), years, "raise")
    found = date_choices(table, days=[30, 50])
    assert [each.chance for each in found] == [0.9, 1.0]
    assert found[0].failures == (("killing frost", 0.1),)
    assert found[0].n_years == 10


def test_a_date_with_more_frost_risk_than_accepted_is_not_offered() -> None:
    years = with_night(steady_years(mean_c=16.9, n_years=10), year=3, day=40, tmin_c=-1.0)
    table = dates(tender_fruit(), years, "raise")
    assert not date_choices(table, frost_risk_pct=5, days=[30])
    assert date_choices(table, frost_risk_pct=10, days=[30])


def test_median_early_and_late_pick_are_days_that_really_came() -> None:
    years = wave_years(mean_c=16.0, swing_c=6.0, n_years=5)
    table = dates(quick_leaf(), years)
    found = date_choices(table, days=[150])[0]
    picks = np.sort(table.outcomes.first_pick[150])
    assert found.first_pick == START + timedelta(days=int(picks[2]))
    assert found.first_pick_early == START + timedelta(days=int(picks[0]))
    assert found.first_pick_late == START + timedelta(days=int(picks[3]))
    assert found.clear_by >= found.last_pick >= found.first_pick


def test_a_raised_crop_is_sown_and_hardened_off_before_it_is_set_out() -> None:
    found = date_choices(dates(tender_fruit(), steady_years(mean_c=16.9), "raise"), days=[100])[0]
    assert found.sow_under_cover == found.in_ground - timedelta(weeks=6)
    # University of Maryland Extension: 1 to 2 weeks before setting out.
    assert found.harden_off_from is not None
    assert 7 <= (found.in_ground - found.harden_off_from).days <= 14
    assert found.emerges is None


def test_bought_plants_are_neither_sown_nor_hardened_off_here() -> None:
    found = date_choices(dates(tender_fruit(), steady_years(mean_c=16.9), "buy"), days=[100])[0]
    assert found.sow_under_cover is None
    assert found.harden_off_from is None


def test_sowing_waits_for_warm_soil() -> None:
    crop = replace(quick_leaf(), soil_temp_min_c=12.0)
    years = wave_years()
    ready = season_ready(crop, years, "sow")
    soil_c = np.median(years.soil_temp_c, axis=0)[:365]
    assert not ready[soil_c < 11].any()
    assert ready[soil_c > 13].all()


def test_a_warm_week_in_winter_opens_no_window() -> None:
    years = wave_years(mean_c=9.0)
    years.soil_temp_c[:, 40:60] += 12
    ready = season_ready(quick_leaf(), years, "sow")
    assert not ready[40:60].any()
    assert ready[150:200].all()


def test_soil_too_hot_to_sow_closes_the_window_for_seed_only() -> None:
    crop = replace(quick_leaf(), soil_temp_max_c=20.0, ways=("sow", "raise"))
    years = steady_years(mean_c=22.0)
    assert not season_ready(crop, years, "sow").any()
    assert season_ready(crop, years, "raise").all()


def test_tender_crops_wait_for_warm_air() -> None:
    years = wave_years()
    ready = season_ready(tender_fruit(), years, "raise")
    air_c = np.median((years.tmin_c + years.tmax_c) / 2, axis=0)[:365]
    assert not ready[air_c < 12.5].any()


def test_garlic_goes_in_in_autumn_and_a_perennial_in_spring() -> None:
    years = wave_years()
    garlic = replace(quick_leaf(), life_cycle="overwintering", planting_stock="clove", soil_temp_min_c=0.0)
    crown = replace(quick_leaf(), life_cycle="perennial")
    autumn, spring = season_ready(garlic, years, "buy"), season_ready(crown, years, "buy")
    assert np.flatnonzero(autumn).min() > 230
    assert 60 < np.flatnonzero(spring).min() < np.flatnonzero(spring).max() < 180


def test_a_site_where_no_date_is_sure_offers_those_that_work_more_often_than_not() -> None:
    years = steady_years(mean_c=16.9, n_years=10)
    for year in range(4):
        years.tmax_c[year] = years.tmin_c[year] = 9.0
    table = dates(tender_fruit(), years, "raise")
    found = date_choices(table, chance_wanted_pct=80)
    assert {each.chance for each in found} == {0.6}


def test_a_site_that_fails_in_most_years_offers_nothing() -> None:
    years = steady_years(mean_c=16.9, n_years=10)
    for year in range(6):
        years.tmax_c[year] = years.tmin_c[year] = 9.0
    assert date_choices(dates(tender_fruit(), years, "raise")) == ()


def test_a_perennial_keeps_its_ground_to_the_end_of_the_season() -> None:
    crown = replace(quick_leaf(), life_cycle="perennial", ways=("buy",))
    found = date_choices(dates(crown, wave_years(), "buy"), days=range(365))
    assert found
    assert all(each.clear_by >= date(2027, 12, 31) for each in found)


def test_the_earliest_picking_is_preferred_among_dates_about_as_sure() -> None:
    choices = (
        choice(date(2027, 3, 1), date(2027, 6, 1), chance=0.7),
        choice(date(2027, 4, 1), date(2027, 6, 20), chance=0.91),
        choice(date(2027, 5, 1), date(2027, 7, 10), chance=1.0),
    )
    assert best_choice(choices) == 1


def test_weeks_in_cold_ground_are_not_spent_for_a_few_days() -> None:
    choices = (
        choice(date(2027, 2, 1), date(2027, 6, 3)),
        choice(date(2027, 3, 22), date(2027, 6, 10)),
        choice(date(2027, 3, 29), date(2027, 6, 11)),
    )
    assert best_choice(choices) == 1


def test_weeks_wanted_come_before_an_early_picking() -> None:
    choices = (
        choice(date(2027, 3, 1), date(2027, 6, 1)),
        choice(date(2027, 5, 1), date(2027, 7, 10)),
    )
    assert best_choice(choices, date(2027, 7, 1), date(2027, 7, 31)) == 1


@pytest.mark.parametrize(("go_in_early", "best"), [(False, 1), (True, 0)])
def test_of_dates_picked_on_one_day_an_annual_goes_in_late_and_what_stands_long_early(
    go_in_early: bool, best: int
) -> None:
    choices = (
        choice(date(2027, 3, 1), date(2027, 6, 1)),
        choice(date(2027, 3, 8), date(2027, 6, 1)),
    )
    assert best_choice(choices, go_in_early=go_in_early) == best


def test_without_dates_there_is_none_to_prefer() -> None:
    assert best_choice(()) is None


def test_the_last_useful_sowing_is_the_last_day_with_the_chance_wanted() -> None:
    table = dates(quick_leaf(), wave_years(n_years=5))
    last = last_useful_sowing(table, chance_wanted_pct=80)
    assert last is not None
    index = (last - START).days
    assert table.chance[index] >= 0.8
    assert not (table.season_ready[index + 1 :] & (table.chance[index + 1 :] >= 0.8)).any()


def test_there_is_no_last_useful_sowing_where_nothing_ripens() -> None:
    assert last_useful_sowing(dates(tender_fruit(), steady_years(mean_c=10.5), "raise")) is None


def test_allowed_days_cover_the_season() -> None:
    table = dates(quick_leaf(), wave_years())
    assert allowed_days(table, frost_risk_pct=10, chance_wanted_pct=80).shape == (365,)
