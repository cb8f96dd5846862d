"""What a weather file may hold: quantities, units, permitted ranges."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Literal, get_args

from bedwright.model.bounds import Bounds
from bedwright.model.weather import FloatArray

Quantity = Literal[
    "tmin_c", "tmax_c", "rain_mm", "wind_m_s", "rh_mean_pct", "rh_max_pct", "rh_min_pct",
    "radiation_mj_m2", "sunshine_h", "ground_tmin_c",
]  # fmt: skip
"""Field names of a weather record."""

QUANTITIES: Final[tuple[Quantity, ...]] = get_args(Quantity)
NEEDED: Final[tuple[Quantity, ...]] = ("tmin_c", "tmax_c", "rain_mm")
TEMPERATURES: Final[tuple[Quantity, ...]] = ("tmin_c", "tmax_c", "ground_tmin_c")

MISSING_CODE = -9999
"""Missing value of GHCN-Daily (its readme, section III)."""

STANDARD_WIND_HEIGHT_M = 10.0
"""Height of a standard anemometer above open ground (WMO-No. 8, chapter on surface wind; from memory)."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit a file may use; value in the record = (file value + shift) * scale / parts.

    Two factors, so that a tenth is a division by 10 and 0.3 comes out as 0.3.
    """

    name: str
    scale: float = 1.0
    parts: float = 1.0
    shift: float = 0.0
    us: bool = False

    def to_record(self, values: FloatArray) -> FloatArray:
        """Values of any shape, converted to the unit of the record's field."""
        return (values + self.shift) * self.scale / self.parts


# Scales of inch, mile and Fahrenheit are exact by definition (NIST SP 811, appendix B; from memory).
CELSIUS = Unit("°C")
TENTHS_OF_CELSIUS = Unit("tenths of °C", parts=10)
FAHRENHEIT = Unit("°F", scale=5, parts=9, shift=-32, us=True)
MILLIMETRES = Unit("mm")
TENTHS_OF_MILLIMETRES = Unit("tenths of mm", parts=10)
INCHES = Unit("inches", scale=25.4, us=True)
METRES_PER_SECOND = Unit("m/s")
TENTHS_OF_METRES_PER_SECOND = Unit("tenths of m/s", parts=10)
KILOMETRES_PER_HOUR = Unit("km/h", parts=3.6)
MILES_PER_HOUR = Unit("mph", scale=0.44704, us=True)
PERCENT = Unit("percent")
MEGAJOULES = Unit("MJ/m² a day")
HOURS = Unit("hours")
MINUTES = Unit("minutes", parts=60)

# World records: -89.2 °C (Vostok 1983), 56.7 °C (Furnace Creek 1913), 1825 mm in 24 h (Foc-Foc 1966):
# WMO World Weather and Climate Extremes Archive, seen in second-hand lists. The rest is rounded outwards.
HIGHEST_CELSIUS = 57
HIGHEST_FAHRENHEIT = 134
"""No °F goes above the world record, so whole figures above it are tenths of °C."""
TEMPERATURE_C = Bounds(-90, 60, "°C")
RAIN_MM = Bounds(0, 1900, "mm a day")
WIND_M_S = Bounds(0, 60, "m/s as a daily mean")  # common practice, no source
HUMIDITY_PCT = Bounds(0, 100, "percent")
# No place receives more above the atmosphere than about 49 MJ/m² a day (FAO-56, annex 2, table 2.6).
RADIATION_MJ_M2 = Bounds(0, 50, "MJ/m² a day")
SUNSHINE_H = Bounds(0, 24, "hours")

BOUNDS: Final[dict[Quantity, Bounds]] = {
    "tmin_c": TEMPERATURE_C,
    "tmax_c": TEMPERATURE_C,
    "ground_tmin_c": TEMPERATURE_C,
    "rain_mm": RAIN_MM,
    "wind_m_s": WIND_M_S,
    "rh_mean_pct": HUMIDITY_PCT,
    "rh_max_pct": HUMIDITY_PCT,
    "rh_min_pct": HUMIDITY_PCT,
    "radiation_mj_m2": RADIATION_MJ_M2,
    "sunshine_h": SUNSHINE_H,
}

LABELS: Final[dict[Quantity, str]] = {
    "tmin_c": "daily minimum temperature",
    "tmax_c": "daily maximum temperature",
    "ground_tmin_c": "minimum temperature at the ground",
    "rain_mm": "rain",
    "wind_m_s": "wind",
    "rh_mean_pct": "mean relative humidity",
    "rh_max_pct": "highest relative humidity",
    "rh_min_pct": "lowest relative humidity",
    "radiation_mj_m2": "solar radiation",
    "sunshine_h": "sunshine",
}
