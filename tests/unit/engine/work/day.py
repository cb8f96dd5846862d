"""A small workday: people, jobs and tools with round numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from bedwright.engine.work import check_workday, plan_workday
from bedwright.model.work import NO_HOURS, DayWeather, DueTask, Helper, ShedTool, ToolNeed, Workday

DAY = date(2027, 5, 15)
SESSION = (600, 720)
"""10:00 to 12:00: blocks from 10:10 to 10:55 and from 11:10 to 11:50."""
SHED = (ShedTool("trowel", 4), ShedTool("fork", 2))
TROWEL = (ToolNeed("trowel", each=True),)


def helper(name: str = "Ilse", **changes: object) -> Helper:
    """Somebody there all the time who can do everything."""
    return replace(Helper(name, *SESSION), **changes)  # type: ignore[arg-type]


def crowd(n: int) -> tuple[Helper, ...]:
    return tuple(helper(f"Helper {k:02}") for k in range(n))


def job(code: str = "weed", minutes: int = 40, **changes: object) -> DueTask:
    """A job anybody can do, child or seated, with one to four adults and no tools."""
    base = DueTask(
        code, "weed", code, "", "A", NO_HOURS, minutes, DAY, 3, sitting=True, shade=True, child=True
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def plan(
    jobs: tuple[DueTask, ...],
    people: tuple[Helper, ...],
    tools: tuple[ShedTool, ...] = SHED,
    *,
    wet: bool = False,
    earlier: Workday | None = None,
    work_limit: float = 0.5,
) -> Workday:
    """The plan, checked."""
    made = plan_workday(
        jobs, people, tools, day=DAY, weather=DayWeather(wet=wet), session=SESSION, leader="Maren",
        earlier=earlier, work_limit=work_limit,
    )  # fmt: skip
    assert check_workday(made, jobs, people, tools, wet=wet) == ()
    return made


def at(made: Workday, code: str) -> dict[int, tuple[str, ...]]:
    """Who is at a job, by block."""
    return {team.block: (*team.helpers, *team.children) for team in made.teams if team.task_code == code}


def why_left(made: Workday, code: str) -> str:
    return next(each.reason for each in made.not_today if each.task_code == code)
