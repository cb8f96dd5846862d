"""Conversions there and back, for any number."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bedwright.model import units

LENGTHS = [unit for unit in units.UNITS if unit.quantity == "length"]
NUMBERS = st.floats(-1e9, 1e9)
Conversion = Callable[[float], float]
PAIRS: list[tuple[Conversion, Conversion]] = [
    (units.feet_to_metres, units.metres_to_feet),
    (units.inches_to_cm, units.cm_to_inches),
    (units.inches_to_mm, units.mm_to_inches),
    (units.pounds_to_kg, units.kg_to_pounds),
    (units.ounces_to_g, units.g_to_ounces),
    (units.us_gallons_to_litres, units.litres_to_us_gallons),
    (units.square_feet_to_m2, units.m2_to_square_feet),
    (units.cubic_yards_to_m3, units.m3_to_cubic_yards),
    (units.fahrenheit_to_celsius, units.celsius_to_fahrenheit),
]


@given(value=NUMBERS, pair=st.sampled_from(PAIRS))
def test_every_conversion_is_undone_by_the_other(value: float, pair: tuple[Conversion, Conversion]) -> None:
    there, back = pair
    # Two roundings, and for temperatures the offset of 32 between them.
    assert back(there(value)) == pytest.approx(value, rel=1e-14, abs=1e-13)


@given(value=NUMBERS, unit=st.sampled_from(LENGTHS), to=st.sampled_from(LENGTHS))
def test_converting_keeps_order_and_sign(value: float, unit: units.Unit, to: units.Unit) -> None:
    converted = units.convert(value, unit, to)
    assert (converted > 0) == (value > 0) or abs(value) < 1e-300
    assert units.convert(value + 1, unit, to) >= converted


@given(hundredths=st.integers(-(10**6), 10**6))
def test_hundredths_given_in_centimetres_are_the_same_decimals_in_metres(hundredths: int) -> None:
    centimetre, metre = LENGTHS[1], LENGTHS[0]
    assert units.convert(float(hundredths), centimetre, metre) == float(f"{hundredths}e-2")


@given(length_m=st.floats(0, 1000), parts_of_inch=st.sampled_from([1, 2, 4, 8]))
def test_feet_and_inches_are_within_half_a_part_of_the_length(length_m: float, parts_of_inch: int) -> None:
    feet, inches = units.feet_and_inches(length_m, parts_of_inch=parts_of_inch)
    assert 0 <= inches < 12
    read_m = units.feet_to_metres(feet + inches / 12)
    assert abs(read_m - length_m) <= units.feet_to_metres(1 / 12 / parts_of_inch) / 2 * (1 + 1e-9)
