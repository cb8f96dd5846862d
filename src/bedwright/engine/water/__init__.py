"""Water in the beds: what the season needs, what to do today, what to do when there is too little."""

from bedwright.engine.water.balance import (
    Canopy,
    CanopyDay,
    Flows,
    Ground,
    WateringRule,
    WaterRun,
    WaterState,
    advance_day,
    field_capacity,
    run_days,
    wanted,
)
from bedwright.engine.water.conditions import recorded_seasons, season_so_far, site_conditions
from bedwright.engine.water.methods import METHODS, cans, litres, method_within_reach, tap_minutes
from bedwright.engine.water.patches import patches_of, sun_share, watering_in_l
from bedwright.engine.water.readings import reading_problems, supply_problems, watering_problems
from bedwright.engine.water.scarce import duty_list, share_out
from bedwright.engine.water.season import EVERY_DAY, demand_run, season_days, season_demand
from bedwright.engine.water.soils import TABLE_19, soil_water, soil_water_of
from bedwright.engine.water.sources import SOURCES
from bedwright.engine.water.stages import established_from, stage_ends, stage_on
from bedwright.engine.water.tank import TankRun, run_tank, tank_sizing
from bedwright.engine.water.today import LOOK_AHEAD_DAYS, water_today
from bedwright.engine.water.yield_response import YieldFactor, yield_factor, yield_loss_share

__all__ = [
    "EVERY_DAY",
    "LOOK_AHEAD_DAYS",
    "METHODS",
    "SOURCES",
    "TABLE_19",
    "Canopy",
    "CanopyDay",
    "Flows",
    "Ground",
    "TankRun",
    "WaterRun",
    "WaterState",
    "WateringRule",
    "YieldFactor",
    "advance_day",
    "cans",
    "demand_run",
    "duty_list",
    "established_from",
    "field_capacity",
    "litres",
    "method_within_reach",
    "patches_of",
    "reading_problems",
    "recorded_seasons",
    "run_days",
    "run_tank",
    "season_days",
    "season_demand",
    "season_so_far",
    "share_out",
    "site_conditions",
    "soil_water",
    "soil_water_of",
    "stage_ends",
    "stage_on",
    "sun_share",
    "supply_problems",
    "tank_sizing",
    "tap_minutes",
    "wanted",
    "water_today",
    "watering_in_l",
    "watering_problems",
    "yield_factor",
    "yield_loss_share",
]
