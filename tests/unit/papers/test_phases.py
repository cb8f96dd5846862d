from dataclasses import replace
from datetime import date

from bedwright.papers.phases import season_phases, stands_on
from tests.plans import big_plan, demo_plan


def test_every_planting_stands_on_at_least_one_drawing() -> None:
    for plan in (demo_plan(), big_plan()):
        phases = season_phases(plan.plantings)
        shown = {p.code for phase in phases for p in phase.standing}
        assert shown == {p.code for p in plan.plantings}


def test_every_planting_is_new_on_exactly_one_drawing() -> None:
    phases = season_phases(demo_plan().plantings)
    new = [code for phase in phases for code in sorted(phase.new_codes)]
    assert sorted(new) == sorted({p.code for p in demo_plan().plantings})


def test_what_is_drawn_is_what_stands_on_that_day() -> None:
    for phase in season_phases(demo_plan().plantings):
        assert all(stands_on(p, phase.day) for p in phase.standing)
        ground = [p for p in demo_plan().plantings if stands_on(p, phase.day)]
        assert len(ground) == len(phase.standing)


def test_phases_follow_the_calendar() -> None:
    days = [phase.day for phase in season_phases(big_plan().plantings)]
    assert days == sorted(days)
    assert len(days) <= 4


def test_the_time_of_year_turns_round_south_of_the_equator() -> None:
    plantings = demo_plan().plantings[:1]
    assert season_phases(plantings)[0].day == date(2026, 4, 2)
    assert season_phases(plantings)[0].name == "spring"
    assert season_phases(plantings, southern=True)[0].name == "autumn"


def test_a_plan_without_plantings_has_no_phases() -> None:
    assert season_phases(replace(demo_plan(), plantings=()).plantings) == ()
