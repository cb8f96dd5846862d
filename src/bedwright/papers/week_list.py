"""The printed list of jobs, week by week, bed by bed in the order of a walk."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan, Task
from bedwright.model.work import WeekHours, WeekJob, WeekList
from bedwright.papers.cautions import LOCAL_RULES, WASHING
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import (
    Measures,
    day_words,
    hours_words,
    minutes_words,
    short_day,
    span_words,
)
from bedwright.papers.sheet import frame

_ELSEWHERE = "Anywhere"
_BEFORE_THE_WALK = "Under cover and at the desk"
_CARE = frozenset({"weed", "water", "raise"})
"""Work of every week, without a task of its own."""
_WORTH_TELLING_MIN = 0.5
_DOUBT = (
    "Minutes are the likely ones for one person, from published or guessed rates that differ widely between "
    "gardens: time your own and write them into the garden book. Jobs that go on for weeks are told once, "
    "then named. "
    "Weed: by hand round the plants, roots and all. Water: feel the soil a finger deep first. Raise: look "
    "after the trays "
    "every day."
)


def monday_of(day: date) -> date:
    """Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def week_list_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `week-list.typ` sets."""
    if plan.care is not None:
        return one_or_more_weeks(plan, plan.care.weeks, paper, units)
    return _data(plan, paper, weeks_of(plan, Measures(units)), "Week list")


def one_or_more_weeks(
    plan: SeasonPlan, weeks: Sequence[WeekList], paper: PaperSize, units: UnitSystem
) -> dict[str, Any]:
    """The same for some weeks only."""
    hours = {} if plan.care is None else {week.week: week for week in plan.care.hours.weeks}
    measures = Measures(units)
    made = [_listed_week(plan, week, hours.get(week.week), measures) for week in weeks if week.stops]
    title = "Week list" if len(made) != 1 else f"Week of {day_words(weeks[0].week)}"
    return _data(plan, paper, made, title)


def _data(plan: SeasonPlan, paper: PaperSize, weeks: list[dict[str, Any]], title: str) -> dict[str, Any]:
    return {
        "frame": frame(plan, paper, title, "W"),
        "weeks": weeks,
        "caution": {"text": f"{WASHING.text} {LOCAL_RULES}", "source": WASHING.source},
        "doubt": _DOUBT if plan.care is not None else "",
    }


def _listed_week(
    plan: SeasonPlan, week: WeekList, hours: WeekHours | None, measures: Measures
) -> dict[str, Any]:
    names: dict[str | None, str] = {bed.code: bed_words(bed) for bed in plan.book.beds}
    names[None] = _BEFORE_THE_WALK
    return {
        "heading": f"Week of Monday {day_words(week.week)}",
        "hours": week_words(week, hours, measures),
        "beds": [
            {
                "bed": names[stop.bed_code],
                "minutes": minutes_words(stop.likely_min) if stop.likely_min >= _WORTH_TELLING_MIN else "",
                "jobs": [job_cells(job, measures) for job in jobs if not told_in_short(job)],
                "going_on": [going_on_words(job, week.week) for job in jobs if told_in_short(job)],
            }
            for stop in week.stops
            if (jobs := worth_telling(stop.jobs))
        ],
        "going_on": [],
    }


def worth_telling(jobs: Sequence[WeekJob]) -> list[WeekJob]:
    """Jobs but for care that takes no time to speak of."""
    return [job for job in jobs if job.kind not in _CARE or job.minutes[1] >= _WORTH_TELLING_MIN]


def told_in_short(job: WeekJob) -> bool:
    """Jobs told in one line: every week's care, and what began in an earlier week."""
    return job.goes_on or job.kind in _CARE


def going_on_words(job: WeekJob, week: date) -> str:
    """A job that goes on in short: `H1 pea: mulch, to 10 Jun (2 min)`."""
    title = job.kind if job.kind in _CARE else job.title
    until = "" if job.kind in _CARE or job.end <= week + timedelta(days=6) else f", to {short_day(job.end)}"
    if job.minutes[1] < _WORTH_TELLING_MIN:
        return f"{title}{until}"
    return f"{title}{until} ({minutes_words(job.minutes[1])})"


def week_words(week: WeekList, hours: WeekHours | None, measures: Measures) -> str:
    """Hours needed and promised in a week, and the walk, in one line."""
    needed = week.needed
    told = (
        f"{hours_words(needed.likely_h)} h of work likely ({hours_words(needed.low_h)} to "
        f"{hours_words(needed.high_h)})"
    )
    if hours is not None:
        told += f", {hours_words(hours.promised_h)} h promised"
        told += f": short by {hours_words(hours.short_h)} h" if hours.short_h > 0 else ""
        told += f". Quiet time: {hours.quiet}" if hours.quiet else ""
    if week.walk_m > 0:
        told += f". Walk: {measures.walk(week.walk_m)} from {week.starts_at or 'the first bed'} and back"
    return f"{told}."


def job_cells(job: WeekJob, measures: Measures) -> dict[str, str]:
    """A job as a line of the list of the week it begins in."""
    likely = job.minutes[1]
    return {
        "when": span_words(job.start, job.end),
        "title": job.title,
        "details": measures.alone(job.details),
        "minutes": minutes_words(likely) if likely >= _WORTH_TELLING_MIN else "",
    }


def weeks_of(plan: SeasonPlan, measures: Measures) -> list[dict[str, Any]]:
    """Weeks with jobs of a plan without hours: those that start in it by bed, and those that go on."""
    mondays = sorted(
        {
            monday_of(task.start) + timedelta(weeks=k)
            for task in plan.tasks
            for k in range((monday_of(task.end) - monday_of(task.start)).days // 7 + 1)
        }
    )
    return [_week(plan, monday, measures) for monday in mondays]


def _week(plan: SeasonPlan, monday: date, measures: Measures) -> dict[str, Any]:
    sunday = monday + timedelta(days=6)
    starting = [task for task in plan.tasks if monday <= task.start <= sunday]
    going_on = [task for task in plan.tasks if task.start < monday <= task.end]
    names = {bed.code: bed_words(bed) for bed in plan.book.beds}
    order = [None, *names]
    by_bed = []
    for code in order:
        jobs = sorted((t for t in starting if t.bed_code == code), key=lambda t: (t.start, t.end, t.code))
        if jobs:
            bed = names[code] if code else _ELSEWHERE
            by_bed.append(
                {"bed": bed, "minutes": "", "jobs": [_job(task, measures) for task in jobs], "going_on": []}
            )
    return {
        "heading": f"Week of Monday {day_words(monday)}",
        "hours": "",
        "beds": by_bed,
        "going_on": [f"{task.title} (to {short_day(task.end)})" for task in going_on],
    }


def _job(task: Task, measures: Measures) -> dict[str, str]:
    return {
        "when": span_words(task.start, task.end),
        "title": task.title,
        "details": measures.alone(task.details),
        "minutes": "",
    }
