"""Rates learnt from the log, and their way into the garden book."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from bedwright.engine.work import tasks_of
from bedwright.model.book import UnitSystem
from bedwright.model.log import LogKind, LogRecord
from bedwright.model.season import SeasonPlan
from bedwright.model.work import OwnRate
from bedwright.service.own_times import own_times, rate_lines
from bedwright.store.book import read_book_text
from tests.builders import TINY_TEXT, tiny_catalogue
from tests.plantings import planting, season_plan

DAY = date(2027, 5, 4)


def line(number: int, kind: LogKind, task: str = "", **fields: Any) -> LogRecord:
    record = LogRecord(f"{number:04}", DAY, kind, datetime(2027, 5, 4, 9, number, tzinfo=UTC), task_code=task)
    return replace(record, **fields)


def plan() -> SeasonPlan:
    carrot = planting()
    return season_plan(carrot, tasks=tasks_of((carrot,), ()))


def test_a_finished_and_timed_job_gives_a_rate_by_its_measure() -> None:
    # 40 carrots at 10 cm are 4 m of row; 6 minutes of two lines make 1.5 a metre.
    (rate,) = own_times(
        plan(),
        [
            line(1, "sown", "carrot-1:sow", person_min=4.0, partly=True),
            line(2, "sown", "carrot-1:sow", person_min=2.0),
        ],
    )
    assert (rate.rate_name, rate.likely_min, rate.n_records) == ("sow", 1.5, 1)
    assert rate.low_min < rate.likely_min < rate.high_min


@pytest.mark.parametrize(
    "lines",
    [
        [line(1, "sown", "carrot-1:sow", person_min=4.0, partly=True)],
        [line(1, "sown", "carrot-1:sow")],
        [line(1, "sown", "carrot-1:sow", partly=True), line(2, "sown", "carrot-1:sow", person_min=2.0)],
        [line(1, "weeded", "weed:A", person_min=30.0)],
        [line(1, "seen", "carrot-1:sow", person_min=30.0)],
        [line(1, "picked", quantity=20.0, unit="plants", person_min=30.0)],
    ],
    ids=["not finished", "not timed", "half timed", "week after week", "not the job", "not weighed"],
)
def test_what_says_too_little_is_not_learnt_from(lines: list[LogRecord]) -> None:
    assert own_times(plan(), lines) == ()


def test_picking_counts_by_the_kilograms_weighed_and_its_range_from_three_times_on() -> None:
    lines = [line(k, "picked", quantity=2.0, unit="kg", person_min=m) for k, m in enumerate((4.0, 6.0, 8.0))]
    (rate,) = own_times(plan(), lines)
    assert rate == OwnRate("pick", 2.0, 3.0, 4.0, 3)


def test_a_line_struck_out_is_not_counted() -> None:
    lines = [
        line(1, "picked", quantity=2.0, unit="kg", person_min=90.0),
        line(2, "picked", corrects="0001", struck=True),
    ]
    assert own_times(plan(), lines) == ()


@pytest.mark.parametrize("units", ["metric", "us"])
def test_the_lines_can_be_copied_into_a_garden_book(units: UnitSystem) -> None:
    own = [
        OwnRate("sow", 1.0, 1.5, 2.25, 3),
        OwnRate("pick", 2.0, 3.0, 4.0, 3),
        OwnRate("thin", 1.0, 2, 3, 3),
    ]
    text = rate_lines(own, units)
    assert ("min_per_row_ft" in text) is (units == "us")
    book = read_book_text(TINY_TEXT + text, "book.yaml", tiny_catalogue())
    assert [rate.job for rate in book.labour_rates] == ["sow", "pick", "thin"]
    # Three figures are kept.
    assert [rate.likely_min for rate in book.labour_rates] == pytest.approx([1.5, 3.0, 2.0], rel=0.005)
    assert rate_lines([], units) == ""
