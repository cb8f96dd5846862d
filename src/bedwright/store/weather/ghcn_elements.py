"""The elements of GHCN-Daily that a season plan can use, and their units.

Source: NOAA National Centers for Environmental Information, GHCN-Daily readme.txt, section III
(element definitions; seen in public copies). Humidity elements came with later versions:
RHAV, RHMN and RHMX in whole percent.
"""

from __future__ import annotations

from typing import Final

from bedwright.store.weather.quantities import (
    MINUTES,
    PERCENT,
    TENTHS_OF_CELSIUS,
    TENTHS_OF_METRES_PER_SECOND,
    TENTHS_OF_MILLIMETRES,
    Quantity,
    Unit,
)

ELEMENTS: Final[dict[str, tuple[Quantity, Unit]]] = {
    "TMAX": ("tmax_c", TENTHS_OF_CELSIUS),
    "TMIN": ("tmin_c", TENTHS_OF_CELSIUS),
    "PRCP": ("rain_mm", TENTHS_OF_MILLIMETRES),
    "AWND": ("wind_m_s", TENTHS_OF_METRES_PER_SECOND),
    "RHAV": ("rh_mean_pct", PERCENT),
    "RHMX": ("rh_max_pct", PERCENT),
    "RHMN": ("rh_min_pct", PERCENT),
    "TSUN": ("sunshine_h", MINUTES),
}

MULTIDAY_RAIN = "MDPR"
"""A total over several days; the daily element is missing on those days."""

CITATION = "GHCN-Daily, NOAA National Centers for Environmental Information"

WIND_HEIGHT_NOTE = (
    "GHCN-Daily does not state the height of the anemometer; 10 m, the standard height, is taken."
)


def provenance(station: str) -> str:
    """Where a GHCN-Daily record comes from, in one line."""
    return f"Station {station}, {CITATION}"


def multiday_note(n_totals: int) -> str:
    """A note on rain totals over several days, which are not spread over those days."""
    return f"{n_totals} rain totals over several days were left out; their days count as missing."
