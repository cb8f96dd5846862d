"""Small gardens whose best plan is plain to see."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from bedwright.engine.placement import PlacementProgress, PlantingRules, check, plan
from bedwright.model.book import Amount, Goals, HelpingHands, History, NeighbourWish, Period, Wish
from bedwright.model.crop import Effect, Grade, NeighbourFinding
from bedwright.model.ground import Circle
from bedwright.model.season import Reason
from bedwright.papers.schedule import staggered
from tests.unit.engine.placement.gardens import (
    SPRING,
    bed,
    book,
    choice,
    crop,
    l_shape,
    lead,
    outline,
    planned,
    request,
    sun,
    trellis,
)

CABBAGE = crop("cabbage", "brassica", in_row_spacing_m=0.4, row_spacing_m=0.4, edible_parts=("head",))
ONION = crop("onion", "allium", in_row_spacing_m=0.1, row_spacing_m=0.3, edible_parts=("bulb",))
CORN = crop(
    "sweet corn",
    "grass",
    family="Poaceae",
    height_m=2.0,
    in_row_spacing_m=0.3,
    row_spacing_m=0.6,
    edible_parts=("ears",),
)
LETTUCE = crop("lettuce", "composite", height_m=0.3, in_row_spacing_m=0.3, row_spacing_m=0.3)
BEAN = crop("pole bean", "legume", climbs=True, support="trellis", in_row_spacing_m=0.2, row_spacing_m=0.6)


def said(reasons: tuple[Reason, ...], term: str) -> str:
    return " ".join(reason.text for reason in reasons if reason.term == term)


def test_a_planting_that_fits_is_placed_whole_on_its_best_date() -> None:
    late = choice(SPRING + timedelta(days=21))
    made = planned(book(), request(n_plants=24, choices=(choice(), late)))
    (only,) = made.plantings
    assert (only.n_plants, only.dates.in_ground, made.shortfalls) == (24, SPRING, ())


def test_the_value_is_the_sum_of_the_terms() -> None:
    made = planned(book(), request())
    assert made.value == pytest.approx(sum(made.terms.values()))
    # Priority 3 is worth 40 points; the date works in nine years of ten.
    assert (made.terms["amount"], made.terms["date"]) == pytest.approx((40.0, -4.0))


def test_ground_cleared_in_summer_is_planted_again() -> None:
    garden = book(bed(ground=outline(2.4)))
    first = request("cabbage-1", CABBAGE, 18)
    second = request("lettuce-1", LETTUCE, 32, (choice(), choice(SPRING + timedelta(days=100))), best=0)
    made = planned(garden, first, second)
    assert {one.code: one.n_plants for one in made.plantings} == {"cabbage-1": 18, "lettuce-1": 32}
    assert check(garden, made.plantings, (first, second)) == ()
    follower = next(one for one in made.plantings if one.code == "lettuce-1")
    assert follower.dates.in_ground == SPRING + timedelta(days=100)
    assert "Follows cabbage (cabbage-1)" in said(follower.reasons, "rotation in the season")


def test_short_ground_goes_to_what_is_wanted_more_and_the_rest_is_told() -> None:
    garden = book(bed(ground=outline(1.2)))
    must = request("cabbage-1", CABBAGE, 9, priority=5)
    nice = request("onion-1", ONION, 40, priority=1)
    made = planned(garden, must, nice)
    assert [one.code for one in made.plantings] == ["cabbage-1"]
    (short,) = made.shortfalls
    assert (short.planting_code, short.placed_plants, short.missing_row_m) == ("onion-1", 0, 4.0)
    assert short.missing_weeks == pytest.approx(13.0)  # 91 days in the ground
    assert "bed A (cabbage)" in short.why
    assert "wanted more" in short.why


def test_part_of_a_planting_is_placed_where_not_all_fits() -> None:
    made = planned(book(bed(ground=outline(1.2))), request("cabbage-1", CABBAGE, 12))
    assert sum(one.n_plants for one in made.plantings) == 9  # 3 by 3 in 1.2 m by 1.2 m
    assert made.shortfalls[0].placed_plants == 9


def test_a_planting_may_be_split_over_two_beds_with_codes_of_their_own() -> None:
    garden = book(bed("A", outline(1.2)), bed("B", outline(1.2)))
    asked = request("cabbage-1", CABBAGE, 16)
    made = planned(garden, asked)
    assert {(one.code, one.bed_code, one.n_plants) for one in made.plantings} == {
        ("cabbage-1", "A", 9),
        ("cabbage-1-b", "B", 7),
    }
    assert check(garden, made.plantings, (asked,)) == ()


def test_beds_ruled_out_are_left_alone() -> None:
    garden = book(bed("A"), bed("B"))
    assert planned(garden, request(not_beds=("A",))).plantings[0].bed_code == "B"
    assert planned(garden, request(only_beds=("B",))).plantings[0].bed_code == "B"


def test_a_root_crop_keeps_out_of_soil_over_the_lead_level() -> None:
    garden = book(bed("A", soil_test=lead(240)), bed("B", outline(3.0)))
    made = planned(garden, request())
    assert made.plantings[0].bed_code == "B"
    assert "240 mg of lead per kg" in made.warnings[0]
    assert planned(garden, request(), rules=PlantingRules(lead_limit_mg_kg=400)).warnings != made.warnings


def test_a_root_crop_with_no_clean_bed_is_not_placed() -> None:
    made = planned(book(bed("A", soil_test=lead(240))), request())
    assert made.plantings == ()
    assert "240 mg of lead per kg" in made.shortfalls[0].why


def test_a_fruit_may_stand_there_with_a_caution() -> None:
    tomato = crop("tomato", "solanum", edible_parts=("fruit",))
    made = planned(book(bed("A", soil_test=lead(240))), request("tomato-1", tomato, 4))
    assert "wash produce and hands" in said(made.plantings[0].reasons, "lead")


def test_a_climber_stands_in_one_row_at_the_trellis() -> None:
    # Baseline to the east, so north is the left side.
    garden = book(bed("A"), bed("B", supports=trellis()))
    (bean,) = planned(garden, request("bean-1", BEAN, 10)).plantings
    assert bean.bed_code == "B"
    assert [row.start_m[1] for row in bean.rows] == pytest.approx([0.1])
    assert "trellis on the north side" in said(bean.reasons, "support")


def test_a_trellis_at_the_end_of_the_baseline_takes_one_row_across() -> None:
    garden = book(bed("A", supports=trellis("east")))
    (bean,) = planned(garden, request("bean-1", BEAN, 5)).plantings
    (row,) = bean.rows
    assert bean.direction == "across"
    assert row.start_m[0] == pytest.approx(3.9)


def test_a_trellis_over_soil_with_lead_binds_no_crop_that_may_not_stand_there() -> None:
    garden = book(bed("A", supports=trellis(), soil_test=lead(320)), bed("B"))
    asked = request("malabar-1", replace(BEAN, edible_parts=("leaves",)), 6)
    made = planned(garden, asked)
    assert [one.bed_code for one in made.plantings] == ["B"]
    assert check(garden, made.plantings, (asked,)) == ()


def test_ground_at_a_trellis_is_left_to_those_that_climb() -> None:
    garden = book(bed("A", supports=trellis()), bed("B"))
    (carrots,) = planned(garden, request()).plantings
    assert carrots.bed_code == "B"


def test_without_any_trellis_the_reason_says_what_to_put_up() -> None:
    (bean,) = planned(book(), request("bean-1", BEAN, 5)).plantings
    assert "No bed allowed for it has a trellis" in said(bean.reasons, "support")


def test_a_family_goes_where_it_has_been_away_longest() -> None:
    history = (History("A", 2026, ("cabbage",)), History("B", 2024, ("cabbage",)))
    garden = book(bed("A"), bed("B"), history=history)
    (one,) = planned(garden, request("cabbage-1", CABBAGE, 6)).plantings
    assert one.bed_code == "B"
    assert said(one.reasons, "rotation") == "Bed B had no cabbage family since 2024: 3 years; 3 are wanted."


def test_a_family_in_the_history_counts_like_a_crop() -> None:
    history = (History("A", 2026, (), ("Brassicaceae",)), History("B", 2026, ("onion",)))
    cabbage = replace(CABBAGE, family="Brassicaceae")
    garden = book(bed("A"), bed("B"), history=history)
    assert planned(garden, request("cabbage-1", cabbage, 6)).plantings[0].bed_code == "B"


def test_a_crop_that_needs_sun_goes_to_the_sunny_bed() -> None:
    beds = (bed("A"), bed("B"))
    tomato = crop("tomato", "solanum", edible_parts=("fruit",))
    sunny = replace(tomato, min_sun_h=6.0)
    light = (sun(beds[0], 4.5), sun(beds[1], 7.2))
    (one,) = planned(book(*beds), request("tomato-1", sunny, 4), light=light).plantings
    assert one.bed_code == "B"
    assert "7.2 h a day against 6 h needed" in said(one.reasons, "light")


def test_a_bed_without_sun_data_is_planted_and_the_reason_says_so() -> None:
    (one,) = planned(book(), request()).plantings
    assert "not known" in said(one.reasons, "light")


@pytest.mark.parametrize(("latitude_deg", "pole_end"), [(52.0, "end"), (-35.0, "start")])
def test_a_tall_crop_stands_on_the_pole_side_of_a_low_one(latitude_deg: float, pole_end: str) -> None:
    # The baseline runs north: its end is the north end.
    garden = book(bed(ground=outline(4.0, 1.2, 0.0)), latitude_deg=latitude_deg)
    made = planned(garden, request("corn-1", CORN, 12), request("lettuce-1", LETTUCE, 24))
    place_of = {one.crop.name: one.along_m[0] for one in made.plantings}
    north_of = place_of["sweet corn"] > place_of["lettuce"]
    assert north_of == (pole_end == "end")
    assert made.terms["shade by a taller crop"] == 0


@pytest.mark.parametrize(("latitude_deg", "pole_side_m"), [(52.0, 0.0), (-35.0, 1.2)])
def test_a_tall_row_may_take_a_lane_along_the_pole_side_of_a_bed(
    latitude_deg: float, pole_side_m: float
) -> None:
    # The baseline runs east: its left side is the north side. Full of lettuce, the bed has one lane left.
    garden = book(latitude_deg=latitude_deg)
    sunflower = replace(CORN, name="sunflower", family="Asteraceae", in_row_spacing_m=0.4)
    asked = (request("sun-1", sunflower, 9), request("lettuce-1", LETTUCE, 24))
    made = planned(garden, *asked, effort=60_000)
    tall = next(one for one in made.plantings if one.crop.name == "sunflower")
    low = next(one for one in made.plantings if one.crop.name == "lettuce")
    assert made.terms["shade by a taller crop"] > -1.2
    if low.along_m[0] < tall.along_m[1] and tall.along_m[0] < low.along_m[1]:
        assert pole_side_m in (tall.across_m[0], tall.across_m[1])


def test_maize_stands_in_a_block() -> None:
    (corn,) = planned(book(), request("corn-1", CORN, 12)).plantings
    assert len(corn.rows) >= 3


def finding(effect: Effect, grade: Grade) -> NeighbourFinding:
    return NeighbourFinding("carrot", "onion", effect, grade, "fewer carrot flies", "UVAH84", "", "read")


def touching(made_of: tuple[tuple[float, float], tuple[float, float]]) -> bool:
    (low, high), (other_low, other_high) = made_of
    return max(low - other_high, other_low - high) <= 0.051


@pytest.mark.parametrize(("effect", "together"), [("beneficial", True), ("harmful", False)])
def test_evidence_puts_crops_side_by_side_or_apart(effect: Effect, together: bool) -> None:
    made = planned(
        book(), request(), request("onion-1", ONION, 24), neighbours=(finding(effect, "A"),), effort=20_000
    )
    one, other = made.plantings
    assert touching((one.along_m, other.along_m)) == together
    assert made.terms["neighbour"] == pytest.approx(40 * 0.06 if together else 0.0)


def test_the_coordinators_wish_overrules_the_evidence() -> None:
    wish = NeighbourWish("onion", "carrot", wanted=False, reason="the school compares them")
    made = planned(
        book(neighbours=(wish,)),
        request(),
        request("onion-1", ONION, 24),
        neighbours=(finding("beneficial", "A"),),
        effort=20_000,
    )
    one, other = made.plantings
    assert not touching((one.along_m, other.along_m))
    assert made.terms["neighbour"] == 0


def test_belief_weighs_a_tenth_of_trials() -> None:
    made = planned(book(), request(), request("onion-1", ONION, 24), neighbours=(finding("beneficial", "C"),))
    assert made.terms["neighbour"] <= 40 * 0.006 + 1e-9


def test_no_date_means_no_place_and_the_reason_is_handed_on() -> None:
    never = request("okra-1", choices=(), no_window_reason="Too cool here.")
    made = planned(book(), never)
    assert (made.plantings, made.shortfalls[0].why) == ((), "Too cool here.")


def test_a_bed_too_small_for_one_plant_is_named() -> None:
    tiny = bed("A", Circle(0.15, 0.0, 0.0))
    made = planned(book(tiny), request("cabbage-1", CABBAGE, 2))
    assert made.plantings == ()
    assert "Too small or narrow" in made.shortfalls[0].why


def test_an_l_shaped_bed_is_planted_inside_its_arms() -> None:
    garden = book(bed(ground=l_shape()))
    asked = (request("cabbage-1", CABBAGE, 20), request("onion-1", ONION, 80))
    made = planned(garden, *asked)
    assert sum(one.n_plants for one in made.plantings) == 100
    assert check(garden, made.plantings, asked) == ()


def test_rows_are_numbered_and_reasons_add_up_to_the_value() -> None:
    asked = (request("cabbage-1", CABBAGE, 8), request("onion-1", ONION, 40))
    made = planned(book(), *asked, neighbours=(finding("beneficial", "A"),))
    codes = [row.code for one in made.plantings for row in one.rows]
    assert codes == [f"A{number}" for number in range(1, len(codes) + 1)]
    told = sum(reason.gain for one in made.plantings for reason in one.reasons)
    # The even use of a bed belongs to no planting; reasons are rounded to 0.01.
    assert told == pytest.approx(made.value - made.terms["even use"], abs=0.1)


def test_without_effort_the_first_plan_is_given() -> None:
    garden = book(bed(ground=outline(2.4)))
    asked = (request("cabbage-1", CABBAGE, 18), request("onion-1", ONION, 40))
    made = planned(garden, *asked, effort=0)
    assert made.n_moves == 0
    assert made.value == pytest.approx(made.first_value)
    assert planned(garden, *asked, effort=4000).value >= made.value - 1e-9


def test_what_is_not_known_of_several_beds_is_said_once() -> None:
    made = planned(book(bed("A"), bed("B", outline(3.0)), bed("C", outline(2.0))), request(), effort=0)
    said = [warning for warning in made.warnings if "not weighed" in warning]
    assert said == [
        "Beds A, B and C: hours of sun are not known, so light was not weighed.",
        "Beds A, B and C: nothing on record of earlier years, so rotation was not weighed.",
    ]
    alone = planned(book(), request(), effort=0)
    assert "Bed A: hours of sun are not known, so light was not weighed." in alone.warnings


def test_the_more_plantings_the_more_moves_are_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(plan, "COMMON_EFFORT", 40)
    monkeypatch.setattr(plan, "MOVES_A_PLANTING", 25)
    asked = [request(f"onion-{number}", ONION, 4) for number in range(1, 4)]
    assert planned(book(), asked[0], effort=None).n_moves == 40
    assert planned(book(), *asked, effort=None).n_moves == 75


def test_progress_reports_the_best_plan_so_far() -> None:
    seen: list[PlacementProgress] = []
    made = planned(book(), request(), progress=seen.append)
    assert (seen[-1].done, seen[-1].total) == (4000, 4000)
    assert seen[-1].plantings[0].rows == made.plantings[0].rows
    assert str(seen[-1]) == "24 of 24 plants have a place (100%)"


def test_perennials_are_not_moved_round() -> None:
    thyme = crop("thyme", "mint family", life_cycle="perennial")
    garden = book(history=(History("A", 2026, ("thyme",)),))
    long = choice(date(2027, 4, 12), 260)
    (one,) = planned(garden, request("thyme-1", thyme, 4, (long,))).plantings
    assert "no rotation" in said(one.reasons, "rotation")


def test_a_request_for_no_plants_is_passed_over() -> None:
    made = planned(book(), request(n_plants=0))
    assert (made.plantings, made.shortfalls) == ((), ())


def test_no_place_of_a_planting_is_smaller_than_is_worth_the_walk() -> None:
    garden = book(bed("A", outline(1.2)), bed("B", outline(1.2)))
    # A fifth of ten plants is two; of three plants, one.
    for wanted, least in ((10, 2), (12, 3), (3, 1)):
        made = planned(garden, request("cabbage-1", CABBAGE, wanted))
        assert min(one.n_plants for one in made.plantings) >= least
    assert sum(one.n_plants for one in made.plantings) == 3


def test_sowings_of_one_wish_are_picked_in_turn_where_that_costs_little() -> None:
    early, late = choice(), choice(SPRING + timedelta(days=21))
    first = request("lettuce-1", LETTUCE, 8, (early, late))
    second = replace(first, code="lettuce-1/2", best=1)
    made = planned(book(), first, second)
    assert len({one.dates.in_ground for one in made.plantings}) == 2
    assert made.terms["even picking"] == 0


def test_picking_keeps_out_of_quiet_weeks() -> None:
    quiet = Period("holiday", SPRING + timedelta(days=70), SPRING + timedelta(days=92))
    garden = book(goals=Goals(quiet_weeks=(quiet,)))
    later = choice(SPRING + timedelta(days=28))
    (one,) = planned(garden, request(choices=(choice(), later))).plantings
    assert one.dates == later
    (only,) = planned(garden, request()).plantings
    assert "quiet weeks" in said(only.reasons, "quiet weeks")


def test_work_stays_within_the_hours_people_promise_where_dates_allow() -> None:
    away = HelpingHands("group", 3.0, SPRING + timedelta(days=20), SPRING + timedelta(days=200))
    garden = book(people=(away,))
    later = choice(SPRING + timedelta(days=28))
    made = planned(garden, request("cabbage-1", CABBAGE, 24, (choice(), later)))
    # Planting takes 0.2 h a square metre, in a week in which somebody comes or not.
    assert made.plantings[0].dates == later
    assert made.terms["hours of work"] <= 0


def test_what_was_planned_before_stays_if_it_is_to_be_kept() -> None:
    garden = book(bed("A"), bed("B"))
    before = planned(garden, request(only_beds=("B",))).plantings
    made = planned(garden, request(), keep=before)
    assert made.plantings[0].rows == before[0].rows
    assert made.terms["kept place"] == pytest.approx(40 * 0.2)
    assert said(made.plantings[0].reasons, "kept place") == "As planned before."


def test_a_wish_for_staggered_rows_gets_them_where_corners_are_square() -> None:
    beds = (bed("A"), bed("B", ground=Circle(1.2, 10.0, 0.0, 0.0)))
    wish = Wish("carrot-1", "carrot", Amount(18, "plants"), layout="staggered")
    cabbage = crop(in_row_spacing_m=0.45, row_spacing_m=0.45)
    asked = request(of=cabbage, n_plants=18, layout="staggered")
    garden = book(*beds, wishes=(wish,))
    result = planned(garden, asked)
    (planting,) = result.plantings
    assert planting.n_plants == 18
    assert staggered(planting)
    assert check(garden, result.plantings, [asked]) == ()
    only_round = planned(garden, replace(asked, only_beds=("B",)))
    assert not only_round.plantings
    assert "square corners" in only_round.shortfalls[0].why


def test_the_checker_holds_rows_to_their_distance_where_nothing_else_was_asked_for() -> None:
    cabbage = crop(in_row_spacing_m=0.45, row_spacing_m=0.45)
    asked = request(of=cabbage, n_plants=18, layout="staggered")
    result = planned(book(), asked)
    kinds = {violation.kind for violation in check(book(), result.plantings, [asked])}
    assert kinds == {"rows too close"}
