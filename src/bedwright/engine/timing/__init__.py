"""When each crop can go in, with its chance."""

from bedwright.engine.timing.choices import (
    DateTable,
    allowed_days,
    best_choice,
    date_choices,
    date_table,
    last_useful_sowing,
)
from bedwright.engine.timing.outcomes import CAUSES, Outcomes, sowing_outcomes
from bedwright.engine.timing.site_calendar import CropCalendar, PlantingWindow, calendar_for_site
from bedwright.engine.timing.sources import TIMING_SOURCES
from bedwright.engine.timing.stated import stated_choices
from bedwright.engine.timing.successions import Succession, successions
from bedwright.engine.timing.wishes import plan_dates

__all__ = [
    "CAUSES",
    "TIMING_SOURCES",
    "CropCalendar",
    "DateTable",
    "Outcomes",
    "PlantingWindow",
    "Succession",
    "allowed_days",
    "best_choice",
    "calendar_for_site",
    "date_choices",
    "date_table",
    "last_useful_sowing",
    "plan_dates",
    "sowing_outcomes",
    "stated_choices",
    "successions",
]
