"""From what a person tells to a new season folder."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from bedwright.engine.pipeline import plan_again
from bedwright.engine.placement.changes import EventRefusedError
from bedwright.model.changes import (
    BedClosed,
    BedLost,
    BedOpened,
    HoursChanged,
    NotDelivered,
    PlantingFailed,
    PlantingLate,
)
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.service.replan import Happened, changes_text, events_of, remake_season
from bedwright.store.season import read_season, season_from_text, season_json
from tests.builders import TINY_TEXT
from tests.demo import demo_loaded, demo_plan
from tests.plantings import planting, season_plan

TODAY = date(2027, 5, 10)


def test_codes_of_rows_wishes_and_crops_become_events() -> None:
    plan = season_plan(planting("carrot-1", row_code="A4"), planting("carrot-2", row_code="B1"))
    told = Happened(
        lost_beds=("A",),
        closed_beds=("B",),
        opened_beds=("C",),
        failed=("a4",),
        late_weeks={"carrot-2": 3.0},
        not_delivered={"Carrot": None},
        hours_share=0.5,
    )
    before = date(2027, 1, 1)
    assert events_of(plan, told, today=before) == (
        BedLost("A"),
        BedClosed("B"),
        BedOpened("C"),
        PlantingFailed("carrot-1"),
        PlantingLate("carrot-2", 3.0),
        NotDelivered("carrot-1"),
        NotDelivered("carrot-2"),
        HoursChanged(0.5),
    )


def test_seed_of_a_crop_is_missed_only_by_what_is_not_begun() -> None:
    plan = season_plan(planting("carrot-1", row_code="A4"))
    with pytest.raises(BadDocumentError, match="got carrot"):
        events_of(plan, Happened(not_delivered={"carrot": None}), today=date(2027, 6, 1))


def test_every_unknown_code_is_named_with_the_nearest_known() -> None:
    plan = season_plan(planting("carrot-1", row_code="A4"))
    told = Happened(failed=("carot-1",), late_weeks={"Z9": 1.0})
    with pytest.raises(BadDocumentError) as caught:
        events_of(plan, told, today=TODAY)
    assert len(caught.value.problems) == 2
    assert "Nearest: carrot-1." in str(caught.value)


@pytest.fixture(scope="module")
def remade() -> SeasonPlan:
    loaded, plan = demo_loaded(), demo_plan()
    lost = next(one for one in plan.plantings if one.dates.in_ground < TODAY <= one.dates.clear_by)
    events = (BedLost(lost.bed_code), HoursChanged(0.5))
    return plan_again(plan, loaded.book, loaded.record, loaded.catalogue, events, today=TODAY)


def test_a_plan_made_again_is_whole_and_reads_back_the_same(remade: SeasonPlan) -> None:
    assert remade.changes
    assert remade.care is not None
    assert season_from_text(season_json(remade)) == remade
    assert remade.revision != demo_plan().revision


def test_what_stands_keeps_place_pegs_and_jobs(remade: SeasonPlan) -> None:
    closed = set(remade.book.leave_alone)
    now = {one.code: one for one in remade.plantings}
    jobs = {task.code for task in remade.tasks}
    for one in demo_plan().plantings:
        if one.dates.in_ground < TODAY and one.bed_code not in closed:
            assert (now[one.code].bed_code, now[one.code].rows) == (one.bed_code, one.rows)
            kept = [
                task.code
                for task in demo_plan().tasks
                if task.planting_code == one.code and task.kind != "feed"
            ]
            assert jobs.issuperset(code for code in kept if not code.startswith("order"))


def test_nothing_is_ordered_for_what_is_begun_already(remade: SeasonPlan) -> None:
    begun = {one.code for one in remade.plantings if one.dates.in_ground < TODAY}
    assert not begun.intersection(code for line in remade.orders for code in line.planting_codes)


def test_the_text_tells_what_happened_and_every_change(remade: SeasonPlan) -> None:
    text = changes_text(remade)
    assert remade.happened[0] in text
    assert all(one.text in text for one in remade.changes)


def test_events_that_cannot_be_are_refused() -> None:
    loaded, plan = demo_loaded(), demo_plan()
    with pytest.raises(EventRefusedError):
        plan_again(plan, loaded.book, loaded.record, loaded.catalogue, (BedLost("Q"),), today=TODAY)


def test_a_folder_is_written_whole_or_not_at_all(tmp_path: Path) -> None:
    book, season, out = tmp_path / "book.yaml", tmp_path / "season", tmp_path / "new"
    book.write_text(TINY_TEXT, encoding="utf-8")
    season.mkdir()
    (season / "season.json").write_text(season_json(season_plan(planting())), encoding="utf-8")
    with pytest.raises(BadDocumentError, match="no bed Q"):
        remake_season(season, book, out, Happened(lost_beds=("Q",)), today=TODAY)
    assert not out.exists()
    plan = remake_season(season, book, out, Happened(), today=TODAY)
    assert read_season(out / "season.json") == plan
    assert (out / "calendar.ics").exists()
