"""Conversions against their definitions and against Pint, a library of units."""

from __future__ import annotations

import math

import pint
import pytest

from bedwright.model import units

PINT: pint.UnitRegistry[float] = pint.UnitRegistry()
PINT_NAMES = {
    "m": "metre",
    "cm": "centimetre",
    "mm": "millimetre",
    "ft": "foot",
    "in": "inch",
    "kg": "kilogram",
    "g": "gram",
    "lb": "pound",
    "oz": "ounce",
    "l": "litre",
    "us_gal": "gallon",
    "mg_kg": "milligram / kilogram",
    "ppm": "ppm",
    "m2": "metre ** 2",
    "ft2": "foot ** 2",
    "l_min": "litre / minute",
    "us_gal_min": "gallon / minute",
    "g_m2": "gram / metre ** 2",
    "t_ha": "tonne / hectare",
    "lb_100_ft2": "pound / foot ** 2 / 100",
    "lb_1000_ft2": "pound / foot ** 2 / 1000",
    # Pint's acre is that of the US survey foot, so the international one is spelt out.
    "us_ton_acre": "2000 * pound / foot ** 2 / 43560",
    "per_m2": "minute / metre ** 2",
    "per_ft2": "minute / foot ** 2",
    "per_row_m": "minute / metre",
    "per_row_ft": "minute / foot",
    "per_kg": "minute / kilogram",
    "per_lb": "minute / pound",
}
BY_A_FURROW_SLICE = ("lb_acre", "kg_ha")
"""Not pure conversions: they take soil for granted."""


@pytest.mark.parametrize(
    "unit",
    [unit for unit in units.UNITS if unit.suffix not in BY_A_FURROW_SLICE],
    ids=lambda unit: f"{unit.suffix} of {unit.quantity}",
)
def test_every_unit_has_the_size_pint_gives_it(unit: units.Unit) -> None:
    # The unit kept in the records is the one of size 1; it comes first.
    base = next(other for other in units.UNITS if other.quantity == unit.quantity)
    assert base.size == 1
    expected = (1.0 * PINT.parse_expression(PINT_NAMES[unit.suffix])).to(PINT_NAMES[base.suffix]).magnitude
    # Pint multiplies floats, so the last digits of its answer are rounding.
    assert float(unit.size) == pytest.approx(expected, rel=1e-12)


def test_contents_by_area_are_those_of_a_furrow_slice() -> None:
    # Two million pounds of soil an acre, common practice: 1 lb/acre is 0.5 mg/kg. An acre is
    # 0.40468564224 ha, so 1 lb/acre is 1.12085 kg/ha.
    mg_kg = units.unit_of_symbol("mg/kg", "soil nutrient")
    by_acre, by_hectare = (units.unit_of_symbol(s, "soil nutrient") for s in ("lb/acre", "kg/ha"))
    assert mg_kg is not None
    assert by_acre is not None
    assert by_hectare is not None
    assert units.convert(62, by_acre, mg_kg) == 31
    assert units.convert(1, by_acre, by_hectare) == pytest.approx(0.45359237 / 0.40468564224, rel=1e-5)


def test_a_symbol_of_two_quantities_is_told_apart() -> None:
    found = units.unit_of_symbol("mg/kg", "soil nutrient")
    assert found is not None
    assert found.quantity == "soil nutrient"
    assert units.unit_of_symbol("mg/kg") != found
    assert units.unit_of_symbol("kg/ha", "length") is None


def test_definitions_hold_to_the_last_digit() -> None:
    # International yard and pound agreement, 1959: 1 ft = 0.3048 m = 12 in, 1 lb = 0.45359237 kg = 16 oz;
    # the US gallon is 231 cubic inches.
    assert units.inches_to_mm(12) == pytest.approx(304.8, rel=1e-15)
    assert units.feet_to_metres(1) == 0.3048
    assert units.pounds_to_kg(1) == 0.45359237
    assert units.ounces_to_g(16) == pytest.approx(453.59237, rel=1e-15)
    assert units.us_gallons_to_litres(1) == pytest.approx(231 * 0.254**3, rel=1e-15)
    assert units.square_feet_to_m2(1) == pytest.approx(0.3048**2, rel=1e-15)
    assert units.cubic_yards_to_m3(1) == pytest.approx(0.9144**3, rel=1e-15)


def test_an_ounce_is_what_nist_prints() -> None:
    # NIST SP 811 (2008), Appendix B.8: ounce (avoirdupois) to kilogram 2.834952 E-02, as quoted by others;
    # seven figures are printed.
    assert units.ounces_to_g(1) / 1000 == pytest.approx(2.834952e-2, abs=5e-9)


def test_an_inch_of_water_on_a_square_foot_is_the_gallons_purdue_prints() -> None:
    # Purdue Landscape Report prints 0.62 gal per square foot and inch; exact is 0.6234, so 0.6 % apart.
    volume_l = units.square_feet_to_m2(1) * units.inches_to_mm(1)
    assert units.litres_to_us_gallons(volume_l) == pytest.approx(0.62, rel=0.01)


def test_water_freezes_and_boils_where_both_scales_say() -> None:
    assert units.celsius_to_fahrenheit(0) == 32
    assert units.celsius_to_fahrenheit(100) == 212
    assert units.fahrenheit_to_celsius(-40) == -40


def test_a_decimal_in_one_unit_is_the_same_decimal_in_another() -> None:
    metre, centimetre = units.unit_of_symbol("m"), units.unit_of_symbol("cm")
    assert metre is not None
    assert centimetre is not None
    assert 70 * 0.01 != 0.7  # what plain multiplication would give
    assert units.convert(70, centimetre, metre) == 0.7


def test_units_of_two_quantities_cannot_be_converted() -> None:
    metre, kilogram = units.unit_of_symbol("m"), units.unit_of_symbol("kg")
    assert metre is not None
    assert kilogram is not None
    with pytest.raises(ValueError, match="cannot convert m to kg"):
        units.convert(1, metre, kilogram)
    with pytest.raises(ValueError, match="cannot convert nan"):
        units.convert(math.nan, metre, metre)


@pytest.mark.parametrize(
    ("length_m", "parts_of_inch", "expected"),
    [
        (0.0, 2, (0, 0.0)),
        (1.2192, 2, (4, 0.0)),
        (1.2, 2, (3, 11.0)),  # 47.24 in
        (1.2, 4, (3, 11.25)),
        (0.3047, 2, (1, 0.0)),  # 11.996 in is a foot, never 12 inches
    ],
)
def test_a_length_is_read_off_a_tape(
    length_m: float, parts_of_inch: int, expected: tuple[int, float]
) -> None:
    assert units.feet_and_inches(length_m, parts_of_inch=parts_of_inch) == expected


@pytest.mark.parametrize("length_m", [-0.1, math.nan, math.inf])
def test_a_length_that_cannot_be_measured_out_is_refused(length_m: float) -> None:
    with pytest.raises(ValueError, match="finite and not negative"):
        units.feet_and_inches(length_m)
