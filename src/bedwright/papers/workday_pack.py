"""The pack of one workday: board list, slips, tools, crates and seedlings, sign-in sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from bedwright.engine.work import SOURCES
from bedwright.engine.work.due import care_task
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import Planting, SeasonPlan, Task
from bedwright.model.work import DueTask, Helper, ShedTool, TeamTask, WorkCaution, Workday
from bedwright.papers import parts
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import Measures, clock_words, count_words, day_words, minutes_words
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame

_PLANTING_KINDS = frozenset({"sow", "set out"})
_SPARE_LINES = 6
"""Empty lines on the sign-in sheet, for people nobody expected."""
_EACH_BEFORE = "Wash hands before this job."


@dataclass(frozen=True, slots=True)
class PackInput:
    """One workday with everything its pack shows."""

    name: str
    workday: Workday
    due: tuple[DueTask, ...]
    """Jobs the day was planned from."""
    helpers: tuple[Helper, ...]
    tools: tuple[ShedTool, ...]
    named: bool
    """False where people are only counted: slips then leave room for a name."""
    remarks: tuple[str, ...] = ()


def workday_pack_data(
    plan: SeasonPlan, pack: PackInput, paper: PaperSize, units: UnitSystem
) -> dict[str, Any]:
    """The pack for `parts.typ`: one run of pages each."""
    measures = Measures(units)
    plan = replace(
        plan, tasks=tuple(replace(task, details=measures.alone(task.details)) for task in plan.tasks)
    )
    jobs = {task.code: replace(task, details=measures.alone(task.details)) for task in pack.due}

    def sheet(title: str, number: str, body: Sequence[Part]) -> dict[str, Any]:
        return parts.page(frame(plan, paper, title, number), [_title(pack, title), *body])

    return parts.paper(
        sheet("Board list", "D1", _board(plan, pack, jobs)),
        sheet("Slips", "D2", _slips(plan, pack, jobs)),
        sheet("Tools, crates and seedlings", "D3", [*_tools(pack, jobs), *_seedlings(plan, pack, jobs)]),
        sheet("Sign-in sheet", "D4", _sign_in(pack)),
    )  # fmt: skip


def _title(pack: PackInput, title: str) -> Part:
    w = pack.workday
    times = f"{clock_words(w.start_min)} to {clock_words(w.end_min)}"
    return parts.heading(f"{title}: {pack.name}, {day_words(w.day)}, {times}", 1)


def _where(plan: SeasonPlan, task: DueTask) -> str:
    if len(task.parts) > 1:
        return "as the job says"
    if task.bed_code is None:
        return "under cover" if task.under_cover else "as told"
    return bed_words(plan.book.bed(task.bed_code))


def _tool_words(task: DueTask) -> str:
    return ", ".join(f"{need.tool} each" if need.each else need.tool for need in task.tools) or "none"


def _names(team: TeamTask) -> str:
    children = f" (with {', '.join(team.children)})" if team.children else ""
    return ", ".join(team.helpers) + children


# board list


def _board(plan: SeasonPlan, pack: PackInput, jobs: Mapping[str, DueTask]) -> list[Part]:
    w = pack.workday
    made: list[Part] = [
        parts.text(
            f"Welcome, hands and tools from {clock_words(w.start_min)}. Led by "
            f"{w.leader or 'the coordinator'}. "
            "After each stretch of work: a break, water, shade.",
            size_pt=10,
        )
    ]
    made += [parts.text(note, size_pt=9.5) for note in (*w.notes, *pack.remarks)]
    if not w.teams:
        made.append(
            parts.text("Nobody and no job could be brought together; see what is left below.", size_pt=10)
        )
    for block in w.blocks:
        teams = [team for team in w.teams if team.block == block.ordinal]
        if not teams:
            continue
        rows = [_board_row(plan, team, jobs[team.task_code]) for team in teams]
        spare = w.spare_by_reason(block.ordinal)
        made += [
            parts.heading(f"{clock_words(block.start_min)} to {clock_words(block.end_min)}"),
            parts.ruled_table(["Job", "Where", "Who", "Tools", "Shown by"], rows, [2.2, 1.3, 2.0, 1.3, 1.0],
                              bold=(0, 2), size_pt=9.5),
            *(parts.small(f"{', '.join(names)}: {reason}") for reason, names in spare.items()),
        ]  # fmt: skip
    made += _left(w, jobs)
    made += [
        parts.together(parts.heading("If it rains"), parts.bullets(w.wet_list, size_pt=9.5)),
        parts.heading("For everybody"),
        *(_caution(plan, each) for each in w.cautions),
    ]
    return made


def _board_row(plan: SeasonPlan, team: TeamTask, task: DueTask) -> list[str]:
    return [task.title, _where(plan, task), _names(team), _tool_words(task), team.shown_by]


def _left(w: Workday, jobs: Mapping[str, DueTask]) -> list[Part]:
    unfinished = [
        f"{jobs[one.task_code].title}: {minutes_words(one.planned_min)} of {minutes_words(one.needed_min)}, "
        "to be finished "
        "another day."
        for one in w.outcomes
        if not one.finished
    ]
    left = [f"{jobs[one.task_code].title}: {one.reason}" for one in w.not_today if one.task_code in jobs]
    lines = [*unfinished, *left]
    return [parts.heading("Not today, or not all of it"), parts.bullets(lines)] if lines else []


def _caution(plan: SeasonPlan, caution: WorkCaution) -> Part:
    known = {**SOURCES, **plan.sources}
    cited = [known[key].citation if key in known else key for key in caution.source_ids]
    return parts.caution(
        f"{caution.key.capitalize()}.", caution.text, "; ".join(cited) or "common practice, no source"
    )


# slips


def _slips(plan: SeasonPlan, pack: PackInput, jobs: Mapping[str, DueTask]) -> list[Part]:
    slips = [_slip(plan, pack, helper, jobs) for helper in pack.helpers if not helper.child]
    pairs = [slips[k : k + 2] for k in range(0, len(slips), 2)]
    blank = parts.text("")
    return [
        parts.small("Cut along the frames and hand one to each."),
        *(parts.side_by_side(*pair, *[blank] * (2 - len(pair))) for pair in pairs),
    ]


def _slip(plan: SeasonPlan, pack: PackInput, helper: Helper, jobs: Mapping[str, DueTask]) -> Part:
    w = pack.workday
    children = [other.name for other in pack.helpers if other.child and other.with_adult == helper.name]
    lines: list[Part] = []
    for block in w.blocks:
        team = next((t for t in w.teams if t.block == block.ordinal and helper.name in t.helpers), None)
        span = f"{clock_words(block.start_min)} to {clock_words(block.end_min)}"
        if team is None:
            spare = any(s.block == block.ordinal and s.helper == helper.name for s in w.spare)
            free = f"no job yet; ask {w.leader or 'the coordinator'} what else there is"
            lines.append(parts.text(f"{span}: {free if spare else 'not here'}"))
            continue
        lines += _slip_job(plan, span, team, jobs[team.task_code], helper)
    name = helper.name if pack.named else f"{helper.name}: ____________________"
    head = [parts.heading(name)]
    if children:
        head.append(parts.text(f"with {', '.join(children)}", bold=True))
    times = (
        f"{day_words(w.day)}, {clock_words(helper.arrives_min)} to {clock_words(helper.leaves_min)}. "
        f"Ask {w.leader or 'the coordinator'}."
    )
    end = "A break after each job: drink, sit in the shade. Wash hands when you finish."
    return parts.framed(*head, parts.small(times), *lines, parts.small(end))


def _slip_job(plan: SeasonPlan, span: str, team: TeamTask, task: DueTask, helper: Helper) -> list[Part]:
    others = [name for name in team.helpers if name != helper.name]
    told = f"{span}: {task.title}"
    details = [_details(plan, task)]
    details.append(
        f"Tools: {_tool_words(task)}." + (f" With {', '.join(others)}." if others else " On your own.")
    )
    if team.shown_by and helper.first_time:
        details.append(f"{team.shown_by} shows you how.")
    if task.wash_hands_first:
        details.append(_EACH_BEFORE)
    return [parts.text(told, bold=True), parts.small(" ".join(details))]


def _details(plan: SeasonPlan, task: DueTask) -> str:
    """Where and how; for a round its jobs by name, then what is to be done once."""
    if len(task.parts) < 2:
        return f"{_where(plan, task)}. {task.details}".strip()
    tasks = {each.code: each for each in plan.tasks}
    jobs = [tasks.get(code) or _care_of(code, task.last_day) for code in task.parts]
    told = dict.fromkeys(job.details for job in jobs if job.details)
    return f"{'; '.join(job.title for job in jobs)}. {' '.join(told)}"


def _care_of(code: str, day: date) -> Task:
    """The week's weeding or watering of a bed, which is no task of the plan."""
    kind, _, bed_code = code.partition(":")
    return care_task(kind, bed_code, day)


# tools, crates, seedlings


def _tools(pack: PackInput, jobs: Mapping[str, DueTask]) -> list[Part]:
    most: dict[str, int] = {}
    for block in pack.workday.blocks:
        now: dict[str, int] = {}
        for team in pack.workday.teams:
            if team.block == block.ordinal:
                for need in jobs[team.task_code].tools:
                    now[need.tool] = now.get(need.tool, 0) + (len(team.helpers) if need.each else 1)
        most = {tool: max(most.get(tool, 0), now.get(tool, 0)) for tool in most | now}
    shed = {tool.tool: tool.count for tool in pack.tools}
    rows = [[tool, str(count), str(shed[tool]) if pack.named and tool in shed else "", "", ""]
            for tool, count in sorted(most.items())]  # fmt: skip
    if not rows:
        return [parts.heading("Tools"), parts.text("No tools are needed.")]
    head = ["Tool", "Most in use at once", "In the shed", "Taken out", "Back in the shed"]
    return [
        parts.heading("Tools"),
        parts.ruled_table(head, rows, [1.5, 1, 1, 1, 1], bold=(0, 1), size_pt=9.5),
    ]


def _seedlings(plan: SeasonPlan, pack: PackInput, jobs: Mapping[str, DueTask]) -> list[Part]:
    """What to carry to each bed, in the order in which it is planted; and crates for picking."""
    plantings = {p.code: p for p in plan.plantings}
    tasks = {task.code: task for task in plan.tasks}
    planned = [
        code
        for team in pack.workday.teams
        for code in (jobs[team.task_code].parts or (team.task_code,))
        if code in tasks
    ]
    rows = []
    for code in dict.fromkeys(planned):
        task = tasks[code]
        if task.kind in _PLANTING_KINDS and task.planting_code in plantings:
            rows.append(_carry_row(plan, plantings[task.planting_code]))
    made: list[Part] = [parts.heading("Carry to the beds, in this order")]
    if rows:
        head = ["", "Bed", "Rows", "Crop, variety", "What", "Label"]
        numbered = [[str(k), *row] for k, row in enumerate(rows, start=1)]
        made.append(parts.ruled_table(head, numbered, [0, 1.2, 0.8, 1.4, 1.4, 0.7], bold=(1, 4), size_pt=9.5))
    else:
        made.append(parts.text("Nothing is sown or set out."))
    picks = sorted({plan.book.bed(task.bed_code).code for code in dict.fromkeys(planned)
                    if (task := tasks[code]).kind == "pick" and task.bed_code})  # fmt: skip
    if picks:
        made += [
            parts.heading("Crates"),
            parts.text(f"One clean crate and the scales for each bed that is picked: {', '.join(picks)}."),
        ]
    return made


def _carry_row(plan: SeasonPlan, planting: Planting) -> list[str]:
    trays = (
        next((t for t in plan.care.supplies.trays if t.planting_code == planting.code), None)
        if plan.care
        else None
    )
    if planting.way == "sow":
        what = "seed"
    elif trays is not None:
        what = f"{count_words(planting.n_plants, 'plant')}, {count_words(trays.n_trays, 'tray')}"
    else:
        what = count_words(planting.n_plants, "plant")
    rows = [row.code for row in planting.rows]
    span = rows[0] if len(rows) == 1 else f"{rows[0]} to {rows[-1]}"
    name = planting.crop.name + (f", {planting.variety}" if planting.variety else "")
    return [bed_words(plan.book.bed(planting.bed_code)), span, name, what, planting.label_code]


# sign-in


def _sign_in(pack: PackInput) -> list[Part]:
    rows = []
    for helper in pack.helpers:
        notes = [
            word for word, holds in (("first time", helper.first_time), ("child", helper.child)) if holds
        ]
        if helper.with_adult:
            notes.append(f"with {helper.with_adult}")
        name = helper.name if pack.named else ""
        rows.append([name, "", "", "", "", ", ".join(notes)])
    rows += [[""] * 6 for _ in range(_SPARE_LINES)]
    head = ["Name", "Came", "Left", "Signature", "Who to call if need be", ""]
    told = (
        "Sign in and out: it tells who is on the site, and whose hours to write down. Keep this sheet locked "
        "away, and destroy it when it is no longer needed."
    )
    return [
        parts.text(told),
        parts.ruled_table(head, rows, [1.6, 0.6, 0.6, 1.4, 1.6, 1.0], bold=(0,), size_pt=11.5),
    ]
