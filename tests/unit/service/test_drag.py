"""A block of the example season moved by hand."""

from __future__ import annotations

from datetime import date

import pytest

from bedwright.service.drag import MoveRefusedError, ReadyToMove, keep_move, move_planting, ready
from bedwright.store.season import season_from_text, season_json
from tests.demo import demo_loaded, demo_plan

TODAY = date(2027, 1, 10)


@pytest.fixture(scope="module")
def table() -> ReadyToMove:
    return ready(demo_plan(), demo_loaded(), today=TODAY)


def test_moving_a_block_to_where_it_is_changes_nothing(table: ReadyToMove) -> None:
    planting = next(one for one in demo_plan().plantings if one.dates.in_ground > TODAY)
    dragged = move_planting(table, planting.code, planting.bed_code, planting.along_m[0])
    assert dragged.changes == ()
    assert dragged.points == 0
    assert dragged.cost_text.startswith("This costs nothing.")


def test_a_kept_move_is_a_whole_season_plan(table: ReadyToMove) -> None:
    plan = demo_plan()
    for planting in plan.plantings:
        other = next((one for one in planting.alternatives if one.kind == "another bed"), None)
        if other is not None and planting.dates.in_ground > TODAY:
            break
    assert other is not None
    dragged = move_planting(table, planting.code, other.bed_code, other.along_m[0], other.in_ground)
    kept = keep_move(table, dragged, demo_loaded())
    now = next(one for one in kept.plantings if one.code == planting.code)
    assert now.bed_code == other.bed_code
    assert planting.code in {one.planting_code for one in kept.changes}
    assert season_from_text(season_json(kept)) == kept


def test_a_move_that_cannot_be_says_why(table: ReadyToMove) -> None:
    with pytest.raises(MoveRefusedError, match="There is no bed Q"):
        move_planting(table, demo_plan().plantings[-1].code, "Q", 0.0)
