"""Hours, workdays, walks and packs, whatever garden and people there are."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date, timedelta
from itertools import pairwise, product
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bedwright.engine.supplies import cheapest_packs, raising_weeks, tray_needs
from bedwright.engine.work import (
    check_workday,
    due_tasks,
    plan_workday,
    relief,
    season_hours,
    tasks_of,
    week_list,
)
from bedwright.engine.work.relief import LEAST_FREED_H
from bedwright.engine.work.walk import short_tour, tour_length_m
from bedwright.model.book import Amount, HelpingHands, Way, Wish
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.supplies import SupplierOffer
from bedwright.model.work import NO_HOURS, DayWeather, DueTask, Helper, ShedTool, ToolNeed
from tests.builders import tiny_book, tiny_crop
from tests.plantings import DATES, RAISED_DATES, planting, season_plan

DAY = date(2027, 5, 15)
TOOLS = ("fork", "trowel", "hoe")


@st.composite
def helpers(draw: st.DrawFn) -> tuple[Helper, ...]:
    """Up to ten people with limits, teams and children, some of whose adults stay away."""
    n = draw(st.integers(0, 10))
    found = []
    for k in range(n):
        child = draw(st.booleans()) and k > 0
        arrives = draw(st.integers(580, 690))
        found.append(
            Helper(
                name=f"P{k}",
                arrives_min=arrives,
                leaves_min=draw(st.integers(arrives, 740)),
                sitting_only=draw(st.booleans()),
                no_lifting=draw(st.booleans()),
                shade_only=draw(st.booleans()),
                first_time=draw(st.booleans()),
                child=child,
                with_adult=f"P{draw(st.integers(0, n))}" if child else "",
                team="" if child else draw(st.sampled_from(("", "", "Blue", "Red"))),
            )
        )
    return tuple(found)


@st.composite
def jobs(draw: st.DrawFn) -> tuple[DueTask, ...]:
    """Up to eight jobs, each after some of those before it."""
    made: list[DueTask] = []
    for k in range(draw(st.integers(0, 8))):
        least = draw(st.integers(1, 2))
        tools = draw(st.lists(st.sampled_from(TOOLS), unique=True, max_size=2))
        made.append(
            DueTask(
                code=f"T{k}",
                kind="weed",
                title=f"job {k}",
                details="",
                bed_code=draw(st.sampled_from((None, "A", "B"))),
                needed=NO_HOURS,
                person_min=draw(st.integers(5, 200)),
                last_day=DAY,
                weight=draw(st.integers(1, 15)),
                after=tuple(draw(st.lists(st.sampled_from([t.code for t in made]), unique=True, max_size=2)))
                if made
                else (),
                min_people=least,
                max_people=draw(st.integers(least, 4)),
                tools=tuple(ToolNeed(tool, draw(st.booleans())) for tool in tools),
                demonstration_min=draw(st.sampled_from((0, 5))),
                sitting=draw(st.booleans()),
                lifting=draw(st.booleans()),
                shade=draw(st.booleans()),
                under_cover=draw(st.booleans()),
                child=draw(st.booleans()),
            )
        )
    return tuple(made)


def sheds() -> st.SearchStrategy[tuple[ShedTool, ...]]:
    counts = st.tuples(*(st.integers(0, 5) for _ in TOOLS))
    return counts.map(lambda n: tuple(ShedTool(tool, k) for tool, k in zip(TOOLS, n, strict=True)))


@settings(max_examples=60)
@given(due=jobs(), people=helpers(), shed=sheds(), wet=st.booleans())
def test_every_plan_of_a_workday_keeps_every_rule_and_its_bound(
    due: tuple[DueTask, ...], people: tuple[Helper, ...], shed: tuple[ShedTool, ...], wet: bool
) -> None:
    values = []
    for work_limit in (0.0, 0.05):
        made = plan_workday(
            due, people, shed, day=DAY, session=(600, 720), weather=DayWeather(wet=wet), work_limit=work_limit
        )
        assert check_workday(made, due, people, shed, wet=wet) == ()
        assert made.value <= made.value_bound
        taken = {team.task_code for team in made.teams}
        assert taken | {left.task_code for left in made.not_today} == {task.code for task in due}
        values.append(made.value)
    assert values[0] <= values[1]


@settings(max_examples=30)
@given(due=jobs(), people=helpers(), shed=sheds())
def test_planning_again_with_half_the_people_keeps_every_rule(
    due: tuple[DueTask, ...], people: tuple[Helper, ...], shed: tuple[ShedTool, ...]
) -> None:
    first = plan_workday(due, people, shed, day=DAY, session=(600, 720), work_limit=0.05)
    came = people[::2]
    again = plan_workday(due, came, shed, day=DAY, session=(600, 720), work_limit=0.05, earlier=first)
    assert check_workday(again, due, came, shed) == ()
    assert again == plan_workday(due, came, shed, day=DAY, session=(600, 720), work_limit=0.05, earlier=first)


@st.composite
def plans(draw: st.DrawFn) -> SeasonPlan:
    """Up to five plantings of several ways, kinds and days, and hours promised."""
    made: list[Planting] = []
    for k in range(draw(st.integers(0, 5))):
        way: Way = draw(st.sampled_from(get_args(Way)))
        days = timedelta(days=draw(st.integers(0, 60)))
        dates = RAISED_DATES if way == "raise" else DATES
        moved = replace(
            dates,
            **{
                name: day + days
                for name in ("sow_under_cover", "harden_off_from", "in_ground", "emerges", "first_pick",
                             "first_pick_early", "first_pick_late", "last_pick", "clear_by")
                if (day := getattr(dates, name)) is not None
            },
        )  # fmt: skip
        crop = replace(
            tiny_crop(),
            support=draw(st.sampled_from(("none", "cane", "netting"))),
            yield_kg_per_m_row=draw(st.sampled_from((None, 1.5))),
        )
        made.append(
            planting(
                f"carrot-{k}", crop=crop, way=way, n_plants=draw(st.integers(1, 60)), row_code=f"A{k + 1}",
                bed_code=draw(st.sampled_from(("A", "B"))), dates=moved,
            )
        )  # fmt: skip
    wishes = tuple(
        Wish(p.code, "carrot", Amount(1.0, "plants"), priority=draw(st.integers(1, 5))) for p in made
    )
    promised = HelpingHands(
        "Group", draw(st.floats(0, 3)), date(2027, 1, 1), date(2028, 1, 1), draw(st.booleans())
    )
    return season_plan(
        *made, tasks=tasks_of(made, []), people=(promised,), book=replace(tiny_book(), wishes=wishes)
    )


@settings(max_examples=60)
@given(plan=plans())
def test_hours_rise_from_low_to_high_and_add_up_by_bed_kind_and_week(plan: SeasonPlan) -> None:
    hours = season_hours(plan)
    for week in hours.weeks:
        assert 0 <= week.needed.low_h <= week.needed.likely_h <= week.needed.high_h
        for parts in (week.by_bed, week.by_kind):
            assert math.isclose(sum(h.high_h for _, h in parts), week.needed.high_h, abs_tol=1e-9)
    total = sum(week.needed.likely_h for week in hours.weeks)
    assert math.isclose(total, hours.needed.likely_h, abs_tol=1e-9)
    assert all((b.week - a.week).days == 7 for a, b in pairwise(hours.weeks))


@settings(max_examples=60)
@given(plan=plans())
def test_leaving_out_what_is_listed_closes_the_shortage_that_plantings_cause(plan: SeasonPlan) -> None:
    hours = season_hours(plan)
    found = relief(plan, hours)
    assert len({each.planting_code for each in found}) == len(found)
    short_h = sum(week.short_h for week in hours.weeks)
    for each in found:
        short_h -= each.freed_h
        assert each.freed_h > 0
        assert math.isclose(short_h, each.left_short_h, abs_tol=1e-6)
    # Every hour here belongs to a planting, so leaving all of them out would always be enough, but for those
    # that would free next to nothing.
    n_kept = len(plan.plantings) - len(found)
    assert not found or found[-1].left_short_h < n_kept * LEAST_FREED_H + 1e-6


@settings(max_examples=40)
@given(plan=plans(), day=st.dates(date(2027, 3, 1), date(2027, 10, 31)))
def test_a_week_list_and_the_jobs_of_a_day_name_every_job_once(plan: SeasonPlan, day: date) -> None:
    listed = week_list(plan, day)
    codes = [job.task_code for stop in listed.stops for job in stop.jobs]
    assert len(codes) == len(set(codes))
    assert listed.walk_m >= 0
    single = due_tasks(plan, day, rounds=False)
    for due in (single, due_tasks(plan, day)):
        named = [task.code for task in due]
        assert len(named) == len(set(named))
        for task in due:
            assert set(task.after) <= set(named) - {task.code}
        parts = sorted(part for task in due for part in (task.parts or (task.code,)))
        assert parts == sorted(task.code for task in single)
        assert sum(task.person_min for task in due) == sum(task.person_min for task in single)


@settings(max_examples=60)
@given(plan=plans())
def test_every_tray_has_its_place_in_every_week_it_stands(plan: SeasonPlan) -> None:
    needs = tray_needs(plan.plantings)
    weeks = raising_weeks(needs)
    for need in needs:
        assert need.n_cells <= need.n_trays * need.cells_per_tray < need.n_cells + need.cells_per_tray
        assert need.n_cells >= need.n_plants
    assert math.isclose(sum(w.mix_l for w in weeks), sum(n.mix_l for n in needs), abs_tol=1e-9)
    if needs:
        assert max(week.trays for week in weeks) >= max(need.n_trays for need in needs)
        assert max(week.trays for week in weeks) <= sum(need.n_trays for need in needs)


POINTS = st.tuples(st.floats(-50, 50), st.floats(-50, 50))


@given(start=POINTS, stops=st.lists(POINTS, max_size=9))
def test_a_walk_visits_every_stop_once_and_no_turned_stretch_would_shorten_it(
    start: tuple[float, float], stops: list[tuple[float, float]]
) -> None:
    order = short_tour(start, stops)
    assert sorted(order) == list(range(len(stops)))
    length_m = tour_length_m(start, [stops[k] for k in order])
    for i in range(len(order)):
        for j in range(i + 1, len(order)):
            turned = [*order[:i], *reversed(order[i : j + 1]), *order[j + 1 :]]
            assert tour_length_m(start, [stops[k] for k in turned]) >= length_m - 1e-6


@settings(max_examples=100)
@given(
    needed=st.integers(1, 60),
    packs=st.lists(st.tuples(st.integers(1, 20), st.integers(0, 100)), min_size=1, max_size=3),
)
def test_no_other_packs_cover_a_need_for_less(needed: int, packs: list[tuple[int, int]]) -> None:
    offers = [SupplierOffer("mix", "", "Fenwick Seeds", q, "L", p / 10, "GBP") for q, p in packs]
    choice = cheapest_packs(needed, "L", offers)
    assert choice is not None
    assert choice.quantity >= needed
    assert choice.surplus == choice.quantity - needed
    # Every number of packs of each size that could be of use, tried one by one.
    counts = product(*(range(math.ceil(needed / q) + 1) for q, _ in packs))
    best = min(
        sum(n * p for n, (_, p) in zip(each, packs, strict=True))
        for each in counts
        if sum(n * q for n, (q, _) in zip(each, packs, strict=True)) >= needed
    )
    assert choice.cost == pytest.approx(best / 10)
