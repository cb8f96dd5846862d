"""A people file read from a file or from text, with every problem at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from bedwright.model.book import HelpingHands
from bedwright.model.work import Helper, Roster, ShedTool
from bedwright.store.book.fault import Faults
from bedwright.store.book.nodes import read_nodes
from bedwright.store.book.read import Row, SchemaReader
from bedwright.store.people import checks
from bedwright.store.people.schema import PEOPLE_FILE
from bedwright.store.people.text_file import refuse_empty, text_of


def read_people(path: Path, *, today: date) -> Roster:
    """Read a people file.

    Parameters
    ----------
    path
        The YAML file, UTF-8, at most `BOOK_BYTES` large.
    today
        Workdays and promises before it are problems.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    return read_people_text(text_of(path), str(path), today=today)


def read_people_text(text: str, file_name: str, *, today: date) -> Roster:
    """Read a people file from text.

    Raises
    ------
    BadDocumentError
        If there is any fault; it carries all of them, in the order of the text.
    """
    refuse_empty(text, file_name)
    faults = Faults(file_name)
    row = SchemaReader(faults).row(read_nodes(text, faults), PEOPLE_FILE, "")
    workday = row.maybe("workday", Row)
    rows = row.rows("people")
    team_of = _check(row, workday, rows, today, faults)
    faults.raise_if_any()
    workday = row.one("workday", Row)
    start_min, end_min = _minutes(workday, "start", 0), _minutes(workday, "end", 0)
    return Roster(
        day=workday.one("date", date),
        start_min=start_min,
        end_min=end_min,
        leader=workday.maybe("leader", str, ""),
        helpers=tuple(_helper(person, start_min, end_min, team_of) for person in rows),
        tools=tuple(ShedTool(tool.one("tool", str), tool.one("count", int)) for tool in row.rows("tools")),
        promises=tuple(hands for person in rows if (hands := _promise(person)) is not None),
    )


def _check(row: Row, workday: Row | None, rows: Sequence[Row], today: date, faults: Faults) -> dict[str, str]:
    if workday is not None:
        checks.check_workday(workday, today, faults)
    people = checks.check_names(rows, "name", faults)
    for person in rows:
        checks.check_person_times(person, workday, faults)
        checks.check_child(person, people, faults)
        checks.check_child_hours(person, people, workday, faults)
        checks.check_promise(person, today, faults)
    checks.check_names(row.rows("tools"), "tool", faults)
    return checks.check_teams(row.rows("teams"), people, faults)


def _minutes(row: Row, key: str, left_out: int) -> int:
    found = checks.minutes_of(row, key, left_out)
    return left_out if found is None else found


def _helper(row: Row, start_min: int, end_min: int, team_of: Mapping[str, str]) -> Helper:
    name = row.one("name", str)
    return Helper(
        name=name,
        # Nobody is welcomed before the day begins or works after it ends.
        arrives_min=max(start_min, _minutes(row, "from", start_min)),
        leaves_min=min(end_min, _minutes(row, "until", end_min)),
        sitting_only=row.maybe("sitting_only", bool, False),
        no_lifting=row.maybe("no_lifting", bool, False),
        shade_only=row.maybe("shade_only", bool, False),
        first_time=row.maybe("first_time", bool, False),
        child=row.maybe("child", bool, False),
        with_adult=row.maybe("with", str, ""),
        team=team_of.get(name, ""),
    )


def _promise(row: Row) -> HelpingHands | None:
    promised = row.maybe("promised", Row)
    if promised is None:
        return None
    return HelpingHands(
        name=row.one("name", str),
        hours_per_week=promised.one("hours_per_week", float),
        start=promised.one("start", date),
        end=promised.one("end", date),
        paid=promised.maybe("paid", bool, False),
    )
