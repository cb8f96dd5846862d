"""NOAA's CSV layouts; each example is laid out as in public copies of such files."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather

N_DAYS = 400
DAYS = [str(np.datetime64("2019-11-01") + day) for day in range(N_DAYS)]


def read(rows: list[str], tmp_path: Path) -> WeatherRecord:
    path = tmp_path / "download.csv"
    path.write_text("\n".join(rows) + "\n")
    return read_weather(path)


def problems_of(rows: list[str], tmp_path: Path) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read(rows, tmp_path)
    return caught.value.problems


def access_rows() -> list[str]:
    header = (
        '"STATION","DATE","LATITUDE","LONGITUDE","ELEVATION","NAME","PRCP","PRCP_ATTRIBUTES",'
        '"TMAX","TMAX_ATTRIBUTES","TMIN","TMIN_ATTRIBUTES","AWND","AWND_ATTRIBUTES"'
    )
    start = '"ZZ000000001"'
    place = '"52.3","1.0","40.0","MILL LANE, ZZ"'
    return [
        header,
        *(
            f'{start},"{day}",{place},"   64",",,S","{155 if day[5:7] == "07" else 55:5}",",,S",'
            '"  -12",",,S","   27",",,W"'
            for day in DAYS
        ),
    ]


def cdo_rows(tmax: str, tmin: str, rain: str) -> list[str]:
    header = '"STATION","NAME","DATE","PRCP","SNOW","TMAX","TMIN"'
    return [header, *(f'"ZZ000000001","MILL LANE, ZZ","{day}","{rain}",,"{tmax}","{tmin}"' for day in DAYS)]


def long_rows(*, header: bool, wind: bool = False) -> list[str]:
    rows = ["ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME"] if header else []
    for day in DAYS:
        compact = day.replace("-", "")
        rows.append(f"ZZ000000001,{compact},TMAX,155,,,S,0700")
        rows.append(f"ZZ000000001,{compact},TMIN,-12,,,S,0700")
        rows.append(f"ZZ000000001,{compact},PRCP,3,T,,S,0700")
        if wind:
            rows.append(f"ZZ000000001,{compact},AWND,27,,,W,")
    return rows


def test_station_files_in_tenths_are_told_by_their_whole_figures(tmp_path: Path) -> None:
    record = read(access_rows(), tmp_path)
    assert record.station == "ZZ000000001"
    assert "MILL LANE, ZZ" in record.provenance
    assert record.tmax_c.max() == 15.5
    assert set(record.tmin_c) == {-1.2}
    assert set(record.rain_mm) == {6.4}
    assert record.wind_m_s is not None
    assert record.wind_m_s[0] == 2.7


def test_a_quality_flag_in_the_attributes_drops_the_value(tmp_path: Path) -> None:
    rows = access_rows()
    rows[1] = rows[1].replace('"  -12",",,S"', '"  -12",",I,S"')
    record = read(rows, tmp_path)
    assert record.n_flagged_dropped == 1
    assert np.isnan(record.tmin_c[0])


def test_a_table_in_fahrenheit_and_inches_is_told_by_its_two_decimals(tmp_path: Path) -> None:
    record = read(cdo_rows("77", "50", "0.25"), tmp_path)
    assert record.tmax_c[0] == 25
    assert record.tmin_c[0] == 10
    assert record.rain_mm[0] == pytest.approx(6.35)


def test_a_table_in_celsius_is_told_by_its_one_decimal(tmp_path: Path) -> None:
    record = read(cdo_rows("25.0", "10.0", "6.4"), tmp_path)
    assert (record.tmax_c[0], record.tmin_c[0], record.rain_mm[0]) == (25, 10, 6.4)


@pytest.mark.parametrize(
    ("tmax", "tmin", "rain"),
    [
        ("77", "50", "0"),  # whole °F without rain, or tenths from a cold place
        ("25", "10", "0.25"),  # too cool to be told from whole °C
        ("25.0", "10.0", "0.25"),  # °C beside inches
        ("77.5", "50.0", "6.4"),  # °F with decimals
    ],
)
def test_figures_that_fit_more_than_one_set_of_units_are_refused(
    tmax: str, tmin: str, rain: str, tmp_path: Path
) -> None:
    found = problems_of(cdo_rows(tmax, tmin, rain), tmp_path)
    assert (
        found[0].where == "units of temperature and rain"
        or found[-1].where == "units of temperature and rain"
    )
    assert any("tmin_c or tmin_f" in problem.hint for problem in found)


def test_ambiguous_units_are_the_only_problem_told(tmp_path: Path) -> None:
    assert len(problems_of(cdo_rows("77", "50", "0"), tmp_path)) == 1


def test_a_trace_of_rain_counts_as_none(tmp_path: Path) -> None:
    rows = cdo_rows("77", "50", "0.25")
    rows[1] = rows[1].replace('"0.25"', '"T"')
    assert read(rows, tmp_path).rain_mm[0] == 0


def test_a_table_of_two_stations_is_a_problem(tmp_path: Path) -> None:
    rows = cdo_rows("25.0", "10.0", "6.4")
    rows[5] = rows[5].replace("ZZ000000001", "ZZ000000002")
    (problem,) = problems_of(rows, tmp_path)
    assert problem.got == "2 stations: ZZ000000001, ZZ000000002"


def test_the_title_line_of_a_past_weather_download_is_passed_over(tmp_path: Path) -> None:
    header = (
        "Date,TAVG (Degrees Fahrenheit),TMAX (Degrees Fahrenheit),TMIN (Degrees Fahrenheit),PRCP (Inches)"
    )
    rows = ['"MILL LANE, ZZ (ZZ000000001)"', header, *(f"{day},,77,50,0.00" for day in DAYS)]
    record = read(rows, tmp_path)
    assert record.station == "MILL LANE, ZZ (ZZ000000001)"
    assert record.tmax_c[0] == 25


@pytest.mark.parametrize("header", [True, False])
def test_rows_of_one_element_each_are_gathered_into_days(header: bool, tmp_path: Path) -> None:
    record = read(long_rows(header=header, wind=True), tmp_path)
    assert record.station == "ZZ000000001"
    assert record.dates.size == N_DAYS
    assert set(record.tmax_c) == {15.5}
    assert set(record.tmin_c) == {-1.2}
    assert set(record.rain_mm) == {0.3}
    assert record.wind_m_s is not None
    assert set(record.wind_m_s) == {2.7}


def test_a_quality_flag_of_a_row_drops_its_value(tmp_path: Path) -> None:
    rows = long_rows(header=True)
    rows[1] = rows[1].replace("155,,,S", "155,,G,S")
    record = read(rows, tmp_path)
    assert record.n_flagged_dropped == 1
    assert np.isnan(record.tmax_c[0])


def test_an_element_given_twice_for_a_day_is_a_problem(tmp_path: Path) -> None:
    rows = long_rows(header=True)
    rows.append(rows[1])
    (problem,) = problems_of(rows, tmp_path)
    assert problem.line == len(rows)
    assert problem.expected == "one row; the first is line 2"


def test_an_impossible_day_in_a_row_is_a_problem(tmp_path: Path) -> None:
    rows = long_rows(header=True)
    rows[1] = rows[1].replace("20191101", "20200230")
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column, problem.hint) == (2, 13, "There is no such day.")


def test_a_word_for_a_value_is_a_problem(tmp_path: Path) -> None:
    rows = long_rows(header=True)
    rows[1] = rows[1].replace("155", "warm")
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column) == (2, 27)


def test_a_row_without_flags_is_a_problem(tmp_path: Path) -> None:
    rows = long_rows(header=False)
    rows[1] = "ZZ000000001,20191101,TMIN,-12"
    (problem,) = problems_of(rows, tmp_path)
    assert problem.line == 2


def test_rows_of_several_stations_are_a_problem(tmp_path: Path) -> None:
    rows = long_rows(header=False)
    rows[1] = rows[1].replace("ZZ000000001", "ZZ000000002")
    (problem,) = problems_of(rows, tmp_path)
    assert problem.where == "station"


def test_an_impossible_value_of_a_row_is_placed(tmp_path: Path) -> None:
    rows = long_rows(header=True)
    rows[3] = rows[3].replace("PRCP,3", "PRCP,-3")
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column) == (4, 27)


def test_rows_without_a_usable_element_are_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of(["ZZ000000001,20191101,SNOW,5,,,S,"], tmp_path)
    assert "TMAX" in problem.expected
