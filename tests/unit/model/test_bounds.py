"""Ranges hold their ends and nothing that is not a number."""

from __future__ import annotations

import math

import pytest

from bedwright.model import bounds
from bedwright.model.bounds import Bounds, plain_number

ALL = [value for value in vars(bounds).values() if isinstance(value, Bounds)]


@pytest.mark.parametrize("limits", ALL, ids=str)
def test_every_range_holds_its_ends_and_nothing_beyond(limits: Bounds) -> None:
    assert limits.low in limits
    assert limits.high in limits
    assert math.nextafter(limits.low, -math.inf) not in limits
    assert math.nextafter(limits.high, math.inf) not in limits


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_no_range_holds_what_is_not_finite(value: float) -> None:
    assert all(value not in limits for limits in ALL)


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (1.2, "1.2"),
        (12.0, "12"),
        (1e6, "1000000"),
        (39.37008, "39.3701"),
        (1e-5, "0.00001"),
        (0, "0"),
    ],
)
def test_numbers_are_shown_without_powers_of_ten(value: float, shown: str) -> None:
    assert plain_number(value) == shown
