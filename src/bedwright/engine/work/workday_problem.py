"""The planning of a workday as plain data, and what a plan of it is worth."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from bedwright.engine.work.together import Company, Presence, presence_of, why_not
from bedwright.model.work import DueTask, ShedTool, WorkBlock, Workday

PER_MINUTE = 10
"""Worth of one minute of a job of weight 1."""
FINISHED_MIN = 5
"""A finished job counts as so many minutes more: half-done jobs are done twice."""
CHANGE = 20
"""Lost each time people take up another job: two minutes of a job of weight 1."""
UNSHOWN = 30
"""Lost where newcomers work with nobody who has been there before."""
BUSY = 1
"""Lost for each block somebody is given, so that nobody is sent where there is no need."""
LATER = 1
"""Lost for each block that somebody's work begins later, so that no one waits without need."""
KEPT = 15
"""Gained where people keep what they were told before the plan was made again."""

Assignment = tuple[int, int, int]
"""Index of company, task and block."""


@dataclass(frozen=True, slots=True)
class WorkdayProblem:
    """Who can do what when, and with what."""

    companies: tuple[Company, ...]
    tasks: tuple[DueTask, ...]
    blocks: tuple[WorkBlock, ...]
    tools: Mapping[str, int]
    presence: Mapping[tuple[int, int], Presence]
    """By company and block; only where somebody is there."""
    possible: tuple[Assignment, ...]
    """Everything that people, tools and weather allow, each by itself."""
    before: Mapping[int, tuple[int, ...]]
    """Jobs, by index, that must be finished before a job begins."""
    kept: frozenset[Assignment]

    def adults(self, assignment: Assignment) -> int:
        """Places taken in the team: a company larger than the job allows fills it alone."""
        company, task, block = assignment
        return min(len(self.presence[company, block].adults), self.tasks[task].max_people)

    def person_min(self, assignment: Assignment) -> int:
        """Adults' minutes of one company in one block."""
        company, _, block = assignment
        return self.presence[company, block].person_min

    def showing_min(self, company: int, task: int, block: int) -> int:
        """Minutes lost once, when a company with newcomers is shown a job."""
        there = self.presence[company, block]
        return self.tasks[task].demonstration_min * (len(there.adults) if there.newcomers else 0)

    def tool_use(self, assignment: Assignment, tool: str) -> int:
        """Of a tool that each adult needs, how many one company takes."""
        needs = self.tasks[assignment[1]].tools
        return self.adults(assignment) if any(need.tool == tool and need.each for need in needs) else 0


def workday_problem(
    companies: Sequence[Company],
    tasks: Sequence[DueTask],
    blocks: Sequence[WorkBlock],
    shed: Sequence[ShedTool],
    *,
    wet: bool,
    earlier: Workday | None,
) -> WorkdayProblem:
    """Set the problem up; `earlier` is the plan people were told, None for the first one."""
    tools: dict[str, int] = defaultdict(int)
    for entry in shed:
        tools[entry.tool] += entry.count
    presence = {
        (c, b): there
        for c, company in enumerate(companies)
        for b, block in enumerate(blocks)
        if (there := presence_of(company, block)) is not None
    }
    index = {task.code: t for t, task in enumerate(tasks)}
    before = {t: tuple(index[code] for code in task.after if code in index) for t, task in enumerate(tasks)}
    possible = tuple(
        (c, t, b)
        for (c, b), there in sorted(presence.items())
        for t, task in enumerate(tasks)
        if not why_not(there, task)
        and (task.under_cover or not wet)
        and not missing_tool(task, tools, min(len(there.adults), task.max_people))
        and not (b == 0 and before[t])
    )
    kept = _kept(companies, index, blocks, earlier) & set(possible)
    return WorkdayProblem(
        tuple(companies),
        tuple(tasks),
        tuple(blocks),
        dict(tools),
        presence,
        possible,
        before,
        frozenset(kept),
    )


def missing_tool(task: DueTask, tools: Mapping[str, int], n_adults: int) -> str:
    """The first tool of which there are too few for so many adults; empty if there are enough."""
    for need in task.tools:
        if tools.get(need.tool, 0) < (n_adults if need.each else 1):
            return need.tool
    return ""


def _kept(
    companies: Sequence[Company],
    index: Mapping[str, int],
    blocks: Sequence[WorkBlock],
    earlier: Workday | None,
) -> set[Assignment]:
    if earlier is None:
        return set()
    company_of = {adult.name: c for c, company in enumerate(companies) for adult in company.adults}
    ordinals = {block.ordinal: b for b, block in enumerate(blocks)}
    return {
        (company_of[name], index[team.task_code], ordinals[team.block])
        for team in earlier.teams
        if team.task_code in index and team.block in ordinals
        for name in team.helpers
        if name in company_of
    }


def bound_of(problem: WorkdayProblem) -> int:
    """What no plan can be worth more than: minutes spread over jobs, and nothing else asked.

    Adults' minutes go to the jobs worth most a minute, without teams, tools, showing, order
    or changes; a part of a job earns that part of what finishing it is worth.
    """
    there = {key[::2] for key in problem.possible}
    supply_min = sum(problem.presence[company, block].person_min for company, block in there)
    ranked = sorted(
        ((PER_MINUTE * task.weight * (1 + FINISHED_MIN / task.person_min), task.person_min)
         for task in problem.tasks),
        reverse=True,
    )  # fmt: skip
    total = float(KEPT * len({key[::2] for key in problem.kept}))
    for worth, person_min in ranked:
        taken = min(person_min, supply_min)
        total += worth * taken
        supply_min -= taken
    return math.ceil(round(total, 6))


@dataclass(frozen=True, slots=True)
class Progress:
    """How far each job gets: minutes by task after each block, showing taken off."""

    after_block: tuple[tuple[int, ...], ...]
    worked: Mapping[Assignment, int]
    """Minutes of each assignment, showing taken off."""

    def done_min(self, task: int) -> int:
        """Minutes put into a job by the end of the day."""
        return self.after_block[-1][task] if self.after_block else 0


def progress_of(problem: WorkdayProblem, chosen: Iterable[Assignment]) -> Progress:
    """Minutes each job gets; a company is shown a job in the first block it takes it."""
    by_block: dict[int, list[Assignment]] = defaultdict(list)
    for assignment in chosen:
        by_block[assignment[2]].append(assignment)
    done = [0] * len(problem.tasks)
    shown: set[tuple[int, int]] = set()
    worked: dict[Assignment, int] = {}
    after = []
    for b in range(len(problem.blocks)):
        for company, task, block in sorted(by_block[b]):
            minutes = problem.person_min((company, task, block))
            if (company, task) not in shown:
                minutes -= problem.showing_min(company, task, block)
                shown.add((company, task))
            worked[company, task, block] = max(0, minutes)
            done[task] += max(0, minutes)
        after.append(tuple(done))
    return Progress(tuple(after), worked)


def unshown(problem: WorkdayProblem, chosen: Iterable[Assignment]) -> set[tuple[int, int]]:
    """Task and block of teams of newcomers with nobody to show them a job that wants showing."""
    practised: set[tuple[int, int]] = set()
    new: set[tuple[int, int]] = set()
    for company, task, block in chosen:
        if problem.tasks[task].demonstration_min:
            there = problem.presence[company, block]
            (practised if there.practised else new).add((task, block))
    return new - practised


def value_of(problem: WorkdayProblem, chosen: Collection[Assignment]) -> int:
    """What a plan is worth: urgent work done, jobs finished, few changes, newcomers shown."""
    progress = progress_of(problem, chosen)
    total = 0
    for t, task in enumerate(problem.tasks):
        done = progress.done_min(t)
        total += PER_MINUTE * task.weight * min(done, task.person_min)
        if done >= task.person_min:
            total += PER_MINUTE * task.weight * FINISHED_MIN
    total -= sum(BUSY + LATER * block for _, _, block in set(chosen))
    total -= CHANGE * len({(company, task) for company, task, _ in chosen})
    total -= UNSHOWN * len(unshown(problem, chosen))
    return total + KEPT * len(problem.kept & set(chosen))
