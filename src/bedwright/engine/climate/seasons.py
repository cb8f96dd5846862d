"""A record cut into seasons that begin on the same month and day."""

from __future__ import annotations

from datetime import date

import numpy as np

from bedwright.engine.climate.dates import anniversary, day_of_year
from bedwright.engine.climate.ground_frost import plant_minimum
from bedwright.engine.climate.soil_temperature import soil_temperature_c
from bedwright.model.weather import FloatArray, SeasonYears, WeatherRecord

SEASON_DAYS = 365 + 250
"""Days followed from each start: garlic set in October of a season that starts in March is lifted
by the July after next New Year."""

SOWING_DEPTH_M = 0.05


def season_years(
    record: WeatherRecord,
    season_start: date,
    *,
    soil_depth_m: float = SOWING_DEPTH_M,
    n_days: int = SEASON_DAYS,
) -> SeasonYears:
    """Cut a record into seasons that begin on the month and day of the season's start.

    Parameters
    ----------
    record : WeatherRecord
        Without gaps in minimum, maximum and rain.
    season_start : date
        Start of the season being planned; only month and day matter. 29 February becomes 1 March in
        common years.
    soil_depth_m : float
        Depth for the soil temperature. [m], 0 to 0.3.
    n_days : int
        Days followed from each start, at least 1.

    Returns
    -------
    SeasonYears
        A season for each start whose n_days lie wholly in the record. Seasons overlap where n_days is
        more than a year: each stays one independent start. Only the starts of the last n_days of
        the record are lost, one or two with the 615 days taken by default; a caller who follows
        nothing over winter asks for 365 days and loses one fewer.

    Raises
    ------
    ValueError
        If the record has gaps, or no start is followed by n_days in it.
    """
    for name in ("tmin_c", "tmax_c", "rain_mm"):
        if not np.isfinite(getattr(record, name)).all():
            raise ValueError(f"{name} has missing values; fill the gaps first")
    starts = _starts(record, season_start, n_days)
    if not starts:
        raise ValueError(
            f"the record, {record.dates[0]} to {record.dates[-1]}, does not hold {n_days} days"
            f" from a {season_start:%d %B}"
        )
    plants = plant_minimum(record)
    tmean_c = (record.tmin_c + record.tmax_c) / 2
    soil_c = soil_temperature_c(tmean_c, soil_depth_m, int(day_of_year(record.dates[:1])[0]))
    rows = np.array([index for _, index in starts])[:, None] + np.arange(n_days)[None, :]

    def cut(series: FloatArray) -> FloatArray:
        return series[rows]

    return SeasonYears(
        season_start=season_start,
        years=tuple(year for year, _ in starts),
        tmin_c=cut(record.tmin_c),
        tmax_c=cut(record.tmax_c),
        rain_mm=cut(record.rain_mm),
        plant_tmin_c=cut(plants.tmin_c),
        soil_temp_c=cut(soil_c),
        soil_depth_m=soil_depth_m,
        ground_frost_allowance_c=plants.allowance_c,
    )


def _starts(record: WeatherRecord, season_start: date, n_days: int) -> list[tuple[int, int]]:
    """Year and index of every start that is followed by n_days."""
    first, last = record.dates[0].astype(date), record.dates[-1].astype(date)
    found = []
    for year in range(first.year, last.year + 1):
        index = (anniversary(season_start, year) - first).days
        if index >= 0 and index + n_days <= record.dates.size:
            found.append((year, index))
    return found
