from __future__ import annotations

from dataclasses import replace
from datetime import date

import numpy as np
import pytest

from bedwright.engine.timing.growth import (
    COOL_SEASON,
    EMERGENCE_DAYS_UNTABLED,
    EMERGENCE_UNITS,
    HEAT_LOVING,
    ONION_KIN,
    WARM_SEASON,
    emergence_days,
    emergence_progress,
    growth_need,
    growth_temperatures,
    light_share,
)
from bedwright.model.book import Variety
from bedwright.model.crop import with_packet
from tests.unit.engine.timing.case import quick_leaf, table, tender_fruit


def test_growth_temperatures_follow_the_frost_class_save_for_two_groups() -> None:
    assert growth_temperatures(quick_leaf()) == COOL_SEASON
    assert growth_temperatures(tender_fruit()) == WARM_SEASON
    assert growth_temperatures(replace(tender_fruit(), name="okra")) == HEAT_LOVING
    assert growth_temperatures(replace(quick_leaf(), family="Amaryllidaceae")) == ONION_KIN


def test_a_published_sum_is_used_where_it_agrees_with_the_days() -> None:
    # 694 degree days above 4.4 °C (Delaware, pea): 62 days at 15.6 °C, within 60 to 75.
    pea = replace(
        quick_leaf(),
        days_to_maturity_days=(60.0, 75.0),
        degree_day_base_c=4.4,
        degree_days_to_maturity=694.0,
    )
    need = growth_need(pea, "sow")
    assert need.degree_days == 694
    assert need.from_sowing


def test_a_published_sum_at_odds_with_the_days_is_set_aside() -> None:
    pea = replace(
        quick_leaf(),
        days_to_maturity_days=(20.0, 30.0),
        degree_day_base_c=4.4,
        degree_days_to_maturity=694.0,
    )
    assert growth_need(pea, "sow").degree_days != 694


def test_the_packet_overrules_a_published_sum() -> None:
    pea = replace(
        quick_leaf(),
        days_to_maturity_days=(60.0, 75.0),
        degree_day_base_c=4.4,
        degree_days_to_maturity=694.0,
    )
    packet = with_packet(pea, Variety("Early", days_to_maturity_days=62.0))
    need = growth_need(packet, "raise")
    assert need.degree_days != 694
    assert "PACKET" in need.source_ids


def test_days_counted_from_sowing_leave_out_those_before_coming_up() -> None:
    assert growth_need(quick_leaf(), "sow").packet_days == pytest.approx(45 - 5)


def test_a_raised_plant_has_its_weeks_under_cover_behind_it() -> None:
    # 70 days from sowing, raised for 5 weeks.
    crop = replace(quick_leaf(), days_to_maturity_days=(70.0, 70.0))
    assert growth_need(crop, "raise").packet_days == pytest.approx(35)
    # ... but never less than half of its days.
    assert growth_need(replace(crop, weeks_raised=9.0), "raise").packet_days == pytest.approx(35)


def test_sown_in_place_it_needs_the_weeks_it_would_have_been_raised() -> None:
    assert growth_need(tender_fruit(), "sow").packet_days == pytest.approx(70 + 42)


def test_emergence_takes_the_days_of_the_trial_and_not_one_more() -> None:
    soil_c = np.full((1, 1), 15.0)
    assert 10 * int(emergence_progress(quick_leaf(), "sow", soil_c)[0, 0]) >= EMERGENCE_UNITS
    assert 9 * int(emergence_progress(quick_leaf(), "sow", soil_c)[0, 0]) < EMERGENCE_UNITS


def test_colder_than_tried_seed_slows_down_to_a_stop() -> None:
    crop = replace(quick_leaf(), germination=table((15.0, 7.0)), soil_temp_min_c=4.0)
    soil_c = np.array([[3.9, 4.0, 8.0, 15.0]])
    stopped, slow, better, tried = emergence_progress(crop, "sow", soil_c)[0].tolist()
    assert stopped == 0
    assert 0 < slow < better < tried


def test_hotter_than_tried_seed_keeps_its_pace_up_to_the_limit_of_sowing() -> None:
    crop = replace(quick_leaf(), germination=table((15.0, 7.0), (20.0, 5.0)), soil_temp_max_c=30.0)
    at_20, at_29, at_31 = emergence_progress(crop, "sow", np.array([[20.0, 29.0, 31.0]]))[0].tolist()
    assert at_20 == at_29
    assert at_31 == 0


def test_a_temperature_at_which_nothing_came_up_is_beyond_the_limit() -> None:
    assert emergence_progress(quick_leaf(), "sow", np.array([[25.0, 26.0]]))[0].tolist()[1] == 0


def test_a_crop_without_trial_takes_the_days_of_practice() -> None:
    assert emergence_days(replace(quick_leaf(), germination=()), "sow") == EMERGENCE_DAYS_UNTABLED


def test_light_never_slows_growth_in_summer_nor_at_the_equator() -> None:
    assert (light_share(0.0, date(2027, 1, 1), 365) == 1).all()
    assert (light_share(52.0, date(2027, 5, 1), 100) == 1).all()


def test_growth_all_but_stops_below_ten_hours_of_day() -> None:
    # Common practice, no source; at 52 °N the day is ten hours long on about 17 October.
    share = light_share(52.0, date(2027, 10, 17), 30)
    assert share[0] < 0.25
    assert share[29] == 0


def test_light_of_the_south_mirrors_the_north() -> None:
    north = light_share(45.0, date(2027, 1, 1), 365)
    south = light_share(-45.0, date(2026, 7, 2), 365)
    assert south == pytest.approx(north, abs=0.12)  # the earth is nearer the sun in January
