"""Faults of single values: numbers, words, dates, units, keys."""

from __future__ import annotations

import pytest

from tests.builders import TINY_TEXT
from tests.unit.store.book.case import POLYGON, Case, edited, problems_of

CASES = (
    Case(
        "latitude and longitude swapped beyond the poles",
        "latitude_deg: 52.3\n  longitude_deg: -0.4",
        "latitude_deg: 151.2\n  longitude_deg: -0.4",
        "latitude_deg: 90\n  longitude_deg: -0.4",
        "site.latitude_deg",
        "got 151.2; expected a number, -90 to 90 degrees north. Latitude and longitude may be swapped.",
    ),
    Case(
        "latitude and longitude swapped within the poles",
        "latitude_deg: 52.3\n  longitude_deg: -0.4",
        "latitude_deg: -0.4\n  longitude_deg: 52.3\n  paper: letter",
        "latitude_deg: 50\n  longitude_deg: 50",
        "site.longitude_deg",
        "Latitude and longitude may be swapped",
        n_problems=2,
    ),
    Case(
        "a western longitude without its minus sign",
        "longitude_deg: -0.4\n  elevation_m: 40\n  time_zone: Europe/London",
        "longitude_deg: 74\n  elevation_m: 40\n  time_zone: America/New_York",
        "longitude_deg: -74\n  elevation_m: 40\n  time_zone: America/New_York",
        "site.longitude_deg",
        "the minus sign of a western longitude",
    ),
    Case(
        "no elevation",
        "  elevation_m: 40\n",
        "",
        "  elevation_ft: 131\n",
        "site.elevation_m",
        "It is never guessed",
    ),
    Case("no texture", "    texture: loam\n", "", "    texture: silt\n", "beds[1].texture", "got nothing"),
    Case("no outline", f"    {POLYGON}\n", "", f"    {POLYGON}\n", "beds[1]", "exactly one of `rectangle`"),
    Case(
        "centimetres given as metres",
        "width_m: 1.2",
        "width_m: 120",
        "width_cm: 120",
        "beds[1].rectangle.width_m",
        "120 looks like cm: in m that is 1.2.",
    ),
    Case(
        "metres given as centimetres",
        "height_cm: 170}",
        "height_cm: 170, in_row_spacing_cm: 0.4}",
        "height_cm: 170, in_row_spacing_m: 0.4}",
        "wishes[2].variety.in_row_spacing_cm",
        "0.4 looks like m: in cm that is 40.",
    ),
    Case(
        "too wide a bed",
        "width_m: 1.2",
        "width_ft: 39.4",
        "width_ft: 39.3",
        "beds[1].rectangle.width_ft",
        "39.3701 ft",
    ),
    Case(
        "a negative length",
        "length_m: 4,",
        "length_m: -4,",
        "length_m: 4.0,",
        "beds[1].rectangle.length_m",
        "-4",
    ),
    Case(
        "not a number",
        "length_m: 4,",
        "length_m: .nan,",
        "length_m: 4e0,",
        "beds[1].rectangle.length_m",
        ".nan",
    ),
    Case(
        "infinity", "length_m: 4,", "length_m: .inf,", "length_m: +4,", "beds[1].rectangle.length_m", ".inf"
    ),
    Case(
        "a number too large for the machine",
        "length_m: 4,",
        "length_m: 1e999,",
        "length_m: 60,",
        "beds[1].rectangle.length_m",
        "1e999",
    ),
    Case(
        "true for a number",
        "length_m: 4,",
        "length_m: true,",
        "length_m: 4,",
        "beds[1].rectangle.length_m",
        "true",
    ),
    Case(
        "yes for a number",
        "length_m: 4,",
        "length_m: yes,",
        "length_m: 4,",
        "beds[1].rectangle.length_m",
        "yes",
    ),
    Case(
        "a unit behind the number",
        "length_m: 4,",
        "length_m: 4 m,",
        "length_m: 4,",
        "beds[1].rectangle.length_m",
        "the unit is in the key",
    ),
    Case(
        "a decimal comma",
        "row_m: 6",
        "row_m: 6,5",
        "row_m: 6.5",
        "wishes[1].row_m",
        "a point in place of the comma",
    ),
    Case(
        "a quoted number",
        "row_m: 6",
        'row_m: "6"',
        "row_m: 6",
        "wishes[1].row_m",
        "Remove the quotation marks",
    ),
    Case("a list for a number", "row_m: 6", "row_m: [6]", "row_m: 6", "wishes[1].row_m", "got a list of 1"),
    Case("half a plant", "plants: 12", "plants: 12.5", "plants: 12.0", "wishes[3].plants", "whole numbers"),
    Case("a blank value", "name: First bed", "name:", "use: school bed", "beds[1].name", "or remove the key"),
    Case(
        "true for a name", "name: First bed", "name: true", 'name: "true"', "beds[1].name", "quotation marks"
    ),
    Case("an endless name", "First bed", "x" * 81, "x" * 80, "beds[1].name", "1 to 80 characters"),
    Case("a name on two lines", "First bed", '"a\\nb"', '"a b"', "beds[1].name", "on one line"),
    Case("an unprintable name", "First bed", '"a\\x07b"', '"a b"', "beds[1].name", "cannot be printed"),
    Case("an unknown soil", "texture: loam", "texture: lome", "texture: LOAM", "beds[1].texture", "Is loam"),
    Case(
        "an unknown key",
        "    name: First bed",
        "    nam: First bed",
        "    name: First bed",
        "beds[1].nam",
        "Is name meant?",
    ),
    Case(
        "a key without its unit",
        "length_m: 4,",
        "length_m: 4, height: 1,",
        "length_m: 4,",
        "beds[1].rectangle.height",
        'the key "height"',
    ),
    Case(
        "one length in two units",
        "length_m: 4,",
        "length_m: 4, length_ft: 13,",
        "length_ft: 13,",
        "beds[1].rectangle.length_ft",
        "another unit",
    ),
    Case(
        "two amounts",
        "    plants: 12\n",
        "    plants: 12\n    row_m: 3\n",
        "    row_m: 3\n",
        "wishes[3]",
        "got `plants` and `row_m`; expected exactly one of",
    ),
    Case("no amount", "    plants: 12\n", "", "    harvest_lb: 12\n", "wishes[3]", "exactly one of `plants`"),
    Case(
        "a day that is not",
        "start: 2027-01-01",
        "start: 2027-02-30",
        "start: 2027-02-28",
        "season.start",
        "no such day",
    ),
    Case(
        "a day written backwards",
        "start: 2027-01-01",
        "start: 01.01.2027",
        "start: 2027-01-02",
        "season.start",
        "year-month-day",
    ),
    Case(
        "a leap day for every year",
        "last_spring: 05-10",
        "last_spring: 02-29",
        "last_spring: 02-28",
        "weather.stated_frost.last_spring",
        "every year",
    ),
    Case(
        "frost dates swapped",
        "last_spring: 05-10, first_autumn: 10-05",
        "last_spring: 10-05, first_autumn: 05-10",
        "last_spring: 05-10, first_autumn: 05-11",
        "weather.stated_frost.last_spring",
        "may be swapped",
    ),
    Case(
        "no weather at all",
        "  stated_frost: {last_spring: 05-10, first_autumn: 10-05}",
        "  {}",
        "  file: weather.csv",
        "weather",
        "at least one of `file` or `stated_frost`",
    ),
    Case(
        "an absolute weather path",
        "weather:\n",
        "weather:\n  file: /data/weather.csv\n",
        "weather:\n  file: data/weather.csv\n",
        "weather.file",
        "inside the folder of the book",
    ),
    Case(
        "a weather path upwards",
        "weather:\n",
        "weather:\n  file: a/../../weather.csv\n",
        "weather:\n  file: ..weather.csv\n",
        "weather.file",
        "inside the folder of the book",
    ),
    Case(
        "a weather path on a drive",
        "weather:\n",
        "weather:\n  file: C:weather.csv\n",
        "weather:\n  file: C-weather.csv\n",
        "weather.file",
        "inside the folder of the book",
    ),
    Case(
        "a weather path upwards with backslashes",
        "weather:\n",
        "weather:\n  file: ..\\weather.csv\n",
        "weather:\n  file: data\\weather.csv\n",
        "weather.file",
        "inside the folder of the book",
    ),
    Case(
        "an unknown time zone",
        "Europe/London",
        "Europe/Londn",
        "Europe/Lisbon",
        "site.time_zone",
        "Is Europe/London",
    ),
    Case("a folder for a time zone", "Europe/London", "Europe", "UTC", "site.time_zone", "IANA"),
    Case("a path for a time zone", "Europe/London", "../London", "UTC", "site.time_zone", "IANA"),
)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.fault)
def test_a_fault_is_told_where_it_is_and_its_twin_is_accepted(case: Case) -> None:
    case.check()


def test_the_position_is_that_of_the_value() -> None:
    problem = problems_of(edited("row_m: 6", "row_m: many"))[0]
    line = TINY_TEXT[: TINY_TEXT.index("row_m: 6")].count("\n") + 1
    assert (problem.line, problem.column) == (line, len("    row_m: ") + 1)
    place = f"book.yaml:{line}:12: wishes[1].row_m: got many"
    assert str(problem).startswith(place)


def test_all_faults_are_told_at_once_in_the_order_of_the_text() -> None:
    text = (
        TINY_TEXT.replace("52.3", "95")
        .replace("2027-01-01", "2027-13-01")
        .replace("crop: tomato", "crop: tomahto")
    )
    text = text.replace("texture: sandy loam", "texture: sandy").replace("plants: 4", "plants: -4")
    wheres = [problem.where for problem in problems_of(text)]
    assert wheres == [
        "site.latitude_deg", "season.start", "beds[2].texture", "wishes[2].crop", "wishes[2].plants",
    ]  # fmt: skip


def test_a_faulty_bed_is_still_known_to_history_and_wishes() -> None:
    problems = problems_of(edited("texture: sandy loam", "texture: mud"))
    assert [problem.where for problem in problems] == ["beds[2].texture"]


def test_reading_stops_after_two_hundred_problems() -> None:
    keys = "".join(f"k{n}: 1\n" for n in range(5000))
    assert len(problems_of(TINY_TEXT + keys)) == 200
