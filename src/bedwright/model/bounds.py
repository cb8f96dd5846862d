"""Permitted ranges of physical numbers, each written once.

The reader, the printed schema, the guide and the forms read them from here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Bounds:
    """A closed range with its unit."""

    low: float
    high: float
    unit: str

    def __contains__(self, value: float) -> bool:
        return math.isfinite(value) and self.low <= value <= self.high

    def __str__(self) -> str:
        return f"{plain_number(self.low)} to {plain_number(self.high)} {self.unit}".rstrip()


def plain_number(value: float) -> str:
    """A number in at most six significant digits, never in powers of ten."""
    rounded = float(f"{value:.6g}")
    return str(int(rounded)) if rounded.is_integer() else f"{rounded:.9f}".rstrip("0")


LATITUDE_DEG = Bounds(-90, 90, "degrees north")
LONGITUDE_DEG = Bounds(-180, 180, "degrees east")
ELEVATION_M = Bounds(-430, 6000, "m")
BEARING_DEG = Bounds(0, 360, "degrees clockwise from north")
SLOPE_DEG = Bounds(0, 45, "degrees from the level")
POSITION_M = Bounds(-2000, 2000, "m")
BED_LENGTH_M = Bounds(0.3, 60, "m")
BED_WIDTH_M = Bounds(0.2, 12, "m")
BED_RADIUS_M = Bounds(0.15, 10, "m")
BED_HEIGHT_M = Bounds(0, 1.5, "m")
SUN_H = Bounds(0, 24, "h a day")
SOIL_DEPTH_M = Bounds(0.05, 3, "m")
SUPPORT_HEIGHT_M = Bounds(0.3, 4, "m")
FEATURE_HEIGHT_M = Bounds(0, 60, "m")
PATH_WIDTH_M = Bounds(0.01, 10, "m")
CROWN_RADIUS_M = Bounds(0.1, 25, "m")
CROWN_BASE_M = Bounds(0, 30, "m")
SITE_SPREAD_M = Bounds(0, 500, "m from the middle of the beds")
SPACING_CM = Bounds(1, 400, "cm")
SOW_DEPTH_MM = Bounds(0, 200, "mm")
DAYS_TO_MATURITY_DAYS = Bounds(10, 400, "days")
HEIGHT_CM = Bounds(1, 500, "cm")
AMOUNT_PLANTS = Bounds(1, 20000, "plants")
AMOUNT_ROW_M = Bounds(0.1, 2000, "m")
AMOUNT_HARVEST_KG = Bounds(0.05, 5000, "kg")
PRIORITY = Bounds(1, 5, "(1 nice to have, 5 must have)")
SUCCESSIONS = Bounds(1, 20, "sowings")
FROST_RISK_PCT = Bounds(1, 50, "percent")
CHANCE_WANTED_PCT = Bounds(50, 99, "percent")
HOURS_PER_WEEK = Bounds(0, 2000, "h a week")
SOIL_PH = Bounds(3, 10, "pH")
SOIL_NUTRIENT_MG_KG = Bounds(0, 5000, "mg/kg")
ORGANIC_MATTER_PCT = Bounds(0, 80, "percent")
LEAD_MG_KG = Bounds(0, 20000, "mg/kg")
LEAD_LEVEL_MG_KG = Bounds(1, 20000, "mg/kg")
SEED_MASS_G = Bounds(0, 50000, "g")
SEED_COUNT = Bounds(0, 1000000, "seeds")
PACKET_SEEDS = Bounds(1, 1000000, "seeds")
GERMINATION_TEST_SEEDS = Bounds(1, 1000, "seeds")
DONATION_KG = Bounds(0, 20000, "kg")
YEAR = Bounds(1900, 2200, "")
MONTH = Bounds(1, 12, "")
SEASON_REACH_DAYS = Bounds(0, 730, "days after the season's start")
TAP_FLOW_L_MIN = Bounds(0.5, 100, "L/min")
CAN_L = Bounds(0.5, 30, "L")
WEEK_WATER_L = Bounds(0, 1000000, "L")
TANK_L = Bounds(10, 100000, "L")
ROOF_M2 = Bounds(0.5, 5000, "m2")
LIME_G_M2 = Bounds(0, 5000, "g/m2")
BENCH_M2 = Bounds(0, 2000, "m2")
TRAYS = Bounds(0, 10000, "trays")
ALONG_M = Bounds(0, 60, "m")
WORKDAY_HOURS = Bounds(0.5, 12, "h")
WORKDAY_PEOPLE = Bounds(1, 500, "people")
LABOUR_MIN_PER_M2 = Bounds(0.01, 600, "min/m2")
LABOUR_MIN_PER_ROW_M = Bounds(0.01, 600, "min/m")
LABOUR_MIN_PER_KG = Bounds(0.01, 600, "min/kg")
LABOUR_MIN_EACH = Bounds(0.01, 600, "min")
PACK_G = Bounds(0.01, 2000000, "g")
PACK_SEEDS = Bounds(1, 1000000, "seeds")
PACK_PLANTS = Bounds(1, 10000, "plants")
PACK_L = Bounds(0.1, 50000, "L")
PACK_M = Bounds(0.1, 10000, "m")
PACK_PIECES = Bounds(1, 100000, "pieces")
PRICE = Bounds(0, 100000, "in the supplier's currency")
LEAD_DAYS = Bounds(0, 365, "days")
MANURE_REACH_DAYS = Bounds(-730, 730, "days from the season's start")
STOCK_L = Bounds(0, 1000000, "L")
STOCK_KG = Bounds(0, 1000000, "kg")
STOCK_M = Bounds(0, 100000, "m")
STOCK_PIECES = Bounds(0, 1000000, "pieces")

# How much of each thing one book may hold: far more than any garden needs, so that a
# document gone wrong is refused in words and never by running out of memory.
NAME_LENGTH = Bounds(1, 80, "characters")
CODE_LENGTH = Bounds(1, 40, "characters")
BED_CODE_LENGTH = Bounds(1, 6, "characters")
PLANTING_CODE_LENGTH = Bounds(1, 60, "characters")
TIME_LENGTH = Bounds(4, 5, "characters")
CURRENCY_LENGTH = Bounds(3, 3, "characters")
RANGE_COUNT = Bounds(3, 3, "figures: low, likely, high")
NOTE_LENGTH = Bounds(1, 4000, "characters")
N_BEDS = Bounds(1, 200, "beds")
N_FEATURES = Bounds(0, 500, "features")
N_VERTICES = Bounds(3, 200, "vertices")
N_FEATURE_VERTICES = Bounds(1, 200, "vertices")
N_WISHES = Bounds(0, 1000, "wishes")
N_HISTORY = Bounds(0, 5000, "entries")
N_ENTRIES = Bounds(0, 1000, "entries")
N_PACKS = Bounds(1, 1000, "packs")
BOOK_BYTES = Bounds(1, 1_000_000, "bytes")
BOOK_VALUES = Bounds(1, 100_000, "values")
BOOK_DEPTH = Bounds(1, 30, "levels")
