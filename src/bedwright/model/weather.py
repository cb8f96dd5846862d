"""Daily weather: the record as read, and the same record cut into seasons."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
DateArray = NDArray[np.datetime64]


@dataclass(frozen=True, slots=True, eq=False)
class WeatherRecord:
    """A daily record of one station, one entry for every day from first to last.

    Arrays have shape (n_days,); a missing value is nan. Optional arrays are None
    where the file does not have the quantity at all.
    """

    station: str
    provenance: str
    """Shown on papers: who observed it, or that it is invented."""
    invented: bool
    dates: DateArray
    """datetime64[D], consecutive."""
    tmin_c: FloatArray
    tmax_c: FloatArray
    rain_mm: FloatArray
    wind_m_s: FloatArray | None = None
    wind_height_m: float = 10.0
    rh_mean_pct: FloatArray | None = None
    rh_max_pct: FloatArray | None = None
    rh_min_pct: FloatArray | None = None
    radiation_mj_m2: FloatArray | None = None
    sunshine_h: FloatArray | None = None
    ground_tmin_c: FloatArray | None = None
    """Minimum at 10 cm above the ground."""
    n_flagged_dropped: int = 0
    """Values dropped because the provider's quality check failed them."""
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, eq=False)
class SeasonYears:
    """A gap-free record cut into seasons that all begin on the same month and day.

    Arrays have shape (n_years, n_days). Day 0 is the season's start; n_days reaches past
    the 365th day so that crops which stand over winter can be followed to harvest. Years
    whose tail lies past the end of the record are left out. Day k of every year is
    compared with day k of every other, so after a 29 February the calendar date of a
    column differs by one day between leap and common years.
    """

    season_start: date
    """Start of the season being planned; its month and day cut the record."""
    years: tuple[int, ...]
    """Calendar year in which each recorded season starts."""
    tmin_c: FloatArray
    """Shelter minimum."""
    tmax_c: FloatArray
    rain_mm: FloatArray
    plant_tmin_c: FloatArray
    """Minimum at the height of low plants: shelter minimum less the ground-frost allowance."""
    soil_temp_c: FloatArray
    """Daily mean soil temperature at `soil_depth_m`."""
    soil_depth_m: float
    ground_frost_allowance_c: float

    @property
    def n_years(self) -> int:
        """Number of seasons."""
        return len(self.years)

    @property
    def n_days(self) -> int:
        """Days followed from the start of each season."""
        return int(self.tmin_c.shape[1])
