"""Lengths, masses, temperatures and days as words on paper, metric or US.

Values come in SI; this is the door where they are converted. Fractions of an inch are
rounded to what a tape shows: quarters for places on the ground, eighths for sowing depth.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bedwright.model import units as u
from bedwright.model.book import UnitSystem

_FRACTIONS = {
    Fraction(0): "",
    Fraction(1, 8): "⅛",
    Fraction(1, 4): "¼",
    Fraction(3, 8): "⅜",
    Fraction(1, 2): "½",
    Fraction(5, 8): "⅝",
    Fraction(3, 4): "¾",
    Fraction(7, 8): "⅞",
}
_MONTHS = (
    "January", "February", "March", "April", "May", "June",
    "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def day_words(day: date) -> str:
    """A day that no country reads wrongly: `4 May 2026`."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


def short_day(day: date) -> str:
    """A day without its year: `4 May`."""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}"


def month_words(month: int) -> str:
    """Short name of a month, 1 to 12."""
    return _MONTHS[month - 1][:3]


def later_day(day: date, earlier: date) -> str:
    """A day without its year where an earlier one of the same year stands beside it."""
    return short_day(day) if day.year == earlier.year else f"{short_day(day)} {day.year}"


def span_words(start: date, end: date) -> str:
    """A span of days: `4 May`, `4 to 9 May`, `28 May to 3 Jun`, `9 Oct 2026 to 2 May 2027`."""
    if start.year != end.year:
        return f"{short_day(start)} {start.year} to {short_day(end)} {end.year}"
    if start == end:
        return short_day(start)
    if start.month == end.month:
        return f"{start.day} to {short_day(end)}"
    return f"{short_day(start)} to {short_day(end)}"


def inch_words(length_in: float, parts: int) -> str:
    """Inches with a common fraction, without the unit: `6¾`."""
    whole, rest = divmod(round(length_in * parts), parts)
    fraction = _FRACTIONS[Fraction(rest, parts)]
    return f"{whole}{fraction}" if whole or not fraction else fraction


def number_words(value: float, digits: int) -> str:
    """A number with at most `digits` decimals and no trailing noughts."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def count_words(count: int, one: str, many: str | None = None) -> str:
    """A count with its noun: `1 row`, `3 rows`."""
    return f"{count} {one if count == 1 else many or one + 's'}"


def code_runs(codes: Iterable[str]) -> str:
    """Row codes in short: `C4 to C7, C9`; codes that do not end in a number stay as they are."""
    runs: list[list[str]] = []
    for code in codes:
        if runs and _follows(runs[-1][-1], code):
            runs[-1].append(code)
        else:
            runs.append([code])
    return ", ".join(run[0] if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs)


def _follows(one: str, other: str) -> bool:
    stem_one, stem_other = one.rstrip("0123456789"), other.rstrip("0123456789")
    tail_one, tail_other = one[len(stem_one) :], other[len(stem_other) :]
    return (
        stem_one == stem_other
        and tail_one != ""
        and tail_other != ""
        and int(tail_other) == int(tail_one) + 1
    )


@dataclass(frozen=True, slots=True)
class Measures:
    """Writes physical values in one system of units."""

    system: UnitSystem

    @property
    def us(self) -> bool:
        """True for feet, inches, pounds and degrees Fahrenheit."""
        return self.system == "us"

    def place(self, length_m: float) -> str:
        """A distance to be measured out: `1.35 m`, `35 cm`, `4 ft 5¼ in`."""
        if not self.us:
            length_cm = round(max(length_m, 0.0) * 100)
            return f"{length_cm} cm" if length_cm < 100 else f"{length_cm / 100:.2f} m"
        quarters = round(u.cm_to_inches(max(length_m, 0.0) * 100) * 4)
        feet, rest = divmod(quarters, 48)
        if not feet:
            return f"{inch_words(rest / 4, 4)} in"
        return f"{feet} ft {inch_words(rest / 4, 4)} in" if rest else f"{feet} ft"

    def extent(self, length_m: float) -> str:
        """The length of a thing: `4.80 m`, `15 ft 9 in`."""
        if not self.us:
            return f"{length_m:.2f} m"
        feet, inches = u.feet_and_inches(length_m, parts_of_inch=4)
        return f"{feet} ft {inch_words(inches, 4)} in" if inches else f"{feet} ft"

    def spacing(self, length_m: float) -> str:
        """A planting distance: `7.5 cm`, `6¾ in`."""
        if not self.us:
            return f"{number_words(length_m * 100, 1)} cm"
        return f"{inch_words(u.cm_to_inches(length_m * 100), 4)} in"

    def depth(self, depth_mm: float) -> str:
        """A sowing depth: `13 mm`, `½ in`; never rounded to nothing."""
        if not self.us:
            return f"{number_words(depth_mm, 0)} mm"
        eighths = round(u.mm_to_inches(depth_mm) * 8)
        if depth_mm > 0 and eighths == 0:
            return "under ⅛ in"
        return f"{inch_words(eighths / 8, 8)} in"

    def area(self, area_m2: float) -> str:
        """Ground: `5.8 m²`, `62 ft²`."""
        return f"{u.m2_to_square_feet(area_m2):.0f} ft²" if self.us else f"{area_m2:.1f} m²"

    def temperature(self, temperature_c: float) -> str:
        """A temperature: `-2 °C`, `28 °F`."""
        if self.us:
            return f"{number_words(u.celsius_to_fahrenheit(temperature_c), 0)} °F"
        return f"{number_words(temperature_c, 1)} °C"

    def temperature_number(self, temperature_c: float) -> str:
        """A temperature without its unit, to one decimal (whole in °F)."""
        if self.us:
            return f"{u.celsius_to_fahrenheit(temperature_c):.0f}"
        return f"{temperature_c:.1f}"

    def rain(self, depth_mm: float) -> str:
        """A depth of water without its unit: whole mm, or tenths of an inch."""
        return f"{u.mm_to_inches(depth_mm):.1f}" if self.us else f"{depth_mm:.0f}"

    def seed_mass(self, mass_g: float) -> str:
        """Seed to buy, rounded up to what a packet states: `3 g`, `0.11 oz`."""
        if self.us:
            return f"{math.ceil(u.g_to_ounces(mass_g) * 100) / 100:.2f} oz"
        return f"{math.ceil(mass_g * 10) / 10:g} g"

    def mass(self, mass_kg: float) -> str:
        """Harvest: `4.2 kg`, `9.3 lb`."""
        return f"{u.kg_to_pounds(mass_kg):.1f} lb" if self.us else f"{mass_kg:.1f} kg"
