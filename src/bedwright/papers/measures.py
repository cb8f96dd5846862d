"""Lengths, masses, temperatures and days as words on paper, metric or US.

Values come in SI; this is the door where they are converted. Fractions of an inch are
rounded to what a tape shows: quarters for places on the ground, eighths for sowing depth.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from bedwright.model import units as u
from bedwright.model.book import UnitSystem

L_PER_FT3 = u.M3_PER_CUBIC_YARD / 27 * 1000
"""Litres in a cubic foot, in which bagged compost and mulch are sold."""
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


def figures_words(value: float, figures: int = 2) -> str:
    """A number to so many significant figures in plain digits: `46`, `1300`, `0.45`."""
    return number_words(float(f"{value:.{figures}g}"), 6)


def minutes_words(minutes: float) -> str:
    """A time to work or water: `under 1 min`, `3 min`, `1 h 40 min`."""
    if 0 < minutes < 0.95:
        return "under 1 min"
    whole = round(minutes)
    if whole < 100:
        return f"{whole} min"
    hours, rest = divmod(5 * round(minutes / 5), 60)
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def clock_words(minutes: int) -> str:
    """A time of day from minutes after midnight: `9:30`, `14:00`."""
    return f"{minutes // 60}:{minutes % 60:02}"


def hours_words(hours_h: float) -> str:
    """Hours of work without their unit, to what can be planned: `0.4`, `3.5`, `28`."""
    return f"{hours_h:.1f}" if hours_h < 10 else f"{hours_h:.0f}"


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


_US = r"-?[\d.]+(?: to -?[\d.]+)? (?:in|ft|oz|lb|US gal|°F)"
_BOTH = re.compile(
    r"(?P<low>-?\d[\d.]*)(?: to (?P<high>-?\d[\d.]*))? (?P<unit>mm|cm|m|g|kg|L|°C)"
    rf"(?: \((?P<bracketed>{_US})\)|, (?P<listed>{_US}))"
)
"""A measure in both systems: `1.05 to 3.10 m (3.4 to 10.2 ft)`, or `1.3 g, 0.046 oz` within brackets."""


_METRIC = re.compile(
    r"(?<![\w./])(?P<low>-?\d+(?:\.\d+)?)(?: (?P<link>to|and) (?P<high>-?\d+(?:\.\d+)?))? "
    r"(?P<unit>m²|mm|cm|m|kg|L|°C)(?![\w/²])"
)
"""A metric measure, or two with one unit: `0.75 to 1.50 m`."""


@dataclass(frozen=True, slots=True)
class Measures:
    """Writes physical values in one system of units."""

    system: UnitSystem

    @property
    def us(self) -> bool:
        """True for feet, inches, pounds and degrees Fahrenheit."""
        return self.system == "us"

    @property
    def kg_factor(self) -> float:
        """What turns kilograms into the unit of harvests."""
        return u.kg_to_pounds(1.0) if self.us else 1.0

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

    def water(self, volume_l: float) -> str:
        """Water to give, to two figures: `46 L`, `12 US gal`."""
        return f"{self.water_number(volume_l)} {self.water_unit}"

    def water_number(self, volume_l: float) -> str:
        """The same without its unit."""
        return figures_words(u.litres_to_us_gallons(volume_l) if self.us else volume_l)

    @property
    def water_unit(self) -> str:
        """Litres or US gallons."""
        return "US gal" if self.us else "L"

    def bulk(self, volume_l: float) -> str:
        """Compost, mulch or potting mix, to two figures: `140 L`, `4.9 ft³`."""
        return f"{figures_words(volume_l / L_PER_FT3)} ft³" if self.us else f"{figures_words(volume_l)} L"

    def flow(self, flow_l_min: float) -> str:
        """What a tap gives: `15 L/min`, `4 US gal/min`."""
        if self.us:
            return f"{number_words(u.litres_to_us_gallons(flow_l_min), 1)} US gal/min"
        return f"{number_words(flow_l_min, 1)} L/min"

    def dose(self, mass_g: float) -> str:
        """A material to weigh out, to two figures: `13 g`, `85 kg`, `1.4 oz`, `190 lb`."""
        if self.us:
            ounces = u.g_to_ounces(mass_g)
            return f"{figures_words(ounces / 16)} lb" if ounces >= 16 else f"{figures_words(ounces)} oz"
        return f"{figures_words(mass_g / 1000)} kg" if mass_g >= 1000 else f"{figures_words(mass_g)} g"

    def dose_per_row(self, dose_g_per_m: float) -> str:
        """A material along the row: `5.3 g a metre`, `0.57 oz per 10 ft`."""
        if self.us:
            return f"{figures_words(u.g_to_ounces(dose_g_per_m * u.feet_to_metres(10)))} oz per 10 ft"
        return f"{figures_words(dose_g_per_m)} g a metre"

    def spread(self, dose_g_m2: float) -> str:
        """A nutrient on ground: `12 g/m²`, `2.5 lb/1000 ft²`."""
        if self.us:
            per_1000_ft2 = u.kg_to_pounds(dose_g_m2 / 1000) * u.square_feet_to_m2(1000)
            return f"{figures_words(per_1000_ft2)} lb/1000 ft²"
        return f"{figures_words(dose_g_m2)} g/m²"

    def layer(self, low_mm: float, high_mm: float) -> str:
        """Depth of a layer as a range: `5 to 10 cm`, `2 to 4 in`."""
        if self.us:
            low, high = (inch_words(u.mm_to_inches(depth), 2) for depth in (low_mm, high_mm))
        else:
            low, high = (number_words(depth / 10, 0) for depth in (low_mm, high_mm))
        unit = "in" if self.us else "cm"
        return f"{low} {unit}" if low == high else f"{low} to {high} {unit}"

    def row(self, length_m: float) -> str:
        """Length of row: `4.9 m`, `16 ft`."""
        return f"{u.metres_to_feet(length_m):.0f} ft" if self.us else f"{length_m:.1f} m"

    def alone(self, text: str) -> str:
        """A sentence told in metric measures or in both systems, with measures of this one only.

        `13 mm (0.5 in) deep` is `13 mm deep` or `½ in deep`, `1.50 m along` is `4 ft 11 in along`.
        """
        one = _BOTH.sub(self._one, text)
        return _METRIC.sub(self._in_us, one) if self.us else one

    def _in_us(self, metric: re.Match[str]) -> str:
        ends = [end for end in (metric["low"], metric["high"]) if end]
        words = [self._us_words(end, metric["unit"]) for end in ends]
        plain = [word.split() for word in words]
        if len(words) > 1 and len(plain[0]) == len(plain[1]) == 2 and plain[0][1] == plain[1][1]:
            words[0] = plain[0][0]
        return f" {metric['link']} ".join(words)

    def _us_words(self, number: str, unit: str) -> str:
        value = float(number)
        if unit == "mm":
            return f"{figures_words(u.mm_to_inches(value))} in"
        # What is told to the centimetre is measured out, the rest is a length of row or bed.
        length = self.place if len(number.partition(".")[2]) > 1 else self.row
        write, factor = {
            "m": (length, 1.0),
            "m²": (self.area, 1.0),
            "cm": (self.spacing, 0.01),
            "kg": (self.dose, 1000.0),
            "L": (self.water, 1.0),
            "°C": (self.temperature, 1.0),
        }[unit]
        return write(value * factor)

    def _one(self, both: re.Match[str]) -> str:
        low, high, unit = both["low"], both["high"], both["unit"]
        if not self.us:
            return f"{low}{f' to {high}' if high else ''} {unit}"
        if unit == "mm" and not high:
            return self.depth(float(low))
        if unit == "m":
            return " to ".join(self.place(float(end)) for end in (low, high) if end)
        return both["bracketed"] or both["listed"]

    def walk(self, length_m: float) -> str:
        """A way to walk: `82 m`, `270 ft`."""
        if self.us:
            return f"{figures_words(u.metres_to_feet(length_m))} ft"
        return f"{figures_words(length_m)} m"
