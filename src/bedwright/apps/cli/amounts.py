"""Amounts typed on the command line, with their unit or in the metric one."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Mapping
from typing import NamedTuple

from bedwright.model.problem import Problem
from bedwright.model.units import fahrenheit_to_celsius, inches_to_mm, us_gallons_to_litres

_TYPED = re.compile(r"(-?(?:\d+\.?\d*|\.\d+))\s*([a-zA-Z]*)")


class Typed(NamedTuple):
    """An amount as typed, and in SI; not a number where it cannot be read."""

    text: str
    value: float


def volume_l(text: str) -> Typed:
    """A volume such as `300`, `300L` or `80gal` [L]."""
    return _read(text, {"": float, "l": float, "gal": us_gallons_to_litres})


def rain_mm(text: str) -> Typed:
    """A depth such as `8`, `8mm` or `0.3in` [mm]."""
    return _read(text, {"": float, "mm": float, "in": inches_to_mm})


def temperature_c(text: str) -> Typed:
    """A temperature such as `33`, `33C` or `91F` [°C]."""
    return _read(text, {"": float, "c": float, "f": fahrenheit_to_celsius})


def _read(text: str, units: Mapping[str, Callable[[float], float]]) -> Typed:
    found = _TYPED.fullmatch(text.strip())
    to_si = None if found is None else units.get(found[2].lower())
    return Typed(text, math.nan if found is None or to_si is None else to_si(float(found[1])))


def problem_of(option: str, typed: Typed | None, low: float, high: float, expected: str) -> Problem | None:
    """What is wrong with an amount; None where it was left out or lies within its bounds."""
    if typed is None or low <= typed.value <= high:
        return None
    return Problem("the command", None, None, option, typed.text, expected)
