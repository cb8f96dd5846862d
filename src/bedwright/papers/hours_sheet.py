"""Hours the season needs week by week against those promised, and what to leave out if short."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from bedwright.engine.work import rates_in_use
from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.care import Care
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Origin
from bedwright.model.units import feet_to_metres, pounds_to_kg, square_feet_to_m2
from bedwright.model.work import NO_HOURS, Hours, LabourRate, RatePer, SeasonHours, WeekHours
from bedwright.papers import parts
from bedwright.papers.drawing import Drawing
from bedwright.papers.measures import (
    Measures,
    count_words,
    day_words,
    figures_words,
    hours_words,
    later_day,
    number_words,
)
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame, room_mm
from bedwright.papers.standings import standing_words
from bedwright.papers.week_axis import key_box, key_line, week_axis

_PER: dict[RatePer, str] = {
    "m2": "m²", "plant": "plant", "row_m": "m of row", "kg": "kg", "tray": "tray", "visit": "visit",
    "order": "order",
}  # fmt: skip
_US_PER: dict[RatePer, tuple[str, float]] = {
    "m2": ("ft²", square_feet_to_m2(1)),
    "row_m": ("ft of row", feet_to_metres(1)),
    "kg": ("lb", pounds_to_kg(1)),
}
"""What minutes are for, and the metric units in one of it."""


def hours_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The sheet of hours for `parts.typ`."""
    body: list[Part] = [parts.heading("Hours of work", 1)]
    if plan.care is None or not plan.care.hours.weeks:
        body.append(parts.text("No hours were worked out."))
    else:
        width, _ = room_mm(paper, wide=True)
        body += [
            *(parts.text(words) for words in _summary(plan.care.hours)),
            parts.picture(hours_chart(plan.care.hours.weeks, width)),
            *_relief(plan, plan.care),
            parts.side_by_side(_by_kind(plan.care.hours), _short_weeks(plan, plan.care.hours)),
            *_rates(plan, plan.care.hours, Measures(units)),
        ]
    return parts.paper(parts.page(frame(plan, paper, "Hours of work", "H", wide=True), body))


def _summary(hours: SeasonHours) -> Iterable[str]:
    needed = hours.needed
    yield (
        f"The whole season is likely to take {hours_words(needed.likely_h)} hours: "
        f"{hours_words(needed.low_h)} if all "
        f"goes fast, {hours_words(needed.high_h)} if all goes slowly. {hours_words(hours.promised_h)} hours "
        "are promised "
        "in these weeks. Volunteers are taken to need "
        f"{number_words(hours.volunteer_factor[0], 2)} to {number_words(hours.volunteer_factor[2], 2)} times "
        "the "
        "minutes of practised people (common practice, no source)."
    )
    short = [week for week in hours.short_weeks if _is_promised(hours, week)]
    if short:
        worst = max(short, key=lambda week: week.short_h)
        yield (
            f"{count_words(len(short), 'week is', 'weeks are')} short of hours; the worst, of "
            f"{day_words(worst.week)}, by {hours_words(worst.short_h)} h."
        )
    outside = [week for week in hours.short_weeks if not _is_promised(hours, week)]
    if not short and not outside:
        yield "No week is short at the likely figure."
    elif not short and hours.promised_h > 0:
        yield "No week for which hours are promised is short at the likely figure."
    if outside:
        needed_h = sum(week.needed.likely_h for week in outside)
        yield (
            f"In {count_words(len(outside), 'week')}, from {day_words(outside[0].week)} on, there is work of "
            f"{hours_words(needed_h)} h in all for which nobody has promised hours yet."
        )


def _is_promised(hours: SeasonHours, week: WeekHours) -> bool:
    """True from the first to the last week for which anybody has promised hours."""
    promised = [each.week for each in hours.weeks if each.promised_h > 0]
    return bool(promised) and promised[0] <= week.week <= promised[-1]


def hours_chart(weeks: Sequence[WeekHours], width_mm: float) -> Drawing:
    """Low to high as a column with the likely figure across it, promised hours as steps."""
    largest = max(max(week.needed.high_h, week.promised_h) for week in weeks)
    axis = week_axis([week.week for week in weeks], largest, "h a week", (width_mm, 66.0))
    for week in weeks:
        short = week.short_h > 0
        axis.column(week.week, week.needed.low_h, week.needed.high_h, fill="grey 50" if short else "grey 84")
        if week.needed.likely_h > 0:
            axis.mark(week.week, week.needed.likely_h)
    axis.steps([week.week for week in weeks], [week.promised_h for week in weeks])
    x = key_box(axis.drawing, 22.0, "needed, low to high, likely figure across", fill="grey 84", marked=True)
    x = key_box(axis.drawing, x, "the same, short of hours", fill="grey 50", marked=True)
    key_line(axis.drawing, x, "promised")
    return axis.drawing


def _relief(plan: SeasonPlan, care: Care) -> list[Part]:
    if not any(_is_promised(care.hours, week) for week in care.hours.short_weeks):
        return []
    if not care.relief:
        return [
            parts.text(
                "Leaving out plantings would not mend the short weeks: find more hands for them, or move the "
                "work."
            )
        ]
    told = (
        "Either find more hands for the short weeks, or leave something out before anything is planted. This "
        "order frees "
        "most hours for what is least wanted:"
    )
    return [
        parts.heading("If nobody else can come"),
        parts.text(told),
        parts.bullets([each.text for each in care.relief]),
    ]


def _by_kind(hours: SeasonHours) -> Part:
    kinds: dict[str, Hours] = {}
    for share in hours.shares:
        kinds[share.kind] = kinds.get(share.kind, NO_HOURS) + share.hours
    rows = [
        [kind, *(hours_words(value) for value in (sum_.low_h, sum_.likely_h, sum_.high_h))]
        for kind, sum_ in sorted(kinds.items(), key=lambda item: -item[1].likely_h)
        if sum_.high_h >= 0.05
    ]
    return parts.together(
        parts.heading("By kind of work"),
        parts.ruled_table(
            ["Work", "Low h", "Likely h", "High h"], rows, [1.0, 0, 0, 0], bold=(0, 2), right=(1, 2, 3)
        ),
    )


def _short_weeks(plan: SeasonPlan, hours: SeasonHours) -> Part:
    tight = [week for week in hours.weeks if week.sufficiency != "enough" and _is_promised(hours, week)]
    if not tight:
        return parts.text("Hours promised are enough in every week, even at the high figure.")
    shown = sorted(tight, key=lambda week: (-week.short_h, week.week))[:20]
    rows = [
        [
            later_day(week.week, plan.book.season_start),
            hours_words(week.needed.likely_h),
            hours_words(week.needed.high_h),
            hours_words(week.promised_h),
            hours_words(week.short_h) if week.short_h >= 0.05 else "",
            week.sufficiency + (f", {week.quiet}" if week.quiet else ""),
        ]
        for week in sorted(shown, key=lambda week: week.week)
    ]
    head = ["Week of", "Likely h", "High h", "Promised h", "Short h", ""]
    left_out = len(tight) - len(shown)
    return parts.together(
        parts.heading("Weeks that are short, or may be"),
        parts.ruled_table(head, rows, [0, 0, 0, 0, 0, 1.0], bold=(0, 4), right=(1, 2, 3, 4)),
        *(
            [parts.small(f"{count_words(left_out, 'more week')} may be short; see the plot.")]
            if left_out
            else []
        ),
    )


def _rates(plan: SeasonPlan, hours: SeasonHours, measures: Measures) -> list[Part]:
    used = {share.kind for share in hours.shares}
    rates = rates_in_use(plan.book.labour_rates, ())
    rows = [_rate_row(rate, measures) for rate in rates.values() if rate.kind in used]
    if not rows:
        return []
    half = -(-len(rows) // 2)
    head = ["Job", "Minutes for", "Low", "Likely", "High", "How they were reached"]
    tables = [
        parts.ruled_table(head, chunk, [0, 0, 0, 0, 0, 1.0], bold=(0,), right=(2, 3, 4), size_pt=7.0)
        for chunk in (rows[:half], rows[half:])
        if chunk
    ]
    return [
        parts.heading("Rates behind the hours"),
        parts.small(
            "Rates marked first guess are from memory. Write your own times into the garden book; they go "
            "before these."
        ),
        parts.side_by_side(*tables),
    ]


def _rate_row(rate: LabourRate, measures: Measures) -> list[str]:
    unit, factor = _US_PER[rate.per] if measures.us and rate.per in _US_PER else (_PER[rate.per], 1.0)
    return [
        rate.name,
        f"{unit}, a week" if rate.weekly else unit,
        *(_minutes(value * factor) for value in (rate.low_min, rate.likely_min, rate.high_min)),
        "; ".join(dict.fromkeys(_why(origin) for origin in rate.origins)),
    ]


def _minutes(minutes: float) -> str:
    """Two figures below one, so that minutes a square foot are not rounded away."""
    return number_words(minutes, 1) if minutes >= 1 or not minutes else figures_words(minutes)


def _why(origin: Origin) -> str:
    mark = standing_words(origin.standing)
    if mark in origin.rule or mark in ("", "derived"):
        return origin.rule
    return f"{origin.rule} [{mark}]"
