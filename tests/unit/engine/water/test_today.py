from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise

import pytest

from bedwright.engine.water import METHODS, SOURCES, duty_list, share_out, water_today
from bedwright.model.book import Period
from bedwright.model.water import DailyConditions, WateredPatch, Watering, WaterSupply, WaterToday
from tests.unit.engine.water.waterings import START, SUPPLY, day, patch, steady


def ask(
    garden: list[WateredPatch],
    today: date,
    waterings: tuple[Watering, ...] = (),
    conditions: DailyConditions | None = None,
    rain_if_mm: float = 10.0,
) -> WaterToday:
    return water_today(garden, conditions or steady(), waterings, SUPPLY, today, rain_if_mm=rain_if_mm)


def wet_until(today: date, n_days: int = 240) -> DailyConditions:
    """Soaking rain every day before today, none from today on."""
    conditions = steady(n_days=n_days)
    conditions.rain_mm[: (today - START).days] = 30.0
    return conditions


def test_a_bed_just_soaked_wants_nothing_and_says_when_it_will() -> None:
    today = day(60)
    bed = ask([patch()], today, conditions=wet_until(today)).beds[0]
    assert not bed.due
    assert bed.water_l == 0
    # 91 mm in reach at p 0.41 are 37 mm; at 4.4 to 4.8 mm a day from yesterday on they last eight days
    assert bed.next_due == today + timedelta(days=8)


def test_a_due_bed_gets_litres_minutes_and_cans() -> None:
    bed = ask([patch()], day(60)).beds[0]
    assert bed.due
    due = bed.patches[0]
    assert due.water_l == pytest.approx(due.depletion_mm * 4 / 0.85)
    assert bed.tap_min == pytest.approx(bed.water_l / 15)
    assert bed.n_cans * 10 >= bed.water_l - 0.05
    assert (bed.n_cans - 1) * 10 < bed.water_l
    assert "growth suffers" in due.why


def test_water_given_this_morning_settles_it() -> None:
    due = ask([patch()], day(60)).beds[0].patches[0]
    after = ask([patch()], day(60), (Watering(day(60), "P", due.water_l),)).beds[0]
    assert not after.due
    assert after.patches[0].depletion_mm == pytest.approx(0, abs=1e-9)


def test_water_given_earlier_counts() -> None:
    before = ask([patch()], day(60)).beds[0].patches[0].depletion_mm
    after = ask([patch()], day(60), (Watering(day(58), "P", 200.0),)).beds[0].patches[0].depletion_mm
    assert after < before


def test_rain_puts_the_next_watering_off() -> None:
    today = day(60)
    bed = ask([patch()], today, conditions=wet_until(today - timedelta(days=6))).beds[0]
    assert bed.next_due is not None
    assert bed.next_due_if_rain is not None
    assert bed.next_due_if_rain > bed.next_due
    none = ask([patch()], today, conditions=wet_until(today - timedelta(days=6)), rain_if_mm=0.0).beds[0]
    assert none.next_due_if_rain == none.next_due


def test_a_seedbed_is_due_once_its_surface_looks_dry() -> None:
    today = day(5)
    conditions = wet_until(today)
    assert not ask([patch()], today, conditions=conditions).beds[0].due
    # open loam loses its 9 mm in two days of 4 mm and more; the third morning finds it dry
    bed = ask([patch()], today + timedelta(days=2), conditions=conditions).beds[0]
    assert bed.due
    assert bed.patches[0].stage == "seedbed"
    assert bed.patches[0].priority == 1
    assert "must not dry out" in bed.patches[0].why


def test_young_plants_get_their_cup_on_planting_day_even_in_wet_soil() -> None:
    today = day(0)
    planted = patch(way="buy", emerges=None)
    bed = ask([planted], today, conditions=wet_until(today)).beds[0]
    assert bed.due
    # the readily evaporable water of loam, 9 mm over 4 m², is more than 12 cups
    assert bed.water_l == pytest.approx(9 * 4 / 0.85)
    done = ask([planted], today, (Watering(today, "P", bed.water_l),), wet_until(today)).beds[0]
    assert not done.due


def test_seed_sown_into_moist_soil_wants_only_what_the_surface_has_lost() -> None:
    moist = ask([patch()], day(0), conditions=wet_until(day(0))).beds[0]
    # one day of open soil at Kc max 1.2 and 4 mm
    assert moist.water_l == pytest.approx(1.2 * 4 * 4 / 0.85)
    assert ask([patch()], day(0)).beds[0].water_l > moist.water_l


def test_plantings_not_yet_in_or_already_cleared_are_left_out() -> None:
    assert ask([patch()], day(-1)).beds == ()
    assert ask([patch()], day(100)).beds == ()
    assert ask([patch()], day(-1)).notes == ("Nothing is planted yet.",)
    assert ask([], day(0)).notes == ("Nothing is planted yet.",)


def test_a_week_without_water_costs_more_in_mid_season_than_early_on() -> None:
    # stages of tomato: 0.6 in development, 1.1 in mid-season
    dry = ask([patch()], day(60)).beds[0].patches[0]
    young = ask([patch()], day(26)).beds[0].patches[0]
    assert dry.loss_pct > 0
    assert dry.priority == 2
    assert young.priority == 3
    soaked = ask([patch()], day(60), conditions=wet_until(day(60))).beds[0].patches[0]
    assert soaked.loss_pct == pytest.approx(0, abs=0.2)


def test_due_beds_come_first_and_young_plants_before_all() -> None:
    young = patch("Y", "C", in_ground=day(55), emerges=day(58), first_pick=day(100), last_pick=day(120))
    answer = ask([patch("P", "B"), young], day(60))
    assert [bed.bed_code for bed in answer.beds] == ["C", "B"]
    assert answer.total_l == pytest.approx(sum(bed.water_l for bed in answer.beds))


def test_too_little_water_goes_to_young_plants_then_to_those_that_lose_most() -> None:
    young = patch("Y", "C", in_ground=day(55), emerges=day(58), first_pick=day(100), last_pick=day(120))
    ripe = patch("R", "A", last_pick=day(61), first_pick=day(40))
    answer = ask([ripe, patch("P", "B"), young], day(60))
    young_l = next(bed.water_l for bed in answer.beds if bed.bed_code == "C")
    shares = share_out(answer, young_l + 20)
    assert [share.patch_code for share in shares] == ["Y", "P", "R"]
    assert [round(share.given_l) for share in shares] == [round(young_l), 20, 0]
    assert shares[0].loss_pct == 0
    assert 0 < shares[1].loss_pct < answer.beds[1].patches[0].loss_pct
    assert sum(share.given_l for share in shares) == pytest.approx(young_l + 20)
    assert all(share.why for share in shares)


def test_enough_water_leaves_no_loss() -> None:
    answer = ask([patch()], day(60))
    assert share_out(answer, 1e6)[0].loss_pct == 0


def test_a_negative_amount_of_water_is_refused() -> None:
    with pytest.raises(ValueError, match="available_l"):
        share_out(ask([patch()], day(60)), -1)


def test_the_duty_list_waters_within_the_span_only() -> None:
    span = Period("holidays", day(62), day(75))
    visits = duty_list([patch()], steady(), (), SUPPLY, day(60), span)
    assert visits
    assert all(span.start <= visit.day <= span.end for visit in visits)
    assert all(visit.water_l > 0 and visit.n_cans > 0 and visit.why for visit in visits)
    # a full root zone of loam lasts about nine days of 4 mm
    gaps = [(b.day - a.day).days for a, b in pairwise(visits)]
    assert all(7 <= gap <= 10 for gap in gaps)


def test_nobody_has_to_come_in_the_rain() -> None:
    span = Period("weekend", day(62), day(63))
    assert duty_list([patch()], steady(rain_mm=20), (), SUPPLY, day(60), span) == ()
    assert duty_list([], steady(), (), SUPPLY, day(60), span) == ()


def test_a_span_beyond_the_days_at_hand_is_refused() -> None:
    with pytest.raises(ValueError, match="they must cover"):
        duty_list([patch()], steady(), (), SUPPLY, day(60), Period("late", day(900), day(901)))


def test_days_that_are_not_covered_are_refused() -> None:
    with pytest.raises(ValueError, match="14 days from it"):
        ask([patch()], day(60), conditions=steady(n_days=(day(60) - START).days + 5))
    with pytest.raises(ValueError, match="they must cover"):
        ask([patch()], START - timedelta(days=1))


@pytest.mark.parametrize(
    ("waterings", "words"),
    [
        ((Watering(day(58), "nobody", 10.0),), "there is no planting nobody"),
        ((Watering(day(58), "P", -1.0),), "got -1.0 L"),
        ((Watering(day(58), "P", float("nan")),), "expected 0 L or more"),
        ((Watering(day(58), "P", 5.0), Watering(day(58), "P", 5.0)), "given twice"),
    ],
)
def test_impossible_waterings_are_refused(waterings: tuple[Watering, ...], words: str) -> None:
    with pytest.raises(ValueError, match=words):
        ask([patch()], day(60), waterings)


def test_impossible_rain_and_taps_are_refused() -> None:
    with pytest.raises(ValueError, match="rain_if_mm"):
        ask([patch()], day(60), rain_if_mm=-1)
    with pytest.raises(ValueError, match="tap_flow_l_min"):
        water_today([patch()], steady(), (), WaterSupply(0.0), day(60))


def test_each_answer_names_listed_sources() -> None:
    due = ask([patch(way="buy", emerges=None, method=METHODS["drip"])], day(60)).beds[0].patches[0]
    named = {source for origin in due.origins for source in origin.source_ids}
    assert named <= set(SOURCES)
    assert {"yield_factor", "priority", "watering_in_l"} <= {origin.quantity for origin in due.origins}


def test_the_same_question_gets_the_same_answer() -> None:
    garden = [patch(), replace(patch("Q", "B"), soil_depth_m=0.3)]
    assert ask(garden, day(60)) == ask(garden, day(60))
