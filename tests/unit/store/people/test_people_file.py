"""The people file: what is read, and every way in which it can be wrong."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from bedwright.model.book import HelpingHands
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.work import Helper, Roster, ShedTool
from bedwright.store.people import PEOPLE_FILE, read_people, read_people_text
from bedwright.store.people.schema import PERSON, PROMISED, TEAM, TOOL, WORKDAY

TODAY = date(2027, 4, 1)
TEXT = """\
workday:
  date: 2027-04-17
  start: 9:30
  end: 12:00
  leader: Maren Aske
people:
  - {name: Ilse Brandt, from: 10:00, first_time: true}
  - {name: Odo Brandt, from: 10:00, child: true, with: Ilse Brandt}
  - {name: Tarek Olm, sitting_only: true, until: 11:15}
  - {name: Wim Sand, no_lifting: true, promised: {hours_per_week: 3, start: 2027-01-01, end: 2027-09-30}}
  - {name: Yara Lund, shade_only: true}
teams:
  - {name: Blue, members: [Wim Sand, Yara Lund]}
tools:
  - {tool: trowel, count: 6}
"""

WORKDAY_TEXT = TEXT.split("people:", maxsplit=1)[0]


def read(text: str = TEXT) -> Roster:
    return read_people_text(text, "people.yaml", today=TODAY)


def problems_of(text: str) -> tuple[Problem, ...]:
    with pytest.raises(BadDocumentError) as caught:
        read(text)
    return caught.value.problems


def test_a_people_file_is_read_whole() -> None:
    roster = read()
    assert roster.day == date(2027, 4, 17)
    assert (roster.start_min, roster.end_min) == (570, 720)
    assert roster.leader == "Maren Aske"
    assert roster.helpers == (
        Helper("Ilse Brandt", 600, 720, first_time=True),
        Helper("Odo Brandt", 600, 720, child=True, with_adult="Ilse Brandt"),
        Helper("Tarek Olm", 570, 675, sitting_only=True),
        Helper("Wim Sand", 570, 720, no_lifting=True, team="Blue"),
        Helper("Yara Lund", 570, 720, shade_only=True, team="Blue"),
    )
    assert roster.tools == (ShedTool("trowel", 6),)
    assert roster.promises == (HelpingHands("Wim Sand", 3.0, date(2027, 1, 1), date(2027, 9, 30)),)


@dataclass(frozen=True)
class Case:
    """One edit that is refused, and the nearest one that is not."""

    fault: str
    old: str
    bad: str
    good: str
    where: str
    words: str


CASES = (
    Case("a person in two teams", "teams:\n",
         "teams:\n  - {name: Red, members: [Wim Sand, Ilse Brandt]}\n",
         "teams:\n  - {name: Red, members: [Tarek Olm, Ilse Brandt]}\n",
         "teams[2].members[1]", "each person in one team; line 13 has it in another"),
    Case("promised hours in the past", "end: 2027-09-30", "end: 2027-03-31", "end: 2027-04-01",
         "people[4].promised.end", "2027-03-31, in the past; expected 2027-04-01 or later"),
    Case("a child without an adult", "child: true, with: Ilse Brandt", "child: true",
         "child: true, with: Tarek Olm, until: 11:15", "people[2]", "a child without an adult"),
    Case("a child with somebody unknown", "with: Ilse Brandt", "with: Ilse Brand", "with: Ilse Brandt",
         "people[2].with", "Is Ilse Brandt or"),
    Case("a child with itself", "with: Ilse Brandt", "with: Odo Brandt", "with: Ilse Brandt",
         "people[2].with", "who is a child"),
    Case("a child that stays on alone", "with: Ilse Brandt", "with: Tarek Olm",
         "with: Tarek Olm, until: 11:15", "people[2].with", "there without its adult"),
    Case("an adult with an adult", "sitting_only: true", "with: Yara Lund", "first_time: true",
         "people[3].with", "no `with` for an adult"),
    Case("a name twice", "name: Yara Lund", "name: tarek olm", "name: Yara Lund",
         "people[5].name", "line 9 has it too"),
    Case("a child in a team", "[Wim Sand, Yara Lund]", "[Wim Sand, Yara Lund, Odo Brandt]",
         "[Wim Sand, Yara Lund, Ilse Brandt]", "teams[1].members[3]", "who is a child"),
    Case("a stranger in a team", "[Wim Sand, Yara Lund]", "[Wim Sand, Yara Lunt]", "[Wim Sand, Yara Lund]",
         "teams[1].members[2]", "Is Yara Lund meant?"),
    Case("a team of one", "[Wim Sand, Yara Lund]", "[Wim Sand]", "[Wim Sand, Yara Lund]",
         "teams[1].members", "2 to 30 people"),
    Case("a workday in the past", "date: 2027-04-17", "date: 2027-03-31", "date: 2027-04-01",
         "workday.date", "2027-04-01 or later"),
    Case("an end before the start", "end: 12:00", "end: 9:30", "end: 10:45",
         "workday.end", "a time after 9:30"),
    Case("leaving before coming", "sitting_only: true, until: 11:15", "from: 11:15, until: 11:15",
         "from: 11:00, until: 11:15", "people[3].until", "a time after 11:15"),
    Case("coming after the end", "sitting_only: true, until: 11:15", "from: 12:00", "from: 11:30",
         "people[3].from", "a time before the end, 12:00"),
    Case("a time without minutes", "start: 9:30", "start: 9", "start: 09:00",
         "workday.start", "a time of day such as 9:30"),
    Case("an hour that is not there", "end: 12:00", "end: 24:00", "end: 23:59",
         "workday.end", "a time of day"),
    Case("a tool twice", "tools:\n", "tools:\n  - {tool: Trowel, count: 2}\n",
         "tools:\n  - {tool: fork, count: 2}\n", "tools[2].tool", "line 15 has it too"),
    Case("half a tool", "count: 6", "count: 6.5", "count: 6", "tools[1].count", "Only whole numbers"),
    Case("an unknown key", "no_lifting: true", "no_liftin: true", "no_lifting: true",
         "people[4].no_liftin", "Is no_lifting meant?"),
    Case("no workday", WORKDAY_TEXT, "", WORKDAY_TEXT, "workday", "got nothing"),
    Case("promised hours that end before they begin", "start: 2027-01-01", "start: 2027-10-01",
         "start: 2027-09-30", "people[4].promised.end", "a day not before 2027-10-01"),
)  # fmt: skip


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.fault)
def test_a_fault_is_told_at_its_place_and_its_twin_is_read(case: Case) -> None:
    assert case.old in TEXT
    text = TEXT.replace(case.old, case.bad, 1)
    found = problems_of(text)
    at_place = [problem for problem in found if problem.where == case.where]
    assert at_place, [str(problem) for problem in found]
    assert case.words in str(at_place[0])
    assert at_place[0].line is not None
    read(TEXT.replace(case.old, case.good, 1))


def test_all_problems_come_at_once_in_the_order_of_the_text() -> None:
    text = TEXT.replace("date: 2027-04-17", "date: 2026-04-17").replace(", with: Ilse Brandt", "")
    text = text.replace("2027-09-30", "2027-01-30").replace("count: 6", "count: -1")
    found = problems_of(text)
    assert [problem.where for problem in found] == [
        "workday.date", "people[2]", "people[4].promised.end", "tools[1].count",
    ]  # fmt: skip
    assert [problem.line for problem in found] == sorted(problem.line or 0 for problem in found)


@pytest.mark.parametrize("text", ["", "# nothing yet\n", "---\n", "[1, 2]\n", "a: [\n", "workday: *x\n"])
def test_a_text_that_is_no_people_file_is_refused_in_words(text: str) -> None:
    for problem in problems_of(text):
        assert "garden book" not in str(problem)
        assert problem.expected


def test_a_file_is_read_and_a_missing_one_is_told(tmp_path: Path) -> None:
    path = tmp_path / "people.yaml"
    path.write_text(TEXT, encoding="utf-8")
    assert read_people(path, today=TODAY) == read()
    for bad in (tmp_path, tmp_path / "none.yaml"):
        with pytest.raises(BadDocumentError):
            read_people(bad, today=TODAY)
    path.write_bytes(b"people: \xff\n")
    with pytest.raises(BadDocumentError, match="UTF-8"):
        read_people(path, today=TODAY)


def test_the_example_of_the_guide_is_read() -> None:
    guide = (Path(__file__).parents[4] / "docs" / "hours.md").read_text(encoding="utf-8")
    example = guide.split("```yaml\n", 1)[1].split("```", 1)[0]
    assert len(read(example).helpers) == 5


def test_every_key_of_the_people_file_is_explained_in_the_guide() -> None:
    guide = (Path(__file__).parents[4] / "docs" / "hours.md").read_text(encoding="utf-8")
    for record in (PEOPLE_FILE, WORKDAY, PERSON, PROMISED, TEAM, TOOL):
        for field in record.fields:
            assert f"`{field.key}`" in guide, field.key
