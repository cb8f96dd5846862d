"""Everything due in a week, bed by bed in the order of a short walk, with minutes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.engine.supplies.trays import monday_of
from bedwright.engine.work.due import care_task
from bedwright.engine.work.hours import season_hours
from bedwright.engine.work.sources import WORK_PRACTICE
from bedwright.engine.work.walk import bed_middle_m, short_tour, start_of, tour_length_m
from bedwright.model.season import SeasonPlan, Task
from bedwright.model.source import Origin
from bedwright.model.work import NO_HOURS, Hours, OwnRate, SeasonHours, WeekJob, WeekList, WeekStop

SHOWN_FROM_MIN = 1.0
"""Care of fewer minutes, even at the high figure, is no job of its own."""


def week_list(
    plan: SeasonPlan,
    week_start: date,
    *,
    own_rates: Sequence[OwnRate] = (),
    hours: SeasonHours | None = None,
) -> WeekList:
    """Jobs of one week in the order a person would walk them.

    Parameters
    ----------
    plan
        The season plan.
    week_start
        Any day of the week; the week runs from its Monday to Sunday.
    own_rates
        Rates from own records.
    hours
        Hours of the plan where they have been worked out already, with the same rates.

    Returns
    -------
    WeekList
        Jobs that belong to no bed come first, then the beds with something to do, from the
        shed (else the tap, else the first bed's peg) round and back. Minutes are the part
        of each job that falls into the week.
    """
    week = monday_of(week_start)
    sunday = week + timedelta(days=6)
    hours = hours or season_hours(plan, own_rates=own_rates)
    minutes = _minutes(hours, week)
    jobs: dict[str | None, list[WeekJob]] = {}
    for task in plan.tasks:
        if task.start <= sunday and task.end >= week:
            job = _job(task, minutes.get(task.code, NO_HOURS), week)
            jobs.setdefault(task.bed_code, []).append(job)
    for (kind, bed_code), part in _care(hours, week).items():
        if 60 * part.high_h < SHOWN_FROM_MIN:
            continue
        task = care_task(kind, bed_code, week) if bed_code else _trays_task(week)
        jobs.setdefault(bed_code, []).append(_job(task, part, week))
    stops, walk_m, starts_at = _stops(plan, jobs)
    return WeekList(
        week=week,
        starts_at=starts_at,
        stops=stops,
        walk_m=walk_m,
        needed=next((each.needed for each in hours.weeks if each.week == week), NO_HOURS),
        origins=(
            Origin("walk_m", round(walk_m, 1), "nearest bed next, then two-opt, as the crow flies",
                   (WORK_PRACTICE,), "practice"),
            *hours.origins,
        ),
    )  # fmt: skip


def _minutes(hours: SeasonHours, week: date) -> dict[str, Hours]:
    """Hours of the plan's tasks in one week, by code."""
    found: dict[str, Hours] = {}
    for share in hours.shares:
        if share.week == week and share.task_code is not None:
            found[share.task_code] = found.get(share.task_code, NO_HOURS) + share.hours
    return found


def _care(hours: SeasonHours, week: date) -> dict[tuple[str, str | None], Hours]:
    found: dict[tuple[str, str | None], Hours] = {}
    for share in hours.shares:
        if share.week == week and share.task_code is None:
            key = (share.kind, share.bed_code)
            found[key] = found.get(key, NO_HOURS) + share.hours
    return found


def _trays_task(week: date) -> Task:
    return Task(
        code="raise:trays",
        kind="raise",
        start=week,
        end=week + timedelta(days=6),
        bed_code=None,
        planting_code=None,
        title="trays under cover: look after",
        details="Every day: feel the mix, water from below where it is dry, turn the trays to the light.",
    )


def _job(task: Task, part: Hours, week: date) -> WeekJob:
    return WeekJob(
        task_code=task.code,
        kind=task.kind,
        title=task.title,
        details=task.details,
        start=task.start,
        end=task.end,
        minutes=(_minutes_of(part.low_h), _minutes_of(part.likely_h), _minutes_of(part.high_h)),
        goes_on=task.start < week,
    )


def _minutes_of(hours_h: float) -> float:
    """To a tenth of a minute: nobody works to the second."""
    return round(60 * hours_h, 1)


def _stops(
    plan: SeasonPlan, jobs: dict[str | None, list[WeekJob]]
) -> tuple[tuple[WeekStop, ...], float, str]:
    beds = [bed for bed in plan.book.beds if bed.code in jobs]
    stops = [_stop(None, 0.0, jobs[None])] if None in jobs else []
    if not beds:
        return tuple(stops), 0.0, ""
    starts_at, start_m = start_of(plan.book.site.features, plan.book.beds)
    middles = [bed_middle_m(bed) for bed in beds]
    order = short_tour(start_m, middles)
    at = start_m
    for k in order:
        stops.append(_stop(beds[k].code, math.dist(at, middles[k]), jobs[beds[k].code]))
        at = middles[k]
    return tuple(stops), tour_length_m(start_m, [middles[k] for k in order]), starts_at


def _stop(bed_code: str | None, walk_m: float, jobs: list[WeekJob]) -> WeekStop:
    ordered = tuple(sorted(jobs, key=lambda job: (job.start, job.end, job.task_code)))
    return WeekStop(bed_code, walk_m, ordered, sum(job.minutes[1] for job in ordered))
