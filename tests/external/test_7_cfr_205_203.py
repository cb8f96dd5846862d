"""United States, 7 CFR 205.203(c): raw manure before harvest, and what counts as compost.

The rule was read (law.lawstack.com, checked there against eCFR on 20 June 2026; govinfo edition
of 2011): raw manure dug in not less than 120 days before harvest where the edible part touches
the soil, else 90; compost from an initial C:N of 25:1 to 40:1, held at 131 to 170 °F for 3 days
in a vessel or static aerated pile, or 15 days in a windrow turned at least five times. The
dates and piles below are ours.
"""

from __future__ import annotations

from datetime import date
from typing import Literal

import pytest

from bedwright.engine.soil import earliest_harvest, harvest_allowed, is_compost

System = Literal["windrow", "in vessel", "static aerated pile"]
MARCH = date(2026, 3, 1)


@pytest.mark.parametrize(
    ("harvest", "touching", "allowed"),
    [
        (date(2026, 6, 28), True, False),
        (date(2026, 6, 29), True, True),
        (date(2026, 5, 29), False, False),
        (date(2026, 5, 30), False, True),
    ],
    ids=["119 days", "120 days", "89 days", "90 days"],
)
def test_raw_manure_keeps_its_interval(harvest: date, touching: bool, allowed: bool) -> None:
    assert harvest_allowed(MARCH, harvest, touching=touching) is allowed


def test_the_first_day_of_harvest_is_the_hundred_and_twentieth() -> None:
    assert earliest_harvest(MARCH, touching=True) == date(2026, 6, 29)


def test_finished_compost_needs_no_interval() -> None:
    assert harvest_allowed(date(2026, 5, 1), date(2026, 5, 15), touching=True, composted=True)


@pytest.mark.parametrize(
    ("system", "c_to_n", "held_f", "days", "turns", "meets"),
    [
        ("windrow", 30, 140, 15, 5, True),
        ("windrow", 30, 140, 15, 4, False),
        ("windrow", 30, 140, 14, 5, False),
        ("windrow", 24, 150, 15, 5, False),
        ("windrow", 41, 150, 15, 5, False),
        ("static aerated pile", 30, 135, 3, 0, True),
        ("in vessel", 25, 131, 3, 0, True),
        ("in vessel", 40, 170, 3, 0, True),
        ("in vessel", 30, 130, 3, 0, False),
        ("in vessel", 30, 171, 3, 0, False),
        ("in vessel", 30, 140, 2, 0, False),
    ],
)
def test_a_pile_is_compost_only_by_the_rule(
    system: System, c_to_n: float, held_f: float, days: int, turns: int, meets: bool
) -> None:
    assert is_compost(system, c_to_n, held_f, held_f, days, turns) is meets


def test_a_pile_that_grew_too_hot_for_a_day_is_no_compost() -> None:
    assert not is_compost("in vessel", 30, 140, 175, 3, 0)


def test_impossible_piles_are_refused() -> None:
    with pytest.raises(ValueError, match="days and turns"):
        is_compost("windrow", 30, 150, 140, 15, 5)
