from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.weather import WeatherRecord
from bedwright.store.weather import read_weather

N_DAYS = 400
DAYS = [str(np.datetime64("2019-11-01") + day) for day in range(N_DAYS)]
HEADER = "date,tmin_c,tmax_c,rain_mm"


def plain_rows() -> list[str]:
    return [f"{day},-1.5,18.25,0.4" for day in DAYS]


def read(text: str, tmp_path: Path, *, encoding: str = "utf-8") -> WeatherRecord:
    path = tmp_path / "Mill Lane.dat"
    path.write_bytes(text.encode(encoding))
    return read_weather(path)


def read_rows(rows: list[str], tmp_path: Path, header: str = HEADER) -> WeatherRecord:
    return read("\n".join([header, *rows]) + "\n", tmp_path)


def problems_of(rows: list[str], tmp_path: Path, header: str = HEADER) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read_rows(rows, tmp_path, header)
    return caught.value.problems


def test_the_plain_layout_is_read_as_it_stands(tmp_path: Path) -> None:
    record = read_rows(plain_rows(), tmp_path)
    assert record.station == "Mill Lane"
    assert not record.invented
    assert record.notes == ()
    assert record.dates.size == N_DAYS
    assert str(record.dates[0]) == "2019-11-01"
    assert set(record.tmin_c) == {-1.5}
    assert set(record.tmax_c) == {18.25}
    assert set(record.rain_mm) == {0.4}


def test_optional_quantities_are_read_by_name(tmp_path: Path) -> None:
    header = f"{HEADER},wind_2m_m_s,rh_mean_pct,rh_max_pct,rh_min_pct,radiation_mj_m2,sunshine_h,"
    header += "ground_tmin_c,note"
    rows = [f"{row},3.1,80,95,60,12.5,6.5,-4,dull" for row in plain_rows()]
    record = read_rows(rows, tmp_path, header)
    assert record.wind_height_m == 2
    names = ("wind_m_s", "rh_mean_pct", "rh_max_pct", "rh_min_pct", "radiation_mj_m2", "sunshine_h")
    assert [getattr(record, name)[0] for name in names] == [3.1, 80, 95, 60, 12.5, 6.5]
    assert record.ground_tmin_c is not None
    assert record.ground_tmin_c[0] == -4


def test_us_units_named_in_the_header_are_converted(tmp_path: Path) -> None:
    rows = [f"{day},32,50,1,10" for day in DAYS]
    record = read_rows(rows, tmp_path, "Date,TMIN (Degrees Fahrenheit),tmax_f,PRCP (Inches),wind_10m_mph")
    assert record.tmin_c[0] == 0
    assert record.tmax_c[0] == 10
    assert record.rain_mm[0] == 25.4  # exact by definition of the inch
    assert record.wind_m_s is not None
    assert record.wind_m_s[0] == pytest.approx(4.4704)  # exact by definition of the mile


def test_si_wins_where_a_file_has_both(tmp_path: Path) -> None:
    record = read_rows([f"{row},99,99" for row in plain_rows()], tmp_path, f"{HEADER},tmin_f,tmax_f")
    assert record.tmin_c[0] == -1.5
    assert "Column tmin_f was left aside for tmin_c." in record.notes


def test_wind_without_a_height_is_taken_at_10_m_and_told(tmp_path: Path) -> None:
    record = read_rows([f"{row},3" for row in plain_rows()], tmp_path, f"{HEADER},wind_m_s")
    assert record.wind_height_m == 10
    assert any("does not state the height" in note for note in record.notes)


@pytest.mark.parametrize(
    ("name", "height_m"),
    [("wind_10m_m_s", 10), ("wind10m_ms", 10), ("wind_2_5m_m_s", 2.5), ("Wind 2 m (m/s)", 2)],
)
def test_the_height_of_the_anemometer_is_read_from_the_name(
    name: str, height_m: float, tmp_path: Path
) -> None:
    record = read_rows([f"{row},3" for row in plain_rows()], tmp_path, f"{HEADER},{name}")
    assert record.wind_height_m == height_m


@pytest.mark.parametrize("missing", ["", "NaN", "NA", "-9999", "-9999.0", " "])
def test_empty_fields_and_missing_codes_count_as_missing(missing: str, tmp_path: Path) -> None:
    rows = plain_rows()
    rows[7] = f"{DAYS[7]},{missing},18.25,0.4"
    record = read_rows(rows, tmp_path)
    assert np.flatnonzero(np.isnan(record.tmin_c)).tolist() == [7]


def test_byte_order_mark_and_carriage_returns_do_no_harm(tmp_path: Path) -> None:
    text = "\r\n".join([HEADER, *plain_rows()]) + "\r\n"
    assert read(text, tmp_path, encoding="utf-8-sig").dates.size == N_DAYS


def test_a_header_in_latin_1_is_understood(tmp_path: Path) -> None:
    text = "\n".join(["date,Min Temp (°C),Max Temp (°C),Total Precip (mm)", *plain_rows()])
    assert read(text, tmp_path, encoding="latin-1").tmin_c[0] == -1.5


def test_semicolons_with_decimal_commas_are_read(tmp_path: Path) -> None:
    rows = [row.replace(",", ";").replace(".", ",") for row in plain_rows()]
    record = read_rows(rows, tmp_path, HEADER.replace(",", ";"))
    assert record.tmax_c[0] == 18.25


def test_decimal_commas_between_commas_are_refused_with_a_hint(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[0] = f"{DAYS[0]},-1,5,18,25,0,4"
    (problem,) = problems_of(rows, tmp_path)
    assert problem.line == 2
    assert "semicolons" in problem.hint


def test_quoted_decimal_commas_between_commas_are_refused_with_a_hint(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[0] = f'{DAYS[0]},"-1,5",8,0'
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column) == (2, 12)
    assert "point" in problem.hint


def test_lines_above_the_header_are_passed_over_and_name_the_station(tmp_path: Path) -> None:
    text = "\n".join(["Mill Lane school garden", "", HEADER, *plain_rows()])
    assert read(text, tmp_path).station == "Mill Lane school garden"


def test_a_comment_says_that_a_record_is_invented(tmp_path: Path) -> None:
    text = "\n".join(["# invented: made by dice", "# station: Nowhere", HEADER, *plain_rows()])
    record = read(text, tmp_path)
    assert record.invented
    assert record.provenance == "made by dice"
    assert record.station == "Nowhere"


@pytest.mark.parametrize(
    ("pattern", "order"), [("{2}/{1}/{0}", "day, month, year"), ("{1}/{2}/{0}", "month, day, year")]
)
def test_dates_with_the_year_last_are_read_if_one_order_alone_fits(
    pattern: str, order: str, tmp_path: Path
) -> None:
    rows = [f"{pattern.format(*day.split('-'))},-1.5,18.25,0.4" for day in DAYS]
    record = read_rows(rows, tmp_path)
    assert str(record.dates[-1]) == DAYS[-1]
    assert any(order in note for note in record.notes)


def test_dates_of_eight_digits_are_read(tmp_path: Path) -> None:
    rows = [row.replace("-", "", 2) for row in plain_rows()]
    assert str(read_rows(rows, tmp_path).dates[0]) == DAYS[0]


@pytest.mark.parametrize(
    ("written", "hint"),
    [
        ("2020-02-30", "There is no such day."),
        ("3/4/2020", "write the year first"),
        ("3/4/20", "four digits"),
        ("2O20-01-01", ""),
        ("0001-01-01", ""),
        ("", ""),
    ],
)
def test_a_date_that_is_none_is_a_problem_with_its_place(written: str, hint: str, tmp_path: Path) -> None:
    rows = plain_rows()
    rows[5] = f"{written},-1.5,18.25,0.4"
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column, problem.got) == (7, 1, repr(written))
    assert hint in problem.hint


def test_days_out_of_order_are_sorted_with_a_note(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[3] = f"{DAYS[3]},-9,18.25,0.4"
    record = read_rows(rows[::-1], tmp_path)
    assert str(record.dates[0]) == DAYS[0]
    assert record.tmin_c[3] == -9
    assert record.notes == ("The days stood out of order and were sorted.",)


def test_days_that_are_not_in_the_file_become_missing_with_a_note(tmp_path: Path) -> None:
    rows = plain_rows()
    record = read_rows(rows[:10] + rows[13:], tmp_path)
    assert record.dates.size == N_DAYS
    assert np.flatnonzero(np.isnan(record.rain_mm)).tolist() == [10, 11, 12]
    assert any(note.startswith("3 days") for note in record.notes)


def test_a_date_given_twice_is_a_problem_that_names_both_lines(tmp_path: Path) -> None:
    rows = plain_rows()
    rows.insert(4, rows[3])
    (problem,) = problems_of(rows, tmp_path)
    assert problem.line == 6
    assert "line 5" in problem.expected


def test_a_mistyped_year_is_a_problem(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[-1] = "2120-12-04,-1.5,18.25,0.4"
    (problem,) = problems_of(rows, tmp_path)
    assert problem.line == N_DAYS + 1
    assert problem.hint == "A year may be mistyped."


def test_a_few_crossed_temperatures_are_dropped_with_a_note(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[2] = f"{DAYS[2]},9,8,0.4"
    record = read_rows(rows, tmp_path)
    assert np.isnan(record.tmin_c[2])
    assert np.isnan(record.tmax_c[2])
    assert record.rain_mm[2] == 0.4
    assert any(note.startswith("1 days with a minimum above the maximum") for note in record.notes)


def test_many_crossed_temperatures_look_like_swapped_columns(tmp_path: Path) -> None:
    (problem,) = problems_of(plain_rows(), tmp_path, "date,tmax_c,tmin_c,rain_mm")
    assert problem.hint == "The columns may be swapped."
    assert problem.line == 2


@pytest.mark.parametrize(
    ("row", "column", "hint"),
    [
        ("-1.5,91,0", 17, "°F"),
        ("-1.5,155,0", 17, "tenths of a degree"),
        ("-999,8,0", 12, "missing value"),
        ("-99.9,8,0", 12, "missing value"),
        ("-1.5,8,-0.1", 19, "negative"),
        ("-1.5,8,2000", 19, ""),
        ("-1.5,inf,0", 17, ""),
    ],
)
def test_an_impossible_value_is_a_problem_with_its_place(
    row: str, column: int, hint: str, tmp_path: Path
) -> None:
    rows = plain_rows()
    rows[0] = f"{DAYS[0]},{row}"
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column) == (2, column)
    assert hint in problem.hint


def test_values_at_the_edge_of_what_is_possible_are_accepted(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[0] = f"{DAYS[0]},-90,60,1900"
    record = read_rows(rows, tmp_path)
    assert (record.tmin_c[0], record.tmax_c[0], record.rain_mm[0]) == (-90, 60, 1900)


@pytest.mark.parametrize(
    ("name", "value", "hint"),
    [
        ("radiation_mj_m2", "1250", "J/cm²"),
        ("sunshine_h", "390", "sunshine_min"),
        ("rh_mean_pct", "130", ""),
        ("wind_2m_m_s", "-1", ""),
    ],
)
def test_an_impossible_optional_value_is_a_problem(name: str, value: str, hint: str, tmp_path: Path) -> None:
    rows = [f"{row}," for row in plain_rows()]
    rows[0] += value
    (problem,) = problems_of(rows, tmp_path, f"{HEADER},{name}")
    assert hint in problem.hint


def test_celsius_under_a_heading_of_fahrenheit_is_refused(tmp_path: Path) -> None:
    (problem,) = problems_of(plain_rows(), tmp_path, "date,tmin_f,tmax_f,rain_mm")
    assert problem.where == "daily maximum temperature"
    assert problem.hint == "The unit in the heading may be wrong."


def test_humidity_just_above_saturation_is_set_to_100(tmp_path: Path) -> None:
    record = read_rows([f"{row},101.5" for row in plain_rows()], tmp_path, f"{HEADER},rh_max_pct")
    assert record.rh_max_pct is not None
    assert set(record.rh_max_pct) == {100}
    assert any("set to 100" in note for note in record.notes)


def test_words_in_a_number_are_a_problem_with_their_place(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[0] = f"{DAYS[0]},-1.5,18.25 °C,0.4"
    (problem,) = problems_of(rows, tmp_path)
    assert (problem.line, problem.column) == (2, 17)
    assert "unit" in problem.hint


def test_a_row_that_was_cut_short_is_a_problem(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[-1] = f"{DAYS[-1]},-1"
    (problem,) = problems_of(rows, tmp_path)
    assert problem.got == "2 fields"


def test_every_problem_is_told_at_once(tmp_path: Path) -> None:
    rows = plain_rows()
    rows[0] = f"{DAYS[0]},cold,8,0"
    rows[1] = f"{DAYS[1]},0,8,-1"
    rows[2] = "yesterday,0,8,0"
    rows[3] = rows[4]
    found = problems_of(rows, tmp_path)
    assert [problem.line for problem in found] == [2, 3, 4, 6]


def test_a_fault_in_every_row_is_listed_twenty_times_and_counted(tmp_path: Path) -> None:
    rows = [f"{day},-1.5,18.25,-0.4" for day in DAYS]
    found = problems_of(rows, tmp_path)
    assert len(found) == 21
    assert found[-1].got == f"{N_DAYS - 20} more of the same kind"


def test_a_temperature_without_a_unit_is_refused(tmp_path: Path) -> None:
    found = problems_of(plain_rows(), tmp_path, "date,tmin,tmax,rain_mm")
    assert [problem.where for problem in found] == [
        "daily minimum temperature",
        "daily maximum temperature",
    ]
    assert "tmin_c or tmin_f" in found[0].expected


def test_a_missing_column_is_named(tmp_path: Path) -> None:
    rows = [row.rsplit(",", 1)[0] for row in plain_rows()]
    (problem,) = problems_of(rows, tmp_path, "date,tmin_c,tmax_c")
    assert (problem.line, problem.expected) == (1, "a column rain_mm or rain_in")


def test_two_columns_of_one_quantity_are_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of([f"{row},1" for row in plain_rows()], tmp_path, f"{HEADER},prcp_mm")
    assert problem.got == "rain_mm and prcp_mm"
    assert problem.column == 28


def test_a_text_without_a_header_is_refused_with_an_example(tmp_path: Path) -> None:
    with pytest.raises(BadDocumentError) as caught:
        read("Dear sir,\nthe weather was fine.\n", tmp_path)
    (problem,) = caught.value.problems
    assert "tmin_c" in problem.expected


def test_less_than_a_year_is_a_problem(tmp_path: Path) -> None:
    found = problems_of(plain_rows()[:364], tmp_path)
    assert {problem.got for problem in found} == {"364 days with a value"}
    assert read_rows(plain_rows()[:365], tmp_path).dates.size == 365


def test_a_header_alone_is_a_problem(tmp_path: Path) -> None:
    (problem,) = problems_of([], tmp_path)
    assert problem.got == "none"


def test_de_bilt_is_read_whole(shared_weather: Path) -> None:
    record = read_weather(shared_weather / "debilt_260_daily_1980_2019.csv")
    # README of the shared records: 14 610 days, 40 whole years, no gaps, wind at 10 m.
    assert record.dates.size == 14610
    assert record.wind_height_m == 10
    assert record.notes == ()
    for name in ("wind_m_s", "rh_mean_pct", "rh_max_pct", "rh_min_pct", "radiation_mj_m2", "sunshine_h"):
        assert not np.isnan(getattr(record, name)).any()
    # First row of the file.
    assert (record.tmin_c[0], record.tmax_c[0], record.rain_mm[0]) == (-0.8, 2.3, 5.8)
    assert record.ground_tmin_c is not None
    assert record.ground_tmin_c[0] == -3.5


def test_both_central_park_files_agree_on_the_days_they_share(shared_weather: Path) -> None:
    ours = read_weather(shared_weather / "USW00094728.dly")
    theirs = read_weather(shared_weather / "nyc_central_park_USW00094728_daily_2009_2023.csv")
    assert theirs.wind_m_s is not None
    assert np.isnan(theirs.wind_m_s).sum() == 242
    shared = np.isin(ours.dates, theirs.dates)
    n_shared = int(shared.sum())
    # README of the shared records: 4 017 days, within 0.14 °C and 0.05 mm, from rounding of units.
    assert n_shared == 4017
    assert np.abs(ours.tmin_c[shared] - theirs.tmin_c[:n_shared]).max() < 0.141
    assert np.abs(ours.tmax_c[shared] - theirs.tmax_c[:n_shared]).max() < 0.141
    assert np.abs(ours.rain_mm[shared] - theirs.rain_mm[:n_shared]).max() < 0.051
