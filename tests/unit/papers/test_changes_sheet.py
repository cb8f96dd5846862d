"""What changed since the plan before, drawn and listed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from xml.etree import ElementTree as ET

from bedwright.engine.placement.changes import changes_between
from bedwright.model.season import SeasonPlan
from bedwright.papers.changes_drawing import change_drawings
from bedwright.papers.changes_sheet import changes_data
from bedwright.papers.drawing import Drawing
from bedwright.papers.drawing_svg import drawing_svg
from bedwright.papers.hatching import hatch_by_group
from bedwright.papers.typesetting import typeset
from bedwright.papers.write import papers_of
from tests.plantings import planting, season_plan


def changed_plan() -> SeasonPlan:
    """A plan in which one planting was moved in its bed, one to a later week and one left out."""
    old = season_plan(
        planting("carrot-1", row_code="A1"),
        planting("carrot-2", row_code="A2"),
        planting("carrot-3", row_code="B1"),
    )
    one, two, _ = old.plantings
    later = replace(two.dates, in_ground=two.dates.in_ground + timedelta(weeks=3))
    new = (replace(one, along_m=(one.along_m[0] + 1.0, one.along_m[1] + 1.0)), replace(two, dates=later))
    return replace(
        old, plantings=new, changes=changes_between(old.plantings, new), happened=("Bed <B> is lost & gone.",)
    )


def words_of(drawing: Drawing) -> list[str]:
    return [item["s"] for item in drawing.items if item["k"] == "text"]


def test_each_changed_bed_is_drawn_as_it_was_and_as_it_is() -> None:
    plan = changed_plan()
    hatches = hatch_by_group(one.crop.rotation_group for one in plan.plantings)
    drawings = change_drawings(plan, plan.changes, hatches, 250.0)
    assert [one.bed_code for one in drawings] == sorted(
        {place.bed_code for one in plan.changes for place in (one.before, one.after) if place}
    )
    words = [word for one in drawings for word in words_of(one.drawing)]
    assert any(word.startswith("was carrot A1") for word in words)
    assert any(word.startswith("carrot A1") for word in words)
    dashes = {item["dash"] for one in drawings for item in one.drawing.items if item["k"] == "path"}
    assert {"dashed", "solid"} <= dashes


def test_the_sheet_lists_what_happened_and_every_change_and_can_be_set() -> None:
    plan = changed_plan()
    data = changes_data(plan, "a4", "metric")
    (page,) = data["pages"]
    (table,) = (part for part in page["parts"] if part["k"] == "table")
    assert [row[0] for row in table["rows"]] == [one.planting_code for one in plan.changes]
    assert typeset("parts", data, plan.made_on).startswith(b"%PDF")


def test_feet_are_drawn_for_those_who_measure_in_them() -> None:
    plan = changed_plan()
    hatches = hatch_by_group(one.crop.rotation_group for one in plan.plantings)
    (first, *_) = change_drawings(plan, plan.changes, hatches, 250.0, "us")
    assert "ft" in words_of(first.drawing)


def test_only_a_plan_with_one_before_it_has_the_sheet() -> None:
    plan = changed_plan()
    assert "changes" in papers_of(plan)
    assert "changes" not in papers_of(replace(plan, happened=(), changes=()))


def test_a_drawing_as_svg_is_sound_and_keeps_words_from_being_read_as_marks() -> None:
    drawing = Drawing(20.0, 10.0)
    drawing.path([(0, 0), (5, 5)], 0.5, dash="dashed")
    drawing.circles([(3, 3)], 1.0, 0.25, fill="white")
    drawing.text(1, 1, '<b>"&', bold=True, angle_deg=90)
    inner = Drawing(2.0, 2.0)
    inner.path([(0, 0), (1, 0), (1, 1)], 0.0, closed=True, fill="black")
    drawing.add(inner, 4, 4)
    root = ET.fromstring(drawing_svg(drawing, 'A "bed" & more'))  # noqa: S314 - our own text
    assert root.attrib["aria-label"] == 'A "bed" & more'
    assert [node.text for node in root.iter() if node.tag == "text"] == ['<b>"&']
