"""What changed since the plan before: what happened, the drawings, and every change in words."""

from __future__ import annotations

from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.changes import Change, ChangeKind, Place
from bedwright.model.season import SeasonPlan
from bedwright.papers import parts
from bedwright.papers.changes_drawing import change_drawings, change_key
from bedwright.papers.hatching import hatch_by_group
from bedwright.papers.measures import Measures, code_runs, count_words, day_words
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame, room_mm

KIND_WORDS: dict[ChangeKind, str] = {
    "added": "new",
    "put back": "put back",
    "moved": "moved",
    "lengthened": "more of it",
    "shortened": "less of it",
    "later": "later",
    "dropped": "left out",
}


def changes_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The sheet of changes for `parts.typ`."""
    measures = Measures(units)
    body: list[Part] = [parts.heading("What changed", 1)]
    if plan.happened:
        body.append(parts.bullets(plan.happened))
    if not plan.changes:
        body.append(parts.text("Nothing in the plan changes."))
        return parts.paper(parts.page(frame(plan, paper, "What changed", "V", wide=True), body))
    body.append(
        parts.text(
            f"{count_words(len(plan.changes), 'planting')} changed. Pull the pegs of ground drawn dashed, "
            "and set those of ground drawn hatched; everything else stays."
        )
    )
    body.append(parts.picture(change_key()))
    body.append(parts.small("Upward: distance from the peg along the string line. To the right: weeks."))
    hatches = hatch_by_group(one.crop.rotation_group for one in plan.plantings)
    width_mm = room_mm(paper, wide=True)[0]
    body += [
        *(
            parts.together(parts.heading(each.words), parts.picture(each.drawing))
            for each in change_drawings(plan, plan.changes, hatches, width_mm, units)
        ),
        parts.heading("Every change"),
        parts.ruled_table(
            ["Planting", "Crop", "What", "As it was", "As it is now", "Why"],
            [_row(one, measures) for one in plan.changes],
            [0, 0, 0, 1.0, 1.0, 0.7],
            bold=(0,),
            size_pt=7.5,
        ),
    ]
    return parts.paper(parts.page(frame(plan, paper, "What changed", "V", wide=True), body))


def _row(change: Change, measures: Measures) -> list[str]:
    return [
        change.planting_code,
        change.crop,
        KIND_WORDS[change.kind],
        _place_words(change.before, measures),
        _place_words(change.after, measures),
        change.why,
    ]


def _place_words(place: Place | None, measures: Measures) -> str:
    if place is None:
        return "–"
    start, end = (measures.place(value) for value in place.along_m)
    return (
        f"{code_runs(place.row_codes)}: bed {place.bed_code}, {start} to {end} along; "
        f"{count_words(place.n_plants, 'plant')}, {day_words(place.in_ground)}, "
        f"ground free after {day_words(place.clear_by)}"
    )
