"""The difference between two plans in words."""

from __future__ import annotations

from dataclasses import replace

from bedwright.engine.placement.changes import changes_between
from tests.plantings import DATES, planting


def test_equal_plans_do_not_differ() -> None:
    assert changes_between((planting(),), (planting(),)) == ()


def test_old_and_new_place_and_date_are_told() -> None:
    was = planting("carrot-1")
    now = replace(was, bed_code="B", along_m=(1.0, 2.0))
    (change,) = changes_between((was,), (now,), why={"carrot-1": "Bed A is lost."})
    assert change.kind == "moved"
    assert change.text == (
        "Carrot (carrot-1): moved, 40 plants in bed B, 1.00 to 2.00 m along, 0.00 to 0.30 m across, "
        "sown 3 May 2027; it was 40 plants in bed A, 0.00 to 4.00 m along, 0.00 to 0.30 m across, "
        "sown 3 May 2027."
    )
    assert change.why == "Bed A is lost."
    assert change.before is not None
    assert change.after is not None
    assert (change.before.row_codes, change.after.bed_code) == (("A1",), "B")


def test_what_is_new_gone_shorter_and_later_is_called_so() -> None:
    short = replace(planting("b"), along_m=(0.0, 2.0), rows=planting("b", n_plants=20).rows)
    late = replace(planting("c"), dates=replace(DATES, clear_by=DATES.clear_by.replace(day=20)))
    old = (planting("a"), planting("b"), planting("c"), planting("d"))
    new = (short, late, planting("d"), planting("e"))
    found = {one.planting_code: one.kind for one in changes_between(old, new)}
    assert found == {"a": "dropped", "b": "shortened", "c": "later", "e": "added"}


def test_what_stood_and_was_lost_is_put_back() -> None:
    was = planting("carrot-1")
    (change,) = changes_between((was,), (was,), gone={"carrot-1"})
    assert change.kind == "put back"
