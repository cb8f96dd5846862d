"""The water log described once, in the kinds of the garden book."""

from __future__ import annotations

from typing import Final

from bedwright.model import bounds
from bedwright.model.bounds import Bounds
from bedwright.store.book.kinds import Field, Group, ListOf, Number, Record
from bedwright.store.book.texts import BED_CODE, DAY, PLANTING_CODE

WATER_LOG_VERSION: Final = 1
RAIN_MM = Bounds(0, 500, "mm")
"""Of one reading: more in a day has fallen in few places on earth."""
REFERENCE_ET_MM = Bounds(0, 20, "mm")
WATERING_L = Bounds(0, 10_000, "L")
N_READINGS = Bounds(0, 4000, "readings")
N_WATERINGS = Bounds(0, 20_000, "waterings")
N_FORECAST = Bounds(0, 30, "days")

_RAIN_SLIP = "Rain is never negative: 0 for a dry gauge. Was it tenths of a millimetre?"
READING = Record(
    "reading of the rain gauge",
    (
        Field("date", DAY, "Day it was read.", required=True),
        Field("rain_mm", Number(RAIN_MM), "Rain since the reading before.", required=True, slip=_RAIN_SLIP),
    ),
    one_line=True,
)
WATERING = Record(
    "watering",
    (
        Field("date", DAY, "Day water was given.", required=True),
        Field("bed", BED_CODE, "Code of a bed all of whose plantings were watered."),
        Field("planting", PLANTING_CODE, "Code of one planting, or of one of its rows, such as C4."),
        Field("water_l", Number(WATERING_L), "Water given.", required=True),
    ),
    groups=(Group(("bed", "planting"), 1, 1),),
    one_line=True,
)
FORECAST_DAY = Record(
    "day of the forecast",
    (
        Field("date", DAY, "Day to come.", required=True),
        Field("rain_mm", Number(RAIN_MM), "Rain forecast.", required=True, slip=_RAIN_SLIP),
        Field(
            "reference_et_mm",
            Number(REFERENCE_ET_MM),
            "Reference evapotranspiration, where the forecast gives it.",
            left_out="the usual one of that day of the year",
        ),
    ),
    one_line=True,
)
WATER_LOG = Record(
    "water log",
    (
        Field(
            "water_log",
            Number(Bounds(WATER_LOG_VERSION, WATER_LOG_VERSION, ""), whole=True),
            "Version of this form.",
            left_out=str(WATER_LOG_VERSION),
        ),
        Field("rain", ListOf(READING, N_READINGS), "Readings of the rain gauge.", left_out="none"),
        Field("waterings", ListOf(WATERING, N_WATERINGS), "Water given.", left_out="none"),
        Field("forecast", ListOf(FORECAST_DAY, N_FORECAST), "What is forecast.", left_out="none"),
        Field(
            "flow_l_min",
            Number(bounds.TAP_FLOW_L_MIN),
            "What the hose gives now.",
            left_out="as the garden book states",
            slip="Time a bucket: 10 L in 40 seconds are 15 L/min.",
        ),
        Field("can_l", Number(bounds.CAN_L), "What a can holds.", left_out="as the garden book states"),
    ),
)
