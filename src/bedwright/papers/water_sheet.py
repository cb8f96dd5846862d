"""The water sheet: litres and minutes a week for each bed, tanks, watering in."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem, WaterLimit
from bedwright.model.care import WaterPlan
from bedwright.model.season import SeasonPlan
from bedwright.model.source import Origin
from bedwright.model.units import litres_to_us_gallons
from bedwright.model.water import BedWater, TankSizing, WaterWeek
from bedwright.papers import parts
from bedwright.papers.drawing import Drawing
from bedwright.papers.ground_drawing import bed_words
from bedwright.papers.measures import (
    Measures,
    count_words,
    day_words,
    later_day,
    minutes_words,
    short_day,
    span_words,
)
from bedwright.papers.parts import Part
from bedwright.papers.sheet import frame, room_mm
from bedwright.papers.standings import doubt_lines
from bedwright.papers.week_axis import key_box, key_line, week_axis

COMMON_CAN_L = 10.0
"""Watering can where the book states none: common size, no source."""
BEDS_ABREAST = 12
SHOWN_FROM_L = 1.0
"""Less than this a week is not worth a walk."""
LISTED_FROM_L = 5.0
"""A week in which no bed needs more is not listed."""
_NO_FLOW = (
    "Minutes of tap are not told: the garden book does not state what the tap gives. Time a bucket (10 L in "
    "40 "
    "seconds are 15 L/min) and write it as flow_l_min of the tap."
)
_NO_RECORD = (
    "Without a weather record no water need can be worked out. Feel the soil a finger deep: where it is dry, "
    "water low and slowly; seedbeds and new transplants want it every day that is dry."
)


def water_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The water sheet for `parts.typ`."""
    measures = Measures(units)
    head = [parts.heading("Water", 1)]
    water = None if plan.care is None else plan.care.water
    if water is None or not water.beds:
        body = [parts.text("Nothing to water was planned." if water else _NO_RECORD)]
    else:
        body = _body(plan, water, paper, measures)
    return parts.paper(parts.page(frame(plan, paper, "Water sheet", "WA", wide=True), [*head, *body]))


def _body(plan: SeasonPlan, water: WaterPlan, paper: PaperSize, measures: Measures) -> list[Part]:
    can_l = plan.book.can_l or COMMON_CAN_L
    return [
        *_summary(plan, water, measures),
        parts.picture(
            water_chart(water.weeks, measures, room_mm(paper, wide=True)[0], plan.book.water_limits)
        ),
        parts.together(parts.heading("Bed by bed"), _bed_table(plan, water, can_l, measures)),
        *_week_tables(water, measures),
        *_watering_in(plan, water, can_l, measures),
        *_tanks(water, measures),
        *_method(plan, water),
    ]


def _summary(plan: SeasonPlan, water: WaterPlan, measures: Measures) -> list[Part]:
    years = max(bed.n_years for bed in water.beds)
    told = [
        (
            f"Water beyond rain, by the weather of {years} recorded years: enough in half of them, and "
            "enough in "
            "eight years of ten. It is what to put on, losses included. In the season, water by what the "
            "soil "
            "and "
            "the rain gauge say: bedwright water tells it day by day."
        )
    ]
    busiest = next((week for week in water.weeks if week.start == water.busiest), None)
    if busiest is not None:
        line = f"Busiest week, from {day_words(busiest.start)}: {measures.water(busiest.safe_l)}"
        if water.tap_flow_l_min is not None:
            line += (
                f", {minutes_words(busiest.safe_l / water.tap_flow_l_min)} of tap at "
                f"{measures.flow(water.tap_flow_l_min)}"
            )
        told.append(f"{line}.")
    if water.busiest_day_l > 0:
        told.append(_tap_words(water, measures))
    told += [_limit_words(limit, water, measures) for limit in plan.book.water_limits]
    if water.tap_flow_l_min is None:
        told.append(_NO_FLOW)
    if water.not_counted:
        told.append(f"Not counted, water needs not known: {_names(plan, water.not_counted)}.")
    return [parts.text(words) for words in told]


def _tap_words(water: WaterPlan, measures: Measures) -> str:
    """The day that asks most of the tap, and the tap it asks for."""
    line = f"Busiest day, in eight years of ten no more than {measures.water(water.busiest_day_l)}"
    if water.tap_flow_l_min is not None:
        line += f", {minutes_words(water.busiest_day_l / water.tap_flow_l_min)} of tap"
    half, whole = (measures.flow(water.busiest_day_l / minutes) for minutes in (30, 60))
    return f"{line}: done in half an hour it takes a tap of {half}, in an hour {whole}."


def _limit_words(limit: WaterLimit, water: WaterPlan, measures: Measures) -> str:
    """What may be drawn in a week, and whether dry years ask for more."""
    span = span_words(limit.start, limit.end)
    told = f"{limit.name[:1].upper()}{limit.name[1:]}: {measures.water(limit.week_l)} a week, {span}."
    over = [week for week in water.weeks if _holds(limit, week) and week.safe_l > limit.week_l]
    if not over:
        return f"{told} That is enough in eight years of ten."
    worst = max(over, key=lambda week: week.safe_l)
    lacking = measures.water(worst.safe_l - limit.week_l)
    return (
        f"{told} In {count_words(len(over), 'week')} two years of ten want more, in the worst, from "
        f"{day_words(worst.start)}, by {lacking}: water seedbeds, young plants and what is in flower first."
    )


def _holds(limit: WaterLimit, week: WaterWeek) -> bool:
    """A limit holds in a week if it holds on its fourth day."""
    return limit.start <= week.start + timedelta(days=3) <= limit.end


def least_limits(weeks: Sequence[WaterWeek], limits: Sequence[WaterLimit]) -> dict[date, WaterLimit]:
    """The limit that counts in each week in which one holds, by the week's first day."""
    return {
        week.start: min(held, key=lambda limit: limit.week_l)
        for week in weeks
        if (held := [limit for limit in limits if _holds(limit, week)])
    }


def _names(plan: SeasonPlan, codes: Iterable[str]) -> str:
    crops = {p.code: f"{p.label_code} {p.crop.name}" for p in plan.plantings}
    return ", ".join(crops.get(code, code) for code in codes)


def water_chart(
    weeks: Sequence[WaterWeek], measures: Measures, width_mm: float, limits: Sequence[WaterLimit] = ()
) -> Drawing:
    """Water of the whole garden, week by week: half of the years grey, eight of ten outlined.

    A stepped line shows the most there is, in the weeks in which there is a limit.
    """
    factor = litres_to_us_gallons(1.0) if measures.us else 1.0
    most = {start: limit.week_l for start, limit in least_limits(weeks, limits).items()}
    largest = max(*(week.safe_l for week in weeks), *most.values(), 0.0) * factor
    axis = week_axis([week.start for week in weeks], largest, measures.water_unit, (width_mm, 62.0))
    for week in weeks:
        axis.column(week.start, 0.0, week.safe_l * factor, fill="white")
        axis.column(week.start, 0.0, week.median_l * factor, fill="grey 68")
    x = key_box(axis.drawing, 22.0, "a week, enough in half of the years", fill="grey 68")
    x = key_box(axis.drawing, x, "enough in eight years of ten", fill="white")
    if most:
        for run in _runs(list(most)):
            axis.steps(run, [most[week] * factor for week in run])
        key_line(axis.drawing, x, "most there is")
    return axis.drawing


def _runs(weeks: Sequence[date]) -> list[list[date]]:
    """Weeks cut where one is left out."""
    runs: list[list[date]] = []
    for week in weeks:
        if runs and week - runs[-1][-1] == timedelta(days=7):
            runs[-1].append(week)
        else:
            runs.append([week])
    return runs


def _bed_table(plan: SeasonPlan, water: WaterPlan, can_l: float, measures: Measures) -> Part:
    head = ["Bed", "Ground under crop", "Whole season", "Busiest week from", "That week", "Cans a week"]
    if water.tap_flow_l_min is not None:
        head.append("Minutes a week")
    head[2:3] = ["Season, half the years", "Season, 8 of 10"]
    beds = {bed.code: bed for bed in plan.book.beds}
    rows = []
    for bed in water.beds:
        peak = max(bed.weeks, key=lambda week: week.safe_l, default=None)
        if peak is None:
            continue
        row = [
            bed_words(beds[bed.bed_code]),
            measures.area(bed.planted_area_m2),
            measures.water(bed.season_median_l),
            measures.water(bed.season_safe_l),
            day_words(peak.start),
            measures.water(peak.safe_l),
            str(math.ceil(peak.safe_l / can_l)),
        ]
        if water.tap_flow_l_min is not None:
            row.append(minutes_words(peak.safe_l / water.tap_flow_l_min))
        rows.append(row)
    columns = [2.0, *[1.0] * (len(head) - 1)]
    return parts.ruled_table(head, rows, columns, bold=(0,), right=range(1, len(head)))


def _week_tables(water: WaterPlan, measures: Measures) -> list[Part]:
    """A line a week, a column a bed; gardens of many beds take several tables."""
    made: list[Part] = []
    n_abreast = -(-len(water.beds) // -(-len(water.beds) // BEDS_ABREAST))
    for start in range(0, len(water.beds), n_abreast):
        beds = water.beds[start : start + n_abreast]
        made.append(parts.heading("Week by week"))
        made.append(
            parts.small(
                f"{measures.water_unit} a week: enough in half of the years, then enough in eight of ten"
                + (", then minutes of tap for the second." if water.tap_flow_l_min else "."),
                leads=True,
            )
        )
        rows = [row for k in range(len(beds[0].weeks)) if (row := _week_row(beds, k, water, measures))]
        head = ["From", *(f"Bed {bed.bed_code}" for bed in beds)]
        made.append(
            parts.ruled_table(
                head, rows, [1.0] * len(head), bold=(0,), right=range(1, len(head)), size_pt=7.5
            )
        )
    return made


def _week_row(beds: Sequence[BedWater], k: int, water: WaterPlan, measures: Measures) -> list[str]:
    if all(bed.weeks[k].safe_l < LISTED_FROM_L for bed in beds):
        return []
    return [
        # The first week may begin in the year before the season.
        later_day(beds[0].weeks[k].start, beds[0].weeks[0].start + timedelta(days=6)),
        *(_week_cell(bed.weeks[k], water, measures) for bed in beds),
    ]


def _week_cell(week: WaterWeek, water: WaterPlan, measures: Measures) -> str:
    if week.safe_l < SHOWN_FROM_L:
        return ""
    told = f"{measures.water_number(week.median_l)} to {measures.water_number(week.safe_l)}"
    if week.median_l < SHOWN_FROM_L:
        told = f"0 to {measures.water_number(week.safe_l)}"
    if water.tap_flow_l_min is None:
        return told
    return f"{told} · {max(1, round(week.safe_l / water.tap_flow_l_min))}′"


def _watering_in(plan: SeasonPlan, water: WaterPlan, can_l: float, measures: Measures) -> list[Part]:
    plantings = {p.code: p for p in plan.plantings}
    rows = []
    for item in sorted(water.watering_in, key=lambda each: plantings[each.planting_code].dates.in_ground):
        planting = plantings[item.planting_code]
        cans = item.water_l / can_l
        rows.append(
            [
                short_day(planting.dates.in_ground),
                planting.label_code,
                planting.crop.name,
                f"Bed {item.bed_code}",
                "sown" if planting.way == "sow" else count_words(planting.n_plants, "plant"),
                measures.water(item.water_l),
                f"{cans:.1f}" if cans < 3 else f"{math.ceil(cans)}",
            ]
        )
    half = -(-len(rows) // 2)
    head = ["Day", "Row", "Crop", "Bed", "", "Water", "Cans"]
    columns = [0, 0, 1.0, 0, 0, 0, 0]
    tables = [
        parts.ruled_table(head, chunk, columns, bold=(1, 5), right=(5, 6), size_pt=7.5)
        for chunk in (rows[:half], rows[half:])
        if chunk
    ]
    return [
        parts.heading("Watering in, on planting day"),
        parts.small(f"Cans of {measures.water(can_l)}. Water the drill or the hole, not the leaves."),
        parts.side_by_side(*tables),
    ]


def _tanks(water: WaterPlan, measures: Measures) -> list[Part]:
    if not water.tanks:
        return []
    rows = [_tank_row(tank, measures) for tank in water.tanks]
    head = [
        "Rain tank",
        "Covers of all water",
        "In a dry year (2 of 10)",
        "Days empty",
        "From the tap",
        "Overflows",
    ]
    return [
        parts.together(
            parts.heading("What a rain tank would cover"),
            parts.small(
                f"Roof of {measures.area(water.roof_m2)}, {water.tanks[0].n_years} recorded seasons followed "
                "day "
                "by day. Roof water goes on the soil only, never on leaves or fruit."
            ),
            parts.ruled_table(head, rows, [1.0] * len(head), bold=(0, 1), right=range(1, 6)),
        )
    ]


def _tank_row(tank: TankSizing, measures: Measures) -> list[str]:
    return [
        measures.water(tank.tank_l),
        f"{tank.covered_share:.0%}",
        f"{tank.covered_share_dry_year:.0%}",
        f"{tank.days_empty_per_season:.0f}",
        measures.water(tank.mean_tap_l),
        measures.water(tank.mean_overflow_l),
    ]


def _method(plan: SeasonPlan, water: WaterPlan) -> list[Part]:
    origins: list[Origin] = [*water.origins, *(o for bed in water.beds for o in bed.origins)]
    origins += [origin for tank in water.tanks for origin in tank.origins]
    dates = [p.dates for p in plan.plantings]
    span = span_words(min(d.in_ground for d in dates), max(d.last_pick for d in dates)) if dates else ""
    told = [
        (
            f"Daily soil-water balance of each planting, {span}, by FAO-56's dual crop coefficient: roots, "
            "leaves, "
            "shade, mulch and the way of watering counted; a bed is watered when the water its plants can "
            "easily "
            "take is used up, seedbeds and new transplants little and often."
        ),
        *dict.fromkeys(origin.rule for origin in water.origins),
        *doubt_lines(origins),
    ]
    return [parts.heading("How it was reached"), *(parts.small(words) for words in told)]
