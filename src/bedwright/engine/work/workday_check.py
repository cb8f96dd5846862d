"""An independent check of a workday plan: knows the people, the jobs and the plan, no solver."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from itertools import pairwise

from bedwright.model.work import DueTask, Helper, ShedTool, TeamTask, Workday, WorkdayFault

MOST_CHILDREN = 8
"""In one group (SCHOOLGARDENS)."""
LEAST_MIN = 15
"""A shorter stay in a block counts as absence: common practice, no source."""
LONGEST_WORK_MIN = 45
"""Without a break (EATSOUTH_SESSION)."""


def check_workday(
    workday: Workday,
    tasks: Sequence[DueTask],
    people: Sequence[Helper],
    tools: Sequence[ShedTool],
    *,
    wet: bool = False,
) -> tuple[WorkdayFault, ...]:
    """Every rule the plan breaks; empty for a plan that can be carried out.

    Checked are: nobody in two places or away while working, seats, lifting, shade and
    children's jobs, children beside their adult and at most eight together, teams kept
    together and of a size the job allows, tools in the shed, jobs in their order, breaks,
    rain, and minutes counted right.
    """
    check = _Check(workday, tasks, people, tools, wet)
    return tuple(check.faults())


class _Check:
    def __init__(
        self,
        workday: Workday,
        tasks: Sequence[DueTask],
        people: Sequence[Helper],
        tools: Sequence[ShedTool],
        wet: bool,
    ) -> None:
        self.workday, self.wet = workday, wet
        self.tasks = {task.code: task for task in tasks}
        self.people = {helper.name: helper for helper in people}
        self.blocks = {block.ordinal: block for block in workday.blocks}
        self.tools: dict[str, int] = defaultdict(int)
        for tool in tools:
            self.tools[tool.tool] += tool.count

    def faults(self) -> Iterator[WorkdayFault]:
        unknown = list(self._unknown())
        if unknown:
            # Nothing else can be looked up.
            yield from unknown
            return
        yield from self._two_places()
        for team in self.workday.teams:
            yield from self._people_of(team)
            yield from self._size(team)
        yield from self._teams_together()
        yield from self._tools()
        yield from self._order()
        yield from self._minutes()
        yield from self._breaks()

    def _unknown(self) -> Iterator[WorkdayFault]:
        for team in self.workday.teams:
            for name in (*team.helpers, *team.children):
                if name not in self.people:
                    yield WorkdayFault("known", f"{name} is not among the people")
            if team.task_code not in self.tasks:
                yield WorkdayFault("known", f"{team.task_code} is not among the jobs")
            if team.block not in self.blocks:
                yield WorkdayFault("known", f"there is no block {team.block}")

    def _two_places(self) -> Iterator[WorkdayFault]:
        seen: set[tuple[int, str]] = set()
        jobs: set[tuple[int, str]] = set()
        for team in self.workday.teams:
            if (team.block, team.task_code) in jobs:
                yield WorkdayFault("one team", f"{team.task_code} stands twice in block {team.block}")
            jobs.add((team.block, team.task_code))
            for name in (*team.helpers, *team.children):
                if (team.block, name) in seen:
                    yield WorkdayFault("one place", f"{name} is in two places in block {team.block}")
                seen.add((team.block, name))

    def _there_min(self, name: str, block: int) -> int:
        helper, span = self.people[name], self.blocks[block]
        there = min(helper.leaves_min, span.end_min) - max(helper.arrives_min, span.start_min)
        return there if there >= LEAST_MIN else 0

    def _people_of(self, team: TeamTask) -> Iterator[WorkdayFault]:
        task = self.tasks[team.task_code]
        if self.wet and not task.under_cover:
            yield WorkdayFault("rain", f"{task.code} is not under cover")
        for name in (*team.helpers, *team.children):
            helper = self.people[name]
            if not self._there_min(name, team.block):
                yield WorkdayFault("there", f"{name} is away in block {team.block}")
            if helper.child != (name in team.children):
                yield WorkdayFault("child", f"{name} is counted wrongly as child or adult")
            if helper.shade_only and not task.shade:
                yield WorkdayFault("shade", f"{name} needs shade for {task.code}")
        for name in team.helpers:
            if self.people[name].sitting_only and not task.sitting:
                yield WorkdayFault("seat", f"{name} needs a seat for {task.code}")
            if self.people[name].no_lifting and task.lifting:
                yield WorkdayFault("lifting", f"{name} does not lift, {task.code} means lifting")
        for name in team.children:
            if self.people[name].with_adult not in team.helpers:
                yield WorkdayFault(
                    "beside", f"{name} is without {self.people[name].with_adult or 'an adult'}"
                )
            if not task.child:
                yield WorkdayFault("child", f"{task.code} is not for {name}")

    def _size(self, team: TeamTask) -> Iterator[WorkdayFault]:
        task = self.tasks[team.task_code]
        if len(team.helpers) < task.min_people:
            yield WorkdayFault("size", f"{task.code} takes at least {task.min_people} adults")
        names = {self.people[name].team or name for name in team.helpers}
        if len(team.helpers) > task.max_people and len(names) > 1:
            yield WorkdayFault("size", f"{task.code} has room for {task.max_people} adults")
        if len(team.children) > MOST_CHILDREN:
            yield WorkdayFault("children", f"{len(team.children)} children are at {task.code}")

    def _teams_together(self) -> Iterator[WorkdayFault]:
        at = {(team.block, name): team.task_code for team in self.workday.teams for name in team.helpers}
        for block in self.blocks:
            places: dict[str, set[str | None]] = defaultdict(set)
            for helper in self.people.values():
                if helper.team and not helper.child and self._there_min(helper.name, block):
                    places[helper.team].add(at.get((block, helper.name)))
            for name, found in sorted(places.items()):
                if len(found) > 1:
                    yield WorkdayFault("together", f"team {name} is apart in block {block}")

    def _tools(self) -> Iterator[WorkdayFault]:
        used: dict[tuple[int, str], int] = defaultdict(int)
        for team in self.workday.teams:
            task = self.tasks[team.task_code]
            for need in task.tools:
                count = min(len(team.helpers), task.max_people) if need.each else 1
                used[team.block, need.tool] += count
        for (block, tool), count in sorted(used.items()):
            if count > self.tools[tool]:
                yield WorkdayFault(
                    "tools", f"block {block} takes {count} × {tool}, {self.tools[tool]} are there"
                )

    def _order(self) -> Iterator[WorkdayFault]:
        for team in self.workday.teams:
            for code in self.tasks[team.task_code].after:
                if code in self.tasks and self._done_min(code, team.block) < self.tasks[code].person_min:
                    yield WorkdayFault("order", f"{team.task_code} begins before {code} is finished")

    def _done_min(self, code: str, before_block: int) -> int:
        return sum(
            team.person_min
            for team in self.workday.teams
            if team.task_code == code and team.block < before_block
        )

    def _minutes(self) -> Iterator[WorkdayFault]:
        for team in self.workday.teams:
            most = sum(self._there_min(name, team.block) for name in team.helpers)
            if not 0 <= team.person_min <= most:
                yield WorkdayFault("minutes", f"{team.task_code} counts {team.person_min} of {most} min")
        for outcome in self.workday.outcomes:
            done = self._done_min(outcome.task_code, max(self.blocks, default=0) + 1)
            if outcome.planned_min != done or outcome.finished != (done >= outcome.needed_min):
                yield WorkdayFault("minutes", f"{outcome.task_code} is summed up wrongly")

    def _breaks(self) -> Iterator[WorkdayFault]:
        for block in self.blocks.values():
            if block.end_min - block.start_min > LONGEST_WORK_MIN:
                yield WorkdayFault("breaks", f"block {block.ordinal} is longer than {LONGEST_WORK_MIN} min")
        ordered = sorted(self.blocks.values(), key=lambda block: block.start_min)
        for one, other in pairwise(ordered):
            if other.start_min <= one.end_min:
                yield WorkdayFault("breaks", f"there is no break after block {one.ordinal}")
