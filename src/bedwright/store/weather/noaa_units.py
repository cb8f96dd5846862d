"""Tells the units of NOAA's table with one row a day, whose headings do not state them.

The table `STATION,DATE,…,TMAX,…` is served in three sets of units: tenths of °C and of mm (station
files of GHCN-Daily), °C and mm with one decimal, or whole °F and inches with two decimals (Climate
Data Online, "metric" and "standard"). Seen in public copies of such files. The way the figures
are written tells them apart; where it does not, nothing is guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from bedwright.store.weather.quantities import (
    CELSIUS,
    FAHRENHEIT,
    HIGHEST_CELSIUS,
    HIGHEST_FAHRENHEIT,
    INCHES,
    METRES_PER_SECOND,
    MILES_PER_HOUR,
    MILLIMETRES,
    MINUTES,
    PERCENT,
    TENTHS_OF_CELSIUS,
    TENTHS_OF_METRES_PER_SECOND,
    TENTHS_OF_MILLIMETRES,
    Quantity,
    Unit,
)

UnitSet = Literal["tenths", "metric", "us"]

_TEMPERATURE: dict[UnitSet, Unit] = {"tenths": TENTHS_OF_CELSIUS, "metric": CELSIUS, "us": FAHRENHEIT}
_RAIN: dict[UnitSet, Unit] = {"tenths": TENTHS_OF_MILLIMETRES, "metric": MILLIMETRES, "us": INCHES}
_WIND: dict[UnitSet, Unit] = {
    "tenths": TENTHS_OF_METRES_PER_SECOND,
    "metric": METRES_PER_SECOND,
    "us": MILES_PER_HOUR,
}


def noaa_unit(quantity: Quantity, units: UnitSet) -> Unit:
    """The unit of a quantity in a set of units."""
    if quantity == "rain_mm":
        return _RAIN[units]
    if quantity == "wind_m_s":
        return _WIND[units]
    if quantity == "sunshine_h":
        return MINUTES
    if quantity in {"rh_mean_pct", "rh_max_pct", "rh_min_pct"}:
        return PERCENT
    return _TEMPERATURE[units]


def tell_units(temperatures: Sequence[str], rains: Sequence[str]) -> UnitSet | None:
    """The set of units shown by how temperatures and rain are written; None if it stays open."""
    n_temperature_decimals = _most_decimals(temperatures)
    n_rain_decimals = _most_decimals(rains)
    highest = max((float(text) for text in temperatures if _is_number(text)), default=0.0)
    if n_temperature_decimals == 0 and n_rain_decimals == 0 and highest > HIGHEST_FAHRENHEIT:
        return "tenths"
    if (
        n_temperature_decimals == 0
        and n_rain_decimals == 2
        and HIGHEST_CELSIUS < highest <= HIGHEST_FAHRENHEIT
    ):
        return "us"
    if n_temperature_decimals == 1 and n_rain_decimals <= 1 and highest <= HIGHEST_CELSIUS:
        return "metric"
    return None


def _is_number(text: str) -> bool:
    return text.strip().lstrip("-").replace(".", "", 1).isdecimal()


def _most_decimals(texts: Sequence[str]) -> int:
    return max((len(text.strip().partition(".")[2]) for text in texts), default=0)
