"""Two plans beside each other in words."""

from __future__ import annotations

from dataclasses import replace

from bedwright.model.season import Shortfall
from bedwright.service.compare import compare, differences_text
from tests.plantings import planting, season_plan

SHORT = Shortfall("leek-1", "leek-1", "leek", 20, 12, 1.2, 20.0, "No ground.")


def test_equal_plans_have_no_differences() -> None:
    plan = season_plan(planting("carrot-1"))
    found = compare(plan, plan)
    assert (found.changes, found.n_same, found.points) == ((), 1, None)
    assert differences_text(found) == "Nothing is different.\n"


def test_what_moved_is_told_with_what_it_is_worth() -> None:
    was, same = planting("carrot-1"), planting("carrot-2")
    old = replace(season_plan(was, same), value=100.0)
    new = replace(season_plan(replace(was, bed_code="B"), same), value=96.5)
    found = compare(old, new)
    assert [one.kind for one in found.changes] == ["moved"]
    assert (found.n_same, found.points) == (1, -3.5)
    text = differences_text(found)
    assert text.startswith("1 planting differs, 1 stay as they were:")
    assert "it was 40 plants in bed A" in text


def test_wishes_met_now_and_those_that_fall_shorter_are_told() -> None:
    plain = season_plan(planting())
    short, shorter = replace(plain, shortfalls=(SHORT,)), replace(SHORT, placed_plants=4)
    assert compare(short, plain).met_now == ("Leek (leek-1) is now placed in full.",)
    assert compare(short, short).short_now == ()
    told = compare(short, replace(plain, shortfalls=(shorter,))).short_now
    assert told == ("Leek (leek-1) is short: 4 of 20 plants. No ground.",)
