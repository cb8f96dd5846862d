"""The list of one week, as text, as a page and for a calendar."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

from bedwright.engine.work import week_list
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.model.work import WeekHours, WeekList
from bedwright.papers import Measures, week_calendar_bytes, weeks_bytes
from bedwright.papers.week_list import going_on_words, job_cells, told_in_short, week_words, worth_telling
from bedwright.service.folder import whole_folder

WEEK_MARK = "week.ics"
"""A folder that holds this file was written here and may be replaced."""


def week_of(plan: SeasonPlan, day: date) -> WeekList:
    """The list of the week of a day; empty where nothing is due."""
    care = plan.care
    for week in () if care is None else care.weeks:
        if 0 <= (day - week.week).days < 7:
            return week
    return week_list(plan, day, hours=None if care is None else care.hours)


def week_text(plan: SeasonPlan, week: WeekList, units: UnitSystem) -> str:
    """The list for a terminal, bed by bed in the order of the walk."""
    return "\n".join(_lines(plan, week, Measures(units))) + "\n"


def _lines(plan: SeasonPlan, week: WeekList, measures: Measures) -> Iterator[str]:
    yield f"Week of Monday {week.week:%-d %B %Y}, {plan.book.site.name}, revision {plan.revision}"
    if not week.stops:
        yield "Nothing is due."
        return
    yield week_words(week, _hours(plan, week), measures)
    names = {bed.code: f"Bed {bed.code}  {bed.name}".rstrip() for bed in plan.book.beds}
    for stop in week.stops:
        jobs = worth_telling(stop.jobs)
        if not jobs:
            continue
        yield ""
        where = names[stop.bed_code] if stop.bed_code else "Under cover and at the desk"
        yield f"{where}{f'  (about {stop.likely_min:.0f} min)' if stop.likely_min >= 1 else ''}"
        for job in jobs:
            if told_in_short(job):
                continue
            cells = job_cells(job, measures)
            minutes = f"  {cells['minutes']}" if cells["minutes"] else ""
            yield f"  [ ] {cells['when']}: {job.title}{minutes}"
            yield f"      {cells['details']}"
        also = [going_on_words(job, week.week) for job in jobs if told_in_short(job)]
        if also:
            yield f"  also: {'; '.join(also)}"


def _hours(plan: SeasonPlan, week: WeekList) -> WeekHours | None:
    if plan.care is None:
        return None
    return next((hours for hours in plan.care.hours.weeks if hours.week == week.week), None)


def write_week(plan: SeasonPlan, week: WeekList, folder: Path, paper: PaperSize, units: UnitSystem) -> None:
    """Write the list as a page and as a calendar file; the folder appears whole or not at all.

    Raises
    ------
    BadDocumentError
        If the folder holds other things or cannot be written.
    """
    with whole_folder(folder, WEEK_MARK) as work:
        (work / "week.pdf").write_bytes(weeks_bytes(plan, (week,), paper=paper, units=units))
        (work / WEEK_MARK).write_bytes(week_calendar_bytes(plan, week))
