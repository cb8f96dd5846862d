"""The plan of a workday: who does what, when, with what, and what to do if it rains."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Literal

from bedwright.engine.work.blocks import LONGEST_SESSION_MIN, blocks_of, clock
from bedwright.engine.work.sources import WORK_PRACTICE
from bedwright.engine.work.together import companies_of
from bedwright.engine.work.traits import ALWAYS, CAUTIONS, WET_JOBS, WET_RULE
from bedwright.engine.work.workday_greedy import greedy_plan
from bedwright.engine.work.workday_problem import (
    Assignment,
    WorkdayProblem,
    bound_of,
    progress_of,
    value_of,
    workday_problem,
)
from bedwright.engine.work.workday_reasons import not_today, spare_helpers
from bedwright.model.source import Origin
from bedwright.model.work import (
    DayWeather,
    DueTask,
    Helper,
    ShedTool,
    TaskOutcome,
    TeamTask,
    WorkCaution,
    Workday,
)

WORK_LIMIT = 0.5
"""Deterministic time of the solver; about a second for forty people and sixty jobs."""
HOT_INDEX_C = 32.8
"""Heat index of 91 °F, where risk is moderate (OSHA_HEAT)."""


def plan_workday(
    tasks_due: Sequence[DueTask],
    people: Sequence[Helper],
    tools: Sequence[ShedTool],
    *,
    day: date,
    weather: DayWeather | None = None,
    session: tuple[int, int] | None = None,
    leader: str = "",
    earlier: Workday | None = None,
    seed: int = 0,
    work_limit: float = WORK_LIMIT,
) -> Workday:
    """Plan a workday; plan it again, with those who came, when others do not.

    Parameters
    ----------
    tasks_due
        Jobs that can be done, as `due_tasks` gives them; codes are unique.
    people
        Who signed up, or who came. Names are unique.
    tools
        Tools in the shed.
    day
        The day.
    weather
        Expected weather; None: dry, heat not known.
    session
        Start and end in minutes after midnight; None: first arrival to last leaving.
    leader
        Who shows jobs where a team has only newcomers.
    earlier
        The plan people were told, when it is made again; they keep their jobs where that
        costs little.
    seed
        Of the solver.
    work_limit
        Most work of the solver, in its deterministic time. [1], 0 for the quick plan alone

    Returns
    -------
    Workday
        Keeps every rule of `check_workday`. The same arguments give the same plan.

    Raises
    ------
    ValueError
        If names or codes repeat, or the session has no length.

    Source
    ------
    Session and breaks: EATSOUTH_SESSION. Children: NCCRAHS_2015, SCHOOLGARDENS. Heat:
    OSHA_HEAT. Team sizes, showing and worth of jobs: common practice, no source.
    """
    codes = [task.code for task in tasks_due]
    if len(set(codes)) < len(codes):
        raise ValueError("every job has a code of its own")
    weather = weather or DayWeather()
    companies, alone = companies_of(people)
    start_min, end_min = session or _span(people)
    blocks = blocks_of(start_min, end_min) if end_min > start_min or session else ()
    tasks = sorted(tasks_due, key=lambda task: task.code)
    problem = workday_problem(companies, tasks, blocks, tools, wet=weather.wet, earlier=earlier)
    chosen, method = _best(problem, seed, work_limit)
    return Workday(
        day=day,
        start_min=start_min,
        end_min=end_min,
        leader=leader,
        blocks=blocks,
        teams=_teams(problem, chosen, leader),
        outcomes=_outcomes(problem, chosen),
        not_today=not_today(problem, chosen, wet=weather.wet),
        spare=spare_helpers(problem, chosen, alone),
        wet_list=_wet_list(tasks),
        cautions=_cautions(problem, chosen, weather),
        notes=_notes(start_min, end_min, weather),
        method=method,
        value=value_of(problem, chosen),
        value_bound=bound_of(problem),
        origins=_origins(),
    )


def _span(people: Sequence[Helper]) -> tuple[int, int]:
    if not people:
        return 0, 0
    return min(helper.arrives_min for helper in people), max(helper.leaves_min for helper in people)


def _best(
    problem: WorkdayProblem, seed: int, work_limit: float
) -> tuple[tuple[Assignment, ...], Literal["search", "greedy"]]:
    """The better of the quick plan and what the search finds from it."""
    quick = greedy_plan(problem)
    if not problem.possible or work_limit <= 0:
        return quick, "greedy"
    # The solver takes 80 MB; a season plan without a workday need not load it.
    from bedwright.engine.work.workday_search import search_plan  # noqa: PLC0415

    found = search_plan(problem, quick, seed=seed, work_limit=work_limit)
    # The search counts showing at its longest, so that the quick plan can be worth more.
    if found is None or value_of(problem, found) < value_of(problem, quick):
        return quick, "greedy"
    return found, "search"


def _teams(problem: WorkdayProblem, chosen: Sequence[Assignment], leader: str) -> tuple[TeamTask, ...]:
    worked = progress_of(problem, chosen).worked
    places = sorted(
        {(block, task) for _, task, block in chosen},
        key=lambda at: (at[0], problem.tasks[at[1]].bed_code or "", problem.tasks[at[1]].code),
    )
    made = []
    for block, task in places:
        keys = [key for key in chosen if key[1:] == (task, block)]
        there = [problem.presence[key[0], block] for key in keys]
        adults = sorted(helper.name for presence in there for helper in presence.adults)
        newcomers = {helper.name for presence in there for helper in presence.adults if helper.first_time}
        shown_by = ""
        if problem.tasks[task].demonstration_min and newcomers:
            practised = [name for name in adults if name not in newcomers]
            shown_by = practised[0] if practised else leader or "the coordinator"
        made.append(
            TeamTask(
                block=problem.blocks[block].ordinal,
                task_code=problem.tasks[task].code,
                helpers=tuple(adults),
                children=tuple(sorted(child.name for presence in there for child in presence.children)),
                person_min=sum(worked[key] for key in keys),
                shown_by=shown_by,
            )
        )
    return tuple(made)


def _outcomes(problem: WorkdayProblem, chosen: Sequence[Assignment]) -> tuple[TaskOutcome, ...]:
    progress = progress_of(problem, chosen)
    taken = {task for _, task, _ in chosen}
    return tuple(
        TaskOutcome(task.code, task.person_min, progress.done_min(t), progress.done_min(t) >= task.person_min)
        for t, task in enumerate(problem.tasks)
        if t in taken
    )


def _wet_list(tasks: Sequence[DueTask]) -> tuple[str, ...]:
    due = sorted((t for t in tasks if t.under_cover), key=lambda t: (-t.weight, t.last_day, t.code))
    return (*(task.title for task in due), *WET_JOBS)


def _cautions(
    problem: WorkdayProblem, chosen: Sequence[Assignment], weather: DayWeather
) -> tuple[WorkCaution, ...]:
    keys = list(ALWAYS)
    if any(presence.children for presence in problem.presence.values()):
        keys.append("children")
    if weather.heat_index_c is not None and weather.heat_index_c >= HOT_INDEX_C:
        keys.append("heat")
    for t in sorted({task for _, task, _ in chosen}):
        keys += problem.tasks[t].cautions
    wanted = set(keys)
    return tuple(caution for key, caution in CAUTIONS.items() if key in wanted)


def _notes(start_min: int, end_min: int, weather: DayWeather) -> tuple[str, ...]:
    notes = []
    if end_min - start_min > LONGEST_SESSION_MIN:
        notes.append(
            f"{clock(start_min)} to {clock(end_min)} is more than two hours: volunteers tire, let people go "
            "when they have done their part."
        )
    if weather.wet:
        notes.append(WET_RULE)
    if (
        weather.heat_index_c is None
        and weather.hottest_c is not None
        and weather.hottest_c >= HOT_INDEX_C - 3
    ):
        notes.append("It may be hot and the humidity is not known: look at the heat index before you begin.")
    return tuple(notes)


def _origins() -> tuple[Origin, ...]:
    return (
        Origin(
            "work_block_min", 45.0, "about 45 minutes of work, then a break", ("EATSOUTH_SESSION",), "read"
        ),
        Origin("most_children", 8.0, "in one group, 4 to 6 are best", ("SCHOOLGARDENS",), "read"),
        Origin("team sizes and showing", None, "common practice, no source", (WORK_PRACTICE,), "practice"),
    )
