"""Jobs that can be done on one day."""

from dataclasses import replace
from datetime import date, timedelta

from bedwright.engine.work import due_tasks, plan_workday, tasks_of
from bedwright.model.book import Amount, Wish
from bedwright.model.season import BedSun, SeasonPlan
from bedwright.model.work import DueTask, OwnRate
from tests.builders import tiny_book, tiny_crop
from tests.plantings import DATES, RAISED_DATES, planting, season_plan
from tests.unit.engine.work.day import crowd

SOWING = DATES.in_ground


def due(day: date, plan: SeasonPlan | None = None) -> dict[str, DueTask]:
    return {task.code: task for task in due_tasks(plan or garden(), day, rounds=False)}


def garden() -> SeasonPlan:
    sown, raised = planting(), planting("tomato-1", way="raise", bed_code="B", row_code="B1")
    return season_plan(sown, raised, tasks=tasks_of([sown, raised], []))


def test_only_what_the_day_allows_is_due() -> None:
    kinds = {task.kind for task in due(SOWING - timedelta(days=1)).values()}
    assert kinds == {"prepare", "harden off"}


def test_orders_are_no_work_for_a_workday() -> None:
    assert all(task.kind != "order" for task in due(SOWING).values())


def test_what_is_done_is_not_due_again() -> None:
    found = due_tasks(garden(), SOWING, done=("carrot-1:sow", "water:A"), rounds=False)
    assert not {"carrot-1:sow", "water:A"} & {task.code for task in found}


def test_weeding_comes_before_mulching_the_same_bed() -> None:
    assert DATES.emerges is not None
    found = due(DATES.emerges + timedelta(days=30))
    assert "weed:A" in found["carrot-1:mulch"].after


def test_the_old_crop_is_cleared_before_the_ground_is_prepared_for_the_next() -> None:
    old = planting("old")
    late = replace(DATES, in_ground=DATES.clear_by + timedelta(days=2), emerges=None)
    new = planting("new", dates=late, row_code="A2")
    apart = replace(new, code="apart", across_m=(0.6, 0.9))
    plan = season_plan(old, new, apart, tasks=tasks_of([old, new, apart], []))
    found = due(DATES.clear_by, plan)
    assert found["new:prepare"].after == ("old:clear",)
    assert found["apart:prepare"].after == ()


def test_a_job_in_its_last_days_of_a_wish_of_high_priority_weighs_most() -> None:
    wishes = (Wish("carrot-1", "carrot", Amount(1, "plants"), priority=5),)
    plan = replace(garden(), book=replace(tiny_book(), wishes=wishes))
    assert due(SOWING + timedelta(days=6), plan)["carrot-1:sow"].weight == 15
    assert due(SOWING + timedelta(days=2), plan)["carrot-1:sow"].weight == 10
    assert due(SOWING + timedelta(days=6), plan)["tomato-1:set-out"].weight == 9


def test_one_day_of_picking_takes_a_visits_share() -> None:
    day = DATES.first_pick
    whole_min = 6 * 1.75 * 3 + 4 * 1.5 * 3 * 1.75
    # Four metres give 6 kg at 3 min, in 22 days six visits of 3 min; a visit is 4 of 22 days.
    assert due(day)["carrot-1:pick"].person_min == -(-(6 * 3 + 6 * 3) * 1.75 * 4 // 22)
    assert whole_min > due(day)["carrot-1:pick"].person_min


def test_high_beds_are_worked_sitting() -> None:
    book = tiny_book()
    for raised_m, sitting in ((0.68, True), (0.67, False)):
        beds = tuple(replace(bed, raised_m=raised_m) for bed in book.beds)
        plan = replace(garden(), book=replace(book, beds=beds))
        assert due(SOWING, plan)["carrot-1:sow"].sitting == sitting


def test_a_bed_with_little_sun_is_shade() -> None:
    sun = tuple(BedSun(code, (hours,) * 12, False) for code, hours in (("A", 3.9), ("B", 4.0)))
    found = due(SOWING, replace(garden(), sun=sun))
    assert found["carrot-1:sow"].shade
    assert not found["tomato-1:set-out"].shade


def test_sowing_under_cover_is_for_the_wet_and_the_seated() -> None:
    assert RAISED_DATES.sow_under_cover is not None
    task = due(RAISED_DATES.sow_under_cover)["tomato-1:sow-under-cover"]
    assert task.under_cover
    assert task.sitting
    assert task.bed_code is None


def test_a_small_job_has_room_for_few() -> None:
    # Four metres to sow take 14 minutes: one person.
    assert due(SOWING)["carrot-1:sow"].max_people == 1


def test_own_rates_change_the_minutes() -> None:
    found = due_tasks(garden(), SOWING, own_rates=(OwnRate("sow", 10, 15, 20, 3),))
    assert {task.code: task.person_min for task in found}["carrot-1:sow"] == 60


def test_supports_take_two_people() -> None:
    crop = replace(tiny_crop("pole bean"), support="cane")
    one = planting(crop=crop)
    assert DATES.emerges is not None
    plan = season_plan(one, tasks=tasks_of([one], []))
    assert due(DATES.emerges, plan)["carrot-1:support"].min_people == 2


def test_what_is_due_can_be_planned() -> None:
    made = plan_workday(due_tasks(garden(), SOWING), crowd(4), (), day=SOWING, session=(600, 720))
    assert {each.task_code for each in made.not_today} >= {"carrot-1:sow"}
    assert all("in the shed" in each.reason for each in made.not_today)
