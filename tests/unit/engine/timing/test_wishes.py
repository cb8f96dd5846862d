from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from bedwright.engine.timing import TIMING_SOURCES, plan_dates
from bedwright.model.book import Amount, GardenBook, StatedFrost, Variety, Wish
from bedwright.model.crop import PACKET, Crop
from bedwright.model.season import PlantingRequest
from bedwright.model.weather import SeasonYears
from tests.builders import tiny_book
from tests.unit.engine.timing.case import quick_leaf, steady_years, tender_fruit, wave_years

TODAY = date(2026, 11, 1)
CROPS: dict[str, Crop] = {"quick leaf": quick_leaf(), "tender fruit": tender_fruit()}
LEAF = Wish("leaf-1", "quick leaf", Amount(20.0, "plants"))
FRUIT = Wish("fruit-1", "tender fruit", Amount(6.0, "plants"))


def book(*wishes: Wish) -> GardenBook:
    return replace(tiny_book(), wishes=wishes, stated_frost=None)


def plan(*wishes: Wish, years: SeasonYears | None = None, today: date = TODAY) -> tuple[PlantingRequest, ...]:
    found = wave_years(mean_c=13.0, n_years=5) if years is None else years
    return plan_dates(book(*wishes), CROPS, found, today=today)


def test_every_wish_gets_a_request_with_dates_earliest_first() -> None:
    leaf, fruit = plan(LEAF, FRUIT)
    for request, wish in ((leaf, LEAF), (fruit, FRUIT)):
        assert request.code == request.wish_code == wish.code
        assert request.choices
        assert list(request.choices) == sorted(request.choices, key=lambda choice: choice.in_ground)
        assert request.best is not None
        assert request.no_window_reason == ""


def test_the_way_is_the_crops_usual_one_unless_the_wish_says_otherwise() -> None:
    assert [request.way for request in plan(LEAF, replace(LEAF, way="buy"))] == ["sow", "buy"]


def test_the_packet_overrules_the_catalogue() -> None:
    slow = replace(LEAF, variety=Variety("Slow", days_to_maturity_days=80.0))
    usual, packet = plan(LEAF, slow)
    assert packet.crop.days_to_maturity_days == (80.0, 80.0)
    assert packet.choices[0].first_pick > usual.choices[0].first_pick
    rule = next(origin for origin in packet.origins if origin.quantity == "first_pick")
    assert PACKET in rule.source_ids
    assert rule.standing == "packet"


@pytest.mark.parametrize(
    ("amount", "n_plants"),
    [
        (Amount(7.0, "plants"), 7),
        (Amount(6.0, "row_m"), 60),  # 0.10 m apart
        (Amount(0.04, "row_m"), 1),
        (Amount(3.0, "harvest_kg"), 20),  # 1.5 kg a metre: 2 m of row
    ],
)
def test_an_amount_is_turned_into_plants(amount: Amount, n_plants: int) -> None:
    request = plan(replace(LEAF, amount=amount))[0]
    assert request.n_plants == n_plants
    assert request.amount == amount
    assert request.origins[0].quantity == "n_plants"


def test_seed_house_tables_count_whole_plants_in_a_row() -> None:
    # Southern States, Vegetable Seed Guide: 100 ft of row at 18 in hold 66 plants.
    spaced = replace(quick_leaf(), in_row_spacing_m=18 * 0.0254)
    wish = replace(LEAF, amount=Amount(100 * 0.3048, "row_m"))
    found = plan_dates(book(wish), {"quick leaf": spaced}, steady_years(), today=TODAY)
    assert found[0].n_plants == 66


def test_kilograms_of_a_crop_without_known_yield_are_refused_in_words() -> None:
    bare = replace(quick_leaf(), yield_kg_per_m_row=None)
    wish = replace(LEAF, amount=Amount(3.0, "harvest_kg"))
    request = plan_dates(book(wish), {"quick leaf": bare}, steady_years(), today=TODAY)[0]
    assert request.choices == ()
    assert "yield" in request.no_window_reason


def test_successions_share_the_amount_and_carry_numbered_codes() -> None:
    found = plan(replace(LEAF, successions=3))
    assert [request.code for request in found] == ["leaf-1", "leaf-1/2", "leaf-1/3"]
    assert [request.n_plants for request in found] == [7, 7, 6]
    assert sum(request.amount.value for request in found) == 20
    assert {request.wish_code for request in found} == {"leaf-1"}


def test_keep_picking_makes_as_many_sowings_as_the_season_holds() -> None:
    assert len(plan(replace(LEAF, successions="keep picking"))) > 4


def test_there_are_never_more_sowings_than_plants() -> None:
    found = plan(replace(LEAF, successions="keep picking", amount=Amount(2.0, "plants")))
    assert [request.n_plants for request in found] == [1, 1]


def test_weeks_wanted_restrict_the_dates() -> None:
    wish = replace(LEAF, harvest_from=date(2027, 8, 1), harvest_to=date(2027, 8, 31))
    request = plan(wish)[0]
    assert request.choices
    for choice in request.choices:
        assert choice.last_pick >= date(2027, 8, 1)
        assert choice.first_pick <= date(2027, 8, 31)


def test_weeks_wanted_out_of_reach_are_answered_with_the_weeks_that_can_be_had() -> None:
    wish = replace(FRUIT, harvest_from=date(2027, 3, 1), harvest_to=date(2027, 3, 31))
    request = plan(wish)[0]
    assert request.choices == ()
    assert request.best is None
    assert "1 March 2027" in request.no_window_reason
    assert "picking here can run from" in request.no_window_reason


def test_nothing_is_begun_before_today() -> None:
    today = date(2027, 5, 20)
    for request in plan(LEAF, FRUIT, today=today):
        for choice in request.choices:
            assert (choice.sow_under_cover or choice.in_ground) >= today


def test_a_season_gone_by_is_told_with_its_last_useful_date() -> None:
    request = plan(FRUIT, today=date(2027, 10, 1))[0]
    assert request.choices == ()
    assert request.no_window_reason.startswith("Too late this season")
    assert "1 October 2027" in request.no_window_reason


def test_not_here_is_an_answer_with_the_years_behind_it() -> None:
    request = plan(FRUIT, years=wave_years(mean_c=6.5, swing_c=7.0, n_years=5))[0]
    assert request.choices == ()
    assert "would have failed in 5 of 5 recorded years: in 5 the season ended" in request.no_window_reason


def test_not_here_says_what_would_do_instead() -> None:
    slow = replace(tender_fruit(), days_to_maturity_days=(60.0, 300.0))
    years = wave_years(mean_c=13.0, n_years=5)
    request = plan_dates(book(FRUIT), {"tender fruit": slow}, years, today=TODAY)[0]
    assert request.choices == ()
    assert "With a quick variety (60 days), it would have worked in 5 of 5 years" in request.no_window_reason


def test_a_frost_risk_that_is_too_high_everywhere_is_named() -> None:
    years = steady_years(mean_c=16.9, n_years=10)
    cold_nights = slice(None, None, 20)
    # As much warmer by day, so that the mean of the day and the seasons stay as they were.
    years.tmax_c[0:3, cold_nights] += years.tmin_c[0:3, cold_nights] + 1.0
    years.tmin_c[0:3, cold_nights] = -1.0
    request = plan(FRUIT, years=years)[0]
    assert request.choices == ()
    assert "risks a killing frost in more than 10 % of years" in request.no_window_reason


def test_soil_that_never_warms_is_named() -> None:
    request = plan(FRUIT, years=steady_years(mean_c=6.0))[0]
    assert "10 °C" in request.no_window_reason


def test_a_crop_that_is_not_in_the_catalogue_is_an_error() -> None:
    with pytest.raises(KeyError):
        plan(replace(LEAF, crop="unknown"))


def test_every_source_named_is_one_of_the_engine_or_of_the_crops_own_facts() -> None:
    own = {PACKET}
    for request in plan(LEAF, FRUIT, replace(LEAF, successions=3)):
        for origin in request.origins:
            assert set(origin.source_ids) <= TIMING_SOURCES.keys() | own
            assert origin.source_ids or origin.standing in ("own", "practice")


def stated(*wishes: Wish) -> tuple[PlantingRequest, ...]:
    with_frost = replace(book(*wishes), stated_frost=StatedFrost((5, 10), (10, 5)))
    return plan_dates(with_frost, CROPS, None, today=TODAY)


def test_without_weather_the_chance_is_not_known() -> None:
    for request in stated(LEAF, FRUIT):
        assert request.choices
        assert {choice.chance for choice in request.choices} == {None}
        assert any("no weather record" in origin.rule for origin in request.origins)


def test_without_weather_tender_crops_wait_for_the_stated_last_frost() -> None:
    assert stated(FRUIT)[0].choices[0].in_ground >= date(2027, 5, 10)


def test_without_weather_and_frost_dates_nothing_is_dated() -> None:
    request = plan_dates(book(LEAF), CROPS, None, today=TODAY)[0]
    assert request.choices == ()
    assert "neither a weather record nor" in request.no_window_reason
