"""Checks that need more than one value of the people file."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from bedwright.store.book.checks import check_order
from bedwright.store.book.fault import Faults
from bedwright.store.book.near import nearest_hint
from bedwright.store.book.nodes import quoted
from bedwright.store.book.read import Row, Value


def minutes_of(row: Row, key: str, left_out: int | None = None) -> int | None:
    """Minutes after midnight of a time of day; what holds where the key is left out or faulty."""
    if key not in row:
        return left_out
    hours, minutes = row.one(key, str).split(":")
    return 60 * int(hours) + int(minutes)


def check_workday(row: Row, today: date, faults: Faults) -> None:
    """The workday lies not in the past, and ends after it starts."""
    if "date" in row and row.one("date", date) < today:
        place = row.values["date"]
        faults.at(place, place.where, str(place.value), f"{today} or later", "Check the year.")
    _check_times(row, "start", "end", faults)


def _check_times(row: Row, first_key: str, last_key: str, faults: Faults) -> None:
    first, last = minutes_of(row, first_key), minutes_of(row, last_key)
    if first is not None and last is not None and last <= first:
        place = row.values[last_key]
        expected = f"a time after {row.one(first_key, str)}"
        faults.at(place, place.where, str(place.value), expected, "Write 14:00 for two in the afternoon.")


def check_person_times(row: Row, workday: Row | None, faults: Faults) -> None:
    """A person comes before leaving, and while the workday lasts."""
    _check_times(row, "from", "until", faults)
    if workday is None:
        return
    start, end = minutes_of(workday, "start"), minutes_of(workday, "end")
    comes, leaves = minutes_of(row, "from"), minutes_of(row, "until")
    if comes is not None and end is not None and comes >= end:
        place = row.values["from"]
        faults.at(place, place.where, str(place.value), f"a time before the end, {workday.one('end', str)}")
    if leaves is not None and start is not None and leaves <= start:
        place = row.values["until"]
        faults.at(
            place, place.where, str(place.value), f"a time after the start, {workday.one('start', str)}"
        )


def check_names(rows: Sequence[Row], key: str, faults: Faults) -> dict[str, Row]:
    """Rows by name; every name once, whatever its letters."""
    found: dict[str, Row] = {}
    seen: dict[str, Value] = {}
    for row in rows:
        if key not in row:
            continue
        entry = row.values[key]
        name = str(entry.value)
        earlier = seen.setdefault(name.casefold(), entry)
        if earlier is not entry:
            hint = "Add an initial where two are called the same." if key == "name" else "Add the counts up."
            faults.at(entry, entry.where, quoted(name), f"each once; line {earlier.line} has it too", hint)
        found.setdefault(name, row)
    return found


def check_child(row: Row, people: Mapping[str, Row], faults: Faults) -> None:
    """A child comes with an adult who signed up; an adult with nobody."""
    child, place = row.maybe("child", bool, False), row.values.get("with")
    if not child:
        if place is not None:
            hint = "Add `child: true`, or remove `with`; adults who stay together form a team."
            faults.at(place, place.where, quoted(str(place.value)), "no `with` for an adult", hint)
        return
    if place is None:
        hint = "Write `with:` and the name of an adult of this list."
        faults.at(row, row.where, "a child without an adult", "an adult it stays beside", hint)
        return
    adult = people.get(str(place.value))
    if adult is None:
        hint = nearest_hint(str(place.value), people)
        faults.at(place, place.where, quoted(str(place.value)), "an adult of this list", hint)
    elif adult.maybe("child", bool, False):
        faults.at(place, place.where, f"{quoted(str(place.value))}, who is a child", "an adult of this list")


def check_child_hours(row: Row, people: Mapping[str, Row], workday: Row | None, faults: Faults) -> None:
    """A child is there only while its adult is."""
    adult = people.get(row.maybe("with", str, ""))
    if adult is None or workday is None or not row.maybe("child", bool, False):
        return
    start, end = minutes_of(workday, "start"), minutes_of(workday, "end")
    if _is_earlier(minutes_of(row, "from", start), minutes_of(adult, "from", start)) or _is_earlier(
        minutes_of(adult, "until", end), minutes_of(row, "until", end)
    ):
        place = row.values["with"]
        hint = "Give the child the adult's times in `from` and `until`."
        faults.at(place, place.where, "a child that is there without its adult", "the adult's times", hint)


def _is_earlier(one: int | None, other: int | None) -> bool:
    """Whether a time is earlier than another; no where either is not known."""
    return one is not None and other is not None and one < other


def check_teams(rows: Sequence[Row], people: Mapping[str, Row], faults: Faults) -> dict[str, str]:
    """Team by person; nobody in two, nobody unknown, no children."""
    check_names(rows, "name", faults)
    team_of: dict[str, Value] = {}
    names: dict[str, str] = {}
    for row in rows:
        for entry in row.each("members"):
            name = str(entry.value)
            if name not in people:
                hint = nearest_hint(name, people)
                faults.at(entry, entry.where, quoted(name), "a person of this list", hint)
            elif people[name].maybe("child", bool, False):
                hint = "A child stays with its adult; put the adult into the team."
                faults.at(entry, entry.where, f"{quoted(name)}, who is a child", "an adult", hint)
            earlier = team_of.get(name)
            if earlier is not None and not _same_team(earlier, entry):
                expected = f"each person in one team; line {earlier.line} has it in another"
                faults.at(entry, entry.where, quoted(name), expected, "Remove one of the two.")
            team_of.setdefault(name, entry)
            names.setdefault(name, row.maybe("name", str, ""))
    return names


def _same_team(one: Value, other: Value) -> bool:
    """Twice in one team is reported as a repeat there."""
    return one.where.rsplit(".", 1)[0] == other.where.rsplit(".", 1)[0]


def check_promise(row: Row, today: date, faults: Faults) -> None:
    """Promised hours lie in order and not wholly in the past."""
    promised = row.maybe("promised", Row)
    if promised is None:
        return
    check_order(promised, "start", "end", faults)
    if "end" in promised and promised.one("end", date) < today:
        place = promised.values["end"]
        hint = "Remove a promise that has run out, or correct the year."
        faults.at(place, place.where, f"{place.value}, in the past", f"{today} or later", hint)
