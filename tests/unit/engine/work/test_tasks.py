"""Jobs that plantings bring."""

from dataclasses import replace
from datetime import date, timedelta

from bedwright.engine.supplies import order_lines
from bedwright.engine.work import TASK_SOURCES, tasks_of
from bedwright.engine.work.tasks import handling
from bedwright.model.season import Planting, Task
from tests.builders import tiny_crop
from tests.plantings import DATES, planting


def jobs(one: Planting) -> dict[str, Task]:
    return {task.kind: task for task in tasks_of([one], [])}


def test_a_sown_row_is_prepared_sown_thinned_mulched_picked_and_cleared() -> None:
    assert list(jobs(planting())) == ["prepare", "sow", "thin", "mulch", "pick", "clear"]


def test_raised_plants_are_sown_under_cover_and_hardened_off_first() -> None:
    kinds = list(jobs(planting(way="raise")))
    assert kinds == ["sow under cover", "prepare", "harden off", "set out", "mulch", "pick", "clear"]


def test_mulch_never_goes_over_a_fresh_drill() -> None:
    job = jobs(planting())["mulch"]
    assert DATES.emerges is not None
    assert job.start >= DATES.emerges + timedelta(days=28)


def test_the_peg_goes_in_on_planting_day() -> None:
    assert "peg A1 in" in jobs(planting())["sow"].details


def test_climbers_get_their_support_and_canes_are_capped() -> None:
    crop = replace(tiny_crop("pole bean"), support="cane")
    assert "cap the tops" in jobs(planting(crop=crop))["support"].details


def test_a_perennial_is_not_cleared() -> None:
    crop = replace(tiny_crop("chives"), life_cycle="perennial")
    assert "clear" not in jobs(planting(crop=crop))


def test_a_cover_crop_is_cut_down_and_not_thinned() -> None:
    crop = replace(tiny_crop("winter rye"), kind="cover crop")
    kinds = jobs(planting(crop=crop)).keys()
    assert "cut down" in kinds
    assert "thin" not in kinds


def test_tasks_come_in_order_of_day_and_their_codes_are_unique() -> None:
    tasks = tasks_of([planting("a", row_code="A1"), planting("b", way="raise", row_code="A2")], [])
    assert [task.start for task in tasks] == sorted(task.start for task in tasks)
    assert len({task.code for task in tasks}) == len(tasks)


def test_an_order_is_a_task_only_when_something_is_to_be_bought() -> None:
    orders = order_lines([planting()], [], {}, season_year=2027, today=date(2026, 12, 1))
    assert [task.kind for task in tasks_of([], orders)] == ["order"]
    nothing = replace(orders[0], n_seeds_to_buy=0)
    assert tasks_of([], [nothing]) == ()


def test_every_source_a_task_names_is_listed() -> None:
    potato = replace(tiny_crop("potato"), planting_stock="tuber")
    for each in (planting(), planting(way="raise"), planting(crop=potato)):
        for task in tasks_of([each], []):
            assert set(task.source_ids) <= TASK_SOURCES.keys()


def test_depths_and_spacings_are_told_in_both_unit_systems() -> None:
    assert "10 mm (0.39 in)" in jobs(planting())["sow"].details
    assert "10 cm (3.9 in)" in jobs(planting())["thin"].details


def test_handling_says_to_bury_the_stem_and_leave_roots_where_the_crop_wants_it() -> None:
    crop = replace(tiny_crop(), stem_depth="bury to first leaves", roots="leave undisturbed", soak_cell=True)
    assert handling(crop) == (
        "Soak the cell before knocking out. Leave the roots undisturbed. Set deep, up to the first leaves."
    )


def test_tubers_and_cloves_are_set_deep_and_have_no_roots_to_tease() -> None:
    crop = replace(tiny_crop("garlic"), planting_stock="clove", sow_depth_mm=50.0)
    details = jobs(planting(way="buy", crop=crop))["set out"].details
    assert "Set 50 mm (2 in) deep, shoots or tips up. 40 cloves" in details
