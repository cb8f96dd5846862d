"""Column names that are understood in CSV files, each with its quantity and unit.

A name is compared in small letters with every run of other characters written as one
underscore, so `TMAX (Degrees Fahrenheit)` is `tmax_degrees_fahrenheit`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from bedwright.store.weather.quantities import (
    CELSIUS,
    FAHRENHEIT,
    HOURS,
    INCHES,
    KILOMETRES_PER_HOUR,
    MEGAJOULES,
    METRES_PER_SECOND,
    MILES_PER_HOUR,
    MILLIMETRES,
    MINUTES,
    PERCENT,
    Quantity,
    Unit,
)

DATE_NAMES: Final = frozenset({"date", "day", "date_time", "yyyymmdd"})

_NAMES: Final[dict[tuple[Quantity, Unit], str]] = {
    ("tmin_c", CELSIUS): "tmin_c tmin_degrees_celsius tmin_deg_c min_temp_c",
    ("tmin_c", FAHRENHEIT): "tmin_f tmin_degrees_fahrenheit tmin_deg_f min_temp_f",
    ("tmax_c", CELSIUS): "tmax_c tmax_degrees_celsius tmax_deg_c max_temp_c",
    ("tmax_c", FAHRENHEIT): "tmax_f tmax_degrees_fahrenheit tmax_deg_f max_temp_f",
    ("ground_tmin_c", CELSIUS): "ground_tmin_c tmin_10cm_c",
    ("ground_tmin_c", FAHRENHEIT): "ground_tmin_f",
    ("rain_mm", MILLIMETRES): "rain_mm prcp_mm precip_mm precipitation_mm prcp_millimeters total_precip_mm",
    ("rain_mm", INCHES): "rain_in prcp_in precip_in precipitation_in prcp_inches",
    ("rh_mean_pct", PERCENT): "rh_mean_pct rhmean_pct rh_pct",
    ("rh_max_pct", PERCENT): "rh_max_pct rhmax_pct",
    ("rh_min_pct", PERCENT): "rh_min_pct rhmin_pct",
    ("radiation_mj_m2", MEGAJOULES): "radiation_mj_m2 rs_mj_m2 solar_mj_m2",
    ("sunshine_h", HOURS): "sunshine_h sun_h",
    ("sunshine_h", MINUTES): "sunshine_min sun_min",
}

KNOWN: Final[dict[str, tuple[Quantity, Unit]]] = {
    name: meaning for meaning, names in _NAMES.items() for name in names.split()
}

WIND = re.compile(
    r"wind_?(?:speed_)?(?:(?P<height>[0-9]+(?:_[0-9]+)?)_?m_)?(?P<unit>m_s|ms|km_h|kmh|mph)(?:_mean)?"
)
WIND_UNITS: Final[dict[str, Unit]] = {
    "m_s": METRES_PER_SECOND,
    "ms": METRES_PER_SECOND,
    "km_h": KILOMETRES_PER_HOUR,
    "kmh": KILOMETRES_PER_HOUR,
    "mph": MILES_PER_HOUR,
}

UNITLESS: Final[dict[str, Quantity]] = {
    "tmin": "tmin_c", "min_temp": "tmin_c", "temp_min": "tmin_c", "minimum_temperature": "tmin_c",
    "tmax": "tmax_c", "max_temp": "tmax_c", "temp_max": "tmax_c", "maximum_temperature": "tmax_c",
    "rain": "rain_mm", "rainfall": "rain_mm",
    "prcp": "rain_mm", "precip": "rain_mm", "precipitation": "rain_mm",
    "wind": "wind_m_s", "awnd": "wind_m_s", "wind_speed": "wind_m_s",
    "tsun": "sunshine_h", "rhav": "rh_mean_pct", "rhmx": "rh_max_pct", "rhmn": "rh_min_pct",
}  # fmt: skip
"""Names without a unit: read only where the layout tells the unit."""

EXAMPLE_NAMES: Final[dict[Quantity, str]] = {
    "tmin_c": "tmin_c or tmin_f",
    "tmax_c": "tmax_c or tmax_f",
    "rain_mm": "rain_mm or rain_in",
    "wind_m_s": "wind_10m_m_s or wind_10m_mph",
}


@dataclass(frozen=True, slots=True)
class Column:
    """A column that is understood; `index` counts from 0."""

    index: int
    name: str
    """As written in the file."""
    quantity: Quantity
    unit: Unit
    wind_height_m: float | None = None


def plain_name(name: str) -> str:
    """A column name in the form in which names are compared."""
    return re.sub(r"[^a-z0-9]+", "_", name.strip().lower()).strip("_")


def column_of(name: str, index: int) -> Column | None:
    """What a column holds according to its name; None where the name is not known."""
    plain = plain_name(name)
    if plain in KNOWN:
        quantity, unit = KNOWN[plain]
        return Column(index, name.strip(), quantity, unit)
    wind = WIND.fullmatch(plain)
    if wind is None:
        return None
    height_m = float(wind["height"].replace("_", ".")) if wind["height"] else None
    return Column(index, name.strip(), "wind_m_s", WIND_UNITS[wind["unit"]], height_m)


def n_understood(names: list[str]) -> int:
    """How many of a row's fields are names of columns; 0 if there is no date among them."""
    plain = [plain_name(name) for name in names]
    if not DATE_NAMES.intersection(plain):
        return 0
    return sum(name in DATE_NAMES or name in UNITLESS or column_of(name, 0) is not None for name in plain)
