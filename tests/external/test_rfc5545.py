"""The calendar file against RFC 5545, Internet Calendaring and Scheduling (September 2009)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Calendar, Event

from bedwright.model.season import SeasonPlan
from bedwright.papers import calendar_bytes
from tests.plans import demo_plan

LONG = (
    "Draw the drill along the string, sow thinly, cover, firm with the back of the rake; water in gently, "
    "then push the peg in at once — größte Vorsicht mit dem Kürbis, žluté květy, 根 and a backslash \\ here."
)
HARD = "Bed 3; sow beans, peas\nwater"


def _plan(details: str = LONG, **changes: object) -> SeasonPlan:
    plan = demo_plan()
    first = replace(plan.tasks[0], title=HARD, details=details, code="bean:sow")
    return replace(plan, tasks=(first, *plan.tasks[1:]), **changes)  # type: ignore[arg-type]


def _day(event: Event, name: str) -> date:
    value: Any = event[name]
    day = value.dt
    assert isinstance(day, date)
    return day


def _number(event: Event, name: str) -> int:
    value: Any = event[name]
    return int(value)


def _is_date(event: Event, name: str) -> bool:
    value: Any = event[name]
    return bool(value.params["VALUE"] == "DATE")


def _events(data: bytes) -> list[Event]:
    return [part for part in Calendar.from_ical(data).walk("VEVENT") if isinstance(part, Event)]


def test_no_content_line_is_longer_than_75_octets_and_each_ends_with_crlf() -> None:
    # Section 3.1: lines of text should not be longer than 75 octets, excluding the line break (CRLF).
    data = calendar_bytes(_plan())
    assert data.endswith(b"\r\n")
    lines = data.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)


def test_a_fold_never_splits_a_character_in_two() -> None:
    # Section 3.1 warns of folds within a multi-octet UTF-8 sequence; each line must decode alone.
    for line in calendar_bytes(_plan()).split(b"\r\n"):
        line.decode("utf-8")


def test_unfolding_gives_the_words_back() -> None:
    # Section 3.1: unfold by removing a CRLF followed by one white-space character.
    unfolded = calendar_bytes(_plan()).replace(b"\r\n ", b"").decode("utf-8")
    escaped = LONG.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    assert f"DESCRIPTION:{escaped}" in unfolded.split("\r\n")


def test_semicolon_comma_and_line_break_are_escaped_as_text_asks() -> None:
    # Section 3.3.11: backslash before semicolon and comma, \n for a line break.
    lines = calendar_bytes(_plan()).replace(b"\r\n ", b"").decode("utf-8").split("\r\n")
    assert "SUMMARY:Bed 3\\; sow beans\\, peas\\nwater" in lines


def test_the_texts_of_a_parsed_event_are_those_of_the_task() -> None:
    event = _events(calendar_bytes(_plan()))[0]
    assert str(event["SUMMARY"]) == HARD
    assert str(event["DESCRIPTION"]) == LONG


def test_the_calendar_names_product_and_version_once() -> None:
    # Section 3.6: PRODID and VERSION are required, once each.
    calendar = Calendar.from_ical(calendar_bytes(demo_plan()))
    assert str(calendar["VERSION"]) == "2.0"
    assert str(calendar["PRODID"]).startswith("-//Bedwright")


def test_jobs_are_all_day_events_whose_end_is_the_day_after() -> None:
    # Section 3.6.1: DTSTART of type DATE makes an all-day event; DTEND is not included in it.
    plan = demo_plan()
    events = {str(event["UID"]): event for event in _events(calendar_bytes(plan))}
    assert len(events) == len(plan.tasks)
    for task, event in zip(sorted(plan.tasks, key=lambda t: (t.start, t.code)), events.values(), strict=True):
        start, end = _day(event, "DTSTART"), _day(event, "DTEND")
        assert not isinstance(start, datetime)
        assert (start, end) == (task.start, task.end + timedelta(days=1))
        assert _is_date(event, "DTSTART")


def test_every_event_has_a_uid_and_a_stamp_in_utc() -> None:
    # Sections 3.8.4.7 and 3.8.7.2: UID globally unique; DTSTAMP in UTC. Both required in 3.6.1.
    events = _events(calendar_bytes(demo_plan()))
    assert len({str(event["UID"]) for event in events}) == len(events)
    assert all(_day(event, "DTSTAMP") == datetime(2026, 1, 20, tzinfo=UTC) for event in events)
    assert all(str(event["UID"]).endswith("@millbrook-common-garden.bedwright") for event in events)


def test_a_plan_made_later_replaces_events_and_raises_their_sequence() -> None:
    # Section 3.8.7.4: SEQUENCE grows with each significant revision of the same UID.
    early = _events(calendar_bytes(_plan()))[0]
    late_plan = _plan("Moved a week.", made_on=date(2026, 2, 3), revision="abcdef0")
    late_plan = replace(
        late_plan, tasks=(replace(late_plan.tasks[0], start=date(2026, 1, 2)), *late_plan.tasks[1:])
    )
    late = _events(calendar_bytes(late_plan))[0]
    assert str(early["UID"]) == str(late["UID"])
    assert _number(late, "SEQUENCE") > _number(early, "SEQUENCE") >= 0
    assert _day(late, "LAST-MODIFIED") > _day(early, "LAST-MODIFIED")


def test_the_same_plan_gives_the_same_file() -> None:
    assert calendar_bytes(_plan()) == calendar_bytes(_plan())
