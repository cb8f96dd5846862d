"""Drawings, sheets, labels, cards, calendars and tables of a season plan."""

from bedwright.papers.calendar_file import calendar_bytes, week_calendar_bytes
from bedwright.papers.climate_pages import climate_chart
from bedwright.papers.label_sheets import LABEL_SHEETS, LabelSheet, default_label_sheet
from bedwright.papers.measures import Measures
from bedwright.papers.workday_pack import PackInput
from bedwright.papers.write import (
    PAPER_NAMES,
    PaperName,
    bed_sheet_bytes,
    pack_bytes,
    weeks_bytes,
    write_papers,
)

__all__ = [
    "LABEL_SHEETS",
    "PAPER_NAMES",
    "LabelSheet",
    "Measures",
    "PackInput",
    "PaperName",
    "bed_sheet_bytes",
    "calendar_bytes",
    "climate_chart",
    "default_label_sheet",
    "pack_bytes",
    "week_calendar_bytes",
    "weeks_bytes",
    "write_papers",
]
