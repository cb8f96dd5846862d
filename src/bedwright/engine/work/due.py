"""Jobs that can be done on one day, with what they ask of people."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta

from bedwright.engine.supplies.trays import monday_of, tray_needs
from bedwright.engine.work.amounts import PICK_EVERY_DAYS, effort_of, portions_of, times
from bedwright.engine.work.hours import VOLUNTEER_FACTOR, season_hours
from bedwright.engine.work.rates import rates_in_use
from bedwright.engine.work.relief import USUAL_PRIORITY
from bedwright.engine.work.rounds import MIN_PER_PERSON, in_rounds
from bedwright.engine.work.traits import TRAITS, Traits
from bedwright.model.book import Bed
from bedwright.model.season import BedSun, Planting, SeasonPlan, Task
from bedwright.model.work import NO_HOURS, DueTask, Hours, OwnRate

LEAST_MIN = 5
SEAT_HEIGHT_M = 0.68
"""Beds from this height are worked from a seat: 27 in (BENCH_HEIGHT, weak)."""
SHADE_SUN_H = 4.0
"""A bed with fewer hours of sun in the month counts as shade: a rule of our own."""


def due_tasks(
    plan: SeasonPlan,
    day: date,
    *,
    done: Collection[str] = (),
    own_rates: Sequence[OwnRate] = (),
    rounds: bool = True,
) -> tuple[DueTask, ...]:
    """Jobs of the plan that can be done on a day, most pressing first.

    Every task whose days hold `day`, and the week's weeding and watering of each bed.

    Parameters
    ----------
    plan
        The season plan.
    day
        The workday.
    done
        Codes of tasks already finished.
    own_rates
        Rates from own records.
    rounds
        True to join small jobs of a kind into rounds of up to 45 minutes.

    Source
    ------
    Seat height: BENCH_HEIGHT. Team sizes and showing: common practice, no source.
    """
    rates = rates_in_use(plan.book.labour_rates, own_rates)
    trays = {need.planting_code: need.n_trays for need in tray_needs(plan.plantings, plan.orders)}
    plantings = {planting.code: planting for planting in plan.plantings}
    priority = {wish.code: wish.priority for wish in plan.book.wishes}
    beds = {bed.code: bed for bed in plan.book.beds}
    sun = {each.bed_code: each for each in plan.sun}
    found = []
    for task in plan.tasks:
        traits = TRAITS.get(task.kind)
        if traits is None or task.code in done or not task.start <= day <= task.end:
            continue
        planting = plantings.get(task.planting_code or "")
        portions = portions_of(task, planting, trays.get(task.planting_code or "", 0))
        hours = effort_of(portions, rates).total(VOLUNTEER_FACTOR)
        rank = priority.get(planting.wish_code, USUAL_PRIORITY) if planting else USUAL_PRIORITY
        found.append(_due(task, traits, _todays(hours, task, traits), day, rank, beds, sun))
    found += _care(plan, day, done, own_rates, beds, sun)
    found = _with_order(found, plan.tasks, plantings)
    if rounds:
        found = list(in_rounds(found))
    return tuple(sorted(found, key=lambda task: (-task.weight, task.last_day, task.code)))


def _todays(hours: Hours, task: Task, traits: Traits) -> Hours:
    """A visit's share of jobs that go on for weeks, all of the others."""
    if not traits.part_of_window:
        return hours
    days = (task.end - task.start).days + 1
    every = PICK_EVERY_DAYS if task.kind == "pick" else 1
    return times(hours, min(1.0, every / days))


def _due(
    task: Task,
    traits: Traits,
    hours: Hours,
    day: date,
    priority: int,
    beds: Mapping[str, Bed],
    sun: Mapping[str, BedSun],
) -> DueTask:
    bed = beds.get(task.bed_code or "")
    person_min = max(LEAST_MIN, math.ceil(round(60 * hours.likely_h, 6)))
    high_bed = bed is not None and bed.raised_m >= SEAT_HEIGHT_M
    most = max(traits.min_people, min(traits.max_people, math.ceil(person_min / MIN_PER_PERSON)))
    return DueTask(
        code=task.code,
        kind=task.kind,
        title=task.title,
        details=task.details,
        bed_code=task.bed_code,
        needed=hours,
        person_min=person_min,
        last_day=task.end,
        weight=_urgency((task.end - day).days) * priority,
        min_people=traits.min_people,
        max_people=most,
        tools=traits.tools,
        demonstration_min=traits.demonstration_min,
        sitting=traits.sitting or (traits.sitting_at_high_bed and high_bed),
        lifting=traits.lifting,
        shade=traits.under_cover or _in_shade(sun.get(task.bed_code or ""), day),
        under_cover=traits.under_cover,
        child=traits.child,
        wash_hands_first=traits.wash_hands_first,
        cautions=traits.cautions,
    )


def _urgency(days_left: int) -> int:
    if days_left <= 2:
        return 3
    return 2 if days_left <= 6 else 1


def _in_shade(sun: BedSun | None, day: date) -> bool:
    return sun is not None and sun.month_h[day.month - 1] < SHADE_SUN_H


def _care(
    plan: SeasonPlan,
    day: date,
    done: Collection[str],
    own_rates: Sequence[OwnRate],
    beds: Mapping[str, Bed],
    sun: Mapping[str, BedSun],
) -> list[DueTask]:
    """The week's weeding and watering, one job a bed."""
    monday = monday_of(day)
    shares = season_hours(plan, own_rates=own_rates).shares
    by_bed: dict[tuple[str, str], Hours] = {}
    for share in shares:
        if share.week == monday and share.task_code is None and share.bed_code is not None:
            key = (share.kind, share.bed_code)
            by_bed[key] = by_bed.get(key, NO_HOURS) + share.hours
    found = []
    for (kind, bed_code), hours in sorted(by_bed.items()):
        if f"{kind}:{bed_code}" not in done and hours.likely_h * 60 >= 1:
            task = care_task(kind, bed_code, monday)
            found.append(_due(task, TRAITS[kind], hours, day, USUAL_PRIORITY, beds, sun))
    return found


def care_task(kind: str, bed_code: str, monday: date) -> Task:
    """The weeding or watering of one bed in one week, as a task."""
    details = {
        "weed": "Hand-weed round the plants, roots and all; leave seedlings you are not sure of.",
        "water": "Feel the soil a finger deep first; water low and slowly where it is dry.",
    }
    return Task(
        code=f"{kind}:{bed_code}",
        kind=kind,
        start=monday,
        end=monday + timedelta(days=6),
        bed_code=bed_code,
        planting_code=None,
        title=f"bed {bed_code}: {kind}",
        details=details[kind],
    )


def _with_order(
    due: Iterable[DueTask], tasks: Sequence[Task], plantings: Mapping[str, Planting]
) -> list[DueTask]:
    """The same jobs with the codes of those that come first."""
    due = list(due)
    of_task = {task.code: task for task in tasks}
    by_planting: dict[str, dict[str, str]] = {}
    for job in due:
        task = of_task.get(job.code)
        if task is not None and task.planting_code is not None:
            by_planting.setdefault(task.planting_code, {})[job.kind] = job.code
    ordered = []
    for job in due:
        task = of_task.get(job.code)
        first = list(_first(job, task, by_planting, due, plantings, of_task))
        ordered.append(replace(job, after=tuple(dict.fromkeys(first))))
    return ordered


def _first(
    job: DueTask,
    task: Task | None,
    by_planting: Mapping[str, Mapping[str, str]],
    due: Sequence[DueTask],
    plantings: Mapping[str, Planting],
    of_task: Mapping[str, Task],
) -> Iterable[str]:
    if task is None or task.planting_code is None:
        return
    siblings = by_planting.get(task.planting_code, {})
    for kind in TRAITS[job.kind].after:
        if kind in siblings:
            yield siblings[kind]
    if job.kind in {"mulch", "earth up"}:
        yield from (other.code for other in due if other.code == f"weed:{job.bed_code}")
    if job.kind == "prepare":
        mine = plantings[task.planting_code]
        for other in due:
            before = of_task.get(other.code)
            if (
                other.kind in {"clear", "cut down"}
                and before is not None
                and before.planting_code != mine.code
            ):
                there = plantings.get(before.planting_code or "")
                if there is not None and _same_ground(mine, there):
                    yield other.code


def _same_ground(one: Planting, other: Planting) -> bool:
    if one.bed_code != other.bed_code:
        return False
    (a0, a1), (b0, b1) = one.along_m, other.along_m
    (c0, c1), (d0, d1) = one.across_m, other.across_m
    return a0 < b1 and b0 < a1 and c0 < d1 and d0 < c1
