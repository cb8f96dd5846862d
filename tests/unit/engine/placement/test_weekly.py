"""What weeks have only so much of: room for trays, water and hours, kept by the plan and told of."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.placement import BedHours, WeekMeasures
from bedwright.engine.placement.blocks import Lane, spot_at, whole_blocks
from bedwright.engine.placement.changes import board_of, with_what_would_help
from bedwright.engine.placement.problem import build_problem
from bedwright.engine.placement.rules import COMMON_RULES
from bedwright.engine.placement.standing import fixed_spots
from bedwright.engine.placement.value import picking_points, week_needs
from bedwright.engine.placement.weekly import RAISING, WATER, helpful_rain_mm, water_need_l_m2
from bedwright.model.book import GardenBook, HelpingHands, Period, WaterLimit
from bedwright.model.season import DateChoice, MonthClimate, PlantingRequest
from bedwright.model.supplies import TrayUse
from tests.unit.engine.placement.gardens import SPRING, bed, book, choice, crop, outline, planned, request

CABBAGE = crop("cabbage", "brassica", in_row_spacing_m=0.4, row_spacing_m=0.4, edible_parts=("head",))
LEEK = crop("leek", "allium", in_row_spacing_m=0.2, row_spacing_m=0.3)
JUNE = MonthClimate(6, 10.0, 20.0, 50.0, 15.0, 120.0, 200.0)
LATER = SPRING + timedelta(days=42)


def raised(in_ground: date = SPRING, weeks: int = 6) -> DateChoice:
    return replace(choice(in_ground), sow_under_cover=in_ground - timedelta(weeks=weeks))


def young(code: str, n_plants: int, *days: DateChoice, priority: int = 3) -> PlantingRequest:
    of = CABBAGE if code.startswith("cabbage") else LEEK
    return request(code, of, n_plants, days or (raised(),), way="raise", priority=priority)


def room_for(trays: int, cells: int = 20) -> WeekMeasures:
    use = TrayUse(1.0, cells)
    return WeekMeasures({("cabbage", ""): use, ("leek", ""): use}, trays)


def test_trays_are_counted_whole() -> None:
    use = TrayUse(1.25, 50)
    # 40 plants are 50 cells, 41 are 52.
    assert [use.n_trays(n) for n in (0, 1, 40, 41, 80, 81)] == [0, 1, 1, 2, 2, 3]
    assert TrayUse(1.15 / 0.7, 72).n_trays(1000) == math.ceil(math.ceil(1000 * 1.15 / 0.7) / 72)


def test_a_second_tray_waits_until_there_is_room_for_it() -> None:
    asked = (young("cabbage-1", 9), young("leek-1", 20, raised(), raised(LATER)))
    free = planned(book(), *asked, measures=room_for(2))
    assert {one.dates.in_ground for one in free.plantings} == {SPRING}
    tight = planned(book(), *asked, measures=room_for(1))
    assert {one.code: one.dates.in_ground for one in tight.plantings} == {
        "cabbage-1": SPRING,
        "leek-1": LATER,
    }
    assert tight.terms[RAISING] == 0
    assert not tight.shortfalls


def test_without_another_date_the_less_wanted_is_left_out_and_the_bench_is_named() -> None:
    asked = (young("cabbage-1", 9, priority=2), young("leek-1", 20, priority=4))
    made = planned(book(), *asked, measures=room_for(1))
    assert [one.code for one in made.plantings] == ["leek-1"]
    (short,) = made.shortfalls
    # Sown six weeks before 12 April 2027, a Monday: there from 1 March to the Sunday before.
    assert "not enough room on the bench in the weeks of 1 March to 5 April 2027" in short.why
    assert "(1 tray wanted, none left, in the worst of them)" in short.why
    assert "Whatever would leave enough by giving way is wanted more." in short.why


def test_what_would_help_is_room_on_the_bench_where_there_is_ground() -> None:
    asked = (young("cabbage-1", 9, priority=4), young("leek-1", 20, priority=2))
    made = planned(book(), *asked, measures=room_for(1))
    problem = build_problem(book(), asked, [], [], {}, COMMON_RULES, measures=room_for(1))
    (short,) = with_what_would_help(board_of(problem, made.plantings), made.shortfalls)
    # One tray for the six weeks in which the other is there.
    (told,) = short.would_help
    assert told.startswith("Bed A has ground for it from 12 April 2027; ")
    assert told.endswith("room on the bench for 6 tray-weeks more would be wanted.")


def test_as_many_are_raised_as_there_is_room_for() -> None:
    made = planned(book(), young("leek-1", 40), measures=room_for(1), effort=20_000)
    placed = sum(one.n_plants for one in made.plantings)
    assert 10 <= placed <= 20
    assert made.terms[RAISING] == 0
    assert "not enough room on the bench" in made.shortfalls[0].why


def test_a_tray_frees_its_place_on_the_day_of_setting_out() -> None:
    # The first is set out on the day on which the second is sown.
    after = raised(SPRING + timedelta(weeks=6))
    made = planned(book(), young("cabbage-1", 9), young("leek-1", 20, after), measures=room_for(1))
    assert not made.shortfalls


def test_bought_and_sown_plants_need_no_bench() -> None:
    asked = (young("cabbage-1", 9), request("leek-1", LEEK, 20, (raised(),), way="buy"))
    assert not planned(book(), *asked, measures=room_for(1)).shortfalls


def test_what_stands_or_is_pinned_may_go_over_and_the_plan_warns() -> None:
    stands = planned(book(), young("cabbage-1", 9)).plantings
    made = planned(book(), young("cabbage-1", 9), measures=room_for(0), standing=stands)
    assert made.terms[RAISING] == -6 * 150
    assert any(
        "Not enough room on the bench in the weeks of 1 March to 5 April 2027" in one for one in made.warnings
    )


def test_helpful_rain_is_that_of_the_manual() -> None:
    # Brouwer and Heibloem (1986): 0.8 P - 25 above 75 mm a month, 0.6 P - 10 below.
    assert [helpful_rain_mm(rain) for rain in (10.0, 50.0, 75.0, 100.0)] == [0.0, 20.0, 35.0, 55.0]


def test_a_square_metre_wants_what_rain_does_not_bring() -> None:
    # June: 1.05 times 120 mm less 20 mm of rain that helps, by the week, 85 % of it reaching the roots.
    assert water_need_l_m2(1.05, date(2027, 6, 10), (JUNE,)) == pytest.approx((126 - 20) * 7 / 30 / 0.85)
    assert water_need_l_m2(1.05, date(2027, 7, 10), (JUNE,)) == 0


def limited(week_l: float) -> WaterLimit:
    return WaterLimit("standpipe permit", week_l, date(2027, 6, 1), date(2027, 6, 30))


def test_the_plan_keeps_to_the_water_there_is_and_says_what_was_short() -> None:
    # 27.5 L a square metre and week in June: cabbages on 3.84 m2 take 105 L.
    garden = book(bed("A", outline(10.0)), water_limits=(limited(110.0),))
    asked = (request("cabbage-1", CABBAGE, 24, priority=5), request("leek-1", LEEK, 80, priority=2))
    made = planned(garden, *asked, measures=WeekMeasures(months=(JUNE,)), effort=20_000)
    assert made.terms[WATER] == 0
    assert sum(one.n_plants for one in made.plantings if one.crop.name == "cabbage") == 24
    (short,) = made.shortfalls
    assert "not enough water in the weeks of 31 May to 21 June 2027" in short.why
    everything = planned(replace(garden, water_limits=()), *asked, measures=WeekMeasures(months=(JUNE,)))
    assert not everything.shortfalls


def test_of_several_limits_the_least_counts_in_the_weeks_it_holds() -> None:
    garden = book(water_limits=(limited(100.0), limited(60.0)))
    problem = build_problem(
        garden, [request()], [], [], {}, COMMON_RULES, measures=WeekMeasures(months=(JUNE,))
    )
    water = problem.weeks.limit(WATER)
    assert water is not None
    held = [problem.weeks.monday(week) for week in range(problem.weeks.n_weeks) if water.most[week] == 60]
    # Weeks whose Thursday lies in June.
    assert (held[0], held[-1], len(held)) == (date(2027, 5, 31), date(2027, 6, 21), 4)


def test_without_a_climate_water_is_not_weighed_and_the_plan_says_so() -> None:
    made = planned(book(water_limits=(limited(0.0),)), request())
    assert not made.shortfalls
    assert "No weather record: the limit on water was not weighed." in made.warnings


def test_hours_that_are_missing_are_named_as_the_reason() -> None:
    people = (HelpingHands("one person", 0.01, SPRING - timedelta(days=200), SPRING + timedelta(days=400)),)
    garden = book(bed("A", outline(10.0)), people=people)
    onion = crop("onion", "allium", in_row_spacing_m=0.1, row_spacing_m=0.3)
    made = planned(garden, request("onion-1", onion, 400, priority=1))
    assert "not enough hours promised in the weeks of 12 April to 5 July 2027" in made.shortfalls[0].why


def test_the_hours_may_be_those_of_another_table() -> None:
    people = (HelpingHands("group", 1.0, SPRING - timedelta(days=60), SPRING + timedelta(days=400)),)
    light = planned(book(people=people), request())
    heavy = planned(book(people=people), request(), hours=BedHours(people, plant_h_m2=2.0))
    assert light.terms["hours of work"] == 0
    assert heavy.terms["hours of work"] < 0


def test_needs_of_a_plan_are_added_up_week_by_week() -> None:
    asked = (young("cabbage-1", 9), young("leek-1", 40))
    made = planned(book(), *asked)
    problem = build_problem(
        book(), asked, [], [], {}, COMMON_RULES, standing=made.plantings, measures=room_for(9)
    )
    raising = problem.weeks.limit(RAISING)
    assert raising is not None
    needs = week_needs(problem, raising, fixed_spots(problem))
    # One tray of cabbages and two of leeks for six weeks.
    assert sorted(set(needs.tolist())) == [0.0, 3.0]
    assert (needs == 3.0).sum() == 6


def in_turn(*placed: int) -> list[PlantingRequest]:
    """Two sowings of one wish of 20 plants, each picked for three whole weeks, the second after the first."""
    days = (SPRING, SPRING + timedelta(days=21))
    return [
        request(f"leek-{number + 1}", LEEK, 10, (choice(days[number]),), wish_code="leek")
        for number in placed
    ]


def picking(garden: GardenBook, *placed: int) -> float:
    """Points of even picking where only some of the two sowings are placed."""
    problem = build_problem(garden, in_turn(0, 1), [], [], {}, COMMON_RULES)
    spots = [
        spot_at(problem, blocks, 0, 0)
        for number in placed
        if (blocks := whole_blocks(problem, number, 0, Lane("across", (0.0, 1.2)), 10)) is not None
    ]
    return picking_points(problem, spots)


def test_weeks_that_bring_less_than_half_of_the_even_share_cost_points() -> None:
    # 20 plants in six weeks: 3.33 a week. A gap lacks half of that: 1.67 plants of 2 points, a fifth of it.
    assert picking(book(), 0, 1) == 0
    assert picking(book(), 0) == pytest.approx(-3 * 20 / 6 / 2 * 2 * 0.2)
    assert picking(book()) == pytest.approx(2 * picking(book(), 0))


def test_quiet_weeks_are_no_gap() -> None:
    # Away while the second sowing would be picked, 12 July to 1 August 2027.
    away = Period("away", date(2027, 7, 12), date(2027, 8, 1))
    of = book(goals=replace(book().goals, quiet_weeks=(away,)))
    # 20 plants in three weeks: 6.67 a week; the first sowing brings half of that.
    assert picking(of, 0) == pytest.approx(0)
    assert picking(of) == pytest.approx(-3 * 20 / 3 / 2 * 2 * 0.2)


def test_a_planting_that_fills_a_gap_says_so() -> None:
    made = planned(book(), *in_turn(0, 1))
    told = {one.code: [why for why in one.reasons if why.term == "even picking"] for one in made.plantings}
    for reasons in told.values():
        (why,) = reasons
        assert why.text == "Picked in 3 weeks that would bring too little leek without it."
        assert why.gain == pytest.approx(2.0)
    assert made.terms["even picking"] == 0
    assert made.bound is not None
    assert made.value <= made.bound + 1e-6
