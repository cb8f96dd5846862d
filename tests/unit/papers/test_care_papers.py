"""Papers of what the plan asks for: water, feeding, hours, picking, orders, safety."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from bedwright.model.book import WaterLimit
from bedwright.model.care import Care
from bedwright.model.safety import Caution
from bedwright.model.season import SeasonPlan
from bedwright.model.supplies import PackChoice, PackCount, Purchase, SupplierOrder
from bedwright.papers import LABEL_SHEETS, write_papers
from bedwright.papers.feeding_sheet import cup_words, feeding_data
from bedwright.papers.hours_sheet import hours_data
from bedwright.papers.measures import Measures, day_words, figures_words, minutes_words
from bedwright.papers.order_list import order_list_data
from bedwright.papers.picking_sheet import picking_data
from bedwright.papers.preparation_sheet import preparation_data
from bedwright.papers.safety_sheet import safety_data
from bedwright.papers.sheet import INVENTED_MARK, PAGE_MM
from bedwright.papers.standings import doubt_lines
from bedwright.papers.sun_drawing import STEPS, sun_drawing, sun_step
from bedwright.papers.tables import TABLES, tables_of
from bedwright.papers.typesetting import typeset
from bedwright.papers.water_sheet import water_data
from bedwright.papers.week_axis import round_step, week_axis
from bedwright.papers.week_list import week_list_data
from bedwright.papers.write import PaperName, papers_of
from tests.demo import demo_plan as whole_plan
from tests.plans import demo_plan
from tests.unit.papers.pdf_reading import MM_PER_POINT, fonts_of, reader_of, words_of

CARE_PAPERS: tuple[PaperName, ...] = ("preparation", "hours", "water", "feeding", "picking", "safety")
SHEET = next(iter(LABEL_SHEETS))
Data = Callable[[SeasonPlan, Any, Any], dict[str, Any]]


@cache
def care() -> Care:
    found = whole_plan().care
    assert found is not None
    return found


def with_care(**changes: Any) -> SeasonPlan:
    return replace(whole_plan(), care=replace(care(), **changes))


def texts(data: Any) -> list[str]:
    """Every text anywhere in the data of a paper, in order."""
    if isinstance(data, str):
        return [data]
    inner = data.values() if isinstance(data, dict) else data if isinstance(data, list | tuple) else ()
    return [words for item in inner for words in texts(item)]


def told(make: Data, plan: SeasonPlan, units: str = "metric") -> str:
    return "\n".join(texts(make(plan, "a4", units)))


@pytest.mark.parametrize(("paper", "units"), [("a4", "metric"), ("letter", "us")])
def test_every_page_is_set_with_its_revision_and_mark(tmp_path: Path, paper: Any, units: Any) -> None:
    plan = whole_plan()
    names: set[PaperName] = {*CARE_PAPERS, "week-list", "order-list"}
    written = write_papers(plan, tmp_path, paper=paper, units=units, label_sheet=SHEET, only=names)
    assert {path.stem for path in written} == names
    for path in written:
        pdf = path.read_bytes()
        assert all(fonts_of(pdf).values())
        for page, words in zip(reader_of(pdf).pages, words_of(pdf).splitlines(), strict=True):
            assert plan.revision in words
            assert INVENTED_MARK in words
            size = sorted(
                (float(page.mediabox.width) * MM_PER_POINT, float(page.mediabox.height) * MM_PER_POINT)
            )
            assert size == pytest.approx(PAGE_MM[paper], abs=0.01)


def test_a_plan_that_stops_at_places_and_dates_has_none_of_these_papers() -> None:
    assert not set(CARE_PAPERS) & set(papers_of(demo_plan()))
    assert set(CARE_PAPERS) < set(papers_of(whole_plan()))
    assert {"hours.csv", "water.csv", "supplies.csv"} == set(tables_of(whole_plan())) - set(
        tables_of(demo_plan())
    )


def test_a_plan_without_care_is_told_in_words_not_in_tables() -> None:
    for make in (water_data, feeding_data, hours_data, picking_data, safety_data):
        assert typeset("parts", make(demo_plan(), "a4", "metric"), date(2027, 1, 1))


# water


def test_litres_and_minutes_stand_for_every_bed() -> None:
    water = care().water
    assert water is not None
    words = told(water_data, with_care(water=replace(water, tap_flow_l_min=12.0)))
    for bed in water.beds:
        assert Measures("metric").water(bed.season_safe_l) in words
    assert "at 12 L/min" in words
    assert "Minutes of tap are not told" not in words


def test_short_weeks_for_which_nobody_has_promised_yet_are_told_apart() -> None:
    hours = care().hours
    first, then = hours.weeks[0], hours.weeks[0].week + timedelta(weeks=1)
    short = replace(first, short_h=2.0, promised_h=1.0, sufficiency="short")
    beyond = replace(short, week=then, promised_h=0.0)
    words = told(hours_data, with_care(hours=replace(hours, weeks=(short, beyond))))
    assert "1 week is short of hours" in words
    assert f"In 1 week, from {day_words(then)} on, there is work" in words
    assert "If nobody else can come" in words
    met = replace(short, short_h=0.0, sufficiency="enough")
    words = told(hours_data, with_care(hours=replace(hours, weeks=(met, beyond))))
    assert "No week for which hours are promised is short" in words
    assert "nobody has promised hours yet" in words
    assert "If nobody else can come" not in words
    assert "nobody has promised" not in told(hours_data, with_care(hours=replace(hours, weeks=(met,))))


def test_the_tap_is_sized_by_the_busiest_day() -> None:
    water = care().water
    assert water is not None
    # 600 L in 30 minutes are 20 L/min, in 60 minutes 10.
    words = told(water_data, with_care(water=replace(water, busiest_day_l=600.0, tap_flow_l_min=12.0)))
    assert (
        "600 L, 50 min of tap: done in half an hour it takes a tap of 20 L/min, in an hour 10 L/min" in words
    )
    assert "Busiest day" in told(water_data, whole_plan())


def test_without_a_stated_flow_no_minutes_are_told() -> None:
    water = care().water
    assert water is not None
    words = told(water_data, with_care(water=replace(water, tap_flow_l_min=None)))
    assert "Minutes of tap are not told" in words
    assert "Minutes a week" not in words
    assert "′" not in words


def test_without_a_record_the_sheet_says_what_to_do_instead() -> None:
    assert "Without a weather record" in told(water_data, with_care(water=None))


def limited(week_l: float) -> SeasonPlan:
    plan = whole_plan()
    limit = WaterLimit("standpipe permit", week_l, date(2000, 1, 1), date(2100, 1, 1))
    return replace(plan, book=replace(plan.book, water_limits=(limit,)))


def test_a_limit_on_water_is_told_with_the_weeks_that_want_more() -> None:
    plenty = told(water_data, limited(100_000.0))
    assert "Standpipe permit: 100000 L a week" in plenty
    assert "That is enough in eight years of ten." in plenty
    words = told(water_data, limited(1.0))
    assert "two years of ten want more, in the worst, from" in words
    assert "most there is" in str(water_data(limited(1.0), "a4", "metric"))


def test_many_beds_take_several_tables_of_weeks() -> None:
    water = care().water
    assert water is not None
    beds = tuple(replace(bed, bed_code=bed.bed_code) for bed in (*water.beds, *water.beds))
    plan = with_care(water=replace(water, beds=beds))
    tables = [
        part
        for part in water_data(plan, "a4", "metric")["pages"][0]["parts"]
        if part["k"] == "table" and part["head"][0] == "From"
    ]  # fmt: skip
    assert len(tables) == 3
    assert sum(len(table["head"]) - 1 for table in tables) == len(beds)


def test_water_on_paper_is_in_gallons_where_the_garden_measures_so() -> None:
    words = told(water_data, whole_plan(), "us")
    assert "US gal" in words
    assert not re.search(r"\d L\b", words)


METRIC_ALONE = re.compile(
    r"\d (?:g/m²|°C|cm|mm|kg|m of row|g a metre|L)(?![\w²³)])"
    r"(?! \([\d., ]*(?:to [\d.,]+ )?(?:lb|°F|in|oz|ft|US))"
)
"""A metric amount without its US one beside it."""


@pytest.mark.parametrize("make", [water_data, feeding_data, hours_data, safety_data, picking_data])
def test_us_papers_tell_no_amount_in_metric_alone(make: Data) -> None:
    lines = texts(make(whole_plan(), "letter", "us"))
    # Labour rates name the published figure they were worked out from, as it was printed.
    lines = [line for line in lines if "a choice of our own" not in line and "12 m² cleared" not in line]
    assert [line for line in lines if METRIC_ALONE.search(line)] == []


# feeding, preparation


def test_compost_is_told_in_every_measure_it_is_fetched_in() -> None:
    words = told(feeding_data, whole_plan())
    assert "Compost and composted manure by the bed" in words
    assert "Barrows" in words
    assert "or bags" in words
    assert "one delivery of" in words
    assert "allowed for settling (common practice, no source)" in words
    assert "in each planting hole" in words
    assert "cubic yards" in told(feeding_data, whole_plan(), "us")


def test_what_a_bed_s_test_calls_for_is_told_in_full_on_the_sheet() -> None:
    feeding = care().feeding
    words = told(feeding_data, whole_plan())
    for bed in feeding.beds:
        if bed.acidity is not None and bed.acidity.material != "nothing":
            assert bed.acidity.text in words


def test_untested_beds_are_told_to_test_first_and_get_no_lime() -> None:
    words = told(feeding_data, whole_plan())
    assert "none: test first" in words
    assert "not before a test" in words


def test_every_side_dressing_and_mulch_has_its_line() -> None:
    data = feeding_data(whole_plan(), "a4", "metric")
    tables = [part for part in _flat(data["pages"][0]["parts"]) if part["k"] == "table"]
    rows = {
        head: sum(len(t["rows"]) for t in tables if t["head"][0] == head) for head in ("When", "Not before")
    }
    assert rows == {"When": len(care().feeding.side_dressings), "Not before": len(care().feeding.mulches)}


def _flat(parts: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [one for part in parts for one in (part, *_flat(part.get("parts", [])))]


def test_weak_and_guessed_numbers_are_named_on_the_paper_itself() -> None:
    words = told(feeding_data, whole_plan())
    assert "From weak sources: " in words
    assert "Common practice, no source: " in words
    origins = [origin for fed in care().feeding.beds for origin in fed.origins]
    assert doubt_lines([replace(origin, standing="read") for origin in origins]) == []


def test_every_prepared_bed_has_a_frame_with_what_to_spread() -> None:
    plan = whole_plan()
    prepared = {task.bed_code for task in plan.tasks if task.kind == "prepare"}
    frames = [
        part for part in preparation_data(plan, "a4", "metric")["pages"][0]["parts"] if part["k"] == "framed"
    ]
    assert len(frames) == len(prepared)
    n_rows = sum(len(part["rows"]) for frame in frames for part in frame["parts"] if part["k"] == "table")
    assert n_rows == sum(task.kind == "prepare" for task in plan.tasks)
    assert all(any(part["k"] == "list" for part in frame["parts"]) for frame in frames)


@pytest.mark.parametrize(
    ("cups", "words"),
    [(1 / 16, "1 tablespoon"), (3 / 16, "3 tablespoons"), (0.75, "0.75 cup"), (2.5, "2.5 cups")],
)
def test_cups_are_told_as_they_are_measured(cups: float, words: str) -> None:
    assert cup_words(cups) == words


# hours, picking


def test_a_short_season_tells_what_to_leave_out_in_plain_words() -> None:
    plan = whole_plan()
    weeks = tuple(replace(week, promised_h=0.1, short_h=week.needed.likely_h) for week in care().hours.weeks)
    relief = care().relief
    words = told(hours_data, with_care(hours=replace(care().hours, weeks=weeks)))
    assert "If nobody else can come" in words
    for each in relief:
        assert each.text in words
    assert "would not mend" in told(
        hours_data, with_care(hours=replace(care().hours, weeks=weeks), relief=())
    )
    assert plan.care is not None


def test_enough_hours_are_said_to_be_enough() -> None:
    weeks = tuple(
        replace(week, promised_h=500.0, short_h=0.0, sufficiency="enough") for week in care().hours.weeks
    )
    words = told(hours_data, with_care(hours=replace(care().hours, weeks=weeks)))
    assert "No week is short" in words
    assert "enough in every week, even at the high figure" in words


def test_rates_from_memory_are_marked_as_first_guesses() -> None:
    assert "first guess" in told(hours_data, whole_plan())


def test_every_crop_that_is_picked_has_its_row() -> None:
    words = texts(picking_data(whole_plan(), "a4", "metric"))
    for crop in {week.crop for week in care().picking}:
        assert crop in words
    total = sum(week.kg for week in care().picking)
    assert f"About {total:.1f} kg" in "\n".join(words)


def test_crops_without_a_known_yield_are_named() -> None:
    assert "yield not known: quince" in told(picking_data, with_care(picking_unknown=("quince",)))


# week list


def test_the_week_list_walks_from_bed_to_bed_with_minutes() -> None:
    data = week_list_data(whole_plan(), "a4", "metric")
    assert len(data["weeks"]) == sum(1 for week in care().weeks if week.stops)
    listed = care().weeks[25]
    shown = next(week for week in data["weeks"] if f"{listed.week.day} {listed.week:%B}" in week["heading"])
    beds = [part["bed"].split(",")[0] for part in shown["beds"]]
    assert beds[-1] == f"Bed {listed.stops[-1].bed_code}"
    assert "h promised" in shown["hours"]
    assert "Walk: " in shown["hours"]
    assert any(job["minutes"] for part in shown["beds"] for job in part["jobs"])


def test_each_job_is_told_in_full_once() -> None:
    data = week_list_data(whole_plan(), "a4", "metric")
    titles = [job["title"] for week in data["weeks"] for part in week["beds"] for job in part["jobs"]]
    assert sorted(titles) == sorted(task.title for task in whole_plan().tasks)


# orders


def test_orders_stand_by_supplier_with_packs_and_totals() -> None:
    line = next(line for line in care().supplies.lines if line.kind == "material" and line.unit == "pieces")
    choice = PackChoice("Hill Stores", line.unit, "GBP", (PackCount(50.0, 4.25, 2),), 8.50, 100.0, 3.0, 7)
    other = replace(choice, supplier="Dale Stores", cost=9.10)
    bought = Purchase(line, choice, line.order_by, (other,))
    order = SupplierOrder("Hill Stores", "GBP", (bought,), 8.50, line.order_by)
    plan = with_care(supplies=replace(care().supplies, orders=(order,)))
    words = told(order_list_data, plan)
    assert "From Hill Stores: GBP 8.50" in words
    assert "2 × 50 pieces at 4.25" in words
    assert "Dale Stores GBP 9.10" in words
    assert "All suppliers together: GBP 8.50" in words
    cells = _read(TABLES["supplies.csv"](plan, "metric"))
    row = next(row for row in cells if row["name"] == line.name and row["kind"] == "material")
    assert (row["supplier"], row["packs"], row["cost"], row["currency"]) == (
        "Hill Stores",
        "2 x 50",
        "8.5",
        "GBP",
    )


def test_materials_without_a_supplier_are_listed_all_the_same() -> None:
    words = told(order_list_data, whole_plan())
    for line in care().supplies.no_offer:
        if line.kind == "material":
            assert line.name in words


def test_weeks_without_room_for_trays_are_told() -> None:
    supplies = care().supplies
    over = replace(supplies, over_limit=())
    assert "more than there is room for" not in told(order_list_data, with_care(supplies=over))
    assert "Trays and bench" in told(order_list_data, whole_plan())
    assert "Trays and bench" not in told(order_list_data, with_care(supplies=replace(supplies, raising=())))


# safety


def test_cautions_stand_by_gravity_with_rule_and_source() -> None:
    grave = Caution(
        "raw manure",
        "stop",
        "Bed C: pick no carrots before 1 July.",
        "7 CFR 205.203(c)(1), as of 2026",
        ("CFR_205_203",),
        bed_code="C",
    )
    cautions = (grave, *care().safety.cautions)
    words = told(safety_data, with_care(safety=replace(care().safety, cautions=cautions)))
    assert words.index("Stop: do not do it as planned") < words.index("Do something first")
    assert "Raw manure, bed C." in words
    assert "Rule: 7 CFR 205.203(c)(1), as of 2026" in words
    assert care().safety.ask in words


# drawings and numbers


def test_every_bed_carries_its_hours_of_sun_in_every_month() -> None:
    plan = whole_plan()
    for months in (range(1, 7), range(7, 13)):
        drawing = sun_drawing(plan, months, (190.0, 230.0))
        words = [item["s"] for item in drawing.items if item["k"] == "text"]
        for sun in plan.sun:
            shown = sum(words.count(code) for code in (sun.bed_code,)) + sum(
                words.count(f"{sun.bed_code} {sun.month_h[month - 1]:.1f}") for month in set(months)
            )
            assert shown == 6


def test_the_darker_the_grey_the_less_the_sun() -> None:
    greys = [int(fill.split()[1]) for _, fill, _ in STEPS]
    assert greys == sorted(greys)
    assert sun_step(0.0) == STEPS[0][1]
    assert sun_step(24.0) == STEPS[-1][1]


@pytest.mark.parametrize(("largest", "step"), [(0.0, 1.0), (28.0, 5.0), (1200.0, 200.0), (0.4, 0.1)])
def test_ticks_stand_at_round_numbers(largest: float, step: float) -> None:
    assert round_step(largest) == pytest.approx(step)


def test_a_column_is_as_high_as_its_value() -> None:
    weeks = [date(2027, 3, 1), date(2027, 3, 8)]
    axis = week_axis(weeks, 10.0, "h", (100.0, 60.0))
    assert axis.y_mm(0.0) == axis.foot_mm
    assert axis.y_mm(axis.top) == pytest.approx(9.0)
    assert axis.x_mm(weeks[1]) - axis.x_mm(weeks[0]) == pytest.approx(axis.week_mm)


@pytest.mark.parametrize(
    ("value", "words"), [(46.2, "46"), (1284.0, "1300"), (0.451, "0.45"), (0.0, "0"), (99.6, "100")]
)
def test_amounts_go_to_two_figures(value: float, words: str) -> None:
    assert figures_words(value) == words


@pytest.mark.parametrize(
    ("minutes", "words"),
    [(0.3, "under 1 min"), (3.4, "3 min"), (99.0, "99 min"), (150.0, "2 h 30 min"), (120.0, "2 h")],
)
def test_minutes_are_told_as_people_say_them(minutes: float, words: str) -> None:
    assert minutes_words(minutes) == words


def test_amounts_are_told_in_both_systems() -> None:
    metric, us = Measures("metric"), Measures("us")
    # 46 L / 3.785411784 = 12.15 US gal; 13 g / 28.3495 = 0.4586 oz; 85 kg / 0.45359 = 187.4 lb
    assert (metric.water(46.0), us.water(46.0)) == ("46 L", "12 US gal")
    assert (metric.dose(13.0), us.dose(13.0)) == ("13 g", "0.46 oz")
    assert (metric.dose(85_000.0), us.dose(85_000.0)) == ("85 kg", "190 lb")
    # 140 L / 28.3168 = 4.944 ft³; 4.882 g/m² is 1 lb on 1000 ft²
    assert (metric.bulk(140.0), us.bulk(140.0)) == ("140 L", "4.9 ft³")
    assert (metric.spread(4.882), us.spread(4.882)) == ("4.9 g/m²", "1 lb/1000 ft²")
    assert (metric.layer(51.0, 102.0), us.layer(51.0, 102.0)) == ("5 to 10 cm", "2 to 4 in")
    assert (metric.flow(15.0), us.flow(15.0)) == ("15 L/min", "4 US gal/min")
    assert (metric.walk(82.3), us.walk(82.3)) == ("82 m", "270 ft")
    assert us.dose_per_row(5.3) == "0.57 oz per 10 ft"


# tables


def _read(table: bytes) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(table.decode(), newline="")))


def test_the_table_of_hours_has_every_week_and_its_beds() -> None:
    rows = _read(TABLES["hours.csv"](whole_plan(), "metric"))
    sums = [row for row in rows if row["bed"] == "all"]
    assert len(sums) == len(care().hours.weeks)
    assert sum(float(row["likely_h"]) for row in sums) == pytest.approx(care().hours.needed.likely_h, abs=1)


def test_the_table_of_water_names_its_units() -> None:
    water = care().water
    assert water is not None
    metric = _read(TABLES["water.csv"](whole_plan(), "metric"))
    us = _read(TABLES["water.csv"](whole_plan(), "us"))
    assert len(metric) == sum(len(bed.weeks) for bed in water.beds)
    k = max(range(len(metric)), key=lambda i: float(metric[i]["eight_of_ten_years_l"]))
    litres, gallons = float(metric[k]["eight_of_ten_years_l"]), float(us[k]["eight_of_ten_years_us_gal"])
    assert gallons == pytest.approx(litres / 3.785411784, abs=0.06)
