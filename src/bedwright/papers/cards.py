"""A planting card per crop: how deep, how far apart, how to handle it, what is eaten."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.crop import Crop, Fact
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.card_drawing import card_drawing
from bedwright.papers.cautions import LOCAL_RULES, card_cautions
from bedwright.papers.footnotes import Footnotes
from bedwright.papers.measures import Measures, code_runs, day_words, span_words
from bedwright.papers.schedule import plant_distance_m, row_distance_m, staggered
from bedwright.papers.sheet import frame

NO_SOURCE = "(source not recorded)"
_MULCH = "when the soil is warm and moist and plants stand clear; keep it off the stems"


def cards_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `cards.typ` sets: a card per crop with equal measures."""
    groups: dict[tuple[object, ...], list[Planting]] = {}
    for planting in sorted(plan.plantings, key=lambda p: (p.crop.name, p.dates.in_ground, p.code)):
        crop = planting.crop
        key = (crop.name, crop.sow_depth_mm, crop.in_row_spacing_m, crop.row_spacing_m, crop.stem_depth)
        groups.setdefault(key, []).append(planting)
    measures = Measures(units)
    return {
        "frame": frame(plan, paper, "Planting cards", "C"),
        "cards": [_card(plan, group, measures) for group in groups.values()],
        "local": LOCAL_RULES,
    }


def _card(plan: SeasonPlan, plantings: Sequence[Planting], measures: Measures) -> dict[str, Any]:
    crop = plantings[0].crop
    notes = Footnotes(plan.sources)
    lines = [
        *_depth_lines(crop, plantings, measures, notes),
        *_spacing_lines(crop, plantings, measures, notes),
        *_handling_lines(crop, plantings, notes),
        *_season_lines(plan, crop, plantings, measures),
        *_eating_lines(crop, notes),
    ]
    cautions = [{"text": c.text, "source": c.source} for c in card_cautions(crop)]
    varieties = sorted({p.variety for p in plantings if p.variety})
    return {
        "crop": crop.name,
        "code": crop.plan_code,
        "latin": crop.latin_name,
        "varieties": ", ".join(varieties),
        "where": _where_words(plantings),
        "drawing": card_drawing(crop, plantings, measures).data(),
        "lines": lines,
        "cautions": cautions,
        "notes": notes.lines(),
    }


def _where_words(plantings: Sequence[Planting]) -> str:
    told = []
    for planting in plantings:
        put_in = "sow" if planting.way == "sow" else "set out"
        rows = code_runs(row.code for row in planting.rows)
        told.append(f"{rows}: {put_in} {day_words(planting.dates.in_ground)}")
    return "; ".join(told)


def _line(label: str, text: str, *more: str) -> dict[str, Any]:
    return {"label": label, "text": text, "more": [words for words in more if words]}


def _range_words(fact: Fact, write: Callable[[float], str]) -> str:
    """A fact's value in words: a point, a range or a word."""
    if fact.low is None or fact.high is None:
        return fact.text
    if fact.low == fact.high:
        return write(fact.low)
    return f"{write(fact.low)} to {write(fact.high)}"


def _others_words(crop: Crop, quantity: str, write: Callable[[float], str], notes: Footnotes) -> str:
    """Values of a quantity that say something else than the one used, with their sources."""
    facts = crop.facts_of(quantity)
    used = [fact for fact in facts if fact.used]
    said = {_range_words(fact, write) for fact in used}
    alike: dict[tuple[str, str], list[Fact]] = {}
    for fact in facts:
        words = _range_words(fact, write)
        if not fact.used and words not in said:
            alike.setdefault((words, fact.standing), []).append(fact)
    told = [f"{words} {notes.fact_mark(*group)}" for (words, _), group in alike.items()]
    return f"Others say: {'; '.join(told)}." if told else ""


def _used_mark(crop: Crop, quantity: str, notes: Footnotes) -> str:
    used = [fact for fact in crop.facts_of(quantity) if fact.used]
    return notes.fact_mark(used[0]) if used else NO_SOURCE


def _used_words(crop: Crop, quantity: str, write: Callable[[float], str], notes: Footnotes) -> str:
    """The published value behind the one used, as it was printed, with its source."""
    used = [fact for fact in crop.facts_of(quantity) if fact.used]
    return f"{_range_words(used[0], write)} {notes.fact_mark(used[0])}" if used else NO_SOURCE


def _depth_quantity(crop: Crop) -> str:
    """Depth of seed, or of tubers, cloves and sets."""
    return "sow_depth_mm" if crop.facts_of("sow_depth_mm") else "planting_depth_mm"


def _depth_lines(
    crop: Crop, plantings: Sequence[Planting], measures: Measures, notes: Footnotes
) -> list[dict[str, Any]]:
    quantity = _depth_quantity(crop)
    lines = []
    if any(p.way in ("sow", "raise") for p in plantings):
        where = "in the bed" if any(p.way == "sow" for p in plantings) else "in the cell, under cover"
        text = f"{measures.depth(crop.sow_depth_mm)} deep, {where} {_used_mark(crop, quantity, notes)}"
        if crop.seeds_per_station > 1:
            mark = _used_mark(crop, "seeds_per_station", notes)
            text += f"; {crop.seeds_per_station} seeds for each plant that stays {mark}"
        lines.append(_line("How deep", text, _others_words(crop, quantity, measures.depth, notes)))
    if crop.set_underground:
        depth = measures.depth(crop.sow_depth_mm)
        text = f"{depth} deep, shoots or tips up {_used_mark(crop, quantity, notes)}"
        lines.append(_line("How deep", text, _others_words(crop, quantity, measures.depth, notes)))
    elif any(p.way != "sow" for p in plantings):
        mark = _used_mark(crop, "stem_depth", notes)
        lines.append(_line("Set out at", f"{crop.stem_depth} {mark}"))
    return lines


def _spacing_lines(
    crop: Crop, plantings: Sequence[Planting], measures: Measures, notes: Footnotes
) -> list[dict[str, Any]]:
    def write(length_cm: float) -> str:
        return measures.spacing(length_cm / 100)

    in_row = measures.spacing(plant_distance_m(plantings[0]))
    between = [m for p in plantings if (m := row_distance_m(p)) is not None]
    text = f"{in_row} from plant to plant"
    if between:
        text += f", rows {measures.spacing(min(between))} apart"
    if all(staggered(p) for p in plantings):
        text += ", staggered: begin every other row half a gap further on"
    rows = "bed_row_spacing_cm" if crop.facts_of("bed_row_spacing_cm") else "row_spacing_cm"
    given = (
        f"Given: {_used_words(crop, 'in_row_spacing_cm', write, notes)} in the row, "
        f"{_used_words(crop, rows, write, notes)} between rows."
    )
    return [_line("How far apart", text, given, _others_words(crop, "in_row_spacing_cm", write, notes))]


def _handling_lines(crop: Crop, plantings: Sequence[Planting], notes: Footnotes) -> list[dict[str, Any]]:
    if all(p.way == "sow" for p in plantings):
        text = "Draw the drill along the string, sow, cover, firm with the back of the rake. Water in gently."
        return [_line("Sowing", f"{text} (common practice, no source)")]
    if crop.set_underground:
        text = f"Set the {crop.planting_stock}s along the string, cover, firm and water in at once."
        return [_line("Handling", f"{text} (common practice, no source)")]
    parts = []
    if crop.soak_cell:
        parts.append(f"Soak the cell before knocking out {_used_mark(crop, 'soak_cell', notes)}.")
    roots = "Tease the roots apart a little" if crop.roots == "tease" else "Leave the roots undisturbed"
    parts.append(f"{roots} {_used_mark(crop, 'roots', notes)}.")
    parts.append("Firm the soil and water in at once (common practice, no source).")
    return [_line("Handling", " ".join(parts))]


def _season_lines(
    plan: SeasonPlan, crop: Crop, plantings: Sequence[Planting], measures: Measures
) -> list[dict[str, Any]]:
    codes = {p.code for p in plantings}
    spans: dict[str, list[str]] = {}
    for task in plan.tasks:
        if task.planting_code in codes:
            spans.setdefault(task.kind, []).append(span_words(task.start, task.end))
    lines = []
    if any(p.way == "sow" for p in plantings) and crop.kind != "cover crop":
        thin = f"to {measures.spacing(plant_distance_m(plantings[0]))} when the first true leaves are out"
        lines.append(_line("Thin", f"{thin} (common practice, no source)", _planned(spans.get("thin"))))
    if crop.kind != "cover crop":
        lines.append(_line("Mulch", f"{_MULCH} (common practice, no source)", _planned(spans.get("mulch"))))
    if crop.support != "none":
        lines.append(_line("Support", crop.support, _planned(spans.get("support"))))
    picking = [span_words(p.dates.first_pick, p.dates.last_pick) for p in plantings]
    lines.append(_line("Pick" if crop.kind != "cover crop" else "Cut down", "; ".join(picking)))
    return lines


def _planned(spans: Sequence[str] | None) -> str:
    return f"Planned: {'; '.join(spans)}." if spans else ""


def _eating_lines(crop: Crop, notes: Footnotes) -> list[dict[str, Any]]:
    lines = []
    if crop.edible_parts:
        lines.append(
            _line("Eaten", f"{', '.join(crop.edible_parts)} {_used_mark(crop, 'edible_parts', notes)}")
        )
    if crop.poisonous_parts:
        text = f"{'; '.join(crop.poisonous_parts)} {_used_mark(crop, 'poisonous_parts', notes)}"
        lines.append(
            _line("Poisonous or irritating", text, _others_words(crop, "poisonous_parts", str, notes))
        )
    else:
        lines.append(_line("Poisonous parts", "none recorded here; that is no promise that there are none"))
    return lines
