"""The water log: what is read, and every fault at once."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.gauge import KnownCodes, WaterLog, read_water_log, read_water_log_text

TODAY = date(2027, 6, 18)
KNOWN = KnownCodes(["A", "C"], {"carrot-1": "carrot-1", "C4": "carrot-1", "C5": "carrot-1"})
GOOD = """\
water_log: 1
rain:
  - {date: 2027-06-01, rain_mm: 4.5}
  - {date: 2027-06-08, rain_in: 0.5}
waterings:
  - {date: 2027-06-10, bed: C, water_l: 46}
  - {date: 2027-06-11, planting: C5, water_us_gal: 2}
forecast:
  - {date: 2027-06-17, rain_mm: 9}
  - {date: 2027-06-19, rain_mm: 8, reference_et_mm: 3.5}
flow_l_min: 12
can_l: 9
"""


def read(text: str) -> WaterLog:
    return read_water_log_text(text, "log.yaml", KNOWN, today=TODAY)


def faults(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read(text)
    return caught.value.problems


def test_readings_waterings_and_forecast_come_out_in_metres_and_litres() -> None:
    log = read(GOOD)
    assert [reading.rain_mm for reading in log.readings] == pytest.approx([4.5, 12.7])
    assert log.readings[0].line == 3
    assert [(w.bed_code, w.planting_code) for w in log.waterings] == [("C", ""), ("", "carrot-1")]
    assert log.waterings[1].water_l == pytest.approx(7.570823568)
    assert (log.tap_flow_l_min, log.can_l) == (12.0, 9.0)


def test_what_was_forecast_for_days_that_are_past_is_left_out() -> None:
    assert [day.day for day in read(GOOD).forecast] == [date(2027, 6, 19)]


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "\n\n"])
def test_a_log_without_entries_is_an_empty_log(text: str) -> None:
    assert read(text) == WaterLog()


def test_negative_rain_is_refused_with_a_hint() -> None:
    (problem,) = faults("rain:\n  - {date: 2027-06-01, rain_mm: -3}\n")
    assert problem.line == 2
    assert "0 to 500 mm" in problem.expected
    assert "never negative" in problem.hint


def test_a_gauge_read_twice_names_both_lines() -> None:
    (problem,) = faults("rain:\n  - {date: 2027-06-01, rain_mm: 3}\n  - {date: 2027-06-01, rain_mm: 4}\n")
    assert problem.line == 3
    assert "line 2" in problem.expected
    assert "twice" in problem.hint


def test_a_hose_that_gives_nothing_is_refused_with_a_way_to_measure_it() -> None:
    (problem,) = faults("flow_l_min: 0\n")
    assert "bucket" in problem.hint


def test_days_to_come_are_no_readings() -> None:
    problems = faults(
        "rain:\n  - {date: 2027-06-20, rain_mm: 3}\nwaterings:\n  - {date: 2027-06-21, bed: A, water_l: 5}\n"
    )
    assert [problem.line for problem in problems] == [2, 4]
    assert all("forecast" in problem.hint for problem in problems)


def test_codes_that_are_not_there_are_told_with_the_nearest() -> None:
    problems = faults(
        "waterings:\n  - {date: 2027-06-02, bed: Q, water_l: 5}\n"
        "  - {date: 2027-06-03, planting: carot-1, water_l: 5}\n"
    )
    assert [problem.where for problem in problems] == ["waterings[1].bed", "waterings[2].planting"]
    assert "carrot-1" in problems[1].hint


def test_a_watering_is_of_a_bed_or_of_a_planting() -> None:
    both = "waterings:\n  - {date: 2027-06-02, bed: A, planting: C4, water_l: 5}\n"
    neither = "waterings:\n  - {date: 2027-06-02, water_l: 5}\n"
    assert len(faults(both)) == len(faults(neither)) == 1


def test_the_same_watering_twice_is_a_fault_but_two_beds_are_not() -> None:
    one = "waterings:\n  - {date: 2027-06-02, bed: A, water_l: 5}\n"
    assert len(read(one + "  - {date: 2027-06-02, bed: C, water_l: 5}\n").waterings) == 2
    assert len(faults(one + "  - {date: 2027-06-02, bed: A, water_l: 6}\n")) == 1


def test_every_fault_is_told_at_once() -> None:
    text = "rain:\n  - {date: 2027-02-30, rain_mm: 1}\n  - {date: 2027-06-01, rain_mm: lots}\nhose: 3\n"
    assert len(faults(text)) == 3


@pytest.mark.parametrize("text", ["rain: [", "- 3", "rain: 5", "\tx"])
def test_text_that_is_no_log_is_a_problem_not_a_crash(text: str) -> None:
    assert faults(text)


def test_a_file_that_cannot_be_read_is_a_problem(tmp_path: Path) -> None:
    (tmp_path / "log.yaml").write_bytes(b"\xff\xfe\x00")
    for path in (tmp_path / "none.yaml", tmp_path, tmp_path / "log.yaml"):
        with pytest.raises(BadDocumentError):
            read_water_log(path, KNOWN, today=TODAY)
