"""Observations as read from a file, before they are checked and put in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from bedwright.model.weather import FloatArray
from bedwright.store.weather.quantities import STANDARD_WIND_HEIGHT_M, Quantity

DayArray = NDArray[np.int64]
"""Days since 1 January 1970."""

Place = Callable[[Quantity | None, int], tuple[int | None, int | None]]
"""Line and column (from 1) of a quantity, or of the date, in a row of `DailyValues`."""


@dataclass(slots=True)
class DailyValues:
    """Daily values of one station in SI units, rows in the order of the file.

    `days` and each array of `values` have shape (n_rows,); a missing value is nan.
    """

    station: str
    provenance: str
    days: DayArray
    values: dict[Quantity, FloatArray]
    place: Place
    invented: bool = False
    wind_height_m: float = STANDARD_WIND_HEIGHT_M
    n_flagged_dropped: int = 0
    notes: list[str] = field(default_factory=list)


def iso_date(day: int) -> str:
    """A day counted from 1 January 1970 as a year, month and day."""
    return str(np.datetime64(day, "D"))
