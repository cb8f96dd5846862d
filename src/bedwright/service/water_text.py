"""The morning's water as words on a terminal, and a forecast as typed in."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from datetime import date

from bedwright.model.book import UnitSystem
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.model.units import inches_to_mm
from bedwright.model.water import ForecastDay, PatchDue, ShortShare, WateringDue
from bedwright.papers import Measures
from bedwright.papers.measures import minutes_words
from bedwright.service.water_today import WaterAnswer, WaterAsked

_TYPED = re.compile(r"(\d{4}-\d{2}-\d{2})=(-?\d+(?:\.\d+)?)(mm|in)?")
MOST_RAIN_MM = 500.0
NO_FLOW = (
    "Minutes of tap are not told: the garden book does not state what the tap gives (flow_l_min). Time a "
    "bucket: "
    "10 L in 40 seconds are 15 L/min."
)
NOT_KNOWN = (
    "Nothing is known of this season's rain: the usual demand of each day is reckoned, and no rain. Keep a "
    "water log "
    "(--log) or give a record that reaches into the season (--weather)."
)


def forecast_of(typed: Iterable[str]) -> tuple[ForecastDay, ...]:
    """A forecast typed as `2027-06-02=8mm`, day by day.

    Raises
    ------
    BadDocumentError
        With every entry that is not a day and rain of 0 to 500 mm.
    """
    days, problems = [], []
    for words in typed:
        found = _TYPED.fullmatch(words.strip())
        try:
            day = date.fromisoformat(found[1]) if found else None
        except ValueError:
            day = None
        rain_mm = math.nan if found is None else float(found[2])
        if found is not None and found[3] == "in":
            rain_mm = inches_to_mm(rain_mm)
        if day is None or not 0 <= rain_mm <= MOST_RAIN_MM:
            expected = "a day and rain of 0 to 500 mm, such as 2027-06-02=8mm or 2027-06-02=0.3in"
            problems.append(Problem("the command", None, None, "--forecast", words, expected))
        else:
            days.append(ForecastDay(day, rain_mm))
    if problems:
        raise BadDocumentError(tuple(problems))
    return tuple(days)


def water_text(plan: SeasonPlan, found: WaterAnswer, asked: WaterAsked, units: UnitSystem) -> str:
    """The morning's answer for a terminal."""
    return "\n".join(_lines(plan, found, asked, Measures(units))) + "\n"


def _lines(plan: SeasonPlan, found: WaterAnswer, asked: WaterAsked, measures: Measures) -> Iterator[str]:
    answer = found.answer
    site = plan.book.site.name
    yield f"Water on {answer.today:%A %-d %B %Y}, {site}, revision {plan.revision}"
    if plan.climate is not None and plan.climate.invented:
        yield "The weather record is invented: an example, not advice for a real place."
    if found.last_known is None:
        yield NOT_KNOWN
    yield from answer.notes
    names = {bed.code: f"bed {bed.code}" for bed in plan.book.beds}
    due = [bed for bed in answer.beds if bed.due]
    if answer.beds and not due:
        yield "No bed wants water today."
    for bed in due:
        yield f"water {names[bed.bed_code]} today: {amount_words(bed, found, measures)}"
        thirsty = [patch for patch in bed.patches if patch.due]
        if asked.why:
            yield from (f"    {_patch_words(patch, plan, measures)}" for patch in thirsty)
        else:
            yield f"    {', '.join(_patch_in_short(patch, plan, measures) for patch in thirsty)}"
    if due:
        total = f"In all {measures.water(answer.total_l)}"
        minutes = (
            f", {minutes_words(answer.total_l / found.supply.tap_flow_l_min)} of tap"
            if found.flow_known
            else ""
        )
        yield f"{total}{minutes}."
    waiting = [bed for bed in answer.beds if not bed.due]
    if answer.beds:
        yield ""
        yield f"Next watering, if no rain comes; and if {_rain(answer.rain_if_mm, measures)} fall today:"
        for bed in (*waiting, *due):
            yield f"  {names[bed.bed_code]}: {_next(bed, answer.today)}; {_next_if_rain(bed)}"
    yield from _shares(found, asked, plan, measures)
    yield from _duty(found, asked, names, measures)
    yield from _footing(found, measures)


def amount_words(bed: WateringDue, found: WaterAnswer, measures: Measures) -> str:
    """`46 L, 3 min at 15 L/min or 5 cans`; without minutes where the flow is not known."""
    told = measures.water(bed.water_l)
    cans = f"{bed.n_cans} can{'' if bed.n_cans == 1 else 's'}"
    if not found.flow_known:
        return f"{told}, {cans}"
    return f"{told}, {minutes_words(bed.tap_min)} at {measures.flow(found.supply.tap_flow_l_min)} or {cans}"


def _patch_in_short(patch: PatchDue, plan: SeasonPlan, measures: Measures) -> str:
    young = " (young)" if patch.priority == 1 else ""
    return f"{_label(patch.patch_code, plan)} {patch.crop}{young} {measures.water(patch.water_l)}"


def _label(code: str, plan: SeasonPlan) -> str:
    return next(p.label_code for p in plan.plantings if p.code == code)


def _patch_words(patch: PatchDue, plan: SeasonPlan, measures: Measures) -> str:
    label = _label(patch.patch_code, plan)
    return (
        f"{label} {patch.crop} ({patch.stage}): {measures.water(patch.water_l)}. {measures.alone(patch.why)}"
    )


def _rain(rain_mm: float, measures: Measures) -> str:
    return f"{measures.rain(rain_mm)} {'in' if measures.us else 'mm'}"


def _next(bed: WateringDue, today: date) -> str:
    if bed.next_due is None:
        return "not within two weeks"
    return "today" if bed.next_due == today else f"{bed.next_due:%a %-d %B}"


def _next_if_rain(bed: WateringDue) -> str:
    if bed.next_due_if_rain is None:
        return "with that rain not within two weeks"
    return f"with that rain {bed.next_due_if_rain:%a %-d %B}"


def _shares(found: WaterAnswer, asked: WaterAsked, plan: SeasonPlan, measures: Measures) -> Iterator[str]:
    if asked.available_l is None:
        return
    wanted = sum(share.wanted_l for share in found.shares)
    yield ""
    if wanted <= asked.available_l:
        yield f"{measures.water(asked.available_l)} are enough for everything that is due."
        return
    yield (
        f"{measures.water(asked.available_l)} for {measures.water(wanted)} wanted. Young plants first, since "
        "they die; "
        "then what flowers and fills, which loses most; then the rest:"
    )
    labels = {p.code: f"{p.label_code} {p.crop.name}" for p in plan.plantings}
    for share in found.shares:
        told = "nothing" if share.given_l <= 0 else measures.water(share.given_l)
        line = (
            f"  bed {share.bed_code}, {labels[share.patch_code]}: {told} of {measures.water(share.wanted_l)}"
        )
        yield line + _lost(share)


def _lost(share: ShortShare) -> str:
    if share.given_l >= share.wanted_l:
        return ""
    if share.loss_pct <= 0:
        return "; some of it may be lost"
    return f"; a week without the rest costs about {share.loss_pct:.0f} % of the yield"


def _duty(found: WaterAnswer, asked: WaterAsked, names: dict[str, str], measures: Measures) -> Iterator[str]:
    if asked.duty is None:
        return
    yield ""
    yield (
        f"Duty list, {asked.duty.start:%a %-d %B} to {asked.duty.end:%a %-d %B %Y}, if no rain comes but "
        "what is "
        "forecast:"
    )
    if not found.duty:
        yield "  Nobody has to come."
    for visit in found.duty:
        cans = f"{visit.n_cans} can{'' if visit.n_cans == 1 else 's'}"
        tap = f"{minutes_words(visit.tap_min)} of tap or " if found.flow_known else ""
        yield (
            f"  [ ] {visit.day:%a %-d %B}, {names[visit.bed_code]}: {measures.water(visit.water_l)}, "
            f"{tap}{cans}. "
            f"{visit.why[:1].upper()}{visit.why[1:]}."
        )


def _footing(found: WaterAnswer, measures: Measures) -> Iterator[str]:
    yield ""
    if found.last_known is not None:
        last = f"{found.last_known:%-d %B %Y}"
        yield f"Rain is known up to {last}; for days after it none is reckoned but the forecast's."
    yield "A watering that is not in the log counts as not given."
    if not found.flow_known:
        yield NO_FLOW
    if not found.can_known:
        can = measures.water(found.supply.can_l)
        yield f"A can is taken to hold {can}, a common size: state yours as water: can_l in the garden book."
    if found.not_counted:
        yield f"Not reckoned, water needs not known: {', '.join(found.not_counted)}."
    yield "Feel the soil a finger deep before you water: it knows more than any reckoning."
