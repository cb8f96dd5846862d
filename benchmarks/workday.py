"""Planning a workday again when half the people do not come: time, and how good the plan is.

The peer is HiGHS, through scipy, on the same workday with everything taken out that makes it
hard: people spread over jobs as minutes, without teams, tools, breaks, showing or order. Its
answer is worth at least as much as that of any real plan, so the ratio shows how much of what
could be had at best a real plan gets.
"""

from __future__ import annotations

import time
from datetime import date
from random import Random

import numpy as np
import scipy
from scipy.optimize import linprog

from bedwright.engine.work import check_workday, plan_workday
from bedwright.engine.work.blocks import blocks_of, minutes_in
from bedwright.engine.work.traits import TRAITS
from bedwright.engine.work.workday import WORK_LIMIT
from bedwright.model.work import NO_HOURS, DueTask, Helper, ShedTool, Workday

DAY = date(2027, 5, 15)
SESSION = (600, 750)
N_PEOPLE, N_TASKS = 40, 60


def people(random: Random) -> list[Helper]:
    """Forty people: children beside adults, two teams, some who sit, some for the first time."""
    found = []
    for k in range(N_PEOPLE):
        child = k % 8 == 7
        found.append(
            Helper(
                name=f"Person {k:02}",
                arrives_min=600 if child else random.choice((600, 600, 600, 615, 650)),
                leaves_min=750 if child else random.choice((750, 750, 720, 690)),
                sitting_only=not child and k % 10 == 3,
                no_lifting=not child and k % 5 == 1,
                shade_only=not child and k % 20 == 4,
                first_time=k % 3 == 0,
                child=child,
                with_adult=f"Person {k - 1:02}" if child else "",
                team="Blue" if k in {8, 9, 10} else "Green" if k in {16, 17} else "",
            )
        )
    return found


def tasks(random: Random) -> list[DueTask]:
    """Sixty jobs of every kind in twelve beds, some after others."""
    kinds = sorted(TRAITS)
    made: list[DueTask] = []
    for k in range(N_TASKS):
        kind = kinds[k % len(kinds)]
        traits = TRAITS[kind]
        earlier = [job.code for job in made if job.kind == "prepare"]
        made.append(
            DueTask(
                code=f"T{k:02}",
                kind=kind,
                title=f"Job {k}",
                details="",
                bed_code=f"B{k % 12}",
                needed=NO_HOURS,
                person_min=random.randrange(15, 150, 5),
                last_day=DAY,
                weight=random.randrange(1, 16),
                after=(earlier[-1],) if kind in {"sow", "set out"} and earlier else (),
                min_people=traits.min_people,
                max_people=traits.max_people,
                tools=traits.tools,
                demonstration_min=traits.demonstration_min,
                sitting=traits.sitting or k % 4 == 0,
                lifting=traits.lifting,
                shade=traits.under_cover or k % 3 == 0,
                under_cover=traits.under_cover,
                child=traits.child,
            )
        )
    return made


def shed() -> list[ShedTool]:
    """A modest shed."""
    counts = {"fork": 8, "rake": 4, "wheelbarrow": 3, "trowel": 10, "hand fork": 10, "hoe": 4, "shears": 3,
              "string line": 4, "watering can": 8, "mallet": 2, "crate": 8, "scales": 2}  # fmt: skip
    return [ShedTool(tool, count) for tool, count in counts.items()]


def relaxed_value(due: list[DueTask], helpers: list[Helper]) -> float:
    """Worth of the best spread of adults' minutes over jobs, nothing else asked; from HiGHS."""
    blocks = blocks_of(*SESSION)
    supply_min = sum(minutes_in(each, block) for each in helpers if not each.child for block in blocks)
    worth = np.array([10 * job.weight * (1 + 5 / job.person_min) for job in due])
    answer = linprog(
        -worth,
        A_ub=np.ones((1, len(due))),
        b_ub=[supply_min],
        bounds=[(0, job.person_min) for job in due],
        method="highs",
    )
    assert answer.fun is not None
    return -float(answer.fun)


def timed(
    due: list[DueTask], helpers: list[Helper], earlier: Workday | None, limit: float
) -> tuple[Workday, float]:
    begun = time.perf_counter()
    plan = plan_workday(
        due, helpers, shed(), day=DAY, session=SESSION, leader="Leader", earlier=earlier, work_limit=limit
    )
    return plan, time.perf_counter() - begun


def main() -> None:
    random = Random(1)
    helpers, due = people(random), tasks(random)
    first, first_s = timed(due, helpers, None, WORK_LIMIT)
    came = [each for k, each in enumerate(helpers) if k % 2 == 0 or each.child]
    print(f"workday of {len(helpers)} people and {len(due)} jobs, {len(first.blocks)} blocks")
    for words, crowd, earlier in (("planned", helpers, None), ("again, half did not come", came, first)):
        begun = time.perf_counter()
        most = relaxed_value(due, crowd)
        peer_s = time.perf_counter() - begun
        for limit in (0.0, WORK_LIMIT):
            plan, taken_s = timed(due, crowd, earlier, limit)
            faults = check_workday(plan, due, crowd, shed())
            print(
                f"  {words}, {plan.method}: {taken_s:.2f} s, worth {plan.value}, bound {plan.value_bound}, "
                f"{plan.value / most:.2f} of HiGHS (scipy {scipy.__version__}) without teams and order; "
                f"time ratio {taken_s / peer_s:.0f}; faults {len(faults)}"
            )
    print(f"  first plan took {first_s:.2f} s")
