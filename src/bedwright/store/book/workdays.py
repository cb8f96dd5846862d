"""Workdays and own labour rates: keys, checks, records and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import cast, get_args

from bedwright.model import bounds
from bedwright.model.book import JOB_UNITS, WEEKLY_JOBS, Job, JobUnit, PlannedWorkday, StatedRate
from bedwright.model.bounds import Bounds, plain_number
from bedwright.store.book.checks import check_in_reach
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Choice, Either, Field, Group, ListOf, Number, Record
from bedwright.store.book.plain import Plain, given
from bedwright.store.book.read import Row, Value
from bedwright.store.book.texts import DAY, NAME, TIME

WORKDAY = Record(
    "workday",
    (
        Field("date", DAY, "Day of the workday.", required=True),
        Field("name", NAME, "What it is called on papers.", required=True),
        Field("start", TIME, "When people are welcomed, by the clock of the garden.", required=True),
        Field("hours", Number(bounds.WORKDAY_HOURS), "How long it lasts.", required=True),
        Field("people", Number(bounds.WORKDAY_PEOPLE, whole=True), "How many are expected."),
    ),
    one_line=True,
)


def _minutes(limits: Bounds) -> Either:
    return Either(Number(limits), ListOf(Number(limits), bounds.RANGE_COUNT))


_JOB_KEYS: dict[JobUnit, str] = {unit: f"min_per_{unit}" for unit in get_args(JobUnit)}
LABOUR_RATE = Record(
    "labour rate",
    (
        Field(
            "job",
            Choice(get_args(Job)),
            f"Kind of work; of {', '.join(sorted(WEEKLY_JOBS))} the minutes are those of one week.",
            required=True,
        ),
        Field(
            "min_per_m2",
            _minutes(bounds.LABOUR_MIN_PER_M2),
            "Minutes of one person for each square metre of bed; one figure, or [low, likely, high].",
        ),
        Field("min_per_row_m", _minutes(bounds.LABOUR_MIN_PER_ROW_M), "The same for each metre of row."),
        Field("min_per_kg", _minutes(bounds.LABOUR_MIN_PER_KG), "The same for each kilogram picked."),
        Field("min_per_plant", _minutes(bounds.LABOUR_MIN_EACH), "The same for each plant."),
        Field("min_per_tray", _minutes(bounds.LABOUR_MIN_EACH), "The same for each tray."),
        Field("min_per_visit", _minutes(bounds.LABOUR_MIN_EACH), "The same for each visit to a bed."),
        Field("min_per_order", _minutes(bounds.LABOUR_MIN_EACH), "The same for each order sent."),
    ),
    groups=(Group(tuple(_JOB_KEYS.values()), 1, 1),),
    one_line=True,
)


def workdays(rows: Sequence[Row], season_start: date | None, faults: Faults) -> tuple[PlannedWorkday, ...]:
    """Workdays within reach of the season, each once and over by midnight."""
    seen: dict[tuple[object, str], Value] = {}
    for row in rows:
        check_in_reach(row, "date", season_start, faults)
        _check_end(row, faults)
        if "date" in row and "name" in row:
            entry = row.values["name"]
            key = (row.values["date"].value, str(entry.value).casefold())
            earlier = seen.setdefault(key, entry)
            if earlier is not entry:
                expected = f"each workday once; line {earlier.line} has it too"
                faults.at(entry, entry.where, f"{entry.value} on {key[0]} again", expected)
    return tuple(_workday(row) for row in rows if row.sound)


def _check_end(row: Row, faults: Faults) -> None:
    if "start" not in row or "hours" not in row:
        return
    end_min = minutes_of(row.one("start", str)) + 60 * row.one("hours", float)
    if end_min > 24 * 60:
        place = row.values["hours"]
        got = f"{plain_number(row.one('hours', float))} h from {row.one('start', str)}"
        faults.at(place, place.where, got, "an end before midnight", "Write 14:00 for two in the afternoon.")


def minutes_of(time_of_day: str) -> int:
    """Minutes after midnight of a time such as 9:30."""
    hours, minutes = time_of_day.split(":")
    return 60 * int(hours) + int(minutes)


def _workday(row: Row) -> PlannedWorkday:
    return PlannedWorkday(
        day=row.one("date", date),
        name=row.one("name", str),
        start_min=minutes_of(row.one("start", str)),
        duration_h=row.one("hours", float),
        n_people=row.maybe("people", int),
    )


def workday_document(entry: PlannedWorkday) -> dict[str, Plain]:
    """A workday under its keys."""
    return given(
        date=entry.day,
        name=entry.name,
        start=f"{entry.start_min // 60:02}:{entry.start_min % 60:02}",
        hours=entry.duration_h,
        people=entry.n_people,
    )


def labour_rates(rows: Sequence[Row], faults: Faults) -> tuple[StatedRate, ...]:
    """Own rates, one for a job, in the job's unit, as figures that do not fall."""
    seen: dict[str, Value] = {}
    found: list[StatedRate] = []
    for row in rows:
        n_faults = len(faults)
        if "job" in row:
            _check_once(row.values["job"], seen, faults)
            _check_unit(row, faults)
        _check_rise(row, faults)
        if row.sound and len(faults) == n_faults:
            found.append(_labour_rate(row))
    return tuple(found)


def _check_once(entry: Value, seen: dict[str, Value], faults: Faults) -> None:
    earlier = seen.setdefault(str(entry.value), entry)
    if earlier is not entry:
        faults.at(
            entry, entry.where, f"{entry.value} again", f"each job once; line {earlier.line} has it too"
        )


def _check_unit(row: Row, faults: Faults) -> None:
    job = cast("Job", row.one("job", str))
    wanted = _JOB_KEYS[JOB_UNITS[job]]
    for key in _JOB_KEYS.values():
        if key != wanted and key in row:
            place = row.values[key]
            faults.at(place, place.where, f"`{key}` of {job}", f"`{wanted}`, the unit of that job")


def _figures(entry: Value) -> tuple[float, ...]:
    parts = entry.value if isinstance(entry.value, tuple) else (entry,)
    return tuple(part.value for part in parts if isinstance(part, Value) and isinstance(part.value, float))


def _check_rise(row: Row, faults: Faults) -> None:
    for key in _JOB_KEYS.values():
        if key not in row:
            continue
        place = row.values[key]
        figures = _figures(place)
        if list(figures) != sorted(figures):
            got = ", ".join(plain_number(figure) for figure in figures)
            faults.at(place, place.where, f"[{got}]", "[low, likely, high], none less than the one before")


def _labour_rate(row: Row) -> StatedRate:
    job = cast("Job", row.one("job", str))
    figures = _figures(row.values[_JOB_KEYS[JOB_UNITS[job]]])
    if len(figures) == 1:
        return StatedRate(job, figures[0])
    low_min, likely_min, high_min = figures
    return StatedRate(job, likely_min, low_min, high_min)


def labour_rate_document(entry: StatedRate) -> dict[str, Plain]:
    """A labour rate under its keys."""
    minutes: Plain = entry.likely_min
    if entry.low_min is not None and entry.high_min is not None:
        minutes = (entry.low_min, entry.likely_min, entry.high_min)
    document = given(job=entry.job)
    document[_JOB_KEYS[JOB_UNITS[entry.job]]] = minutes
    return document
