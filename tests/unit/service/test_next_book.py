"""What goes from one season's plan into the next year's garden book."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest
import yaml

from bedwright.apps.web.gardens.reading import book_of
from bedwright.model.book import History, SeedLot
from bedwright.model.log import LogRecord
from bedwright.model.season import DrawerUse, OrderLine, SeasonPlan
from bedwright.service.next_book import next_book, next_book_text, next_season_start
from bedwright.service.season_log import season_as_logged
from bedwright.store.book import write_book
from tests.demo import demo_plan


def told(plan: SeasonPlan) -> dict[str, Any]:
    """The lines as YAML reads them: everything that is no note."""
    found: dict[str, Any] = yaml.safe_load(next_book_text(plan))
    return found


def with_drawer(plan: SeasonPlan, *lots: SeedLot, used: dict[str, int]) -> SeasonPlan:
    """The plan with these lots, of which seeds are used."""
    uses = tuple(DrawerUse(code, number, 80.0, 70.0, 90.0, "own test") for code, number in used.items())
    order: OrderLine = replace(plan.orders[0], from_drawer=uses)
    rest = tuple(replace(line, from_drawer=()) for line in plan.orders[1:])
    return replace(plan, book=replace(plan.book, seed_drawer=lots), orders=(order, *rest))


def test_every_planting_is_in_the_history_of_the_last_year_it_stood_there() -> None:
    plan = replace(demo_plan(), book=replace(demo_plan().book, history=()))
    start = next_season_start(plan)
    found = {(row["bed"], row["year"], crop) for row in told(plan)["history"] for crop in row["crops"]}
    for planting in plan.plantings:
        stood = {(planting.bed_code, year, planting.crop.name) for year in (start.year - 1, start.year - 2)}
        assert found & stood
    assert all(year < start.year for _, year, _ in found)


def test_what_the_book_knows_already_is_not_told_again() -> None:
    plan = demo_plan()
    rows = told(plan)["history"]
    known = tuple(History(row["bed"], row["year"], tuple(row["crops"]), ()) for row in rows)
    again = replace(plan, book=replace(plan.book, history=(*plan.book.history, *known)))
    assert "history" not in told(again)


def test_the_drawer_is_told_less_what_was_used() -> None:
    crop = next(one.crop for one in demo_plan().plantings if one.crop.seeds_per_gram)
    name, per_gram = crop.name, crop.seeds_per_gram or 0.0
    lots = (
        SeedLot("T1", name, "Ruby: Globe", 2026, count=300, tested_sown=20, tested_sprouted=12),
        SeedLot("T2", name, "", 2025, mass_g=10.0),
        SeedLot("T3", name, "", 2025, count=40),
        SeedLot("T4", name, "", 2024, count=7),
    )
    used = {"T1": 100, "T2": int(per_gram), "T3": 40}
    text = next_book_text(with_drawer(demo_plan(), *lots, used=used))
    first, second, third = yaml.safe_load(text)["seed_drawer"]
    assert first == {"code": "T1", "crop": name, "variety": "Ruby: Globe", "packed_year": 2026, "count": 200}
    assert second["mass_g"] == pytest.approx(9.0, abs=0.1)
    assert third["count"] == 7
    assert "# T3: used up." in text


def test_what_stands_over_winter_is_named_with_its_ground_and_its_last_day() -> None:
    plan = demo_plan()
    start = next_season_start(plan)
    first = plan.plantings[0]
    dates = replace(first.dates, clear_by=date(start.year, 7, 13))
    text = next_book_text(replace(plan, plantings=(replace(first, dates=dates), *plan.plantings[1:])))
    assert f"until 13 July {start.year}" in text
    assert f"#   bed {first.bed_code}, " in text
    assert "--after" in text
    on_pages = next_book_text(plan, on_pages=True)
    assert "# Still in the ground then; it keeps its place." in on_pages
    assert "--after" not in on_pages


def test_two_years_on_both_years_are_in_the_history() -> None:
    plan = replace(demo_plan(), book=replace(demo_plan().book, history=()))
    rows = told(plan)["history"]
    carried = tuple(History(row["bed"], row["year"], tuple(row["crops"]), ()) for row in rows)
    start = next_season_start(plan)
    later = replace(
        plan,
        book=replace(plan.book, season_start=start, history=carried),
        plantings=tuple(
            replace(
                one,
                dates=replace(
                    one.dates,
                    in_ground=one.dates.in_ground.replace(year=one.dates.in_ground.year + 1),
                    clear_by=one.dates.clear_by.replace(year=one.dates.clear_by.year + 1),
                ),
            )
            for one in plan.plantings
        ),
    )
    years = {row["year"] for row in told(later)["history"]}
    assert {record.year + 1 for record in carried} == years


def test_what_the_log_tells_goes_before_the_plan() -> None:
    plan = demo_plan()
    start = next_season_start(plan)
    first = plan.plantings[0]
    stands = replace(first, dates=replace(first.dates, clear_by=date(start.year, 7, 13)))
    plan = replace(plan, plantings=(stands, *plan.plantings[1:]))
    day = date(plan.book.season_start.year, 7, 9)
    record = LogRecord("1", day, "failed", datetime(2027, 7, 9, tzinfo=UTC), planting_code=first.code)
    said = f"bed {first.bed_code}: {first.crop.name} ({first.label_code}) failed on 9 July {day.year}."
    ground = f"until 13 July {start.year}"
    assert ground in next_book_text(plan)
    assert said not in next_book_text(plan)
    told_by_log = next_book_text(plan, season_as_logged(plan, (record,), today=start))
    assert said in told_by_log
    assert ground not in told_by_log


def test_the_book_of_the_next_season_is_a_year_on_and_sound() -> None:
    plan = demo_plan()
    book = plan.book
    new = next_book(book, plan)
    assert new.season_start == date(book.season_start.year + 1, 1, 1)
    assert [each.start.year for each in new.people] == [each.start.year + 1 for each in book.people]
    assert [each.day.weekday() for each in new.workdays] == [each.day.weekday() for each in book.workdays]
    moved = zip(new.workdays, book.workdays, strict=True)
    assert all(360 < (now.day - was.day).days < 372 for now, was in moved)
    assert new.pins == ()
    stood = {(row["bed"], row["year"], crop) for row in told(plan)["history"] for crop in row["crops"]}
    known = {(record.bed_code, record.year, crop) for record in new.history for crop in record.crops}
    before = {(record.bed_code, record.year, crop) for record in book.history for crop in record.crops}
    assert known == stood | before
    assert len({(record.bed_code, record.year) for record in new.history}) == len(new.history)
    assert book_of(write_book(new)) == new


def test_the_book_of_the_next_season_has_the_drawer_less_what_was_used() -> None:
    crop = next(one.crop for one in demo_plan().plantings if one.crop.seeds_per_gram)
    lots = (
        SeedLot("T1", crop.name, "", 2026, count=300, tested_sown=20, tested_sprouted=12),
        SeedLot("T3", crop.name, "", 2025, count=40),
    )
    plan = with_drawer(demo_plan(), *lots, used={"T1": 100, "T3": 40})
    assert next_book(plan.book, plan).seed_drawer == (SeedLot("T1", crop.name, "", 2026, count=200),)


def test_a_book_of_another_season_is_not_begun_from() -> None:
    plan = demo_plan()
    with pytest.raises(ValueError, match="season"):
        next_book(next_book(plan.book, plan), plan)
