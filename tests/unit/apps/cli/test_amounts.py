"""Amounts typed with a unit."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from bedwright.apps.cli.amounts import Typed, problem_of, rain_mm, temperature_c, volume_l


# A US gallon is 3.785411784 L, an inch 25.4 mm (NIST SP 811, B.8).
@pytest.mark.parametrize(
    ("read", "text", "value"),
    [
        (volume_l, "300", 300.0),
        (volume_l, "300 L", 300.0),
        (volume_l, "80gal", 302.83),
        (rain_mm, "8", 8.0),
        (rain_mm, "8mm", 8.0),
        (rain_mm, ".3in", 7.62),
        (temperature_c, "33", 33.0),
        (temperature_c, "-2C", -2.0),
        (temperature_c, "91F", 32.78),
    ],
)
def test_an_amount_may_carry_its_unit(read: Callable[[str], Typed], text: str, value: float) -> None:
    assert read(text).value == pytest.approx(value, abs=0.005)


@pytest.mark.parametrize("text", ["", "much", "3 buckets", "nan", "1e9", "3mm 4mm", "-1"])
def test_what_is_no_amount_is_told_as_it_was_typed(text: str) -> None:
    problem = problem_of("--available", volume_l(text), 0, 1e9, "such as 300L")
    assert problem is not None
    assert (problem.got, problem.expected) == (text, "such as 300L")


def test_an_amount_left_out_is_no_problem() -> None:
    assert problem_of("--available", None, 0, 1, "") is None
