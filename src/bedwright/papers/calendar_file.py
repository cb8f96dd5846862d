"""The season's jobs as a calendar file (RFC 5545).

Every job is an all-day event whose UID comes from its stable code and the garden's name,
so that reading a later file again replaces the event instead of adding one. SEQUENCE and
LAST-MODIFIED grow with the day the plan was made. A job that a later plan no longer has
stays in calendars that read the earlier file; subscribing instead of importing avoids it.
"""

from __future__ import annotations

import re
import unicodedata
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Event

from bedwright.model.season import SeasonPlan, Task
from bedwright.model.work import WeekList
from bedwright.papers.ground_drawing import bed_words

PRODUCT = "-//Bedwright//season plan//EN"


def garden_slug(name: str) -> str:
    """A garden's name in plain small letters, for identifiers."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "garden"


def task_uid(plan: SeasonPlan, task: Task) -> str:
    """Globally unique and stable: RFC 5545 section 3.8.4.7."""
    code = re.sub(r"[^A-Za-z0-9/:._-]+", "-", task.code)
    year = plan.book.season_start.year
    return f"{code}.{year}@{garden_slug(plan.book.site.name)}.bedwright"


def calendar_bytes(plan: SeasonPlan) -> bytes:
    """The season's calendar file, folded and escaped as RFC 5545 asks (sections 3.1 and 3.3.11)."""
    calendar = _empty(plan)
    for task in sorted(plan.tasks, key=lambda t: (t.start, t.code)):
        calendar.add_component(_event(plan, task, task_uid(plan, task)))
    return bytes(calendar.to_ical())


def week_calendar_bytes(plan: SeasonPlan, week: WeekList) -> bytes:
    """The calendar file of one week: tasks as in the season's file, and the week's weeding and watering."""
    calendar = _empty(plan)
    tasks = {task.code: task for task in plan.tasks}
    for stop in week.stops:
        for job in stop.jobs:
            task = tasks.get(job.task_code)
            if task is not None:
                calendar.add_component(_event(plan, task, task_uid(plan, task)))
                continue
            care = Task(
                f"{job.task_code}:{week.week.isoformat()}", job.kind, job.start, job.end, stop.bed_code, None,
                job.title, job.details,
            )  # fmt: skip
            calendar.add_component(_event(plan, care, task_uid(plan, care)))
    return bytes(calendar.to_ical())


def _empty(plan: SeasonPlan) -> Calendar:
    calendar = Calendar()
    calendar.add("PRODID", PRODUCT)
    calendar.add("VERSION", "2.0")
    calendar.add("CALSCALE", "GREGORIAN")
    calendar.add("METHOD", "PUBLISH")
    calendar.add("NAME", plan.book.site.name)
    calendar.add("X-WR-CALNAME", plan.book.site.name)
    return calendar


def _event(plan: SeasonPlan, task: Task, uid: str) -> Event:
    made = datetime(plan.made_on.year, plan.made_on.month, plan.made_on.day, tzinfo=UTC)
    event = Event()
    event.add("UID", uid)
    event.add("DTSTAMP", made)
    event.add("LAST-MODIFIED", made)
    event.add("SEQUENCE", plan.made_on.toordinal())
    event.add("DTSTART", task.start)
    event.add("DTEND", task.end + timedelta(days=1))  # the end is not included: section 3.6.1
    event.add("SUMMARY", task.title)
    if task.details:
        event.add("DESCRIPTION", task.details)
    if task.bed_code:
        event.add("LOCATION", f"{plan.book.site.name}, {bed_words(plan.book.bed(task.bed_code))}")
    event.add("CATEGORIES", [task.kind])
    event.add("TRANSP", "TRANSPARENT")
    return event
