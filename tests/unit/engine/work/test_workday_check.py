"""The independent check finds each kind of fault."""

from collections.abc import Callable
from dataclasses import replace

import pytest

from bedwright.engine.work import check_workday
from bedwright.model.work import DueTask, Helper, TeamTask, WorkBlock, Workday
from tests.unit.engine.work.day import SHED, TROWEL, helper, job, plan

JOBS = (
    job("a", 40, tools=TROWEL),
    job("b", 40, after=("a",)),
    job("c", 40, sitting=False, lifting=True, shade=False, child=False, min_people=2, max_people=2),
)
PEOPLE = (
    helper("Ilse", team="Blue"),
    helper("Wim", team="Blue"),
    helper("Tarek", sitting_only=True, no_lifting=True, shade_only=True),
    helper("Yara", leaves_min=660),
    helper("Odo", child=True, with_adult="Yara", leaves_min=660),
)


def teams(made: Workday, *found: TeamTask) -> Workday:
    return replace(made, teams=found, outcomes=())


def team(
    code: str, *names: str, block: int = 1, children: tuple[str, ...] = (), minutes: int = 0
) -> TeamTask:
    return TeamTask(block, code, names, children, minutes, "")


BLUE = ("Ilse", "Wim")
FAULTS: dict[str, Callable[[Workday], Workday]] = {
    "known": lambda w: teams(w, team("a", "Nobody")),
    "one place": lambda w: teams(w, team("a", "Tarek"), team("b", "Tarek")),
    "one team": lambda w: teams(w, team("a", "Tarek"), team("a", "Yara")),
    "there": lambda w: teams(w, team("a", "Yara", block=2)),
    "seat": lambda w: teams(w, team("c", "Tarek", "Yara")),
    "lifting": lambda w: teams(w, team("c", "Tarek", "Yara")),
    "shade": lambda w: teams(w, team("c", "Tarek", "Yara")),
    "child": lambda w: teams(w, team("c", "Yara", *BLUE, children=("Odo",))),
    "beside": lambda w: teams(w, team("a", "Tarek", children=("Odo",))),
    "size": lambda w: teams(w, team("c", "Yara")),
    "together": lambda w: teams(w, team("a", "Ilse")),
    "tools": lambda w: teams(w, team("a", "Tarek", "Yara", *BLUE)),
    "order": lambda w: teams(w, team("b", "Tarek", block=2)),
    "minutes": lambda w: teams(w, team("a", "Tarek", minutes=46)),
    "breaks": lambda w: replace(teams(w), blocks=(WorkBlock(1, 610, 656),)),
}


@pytest.mark.parametrize("rule", FAULTS)
def test_a_plan_that_breaks_a_rule_is_found_out(rule: str) -> None:
    tools = (replace(SHED[0], count=3),)
    spoilt = FAULTS[rule](plan(JOBS, PEOPLE))
    assert rule in {fault.rule for fault in check_workday(spoilt, JOBS, PEOPLE, tools)}


def test_blocks_without_a_break_between_are_found_out() -> None:
    spoilt = replace(teams(plan(JOBS, PEOPLE)), blocks=(WorkBlock(1, 610, 655), WorkBlock(2, 655, 700)))
    assert {fault.rule for fault in check_workday(spoilt, JOBS, PEOPLE, SHED)} == {"breaks"}


def test_rain_and_crowds_of_children_are_found_out() -> None:
    made = plan(JOBS, PEOPLE)
    assert "rain" in {fault.rule for fault in check_workday(made, JOBS, PEOPLE, SHED, wet=True)}
    many: tuple[Helper, ...] = tuple(helper(f"C{k}", child=True, with_adult="Tarek") for k in range(9))
    jobs: tuple[DueTask, ...] = (job("a"),)
    people = (helper("Tarek"), *many)
    spoilt = teams(plan(jobs, people), team("a", "Tarek", children=tuple(c.name for c in many)))
    assert {fault.rule for fault in check_workday(spoilt, jobs, people, SHED)} == {"children"}


def test_a_wrong_sum_is_found_out() -> None:
    made = plan(JOBS, PEOPLE)
    spoilt = replace(made, outcomes=(replace(made.outcomes[0], planned_min=1),))
    assert {fault.rule for fault in check_workday(spoilt, JOBS, PEOPLE, SHED)} == {"minutes"}
