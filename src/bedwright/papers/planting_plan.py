"""The planting plan: site, phases, details, schedules and the chart of ground taken."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from bedwright.model.book import FeatureKind, PaperSize, Site, UnitSystem
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.cautions import LOCAL_RULES, UTILITIES
from bedwright.papers.furniture import (
    FEATURE_WORDS,
    drill_sample,
    feature_sample,
    hatch_sample,
    key_line,
    peg_sample,
    plant_sample,
    support_sample,
)
from bedwright.papers.hatching import Hatch, hatch_by_group
from bedwright.papers.measures import Measures, day_words, number_words, short_day
from bedwright.papers.occupancy import occupancy_charts
from bedwright.papers.phases import Phase, season_phases
from bedwright.papers.plan_sheets import (
    PANEL_MM,
    Detail,
    DrawnSheet,
    bed_detail,
    key_plan,
    north_and_scale,
    phase_parts,
    phase_sheet,
    site_sheet,
)
from bedwright.papers.schedule import bed_schedule, plant_schedule
from bedwright.papers.sheet import frame, room_mm
from bedwright.papers.site_parts import SitePart

_KEY_LINE_MM = 9.0
"""Height of one line of the key below the chart, two lines of words."""


def plan_hatches(plan: SeasonPlan) -> Mapping[str, Hatch]:
    """One hatch for each rotation group of the plan, the same on every paper."""
    return hatch_by_group(p.crop.rotation_group for p in plan.plantings)


def planting_plan_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `planting-plan.typ` sets."""
    hatches = plan_hatches(plan)
    parts = phase_parts(plan, paper, units)
    phases = season_phases(plan.plantings, southern=plan.book.site.southern)
    drawn = [
        _Drawn(phase, part, k, phase_sheet(part, phase, hatches, paper, units))
        for phase in phases
        for k, part in enumerate(parts)
        if any(bed.code in {p.bed_code for p in phase.standing} for bed in part.beds)
    ]
    numbers = _Numbers(drawn)
    pages = [_site_page(plan, paper, units)]
    pages += [
        _phase_page(plan, sheet, hatches, len(parts), paper=paper, units=units, numbers=numbers)
        for sheet in drawn
    ]
    for phase in phases:
        codes = [code for sheet in drawn if sheet.phase is phase for code in sheet.sheet.crowded]
        if codes:
            details = [bed_detail(plan.book.bed(code), phase, hatches, paper, units) for code in codes]
            pages.append(_detail_pages(plan, phase, details, paper, numbers.detail(phase)))
    pages += _table_pages(plan, hatches, paper, units, numbers)
    return {"pages": pages, "panel_mm": PANEL_MM}


@dataclass(frozen=True, slots=True)
class _Drawn:
    """One sheet of one phase."""

    phase: Phase
    part: SitePart
    part_index: int
    sheet: DrawnSheet


class _Numbers:
    """Drawing numbers of the set: site, phases, details, schedules, chart."""

    def __init__(self, drawn: Sequence[_Drawn]) -> None:
        self._drawn = drawn
        crowded = [one.phase for one in drawn if one.sheet.crowded]
        self._with_details = sorted({phase.day for phase in crowded})

    def phase(self, one: _Drawn) -> str:
        return f"P{2 + self._drawn.index(one)}"

    def detail(self, phase: Phase) -> str:
        return f"P{2 + len(self._drawn) + self._with_details.index(phase.day)}"

    def after(self, k: int) -> str:
        return f"P{2 + len(self._drawn) + len(self._with_details) + k}"


def _site_page(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    sheet = site_sheet(plan, paper, units)
    kinds: list[FeatureKind] = sorted({feature.kind for feature in plan.book.site.features})
    key = [key_line(peg_sample(), "peg of a bed; arrow along its string line")]
    if any(bed.supports for bed in plan.book.beds):
        key.append(key_line(support_sample(), "lasting support on a bed"))
    key += [key_line(feature_sample(kind), FEATURE_WORDS[kind]) for kind in kinds]
    caution = f"{UTILITIES.text} {LOCAL_RULES}"
    return {
        "kind": "sheet",
        "frame": frame(plan, paper, "Site plan", "P1", wide=True, scale=sheet.scale.words),
        "heading": "Site plan",
        **_drawn(sheet, units),
        "key": key,
        "key_plan": None,
        "notes": [
            "Distances are measured from the site datum; peg positions are in the bed schedule.",
            *_slope_notes(plan.book.site),
        ],
        "caution": {"text": caution, "source": UTILITIES.source},
    }


def _slope_notes(site: Site) -> Iterator[str]:
    if site.slope_deg:
        fall_pct = 100 * math.tan(math.radians(site.slope_deg))
        yield (
            f"The ground falls {number_words(site.slope_deg, 1)}° ({number_words(fall_pct, 0)} %) towards "
            f"{site.aspect_deg:.0f}° from north, as the garden book states."
        )


def _drawn(sheet: DrawnSheet, units: UnitSystem) -> dict[str, Any]:
    north, bar = north_and_scale(sheet.scale, units)
    return {
        "drawing": sheet.drawing.data(),
        "north": north.data(),
        "bar": bar.data(),
        "scale": sheet.scale.words,
    }


def _phase_page(
    plan: SeasonPlan,
    one: _Drawn,
    hatches: Mapping[str, Hatch],
    n_parts: int,
    *,
    paper: PaperSize,
    units: UnitSystem,
    numbers: _Numbers,
) -> dict[str, Any]:
    phase, sheet = one.phase, one.sheet
    notes = [
        "Labels: quantity and plan code, then rows. Plants are drawn at two thirds of their full spread."
    ]
    if sheet.crowded:
        codes = ", ".join(sheet.crowded)
        which = f"bed {codes} is" if len(sheet.crowded) == 1 else f"beds {codes} are"
        notes.insert(0, f"For labels {which} drawn larger on {numbers.detail(phase)}.")
    title = f"Planting plan, {short_day(phase.day)} ({phase.name})"
    if n_parts > 1:
        title += f", part {one.part_index + 1} of {n_parts}"
        notes.insert(0, "This sheet shows the beds filled black above.")
    codes_here = {bed.code for bed in one.part.beds}
    standing = [p for p in phase.standing if p.bed_code in codes_here]
    return {
        "kind": "sheet",
        "frame": frame(plan, paper, title, numbers.phase(one), wide=True, scale=sheet.scale.words),
        "heading": f"The beds on {day_words(phase.day)}",
        **_drawn(sheet, units),
        "key": [*_group_key(standing, hatches), *_symbol_key()],
        "key_plan": key_plan(plan, one.part).data() if n_parts > 1 else None,
        "notes": notes,
        "caution": None,
    }


def _symbol_key() -> list[dict[str, Any]]:
    return [
        key_line(plant_sample(new=True), "plant put in since the last drawing"),
        key_line(plant_sample(new=False), "plant standing from earlier"),
        key_line(drill_sample(), "close row, first to last plant"),
    ]


def _group_key(plantings: Iterable[Planting], hatches: Mapping[str, Hatch]) -> list[dict[str, Any]]:
    """Each rotation group's hatch with the plan codes under it."""
    groups: dict[str, set[str]] = {}
    for planting in plantings:
        crop = planting.crop
        groups.setdefault(crop.rotation_group, set()).add(f"{crop.plan_code} {crop.name}")
    return [
        key_line(hatch_sample(hatches[g]), f"{g}: {', '.join(sorted(groups[g]))}") for g in sorted(groups)
    ]


def _detail_pages(
    plan: SeasonPlan, phase: Phase, details: Sequence[Detail], paper: PaperSize, number: str
) -> dict[str, Any]:
    scales = sorted({detail.sheet.scale.ratio: detail.sheet.scale.words for detail in details}.items())
    return {
        "kind": "details",
        "frame": frame(
            plan,
            paper,
            f"Bed details, {short_day(phase.day)} ({phase.name})",
            number,
            wide=True,
            scale=", ".join(w for _, w in scales),
        ),
        "details": [
            {
                "heading": f"{detail.heading}, scale {detail.sheet.scale.words}, seen from the peg",
                "drawing": detail.sheet.drawing.data(),
            }
            for detail in details
        ],
    }


def _table_pages(
    plan: SeasonPlan, hatches: Mapping[str, Hatch], paper: PaperSize, units: UnitSystem, numbers: _Numbers
) -> list[dict[str, Any]]:
    measures = Measures(units)
    pages: list[dict[str, Any]] = [
        {
            "kind": "schedule",
            "frame": frame(plan, paper, "Plant schedule and bed schedule", numbers.after(0), wide=True),
            "plants": plant_schedule(plan, measures),
            "beds": bed_schedule(plan, measures),
        }
    ]
    width, height = room_mm(paper, wide=True)
    key = _group_key(plan.plantings, hatches)
    charts = occupancy_charts(plan, hatches, (width, height - 16.0 - _KEY_LINE_MM * math.ceil(len(key) / 4)))
    if charts:
        pages.append(
            {
                "kind": "chart",
                "frame": frame(plan, paper, "Ground taken over the season", numbers.after(1), wide=True),
                "charts": [chart.data() for chart in charts],
                "key": key,
            }
        )
    return pages
