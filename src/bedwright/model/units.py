"""Conversions between SI and US customary units, written once.

Source
------
The international inch of 25.4 mm and pound of 0.45359237 kg (agreement of 1959) and the US
gallon of 231 cubic inches; everything else is arithmetic on these. NIST Special Publication
811 (2008), Appendix B.8, prints the same factors rounded to seven figures. Contents of soil
printed by area take a furrow slice as laboratories do: see `LB_PER_ACRE_PER_MG_KG`.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

MM_PER_INCH = 25.4
CM_PER_INCH = 2.54
M_PER_FOOT = 0.3048
KG_PER_POUND = 0.45359237
G_PER_OUNCE = 28.349523125
"""One sixteenth of a pound."""
L_PER_US_GALLON = 3.785411784
"""231 cubic inches."""
M2_PER_SQUARE_FOOT = 0.09290304
M3_PER_CUBIC_YARD = 0.764554857984
INCHES_PER_FOOT = 12
P_PER_P2O5 = 0.4364
"""Mass of phosphorus in phosphorus pentoxide; 2 x 30.974 / 141.945."""
K_PER_K2O = 0.8301
"""Mass of potassium in potassium oxide; 2 x 39.098 / 94.195."""
LB_PER_ACRE_PER_MG_KG = 2.0
"""A furrow slice of 6⅔ in weighs about two million pounds an acre: common practice, no source."""
KG_PER_HA_PER_MG_KG = 2.2417
"""The same in kg/ha: 2 x 1.12085 kg/ha for each lb/acre."""

Quantity = Literal[
    "length", "mass", "volume", "mass fraction", "soil nutrient", "area", "flow", "spread",
    "minutes by area", "minutes by length", "minutes by mass",
]  # fmt: skip
"""Soil nutrient: a content that laboratories also print by area. Spread: mass on an area."""

_FT2 = Fraction("0.09290304")
_ACRE = 43560 * _FT2
_LB_G = Fraction("453.59237")


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit as it ends a name (`length_ft`) and as it is printed (`ft`)."""

    suffix: str
    symbol: str
    quantity: Quantity
    size: Fraction
    """In metres, kilograms, litres or milligrams per kilogram and what is made of them; exact."""


UNITS: tuple[Unit, ...] = (
    Unit("m", "m", "length", Fraction(1)),
    Unit("cm", "cm", "length", Fraction(1, 100)),
    Unit("mm", "mm", "length", Fraction(1, 1000)),
    Unit("ft", "ft", "length", Fraction("0.3048")),
    Unit("in", "in", "length", Fraction("0.0254")),
    Unit("kg", "kg", "mass", Fraction(1)),
    Unit("g", "g", "mass", Fraction(1, 1000)),
    Unit("lb", "lb", "mass", Fraction("0.45359237")),
    Unit("oz", "oz", "mass", Fraction("0.028349523125")),
    Unit("l", "L", "volume", Fraction(1)),
    Unit("us_gal", "US gal", "volume", Fraction("3.785411784")),
    Unit("mg_kg", "mg/kg", "mass fraction", Fraction(1)),
    Unit("ppm", "ppm", "mass fraction", Fraction(1)),
    Unit("mg_kg", "mg/kg", "soil nutrient", Fraction(1)),
    Unit("ppm", "ppm", "soil nutrient", Fraction(1)),
    Unit("lb_acre", "lb/acre", "soil nutrient", 1 / Fraction(str(LB_PER_ACRE_PER_MG_KG))),
    Unit("kg_ha", "kg/ha", "soil nutrient", 1 / Fraction(str(KG_PER_HA_PER_MG_KG))),
    Unit("m2", "m2", "area", Fraction(1)),
    Unit("ft2", "ft2", "area", _FT2),
    Unit("l_min", "L/min", "flow", Fraction(1)),
    Unit("us_gal_min", "US gal/min", "flow", Fraction("3.785411784")),
    Unit("g_m2", "g/m2", "spread", Fraction(1)),
    Unit("t_ha", "t/ha", "spread", Fraction(100)),
    Unit("lb_100_ft2", "lb/100 ft2", "spread", _LB_G / (100 * _FT2)),
    Unit("lb_1000_ft2", "lb/1000 ft2", "spread", _LB_G / (1000 * _FT2)),
    Unit("us_ton_acre", "US ton/acre", "spread", 2000 * _LB_G / _ACRE),
    Unit("per_m2", "min/m2", "minutes by area", Fraction(1)),
    Unit("per_ft2", "min/ft2", "minutes by area", 1 / _FT2),
    Unit("per_row_m", "min/m", "minutes by length", Fraction(1)),
    Unit("per_row_ft", "min/ft", "minutes by length", 1 / Fraction("0.3048")),
    Unit("per_kg", "min/kg", "minutes by mass", Fraction(1)),
    Unit("per_lb", "min/lb", "minutes by mass", 1 / Fraction("0.45359237")),
)


def unit_of_symbol(symbol: str, quantity: Quantity | None = None) -> Unit | None:
    """The convertible unit printed as `symbol`; None where there is none.

    Two quantities may share a symbol; without `quantity` the first is taken.
    """
    return next((unit for unit in UNITS if unit.symbol == symbol and quantity in (None, unit.quantity)), None)


def twins_of(unit: Unit) -> tuple[Unit, ...]:
    """The other units of the same quantity."""
    return tuple(other for other in UNITS if other.quantity == unit.quantity and other != unit)


def convert(value: float, unit: Unit, to: Unit) -> float:
    """A value in another unit of the same quantity.

    Computed exactly on the shortest decimal of `value` and rounded once, so that 70 cm is
    0.7 m and not 0.7000000000000001 m.

    Raises
    ------
    ValueError
        If the units measure different quantities or the value is not finite.
    """
    if unit.quantity != to.quantity:
        raise ValueError(f"cannot convert {unit.symbol} to {to.symbol}")
    if not math.isfinite(value):
        raise ValueError(f"cannot convert {value} {unit.symbol}")
    if unit == to:
        return value
    try:
        return float(Fraction(repr(float(value))) * unit.size / to.size)
    except OverflowError:
        return math.copysign(math.inf, value)


def feet_to_metres(length_ft: float) -> float:
    """Length in metres [m]."""
    return length_ft * M_PER_FOOT


def metres_to_feet(length_m: float) -> float:
    """Length in international feet [ft]."""
    return length_m / M_PER_FOOT


def inches_to_cm(length_in: float) -> float:
    """Length in centimetres [cm]."""
    return length_in * CM_PER_INCH


def cm_to_inches(length_cm: float) -> float:
    """Length in inches [in]."""
    return length_cm / CM_PER_INCH


def inches_to_mm(length_in: float) -> float:
    """Length, or depth of water, in millimetres [mm]."""
    return length_in * MM_PER_INCH


def mm_to_inches(length_mm: float) -> float:
    """Length, or depth of water, in inches [in]."""
    return length_mm / MM_PER_INCH


def feet_and_inches(length_m: float, *, parts_of_inch: int = 2) -> tuple[int, float]:
    """Whole feet and the inches that remain, rounded to a part of an inch.

    Parameters
    ----------
    length_m
        Length to be read off a tape. [m], not negative
    parts_of_inch
        2 for half inches, 4 for quarters, 1 for whole inches.

    Returns
    -------
    tuple
        Feet, and inches from 0 to below 12. [ft, in]

    Raises
    ------
    ValueError
        If the length is negative or not finite.
    """
    if not (math.isfinite(length_m) and length_m >= 0):
        raise ValueError(f"a length to measure out is finite and not negative; got {length_m} m")
    parts = round(length_m / M_PER_FOOT * INCHES_PER_FOOT * parts_of_inch)
    feet, rest = divmod(parts, INCHES_PER_FOOT * parts_of_inch)
    return feet, rest / parts_of_inch


def pounds_to_kg(mass_lb: float) -> float:
    """Mass in kilograms [kg]."""
    return mass_lb * KG_PER_POUND


def kg_to_pounds(mass_kg: float) -> float:
    """Mass in avoirdupois pounds [lb]."""
    return mass_kg / KG_PER_POUND


def ounces_to_g(mass_oz: float) -> float:
    """Mass in grams [g]."""
    return mass_oz * G_PER_OUNCE


def g_to_ounces(mass_g: float) -> float:
    """Mass in avoirdupois ounces [oz]."""
    return mass_g / G_PER_OUNCE


def us_gallons_to_litres(volume_us_gal: float) -> float:
    """Volume in litres [L]."""
    return volume_us_gal * L_PER_US_GALLON


def litres_to_us_gallons(volume_l: float) -> float:
    """Volume in US liquid gallons [US gal]."""
    return volume_l / L_PER_US_GALLON


def square_feet_to_m2(area_ft2: float) -> float:
    """Area in square metres [m2]."""
    return area_ft2 * M2_PER_SQUARE_FOOT


def m2_to_square_feet(area_m2: float) -> float:
    """Area in square feet [ft2]."""
    return area_m2 / M2_PER_SQUARE_FOOT


def cubic_yards_to_m3(volume_yd3: float) -> float:
    """Volume of bulk material in cubic metres [m3]."""
    return volume_yd3 * M3_PER_CUBIC_YARD


def m3_to_cubic_yards(volume_m3: float) -> float:
    """Volume of bulk material in cubic yards [yd3]."""
    return volume_m3 / M3_PER_CUBIC_YARD


def fahrenheit_to_celsius(temperature_f: float) -> float:
    """Temperature in degrees Celsius [°C]."""
    return (temperature_f - 32) / 1.8


def celsius_to_fahrenheit(temperature_c: float) -> float:
    """Temperature in degrees Fahrenheit [°F]."""
    return temperature_c * 1.8 + 32
