"""The board list of a workday as words on a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from bedwright.model.season import SeasonPlan
from bedwright.papers import PackInput
from bedwright.papers.measures import clock_words, minutes_words


def workday_text(plan: SeasonPlan, pack: PackInput) -> str:
    """Who does what, block by block, and what is left."""
    return "\n".join(_lines(plan, pack)) + "\n"


def _lines(plan: SeasonPlan, pack: PackInput) -> Iterator[str]:
    w = pack.workday
    jobs = {task.code: task for task in pack.due}
    yield (
        f"{pack.name[:1].upper()}{pack.name[1:]}, {w.day:%A %-d %B %Y}, {clock_words(w.start_min)} to "
        f"{clock_words(w.end_min)}, {len(pack.helpers)} people, revision {plan.revision}"
    )
    yield from (*w.notes, *pack.remarks)
    for block in w.blocks:
        teams = [team for team in w.teams if team.block == block.ordinal]
        yield ""
        yield f"{clock_words(block.start_min)} to {clock_words(block.end_min)}"
        for team in teams:
            who = ", ".join((*team.helpers, *team.children))
            shown = f" ({team.shown_by} shows how)" if team.shown_by else ""
            yield f"  {jobs[team.task_code].title}: {who}{shown}"
        for reason, names in w.spare_by_reason(block.ordinal).items():
            yield f"  {', '.join(names)}: {reason}"
        if not teams:
            yield "  no job that the plan needs done now"
    unfinished = [one for one in w.outcomes if not one.finished]
    left = [one for one in w.not_today if one.task_code in jobs]
    if unfinished or left:
        yield ""
        yield "Not today, or not all of it"
        for one in unfinished:
            done = f"{minutes_words(one.planned_min)} of {minutes_words(one.needed_min)}"
            yield f"  {jobs[one.task_code].title}: {done}"
        yield from (f"  {jobs[one.task_code].title}: {one.reason}" for one in left)
    yield ""
    yield "If it rains: " + "; ".join(w.wet_list)
