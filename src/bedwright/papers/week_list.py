"""The printed list of jobs, week by week and bed by bed."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import SeasonPlan, Task
from bedwright.papers.cautions import LOCAL_RULES, WASHING
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import day_words, short_day, span_words
from bedwright.papers.sheet import frame

_ELSEWHERE = "Anywhere"


def monday_of(day: date) -> date:
    """Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def weeks_of(plan: SeasonPlan) -> list[dict[str, Any]]:
    """Weeks with jobs: those that start in it by bed, and those that go on."""
    mondays = sorted(
        {
            monday_of(task.start) + timedelta(weeks=k)
            for task in plan.tasks
            for k in range((monday_of(task.end) - monday_of(task.start)).days // 7 + 1)
        }
    )
    return [_week(plan, monday) for monday in mondays]


def _week(plan: SeasonPlan, monday: date) -> dict[str, Any]:
    sunday = monday + timedelta(days=6)
    starting = [task for task in plan.tasks if monday <= task.start <= sunday]
    going_on = [task for task in plan.tasks if task.start < monday <= task.end]
    names = {bed.code: bed_words(bed) for bed in plan.book.beds}
    order = [None, *names]
    by_bed = []
    for code in order:
        jobs = sorted((t for t in starting if t.bed_code == code), key=lambda t: (t.start, t.end, t.code))
        if jobs:
            by_bed.append({"bed": names[code] if code else _ELSEWHERE, "jobs": [_job(task) for task in jobs]})
    return {
        "heading": f"Week of Monday {day_words(monday)}",
        "beds": by_bed,
        "going_on": [f"{task.title} (to {short_day(task.end)})" for task in going_on],
    }


def _job(task: Task) -> dict[str, str]:
    return {"when": span_words(task.start, task.end), "title": task.title, "details": task.details}


def week_list_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `week-list.typ` sets."""
    return {
        "frame": frame(plan, paper, "Week list", "W"),
        "weeks": weeks_of(plan),
        "caution": {"text": f"{WASHING.text} {LOCAL_RULES}", "source": WASHING.source},
    }
