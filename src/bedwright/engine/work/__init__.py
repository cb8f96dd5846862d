"""Tasks, hours, people, and the plans made for them."""

from bedwright.engine.work.bed_hours import bed_hours
from bedwright.engine.work.blocks import blocks_of
from bedwright.engine.work.due import due_tasks
from bedwright.engine.work.hours import VOLUNTEER_FACTOR, season_hours
from bedwright.engine.work.rates import RATES, own_rates_of, rates_in_use, with_own_rates
from bedwright.engine.work.relief import relief
from bedwright.engine.work.sources import SOURCES
from bedwright.engine.work.tasks import TASK_SOURCES, tasks_of
from bedwright.engine.work.week_list import week_list
from bedwright.engine.work.workday import plan_workday
from bedwright.engine.work.workday_check import check_workday

__all__ = [
    "RATES",
    "SOURCES",
    "TASK_SOURCES",
    "VOLUNTEER_FACTOR",
    "bed_hours",
    "blocks_of",
    "check_workday",
    "due_tasks",
    "own_rates_of",
    "plan_workday",
    "rates_in_use",
    "relief",
    "season_hours",
    "tasks_of",
    "week_list",
    "with_own_rates",
]
