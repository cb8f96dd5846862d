"""Small jobs of one kind put together into a round that fills a block of work.

A person sent to water one small bed is done in five minutes; a round of several beds keeps
them busy until the break, and a job is shown once for all of it.
"""

from __future__ import annotations

import math
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import replace

from bedwright.engine.work.blocks import WORK_MIN
from bedwright.engine.work.traits import TRAITS
from bedwright.model.work import NO_HOURS, DueTask, Hours

MIN_PER_PERSON = 15
"""A team is no larger than leaves each person this much to do: common practice, no source."""


def in_rounds(tasks: Iterable[DueTask]) -> tuple[DueTask, ...]:
    """The same jobs, small ones of a kind that ask the same of people joined into rounds.

    A round takes one person at most a block of 45 minutes. What comes before one of its jobs
    comes before the whole round; kinds of jobs follow each other one way only, so rounds of
    one kind cannot wait for each other. Jobs longer than a block stay as they are.
    """
    tasks = sorted(tasks, key=lambda task: (-task.weight, task.bed_code or "", task.code))
    rounds: dict[Hashable, list[list[DueTask]]] = {}
    for task in tasks:
        groups = rounds.setdefault(_alike(task), [])
        room = next((g for g in groups if _minutes(g) + task.person_min <= WORK_MIN), None)
        if room is None:
            groups.append([task])
        else:
            room.append(task)
    joined = [_joined(group) for groups in rounds.values() for group in groups]
    holder = {part: task.code for task in joined for part in (task.parts or (task.code,))}
    return tuple(
        replace(task, after=tuple(dict.fromkeys(holder.get(code, code) for code in task.after)))
        for task in joined
    )


def _alike(task: DueTask) -> Hashable:
    return (
        task.kind, task.min_people, task.tools, task.demonstration_min, task.sitting, task.lifting,
        task.shade, task.under_cover, task.child,
    )  # fmt: skip


def _minutes(group: Sequence[DueTask]) -> int:
    return sum(task.person_min for task in group)


def _joined(group: Sequence[DueTask]) -> DueTask:
    first = group[0]
    if len(group) == 1:
        return first
    minutes = _minutes(group)
    beds = sorted({task.bed_code for task in group if task.bed_code})
    most = min(TRAITS[first.kind].max_people, math.ceil(minutes / MIN_PER_PERSON))
    where = f"beds {', '.join(beds)}" if len(beds) > 1 else f"bed {beds[0]}" if beds else "under cover"
    return replace(
        first,
        code=f"round:{first.code}",
        title=f"{first.kind}, {where}: {len(group)} jobs",
        details=" ".join(f"{task.title}. {task.details}" for task in group),
        needed=_sum(task.needed for task in group),
        person_min=minutes,
        last_day=min(task.last_day for task in group),
        # A minute of the round is worth what a minute of its jobs is worth on average.
        weight=max(1, round(sum(task.weight * task.person_min for task in group) / minutes)),
        after=tuple(dict.fromkeys(code for task in group for code in task.after)),
        max_people=max(first.min_people, most),
        parts=tuple(task.code for task in group),
    )


def _sum(hours: Iterable[Hours]) -> Hours:
    total = NO_HOURS
    for each in hours:
        total += each
    return total
