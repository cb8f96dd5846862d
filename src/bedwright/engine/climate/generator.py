"""Invents daily weather for demonstrations, with the persistence and seasons of real weather.

Richardson's generator: a chain of wet and dry days, gamma-distributed rain, and temperatures and
radiation that swing about their seasonal means together. Invented weather shows how things work;
it says nothing of any place, and no season may be planned on it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.engine.climate.air import mean_saturation_vapour_pressure_kpa, saturation_vapour_pressure_kpa
from bedwright.engine.climate.dates import day_of_year
from bedwright.engine.climate.radiation import sun_day
from bedwright.model.weather import BoolArray, FloatArray, WeatherRecord

# Both matrices: Richardson & Wright (1984) WGEN: a model for generating daily weather variables,
# USDA Agricultural Research Service ARS-8; the form is Richardson (1981) Water Resources Research
# 17:182-190, Eq. 5. Seen second-hand, alike in several public programs that name that report; the
# report itself was not seen. Order: maximum temperature, minimum temperature, solar radiation.
LAG_MATRIX = np.array(
    [
        [0.567, 0.086, -0.002],
        [0.253, 0.504, -0.050],
        [-0.006, -0.039, 0.244],
    ]
)
"""How the deviations of one day follow from those of the day before."""
INNOVATION_MATRIX = np.array(
    [
        [0.781, 0.000, 0.000],
        [0.328, 0.637, 0.000],
        [0.238, -0.341, 0.873],
    ]
)
"""How the new part of a day's deviations is shared between the quantities."""

DAYS_IN_YEAR = 365.25
LEAST_RAIN_MM = 0.1
"""Least rain of a wet day: what a gauge shows (common practice, no source)."""
LEAST_DAILY_RANGE_C = 0.5
"""Least difference between maximum and minimum (own choice)."""
CLEARNESS_RANGE = (0.04, 0.75)
"""Share of the radiation above the air that arrives: upper end FAO-56 Eq. 37 at sea level, lower end own."""
HUMIDITY_RANGE_PCT = (25.0, 100.0)
"""Own choice."""
N_DAYS_BEFORE = 60
"""Days generated and thrown away, so that the first year does not start from the mean."""


@dataclass(frozen=True, slots=True)
class Harmonic:
    """A quantity that swings once a year about its mean, highest on its peak day."""

    mean: float
    amplitude: float = 0.0
    peak_day: float = 200.0
    """Day of the year."""

    def on(self, day: FloatArray) -> FloatArray:
        """Values on days of the year, of any shape."""
        return self.mean + self.amplitude * np.cos(2 * np.pi * (day - self.peak_day) / DAYS_IN_YEAR)


@dataclass(frozen=True, slots=True)
class GeneratorParameters:
    """A climate in the form the generator needs."""

    station: str
    provenance: str
    """Must tell the reader that the record is invented."""
    latitude_deg: float
    chance_wet_after_dry: Harmonic
    chance_wet_after_wet: Harmonic
    wet_day_rain_mm: Harmonic
    """Mean rain of a wet day."""
    rain_shape: float
    """Shape of the gamma distribution; below 1, small amounts prevail."""
    tmax_dry_c: Harmonic
    tmax_wet_c: Harmonic
    tmin_dry_c: Harmonic
    tmin_wet_c: Harmonic
    tmax_sd_c: Harmonic
    tmin_sd_c: Harmonic
    clearness_dry: Harmonic
    """Share of the radiation above the air that reaches the ground on dry days."""
    clearness_wet: Harmonic
    clearness_sd: float
    wind_2m_m_s: Harmonic
    wind_log_sd: float
    """Standard deviation of the logarithm of the daily mean wind."""
    wind_lag_correlation: float
    dew_point_above_tmin_dry_c: float
    """How far the dew point lies above the minimum, on average; negative on dry days inland."""
    dew_point_above_tmin_wet_c: float
    dew_point_sd_c: float


def generate_weather(climate: GeneratorParameters, n_years: int, first_year: int, seed: int) -> WeatherRecord:
    """Invented daily weather of whole calendar years.

    Parameters
    ----------
    climate : GeneratorParameters
        Seasonal means and spreads.
    n_years : int
        Whole calendar years, at least 1.
    first_year : int
        Year of the first day.
    seed : int
        Not negative; the same seed gives the same record with the same release of numpy.

    Returns
    -------
    WeatherRecord
        Minimum, maximum, rain, radiation, wind at 2 m and mean humidity, without gaps; `invented`.

    Raises
    ------
    ValueError
        If `n_years` is below 1 or `seed` is negative.

    Source
    ------
    Occurrence, deviations and their matrices: Richardson (1981) Water Resources Research 17:182-190;
    gamma-distributed amounts and the matrices' values: Richardson & Wright (1984), USDA ARS-8.
    Humidity from the dew point near the minimum temperature: FAO-56 Eq. 48, with Eq. 11 and 12.
    Radiation is generated as a share of FAO-56 Eq. 21, so that the latitude shapes its year. Wind is
    no part of Richardson's generator: a lognormal chain, chosen here.

    Limits
    ------
    One swing a year for each mean. Years differ less from each other than real years do, a known
    weakness of such generators: a run of invented years makes risk look smaller than it is.
    """
    if n_years < 1:
        raise ValueError(f"at least one year is needed; got {n_years}")
    dates = np.arange(f"{first_year:04d}-01-01", f"{first_year + n_years:04d}-01-01", dtype="datetime64[D]")
    with_before = np.concatenate([dates[0] - np.arange(N_DAYS_BEFORE, 0, -1), dates])
    day = day_of_year(with_before).astype(np.float64)
    occurrence, amount, deviation, breeze, vapour = (
        np.random.Generator(np.random.PCG64(child)) for child in np.random.SeedSequence(seed).spawn(5)
    )
    wet = _wet_days(climate, day, occurrence)
    rain_mm = _rain_mm(climate, day, wet, amount)
    deviations = _deviations(day.size, deviation)
    tmin_c, tmax_c = _temperatures_c(climate, day, wet, deviations)
    radiation_mj_m2 = _radiation_mj_m2(climate, day, wet, deviations[:, 2])
    wind_m_s = _wind_2m_m_s(climate, day, breeze)
    rh_mean_pct = _rh_mean_pct(climate, wet, tmin_c, tmax_c, vapour)
    kept = slice(N_DAYS_BEFORE, None)
    return WeatherRecord(
        station=climate.station,
        provenance=climate.provenance,
        invented=True,
        dates=dates,
        tmin_c=tmin_c[kept],
        tmax_c=tmax_c[kept],
        rain_mm=rain_mm[kept],
        wind_m_s=wind_m_s[kept],
        wind_height_m=2.0,
        rh_mean_pct=rh_mean_pct[kept],
        radiation_mj_m2=radiation_mj_m2[kept],
    )


def _wet_days(climate: GeneratorParameters, day: FloatArray, random: np.random.Generator) -> BoolArray:
    """Two-state chain of the first order: the chance of rain depends on the day before."""
    after_dry = climate.chance_wet_after_dry.on(day)
    after_wet = climate.chance_wet_after_wet.on(day)
    drawn = random.random(day.size)
    wet = np.zeros(day.size, dtype=np.bool_)
    yesterday = False
    for index, draw in enumerate(drawn):
        yesterday = bool(draw < (after_wet[index] if yesterday else after_dry[index]))
        wet[index] = yesterday
    return wet


def _rain_mm(
    climate: GeneratorParameters, day: FloatArray, wet: BoolArray, random: np.random.Generator
) -> FloatArray:
    scale_mm = climate.wet_day_rain_mm.on(day) / climate.rain_shape
    amount_mm = scale_mm * random.standard_gamma(climate.rain_shape, size=day.size)
    return np.where(wet, np.maximum(amount_mm, LEAST_RAIN_MM), 0.0)


def _deviations(n_days: int, random: np.random.Generator) -> FloatArray:
    """Deviations of shape (n_days, 3) in standard deviations: Richardson (1981) Eq. 5."""
    new = random.standard_normal((n_days, 3)) @ INNOVATION_MATRIX.T
    deviations = np.empty((n_days, 3))
    yesterday = np.zeros(3)
    for index in range(n_days):
        yesterday = LAG_MATRIX @ yesterday + new[index]
        deviations[index] = yesterday
    return deviations


def _temperatures_c(
    climate: GeneratorParameters, day: FloatArray, wet: BoolArray, deviations: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Minimum and maximum of each day."""
    mean_tmax_c = np.where(wet, climate.tmax_wet_c.on(day), climate.tmax_dry_c.on(day))
    mean_tmin_c = np.where(wet, climate.tmin_wet_c.on(day), climate.tmin_dry_c.on(day))
    tmax_c = mean_tmax_c + climate.tmax_sd_c.on(day) * deviations[:, 0]
    tmin_c = mean_tmin_c + climate.tmin_sd_c.on(day) * deviations[:, 1]
    return np.minimum(tmin_c, tmax_c - LEAST_DAILY_RANGE_C), tmax_c


def _radiation_mj_m2(
    climate: GeneratorParameters, day: FloatArray, wet: BoolArray, deviation: FloatArray
) -> FloatArray:
    mean = np.where(wet, climate.clearness_wet.on(day), climate.clearness_dry.on(day))
    clearness = np.clip(mean + climate.clearness_sd * deviation, *CLEARNESS_RANGE)
    return clearness * sun_day(climate.latitude_deg, day).extraterrestrial_mj_m2


def _wind_2m_m_s(climate: GeneratorParameters, day: FloatArray, random: np.random.Generator) -> FloatArray:
    """Lognormal daily means that remember the day before; their mean is that of the harmonic."""
    memory, spread = climate.wind_lag_correlation, climate.wind_log_sd
    new = random.standard_normal(day.size) * np.sqrt(1 - memory**2)
    logarithm = np.empty(day.size)
    yesterday = 0.0
    for index, draw in enumerate(new):
        yesterday = memory * yesterday + float(draw)
        logarithm[index] = yesterday
    wind_m_s: FloatArray = climate.wind_2m_m_s.on(day) * np.exp(spread * logarithm - spread**2 / 2)
    return wind_m_s


def _rh_mean_pct(
    climate: GeneratorParameters,
    wet: BoolArray,
    tmin_c: FloatArray,
    tmax_c: FloatArray,
    random: np.random.Generator,
) -> FloatArray:
    """Mean relative humidity of each day from a dew point near the minimum."""
    above_c = np.where(wet, climate.dew_point_above_tmin_wet_c, climate.dew_point_above_tmin_dry_c)
    dew_point_c = tmin_c + above_c + climate.dew_point_sd_c * random.standard_normal(wet.size)
    vapour_kpa = saturation_vapour_pressure_kpa(dew_point_c)
    humidity_pct = 100 * vapour_kpa / mean_saturation_vapour_pressure_kpa(tmin_c, tmax_c)
    within_pct: FloatArray = np.clip(humidity_pct, *HUMIDITY_RANGE_PCT)
    return within_pct
