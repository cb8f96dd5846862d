"""Why a job is left, and why a person has nothing to do, in plain words."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.engine.work.together import why_not
from bedwright.engine.work.workday_problem import Assignment, WorkdayProblem, missing_tool, progress_of
from bedwright.model.work import Helper, NotToday, SpareHelper


def not_today(problem: WorkdayProblem, chosen: Sequence[Assignment], *, wet: bool) -> tuple[NotToday, ...]:
    """Jobs that nobody takes, the heaviest first, each with its reason."""
    taken = {task for _, task, _ in chosen}
    progress = progress_of(problem, chosen)
    unfinished = {t for t, task in enumerate(problem.tasks) if progress.done_min(t) < task.person_min}
    left = sorted(
        (t for t in range(len(problem.tasks)) if t not in taken),
        key=lambda t: (-problem.tasks[t].weight, problem.tasks[t].code),
    )
    return tuple(NotToday(problem.tasks[t].code, _reason(problem, t, unfinished, wet)) for t in left)


def _reason(problem: WorkdayProblem, t: int, unfinished: set[int], wet: bool) -> str:
    task = problem.tasks[t]
    tool = missing_tool(task, problem.tools, 1)
    if wet and not task.under_cover:
        return "It is not under cover."
    if tool:
        return f"There is no {tool} in the shed."
    if not problem.presence:
        return "Nobody is there."
    return _waiting(problem, t, unfinished) or _too_few(problem, t)


def _waiting(problem: WorkdayProblem, t: int, unfinished: set[int]) -> str:
    """What has to be finished first; empty where nothing has."""
    first = [problem.tasks[f].title for f in problem.before[t] if f in unfinished]
    if first:
        return f"Not finished before it: {', '.join(first)}."
    if problem.before[t]:
        return "What comes before it is only finished at the end of the day."
    return ""


def _too_few(problem: WorkdayProblem, t: int) -> str:
    task = problem.tasks[t]
    if not any(key[1] == t for key in problem.possible):
        return _unsuited(problem, t)
    if task.min_people > max((len(there.adults) for there in problem.presence.values()), default=0):
        able = len({key[0] for key in problem.possible if key[1] == t})
        if able < task.min_people:
            return f"It takes {task.min_people} adults who can do it."
    return "People and tools are at jobs that are more pressing."


def _unsuited(problem: WorkdayProblem, t: int) -> str:
    reasons = {why_not(there, problem.tasks[t]) for there in problem.presence.values()} - {""}
    if not reasons:
        return "There are too few of its tools for the teams that could do it."
    return f"For everyone who is there it {' or '.join(sorted(reasons))}."


def spare_helpers(
    problem: WorkdayProblem, chosen: Sequence[Assignment], alone: Sequence[Helper]
) -> tuple[SpareHelper, ...]:
    """People without a job, block by block; children whose adult did not come stand first."""
    spare = [
        SpareHelper(0, child.name, f"{child.with_adult or 'The adult of this child'} is not there.")
        for child in alone
    ]
    busy = {(company, block) for company, _, block in chosen}
    able = {(company, block) for company, _, block in problem.possible}
    for b, block in enumerate(problem.blocks):
        for c in range(len(problem.companies)):
            there = problem.presence.get((c, b))
            if there is None or (c, b) in busy:
                continue
            reason = (
                "Every job they can do has enough hands."
                if (c, b) in able
                else "No job that is due suits them: see the jobs under cover."
            )
            names = sorted(helper.name for helper in (*there.adults, *there.children))
            spare += [SpareHelper(block.ordinal, name, reason) for name in names]
    return tuple(spare)
