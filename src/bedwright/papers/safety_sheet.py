"""The safety sheet: every caution the plan brings with it, gravest first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.safety import Caution, Gravity, SafetySheet, WorkdayWeather
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Source
from bedwright.papers import parts
from bedwright.papers.cautions import CANES, UTILITIES, WASHING
from bedwright.papers.measures import Measures, day_words
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame
from bedwright.papers.standings import doubt_lines

_GRAVITIES: tuple[tuple[Gravity, str], ...] = (
    ("stop", "Stop: do not do it as planned"),
    ("act", "Do something first"),
    ("know", "Bear in mind"),
)
_HAND_HOLD = (
    "A record says what has been, not what will be: look at the forecast the day before, and call the day "
    "off if it is "
    "dangerous."
)


def safety_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The safety sheet for `parts.typ`."""
    body: list[Part] = [parts.heading("Safety", 1)]
    if plan.care is not None:
        sheet, measures = plan.care.safety, Measures(units)
        body.append(
            parts.text(f"{sheet.ask} Rules change: each stands here with its date; look for a newer one.")
        )
        for gravity, words in _GRAVITIES:
            body += _graded(sheet, gravity, words, plan.sources, measures)
        if not sheet.cautions:
            body.append(parts.text("Nothing in this plan calls for a caution of its own."))
        body += _workdays(plan, sheet.workdays, measures)
    body += _always()
    if plan.care is not None:
        body += [parts.small(line) for line in doubt_lines(plan.care.safety.origins)]
    return parts.paper(parts.page(frame(plan, paper, "Safety sheet", "X"), body))


def _graded(
    sheet: SafetySheet, gravity: Gravity, words: str, sources: Mapping[str, Source], measures: Measures
) -> Iterable[Part]:
    found = [caution for caution in sheet.cautions if caution.gravity == gravity]
    if not found:
        return []
    return [parts.heading(words), *(_caution(caution, sources, measures) for caution in found)]


def _caution(caution: Caution, sources: Mapping[str, Source], measures: Measures) -> Part:
    label = caution.kind.capitalize()
    if caution.bed_code is not None:
        label += f", bed {caution.bed_code}"
    if caution.day is not None:
        label += f", {day_words(caution.day)}"
    told = caution.text
    if caution.day is not None:
        told = told.removeprefix(f"{caution.day.isoformat()}: ")
        told = told[:1].upper() + told[1:]
    cited = [sources[key].citation if key in sources else key for key in caution.source_ids]
    return parts.caution(f"{label}.", measures.alone(told), "; ".join(["Rule: " + caution.rule, *cited]))


def _workdays(plan: SeasonPlan, weather: Sequence[WorkdayWeather], measures: Measures) -> list[Part]:
    if not weather:
        return []
    names = {day.day: day.name for day in plan.book.workdays}
    risks = [risk for risk, _ in next((w.shares for w in weather if w.shares), ())]
    head = [
        "Workday",
        "",
        "Frost",
        "Hottest",
        "Heat index",
        *(f"{risk} heat risk or more" for risk in risks),
        "Days looked at",
    ]
    rows = [
        [
            day_words(w.day),
            names.get(w.day, ""),
            f"{w.frost_share:.0%}",
            measures.temperature(round(w.hottest_tmax_c)),
            "not known"
            if w.hottest_heat_index_c is None
            else measures.temperature(round(w.hottest_heat_index_c)),
            *(f"{share:.0%}" for _, share in w.shares),
            str(w.n_days),
        ]
        for w in weather
    ]
    notes = dict.fromkeys(w.note for w in weather if w.note)
    return [
        parts.together(
            parts.heading("Workdays: frost and heat in the record"),
            parts.small(
                "Share of recorded days at that time of year; hottest and heat index are the highest of them."
            ),
            parts.ruled_table(
                head, rows, [0, 1.0, *[0] * (len(head) - 2)], bold=(0,), right=range(2, len(head))
            ),
            *(parts.small(note) for note in (*notes, _HAND_HOLD)),
        )
    ]


def _always() -> list[Part]:
    cautions = (("Digging.", UTILITIES), ("Canes and stakes.", CANES), ("Hands.", WASHING))
    return [
        parts.heading("Always"),
        *(parts.caution(label, each.text, each.source) for label, each in cautions),
    ]
