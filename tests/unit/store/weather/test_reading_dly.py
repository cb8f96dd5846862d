"""GHCN-Daily `.dly`: columns as in NOAA's readme.txt, section III."""

from __future__ import annotations

import calendar
from pathlib import Path

import numpy as np
import pytest

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.weather import read_weather


def dly_line(
    element: str, month: str, values: dict[int, str], station: str = "ZZ000000001", default: str = "-9999   "
) -> str:
    """One line; `values` by day of the month, each of eight characters with its flags."""
    return f"{station}{month}{element}" + "".join(values.get(day, default) for day in range(1, 32))


def months() -> list[str]:
    return [f"{year}{month:02d}" for year in (2001, 2002) for month in range(1, 13)]


def days_in(month: str) -> int:
    return calendar.monthrange(int(month[:4]), int(month[4:]))[1]


def two_years() -> list[str]:
    lines = []
    for month in months():
        days = range(1, days_in(month) + 1)
        lines.append(dly_line("TMAX", month, dict.fromkeys(days, "  155  S")))
        lines.append(dly_line("TMIN", month, dict.fromkeys(days, "  -12  S")))
        lines.append(dly_line("PRCP", month, dict.fromkeys(days, "    3  S")))
    return lines


def problems_of(lines: list[str], tmp_path: Path) -> tuple[Problem, ...]:
    path = tmp_path / "record.txt"
    path.write_text("\n".join(lines) + "\n")
    with pytest.raises(BadDocumentError) as caught:
        read_weather(path)
    return caught.value.problems


def test_tenths_become_degrees_and_millimetres(tmp_path: Path) -> None:
    path = tmp_path / "any name"
    path.write_text("\n".join(two_years()) + "\n")
    record = read_weather(path)
    assert record.station == "ZZ000000001"
    assert "GHCN-Daily" in record.provenance
    assert str(record.dates[0]) == "2001-01-01"
    assert str(record.dates[-1]) == "2002-12-31"
    assert set(record.tmax_c) == {15.5}
    assert set(record.tmin_c) == {-1.2}
    assert set(record.rain_mm) == {0.3}
    assert record.wind_m_s is None


def test_a_value_with_a_quality_flag_is_dropped_and_counted(tmp_path: Path) -> None:
    lines = two_years()
    lines[0] = dly_line("TMAX", "200101", dict.fromkeys(range(1, 32), "  155  S") | {4: "  999 IS"})
    path = tmp_path / "record.dly"
    path.write_text("\n".join(lines) + "\n")
    record = read_weather(path)
    assert record.n_flagged_dropped == 1
    assert np.isnan(record.tmax_c[3])
    assert np.isnan(record.tmax_c).sum() == 1
    assert any("quality" in note for note in record.notes)


def test_a_measurement_flag_alone_keeps_the_value(tmp_path: Path) -> None:
    lines = two_years()
    lines[2] = dly_line("PRCP", "200101", dict.fromkeys(range(1, 32), "    0T S"))
    path = tmp_path / "record.dly"
    path.write_text("\n".join(lines) + "\n")
    assert read_weather(path).rain_mm[0] == 0.0


def test_wind_humidity_and_sunshine_are_taken_where_present(tmp_path: Path) -> None:
    extra = [
        dly_line("AWND", "200101", {1: "   27  W"}),
        dly_line("RHAV", "200101", {1: "   81  W"}),
        dly_line("RHMX", "200101", {1: "   97  W"}),
        dly_line("RHMN", "200101", {1: "   55  W"}),
        dly_line("TSUN", "200101", {1: "  270  W"}),
        dly_line("SNOW", "200101", {1: "  270  W"}),
    ]
    path = tmp_path / "record.dly"
    path.write_text("\n".join(two_years() + extra) + "\n")
    record = read_weather(path)
    assert record.wind_m_s is not None
    assert record.wind_m_s[0] == 2.7
    assert any("10 m" in note for note in record.notes)
    assert record.rh_mean_pct is not None
    assert record.rh_mean_pct[0] == 81
    assert record.rh_max_pct is not None
    assert record.rh_max_pct[0] == 97
    assert record.rh_min_pct is not None
    assert record.rh_min_pct[0] == 55
    assert record.sunshine_h is not None
    assert record.sunshine_h[0] == 4.5
    assert np.isnan(record.sunshine_h[1])


def test_trailing_blanks_cut_by_an_editor_do_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "record.dly"
    path.write_text("\r\n".join(line.rstrip() for line in two_years()) + "\r\n")
    assert read_weather(path).dates.size == 730


def test_a_missing_month_becomes_missing_days(tmp_path: Path) -> None:
    path = tmp_path / "record.dly"
    path.write_text("\n".join(two_years()[:9] + two_years()[12:]) + "\n")
    record = read_weather(path)
    april = (record.dates >= np.datetime64("2001-04-01")) & (record.dates <= np.datetime64("2001-04-30"))
    assert np.isnan(record.tmin_c[april]).all()
    assert np.isnan(record.tmin_c).sum() == 30


def test_totals_over_several_days_are_mentioned(tmp_path: Path) -> None:
    lines = [*two_years(), dly_line("MDPR", "200101", {5: "  120  S"})]
    path = tmp_path / "record.dly"
    path.write_text("\n".join(lines) + "\n")
    assert any(note.startswith("1 rain totals over several days") for note in read_weather(path).notes)


def test_a_value_on_30_february_is_a_problem_with_its_place(tmp_path: Path) -> None:
    lines = two_years()
    lines[3] = dly_line("TMAX", "200102", dict.fromkeys(range(1, 31), "  155  S"))
    found = problems_of(lines, tmp_path)
    assert [(problem.line, problem.column) for problem in found] == [(4, 22 + 8 * 28), (4, 22 + 8 * 29)]
    assert "day 30 of 2001-02" in found[1].got


def test_letters_in_a_value_are_a_problem_with_their_place(tmp_path: Path) -> None:
    lines = two_years()
    lines[0] = dly_line("TMAX", "200101", dict.fromkeys(range(1, 32), "  155  S") | {2: "  1x5  S"})
    (problem,) = problems_of(lines, tmp_path)
    assert (problem.line, problem.column) == (1, 30)
    assert "1x5" in problem.got


@pytest.mark.parametrize("field", ["1 5", "--15", "15-", "-"])
def test_a_field_that_is_not_a_whole_number_is_a_problem(field: str, tmp_path: Path) -> None:
    lines = two_years()
    lines[0] = dly_line("TMAX", "200101", dict.fromkeys(range(1, 32), "  155  S") | {2: f"{field:>5}  S"})
    (problem,) = problems_of(lines, tmp_path)
    assert problem.column == 30


def test_a_line_that_was_cut_off_is_a_problem(tmp_path: Path) -> None:
    lines = two_years()
    lines[0] = lines[0][: 21 + 8 * 29]
    found = problems_of(lines, tmp_path)
    assert len(found) == 2
    assert all("cut off" in problem.hint for problem in found)


def test_two_stations_are_a_problem(tmp_path: Path) -> None:
    lines = two_years() + [line.replace("ZZ000000001", "ZZ000000002") for line in two_years()]
    (problem,) = problems_of(lines, tmp_path)
    assert problem.got == "2 stations: ZZ000000001, ZZ000000002"


def test_a_month_given_twice_is_a_problem(tmp_path: Path) -> None:
    lines = two_years()
    lines.append(lines[0])
    (problem,) = problems_of(lines, tmp_path)
    assert problem.line == len(lines)
    assert "line 1" in problem.expected


def test_a_strange_line_among_good_ones_is_a_problem(tmp_path: Path) -> None:
    lines = two_years()
    lines.insert(5, "END OF YEAR")
    (problem,) = problems_of(lines, tmp_path)
    assert problem.line == 6


def test_a_file_without_a_usable_element_is_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of([dly_line("SNOW", "200101", {1: "    5  S"})], tmp_path)
    assert "TMAX" in problem.expected


def test_a_station_that_does_not_observe_rain_is_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of([line for line in two_years() if "PRCP" not in line], tmp_path)
    assert problem.where == "rain"
    assert problem.hint == "Choose a station that observes it."


def test_less_than_a_year_is_a_problem(tmp_path: Path) -> None:
    found = problems_of(two_years()[:33], tmp_path)
    assert [problem.got for problem in found] == ["334 days with a value"] * 3


def test_central_park_reads_without_a_gap(shared_weather: Path) -> None:
    record = read_weather(shared_weather / "USW00094728.dly")
    # README of the shared records: 1990 to 2019, 30 years, temperatures and rain complete.
    assert record.dates.size == 10957
    assert str(record.dates[0]) == "1990-01-01"
    assert not np.isnan(record.tmin_c + record.tmax_c + record.rain_mm).any()
    # First line of the file: 89 tenths on 1 January 1990; PRCP 61 tenths.
    assert record.tmax_c[0] == 8.9
    assert record.rain_mm[0] == 6.1
    assert record.wind_m_s is not None
    assert np.isnan(record.wind_m_s).any()
