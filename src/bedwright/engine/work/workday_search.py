"""The best plan of a workday that a stated amount of search finds.

Google OR-Tools CP-SAT, one worker, fixed seed, stopped by its own count of work and never
by the clock, so that the same people and jobs always give the same plan.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from ortools.sat.python import cp_model

from bedwright.engine.work.together import MOST_CHILDREN
from bedwright.engine.work.workday_problem import (
    BUSY,
    CHANGE,
    FINISHED_MIN,
    KEPT,
    LATER,
    PER_MINUTE,
    UNSHOWN,
    Assignment,
    WorkdayProblem,
    progress_of,
    unshown,
)


class _Model:
    """The constraint model: who does what in which block, and how far each job gets."""

    def __init__(self, problem: WorkdayProblem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.takes = {key: self.model.new_bool_var("") for key in problem.possible}
        self.active: dict[tuple[int, int], cp_model.IntVar] = {}
        self.on: dict[tuple[int, int], list[Assignment]] = defaultdict(list)
        self.used: dict[tuple[int, int], cp_model.IntVar] = {}
        self.done: dict[int, cp_model.IntVar] = {}
        self.finished: dict[int, cp_model.IntVar] = {}
        self.ready: dict[tuple[int, int], cp_model.IntVar] = {}
        self.unshown: dict[tuple[int, int], cp_model.IntVar] = {}
        self.worth: list[cp_model.LinearExprT] = []
        for key in problem.possible:
            self.on[key[1], key[2]].append(key)
        self._one_job_at_a_time()
        self._teams()
        self._tools()
        self._changes()
        self._work()
        self._order()
        self._showing()
        self.worth += [KEPT * self.takes[key] for key in sorted(problem.kept)]
        self.worth += [-(BUSY + LATER * key[2]) * variable for key, variable in self.takes.items()]
        self.model.maximize(sum(self.worth))

    def _one_job_at_a_time(self) -> None:
        by_company: dict[tuple[int, int], list[Assignment]] = defaultdict(list)
        for key in self.problem.possible:
            by_company[key[0], key[2]].append(key)
        for keys in by_company.values():
            self.model.add_at_most_one(self.takes[key] for key in keys)

    def _teams(self) -> None:
        for (t, b), keys in self.on.items():
            task = self.problem.tasks[t]
            active = self.active[t, b] = self.model.new_bool_var("")
            for key in keys:
                self.model.add_implication(self.takes[key], active)
            places = sum(self.problem.adults(key) * self.takes[key] for key in keys)
            self.model.add(places <= task.max_people * active)
            self.model.add(places >= task.min_people * active)
            children = [len(self.problem.presence[key[0], b].children) for key in keys]
            if sum(children) > MOST_CHILDREN:
                there = sum(n * self.takes[key] for n, key in zip(children, keys, strict=True))
                self.model.add(there <= MOST_CHILDREN)

    def _tools(self) -> None:
        for tool, count in sorted(self.problem.tools.items()):
            for b in range(len(self.problem.blocks)):
                use = [self._tool_use(tool, t, b) for t in range(len(self.problem.tasks))]
                self.model.add(sum(use) <= count)

    def _tool_use(self, tool: str, t: int, b: int) -> cp_model.LinearExprT:
        need = next((each for each in self.problem.tasks[t].tools if each.tool == tool), None)
        if need is None or (t, b) not in self.active:
            return 0
        if not need.each:
            return self.active[t, b]
        return sum(self.problem.adults(key) * self.takes[key] for key in self.on[t, b])

    def _changes(self) -> None:
        for key in self.problem.possible:
            pair = key[:2]
            if pair not in self.used:
                self.used[pair] = self.model.new_bool_var("")
                self.worth.append(-CHANGE * self.used[pair])
            self.model.add_implication(self.takes[key], self.used[pair])

    def _minutes(self, t: int, before_block: int) -> cp_model.LinearExprT:
        """Minutes a job has got before a block, all its showing taken off at once."""
        terms: list[cp_model.LinearExprT] = []
        showing: dict[int, int] = defaultdict(int)
        for b in range(len(self.problem.blocks)):
            for key in self.on[t, b]:
                if b < before_block:
                    terms.append(self.problem.person_min(key) * self.takes[key])
                showing[key[0]] = max(showing[key[0]], self.problem.showing_min(*key))
        terms += [-minutes * self.used[company, t] for company, minutes in showing.items() if minutes]
        return cp_model.LinearExpr.sum(terms)

    def _work(self) -> None:
        for t, task in enumerate(self.problem.tasks):
            if not any(key[1] == t for key in self.problem.possible):
                continue
            done = self.done[t] = self.model.new_int_var(0, task.person_min, "")
            finished = self.finished[t] = self.model.new_bool_var("")
            self.model.add(done <= self._minutes(t, len(self.problem.blocks)))
            self.model.add(done >= task.person_min * finished)
            self.worth.append(PER_MINUTE * task.weight * done)
            self.worth.append(PER_MINUTE * task.weight * FINISHED_MIN * finished)

    def _order(self) -> None:
        ready = self.ready
        for (t, b), active in self.active.items():
            for first in self.problem.before[t]:
                if (first, b) not in ready:
                    ready[first, b] = self.model.new_bool_var("")
                    needed = self.problem.tasks[first].person_min
                    self.model.add(self._minutes(first, b) >= needed).only_enforce_if(ready[first, b])
                self.model.add_implication(active, ready[first, b])

    def _showing(self) -> None:
        for (t, b), keys in self.on.items():
            if not self.problem.tasks[t].demonstration_min:
                continue
            alone = [key for key in keys if not self.problem.presence[key[0], b].practised]
            if not alone:
                continue
            able = [self.takes[key] for key in keys if self.problem.presence[key[0], b].practised]
            lost = self.unshown[t, b] = self.model.new_bool_var("")
            self.worth.append(-UNSHOWN * lost)
            for key in alone:
                self.model.add_bool_or([~self.takes[key], lost, *able])

    def hint(self, chosen: Sequence[Assignment]) -> None:
        """Start from a plan."""
        taken = set(chosen)
        pairs = {key[:2] for key in taken}
        running = {key[1:] for key in taken}
        for key, variable in self.takes.items():
            self.model.add_hint(variable, key in taken)
        for pair, variable in self.used.items():
            self.model.add_hint(variable, pair in pairs)
        for place, variable in self.active.items():
            self.model.add_hint(variable, place in running)
        progress = progress_of(self.problem, chosen)
        for t, variable in self.done.items():
            needed = self.problem.tasks[t].person_min
            self.model.add_hint(variable, min(progress.done_min(t), needed))
            self.model.add_hint(self.finished[t], progress.done_min(t) >= needed)
        for (t, b), variable in self.ready.items():
            before = progress.after_block[b - 1][t] if b else 0
            self.model.add_hint(variable, before >= self.problem.tasks[t].person_min)
        alone = unshown(self.problem, chosen)
        for place, variable in self.unshown.items():
            self.model.add_hint(variable, place in alone)


def search_plan(
    problem: WorkdayProblem, start: Sequence[Assignment], *, seed: int, work_limit: float
) -> tuple[Assignment, ...] | None:
    """Search from a start; None where no plan was found within the limit.

    Parameters
    ----------
    problem
        The workday.
    start
        A plan that keeps every rule.
    seed
        Of the solver.
    work_limit
        Most work of the solver, in its deterministic time. [1], above 0
    """
    built = _Model(problem)
    built.hint(start)
    solver = cp_model.CpSolver()
    solver.parameters.random_seed = seed
    solver.parameters.num_workers = 1
    solver.parameters.max_deterministic_time = work_limit
    # One worker takes turns between plain search and large neighbourhoods of the best plan.
    solver.parameters.interleave_search = True
    solver.parameters.interleave_batch_size = 1
    solver.parameters.subsolvers.append("default_lp")
    status = solver.solve(built.model)
    if status not in {cp_model.OPTIMAL, cp_model.FEASIBLE}:
        return None
    return tuple(sorted(key for key, variable in built.takes.items() if solver.boolean_value(variable)))
