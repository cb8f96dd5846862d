"""The plan of a workday for those who signed up, and again for those who came."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import replace
from pathlib import Path

from bedwright.engine.work import due_tasks, plan_workday
from bedwright.model.book import PaperSize, PlannedWorkday, UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.model.work import DayWeather, DueTask, Helper, Roster, ShedTool, Workday
from bedwright.papers import PackInput, pack_bytes
from bedwright.papers.measures import clock_words
from bedwright.service.folder import whole_folder

PACK_MARK = "workday.pdf"
"""A folder that holds this file was written here and may be replaced."""
NOT_COUNTED = (
    "How many people come is not stated in the garden book: nobody is given a job here. Make the pack with "
    "the "
    "people's names by bedwright workday."
)
TOOLS_ASSUMED = "Tools enough for everybody are assumed: count them against the list."


def pack_of(
    plan: SeasonPlan,
    roster: Roster,
    *,
    absent: Collection[str] = (),
    weather: DayWeather | None = None,
) -> PackInput:
    """The plan of a workday with everything its pack shows.

    Parameters
    ----------
    plan
        The season plan.
    roster
        Who signed up, and the tools in the shed; without any, enough for everybody are assumed.
    absent
        Names of those who did not come; a child whose adult is absent is absent too. The
        others keep the jobs they were told where that costs little.
    weather
        What is expected of the day; None: dry, heat not known.
    """
    due = due_tasks(plan, roster.day)
    in_shed = roster.tools
    if not in_shed:
        roster = replace(roster, tools=_enough_tools(due, len(roster.helpers)))
    told = _planned(due, roster, roster.helpers, weather, None)
    helpers = roster.helpers
    if absent:
        helpers = tuple(h for h in helpers if h.name not in absent and h.with_adult not in absent)
        told = _planned(due, roster, helpers, weather, told)
    return PackInput(
        name=_name_of(plan, roster),
        workday=told,
        due=due,
        helpers=helpers,
        tools=in_shed,
        named=True,
        remarks=(*_remarks(plan, roster, absent), *(() if in_shed else (TOOLS_ASSUMED,))),
    )


def _planned(
    due: Sequence[DueTask],
    roster: Roster,
    helpers: Sequence[Helper],
    weather: DayWeather | None,
    earlier: Workday | None,
) -> Workday:
    return plan_workday(
        due,
        people=helpers,
        tools=roster.tools,
        day=roster.day,
        weather=weather,
        session=(roster.start_min, roster.end_min),
        leader=roster.leader,
        earlier=earlier,
    )


def _name_of(plan: SeasonPlan, roster: Roster) -> str:
    return next((day.name for day in plan.book.workdays if day.day == roster.day), "workday")


def _remarks(plan: SeasonPlan, roster: Roster, absent: Collection[str]) -> tuple[str, ...]:
    made = []
    if absent:
        made.append(f"Planned again without {', '.join(sorted(absent))}.")
    planned = next((day for day in plan.book.workdays if day.day == roster.day), None)
    if planned is not None and planned.start_min != roster.start_min:
        made.append(f"The garden book has this day begin at {clock_words(planned.start_min)}.")
    return tuple(made)


def write_pack(plan: SeasonPlan, pack: PackInput, folder: Path, paper: PaperSize, units: UnitSystem) -> None:
    """Write the pack; the folder appears whole or not at all.

    Raises
    ------
    BadDocumentError
        If the folder holds other things or cannot be written.
    """
    with whole_folder(folder, PACK_MARK) as work:
        (work / PACK_MARK).write_bytes(pack_bytes(plan, pack, paper=paper, units=units))


def planned_packs(plan: SeasonPlan) -> Iterable[tuple[str, PackInput]]:
    """File name and pack of every workday the book plans, for people counted and not named."""
    for day in sorted(plan.book.workdays, key=lambda day: (day.day, day.start_min)):
        yield (
            f"workday-{day.day.isoformat()}-{clock_words(day.start_min).replace(':', '')}.pdf",
            _counted(plan, day),
        )


def _counted(plan: SeasonPlan, day: PlannedWorkday) -> PackInput:
    end_min = min(day.start_min + round(60 * day.duration_h), 24 * 60 - 1)
    n_people = day.n_people or 0
    helpers = tuple(Helper(f"Helper {k}", day.start_min, end_min) for k in range(1, n_people + 1))
    due = due_tasks(plan, day.day)
    workday = plan_workday(
        due,
        people=helpers,
        tools=_enough_tools(due, n_people),
        day=day.day,
        session=(day.start_min, end_min),
        # the quick plan: these people have no names yet, and the day is planned again with them
        work_limit=0,
    )
    remarks = (TOOLS_ASSUMED,) if n_people else (NOT_COUNTED,)
    return PackInput(day.name, workday, due, helpers, (), named=False, remarks=remarks)


def _enough_tools(due: Iterable[DueTask], n_people: int) -> tuple[ShedTool, ...]:
    return tuple(
        ShedTool(tool, max(1, n_people)) for tool in sorted({n.tool for task in due for n in task.tools})
    )
