"""Amounts as a gardener can measure them: two significant figures, cups, whole barrows."""

from __future__ import annotations

import math

from bedwright.model.units import (
    celsius_to_fahrenheit,
    kg_to_pounds,
    litres_to_us_gallons,
    mm_to_inches,
    square_feet_to_m2,
)

CUP_L = 0.2365882365
"""US cup, one sixteenth of a US gallon [L]."""
SPOONS = 16
"""US tablespoons in a cup."""


def two_figures(value: float) -> float:
    """A number rounded to two significant figures; no soil figure is known better.

    Raises
    ------
    ValueError
        If the number is not finite.
    """
    if not math.isfinite(value):
        raise ValueError(f"cannot round {value}")
    return float(f"{value:.2g}")


def two_figures_down(value: float) -> float:
    """A number not below 0 rounded down to two significant figures, for amounts under a cap."""
    rounded = two_figures(value)
    if rounded <= value or value <= 0:
        return rounded
    step = 10.0 ** (math.floor(math.log10(rounded)) - 1)
    # 10 is 9.9 less a step of the lower decade, not less one of its own.
    if math.isclose(rounded, 10.0 ** round(math.log10(rounded))):
        step /= 10
    return two_figures(rounded - step)


def plain(value: float) -> str:
    """A rounded number in plain digits, such as `0.45`, `12`, `3400`."""
    return f"{two_figures(value):.10f}".rstrip("0").rstrip(".") or "0"


def spoken_rate(low_g_m2: float, high_g_m2: float | None = None) -> str:
    """A rate on ground in both units, as the reader's are not known: `12 g/m² (2.5 lb per 1000 ft²)`."""
    rates = [low_g_m2] if high_g_m2 is None or high_g_m2 == low_g_m2 else [low_g_m2, high_g_m2]
    us = [kg_to_pounds(rate / 1000) * square_feet_to_m2(1000) for rate in rates]
    return f"{' to '.join(map(plain, rates))} g/m² ({' to '.join(map(plain, us))} lb per 1000 ft²)"


def spoken_depth(depth_mm: float) -> str:
    """A layer in both units: `13 mm (0.5 in)`."""
    return f"{plain(depth_mm)} mm ({plain(mm_to_inches(depth_mm))} in)"


def spoken_volume(volume_l: float) -> str:
    """A volume in both units: `140 L (37 US gal)`."""
    return f"{plain(volume_l)} L ({plain(litres_to_us_gallons(volume_l))} US gal)"


def spoken_temperature(temperature_c: float) -> str:
    """A temperature in both units: `39 °C (102 °F)`."""
    return f"{temperature_c:.0f} °C ({celsius_to_fahrenheit(temperature_c):.0f} °F)"


def quarter_cups(mass_g: float, kg_per_l: float) -> float:
    """US cups to the nearest quarter; below that to the nearest tablespoon."""
    cups = mass_g / 1000 / kg_per_l / CUP_L
    if cups <= 0:
        return 0.0
    if cups < 3.5 / SPOONS:
        return max(1, round(cups * SPOONS)) / SPOONS
    return round(4 * cups) / 4


def spoken_mass(mass_g: float) -> str:
    """A mass as it is weighed out, in both units: `230 g (8.1 oz)`, `4.5 kg (9.9 lb)`."""
    rounded = two_figures(mass_g)
    metric = f"{plain(rounded / 1000)} kg" if rounded >= 1000 else f"{plain(rounded)} g"
    pounds = kg_to_pounds(mass_g / 1000)
    return f"{metric} ({f'{plain(pounds)} lb' if pounds >= 1 else f'{plain(16 * pounds)} oz'})"


def spoken_cups(cups: float) -> str:
    """Cups in words, such as `1¼ cups`; below a quarter tablespoons, above 16 whole cups."""
    if 0 < cups < 0.25:
        spoons = max(1, round(cups * SPOONS))
        return "1 tablespoon" if spoons == 1 else f"{spoons} tablespoons"
    if cups > 16:
        return f"{round(cups)} cups"
    whole, quarters = divmod(round(4 * cups), 4)
    part = ("", "¼", "½", "¾")[quarters]
    unit = "cup" if cups <= 1 else "cups"
    return f"{whole or ''}{part} {unit}" if whole or part else f"0 {unit}"


def ceil_tenth_or_half(value: float) -> float:
    """Delivery sizes: rounded up to 0.1 below a half, else up to the next half."""
    slack = 1e-9
    if value < 0.5:
        return math.ceil(value * 10 - slack) / 10
    return math.ceil(value * 2 - slack) / 2
