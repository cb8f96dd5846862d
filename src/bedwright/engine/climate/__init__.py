"""What the weather record says of the site."""

from bedwright.engine.climate.degree_days import DegreeDayMethod, degree_days
from bedwright.engine.climate.frost import (
    CHANCES_PCT,
    THRESHOLDS_C,
    FrostDays,
    frost_days,
    frost_free_days,
    frost_free_days_by_year,
    frost_tables,
)
from bedwright.engine.climate.gaps import fill_gaps
from bedwright.engine.climate.ground_frost import (
    GROUND_FROST_ALLOWANCE_C,
    PlantMinimum,
    measured_allowance_c,
    plant_minimum,
)
from bedwright.engine.climate.reference_et import (
    ReferenceEt,
    hargreaves_mm,
    penman_monteith_mm,
    reference_et,
)
from bedwright.engine.climate.seasons import SEASON_DAYS, SOWING_DEPTH_M, season_years
from bedwright.engine.climate.soil_temperature import annual_wave_c, damping_depth_m, soil_temperature_c
from bedwright.engine.climate.sources import CLIMATE_SOURCES
from bedwright.engine.climate.summary import climate_of, confidence_words, month_means

__all__ = [
    "CHANCES_PCT",
    "CLIMATE_SOURCES",
    "GROUND_FROST_ALLOWANCE_C",
    "SEASON_DAYS",
    "SOWING_DEPTH_M",
    "THRESHOLDS_C",
    "DegreeDayMethod",
    "FrostDays",
    "PlantMinimum",
    "ReferenceEt",
    "annual_wave_c",
    "climate_of",
    "confidence_words",
    "damping_depth_m",
    "degree_days",
    "fill_gaps",
    "frost_days",
    "frost_free_days",
    "frost_free_days_by_year",
    "frost_tables",
    "hargreaves_mm",
    "measured_allowance_c",
    "month_means",
    "penman_monteith_mm",
    "plant_minimum",
    "reference_et",
    "season_years",
    "soil_temperature_c",
]
