"""A quick plan of a workday: the most pressing job first, the least flexible people first."""

from __future__ import annotations

from collections import defaultdict

from bedwright.engine.work.together import MOST_CHILDREN
from bedwright.engine.work.workday_problem import Assignment, WorkdayProblem, progress_of


def greedy_plan(problem: WorkdayProblem) -> tuple[Assignment, ...]:
    """A plan that keeps every rule, made in one pass; the start and the fallback of the search."""
    chosen: list[Assignment] = []
    for b in range(len(problem.blocks)):
        progress = progress_of(problem, chosen)
        done = progress.after_block[b - 1] if b else (0,) * len(problem.tasks)
        chosen += _block(problem, b, done, chosen)
    return tuple(sorted(chosen))


def _block(
    problem: WorkdayProblem, b: int, done: tuple[int, ...], chosen: list[Assignment]
) -> list[Assignment]:
    options: dict[int, list[int]] = defaultdict(list)
    choices: dict[int, int] = defaultdict(int)
    for company, t, block in problem.possible:
        if block == b:
            options[t].append(company)
            choices[company] += 1
    on_it = {(company, t) for company, t, block in chosen if block == b - 1}
    left = dict(problem.tools)
    free = set(choices)
    found: list[Assignment] = []
    order = sorted(options, key=lambda t: (-problem.tasks[t].weight, problem.tasks[t].code))
    for t in order:
        task = problem.tasks[t]
        if any(done[first] < problem.tasks[first].person_min for first in problem.before[t]):
            continue
        # Those who are on it stay; then those who can do little else.
        ranked = sorted(
            (c for c in options[t] if c in free),
            key=lambda c: ((c, t) not in on_it, choices[c], problem.companies[c].name),
        )
        team = _team(problem, t, b, ranked, task.person_min - done[t], left)
        if team:
            _take_tools(problem, team, left)
            free -= {company for company, _, _ in team}
            found += team
    return found


def _team(
    problem: WorkdayProblem, t: int, b: int, ranked: list[int], open_min: int, left: dict[str, int]
) -> list[Assignment]:
    """People for one job in one block; none where too few can come, or too few tools are left."""
    task = problem.tasks[t]
    team: list[Assignment] = []
    places = minutes = 0
    if open_min <= 0 or any(left.get(need.tool, 0) < 1 for need in task.tools):
        return []
    each = [need.tool for need in task.tools if need.each]
    children = 0
    for c in ranked:
        enough = minutes >= open_min and places >= task.min_people
        adults = problem.adults((c, t, b))
        n_children = len(problem.presence[c, b].children)
        fits = places + adults <= task.max_people and children + n_children <= MOST_CHILDREN
        if enough or not fits or any(left.get(tool, 0) < places + adults for tool in each):
            continue
        team.append((c, t, b))
        places += adults
        children += n_children
        minutes += problem.person_min((c, t, b))
    return team if places >= task.min_people else []


def _take_tools(problem: WorkdayProblem, team: list[Assignment], left: dict[str, int]) -> None:
    for need in problem.tasks[team[0][1]].tools:
        used = sum(problem.adults(each) for each in team) if need.each else 1
        left[need.tool] -= used
