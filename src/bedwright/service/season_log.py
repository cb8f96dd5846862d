"""The season plan seen through the log: what is done, what is late, what failed, what was picked.

Only what was written down moves anything. A job nobody ticked is overdue, and the days after
it stay as planned until somebody says what happened.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from bedwright.engine.pipeline import years_later
from bedwright.model.log import (
    REPEATED_KINDS,
    CropHarvest,
    LoggedSeason,
    LogKind,
    LogRecord,
    LogTotals,
    PlantingLogged,
    Squeeze,
    TaskLogged,
    TaskState,
    TickConflict,
)
from bedwright.model.season import DateChoice, Planting, SeasonPlan, Task

KIND_OF_TASK: Mapping[str, LogKind] = {
    "sow under cover": "sown under cover",
    "sow": "sown",
    "set out": "set out",
    "thin": "thinned",
    "weed": "weeded",
    "water": "watered",
    "pick": "picked",
    "cut down": "cleared",
    "clear": "cleared",
}
"""Kind of line that says a task is done; every other task is `work`."""
_BEFORE_GROUND = frozenset({"order", "prepare", "sow under cover"})
_SMALL_M = 1e-6


def log_kind_of(task_kind: str) -> LogKind:
    """Kind of line that says a task of some kind is done."""
    return KIND_OF_TASK.get(task_kind, "work")


def standing_records(records: Iterable[LogRecord]) -> tuple[LogRecord, ...]:
    """Lines that hold once corrections are followed, by day, then by when they were written.

    A line and all its corrections, and theirs, stand for one event, so one of them holds: a
    correction goes before what it corrects, and of several the one written last. The same
    lines give the same answer in whatever order, and however often, they came.
    """
    by_id = {record.id: record for record in records}
    families: dict[str, list[LogRecord]] = {}
    for record in by_id.values():
        families.setdefault(_first_of(record, by_id), []).append(record)
    found = [last for family in families.values() if not (last := _last_of(family)).struck]
    return tuple(sorted(found, key=lambda record: (record.day, *_written(record))))


def in_season(day: date, season_start: date) -> bool:
    """Whether a day lies in the year from the start of a season."""
    return season_start <= day < years_later(season_start, 1)


def records_by_season(
    records: Iterable[LogRecord], season_starts: Mapping[str, date]
) -> dict[int, tuple[LogRecord, ...]]:
    """Lines of a log that goes on over years, by the year in which their season begins.

    Parameters
    ----------
    records
        Every line, corrected ones too.
    season_starts
        Revision of each plan to the first day of its season. Plans whose seasons begin in one year
        are of one season.

    Returns
    -------
    dict of int to tuple of LogRecord
        Codes of plantings and jobs come again each year, so a line with one belongs to the season of
        the plan it was written by; every other line belongs to the season its day lies in. All
        corrections of a line go with it.
    """
    by_id = {record.id: record for record in records}
    starts = sorted({start.year: start for start in season_starts.values()}.values())
    found: dict[int, list[LogRecord]] = {}
    for record in by_id.values():
        first = by_id.get(_first_of(record, by_id), record)
        start = season_starts.get(first.plan_revision) if first.planting_code or first.task_code else None
        if start is None:
            begun = [each for each in starts if each <= first.day] or starts[:1]
            start = begun[-1] if begun else first.day
        found.setdefault(start.year, []).append(record)
    return {year: tuple(lines) for year, lines in found.items()}


def _first_of(record: LogRecord, by_id: Mapping[str, LogRecord]) -> str:
    """Id of the line that a chain of corrections began with, whether or not it has come yet."""
    seen = {record.id}
    while record.corrects:
        if record.corrects not in by_id:
            return record.corrects
        if record.corrects in seen:
            # A ring, which no honest phone makes: one name for all of it.
            return min(seen)
        record = by_id[record.corrects]
        seen.add(record.id)
    return record.id


def _last_of(family: Sequence[LogRecord]) -> LogRecord:
    corrected = {record.corrects for record in family}
    open_ends = [record for record in family if record.id not in corrected]
    return max(open_ends or family, key=_written)


def _written(record: LogRecord) -> tuple[datetime, str]:
    return record.at, record.id


def season_as_logged(plan: SeasonPlan, records: Iterable[LogRecord], *, today: date) -> LoggedSeason:
    """A season plan as the log leaves it.

    Parameters
    ----------
    plan
        The season plan.
    records
        Every line of the log, corrected ones too.
    today
        Open tasks whose days are past are overdue.

    Returns
    -------
    LoggedSeason
        Tasks and plantings with what was done, and the days that follow moved.

    Limits
    ------
    A planting that went in some days late is taken to be that many days late in all that
    follows. In autumn, when growth slows, it will be more; the plan made again from today
    works it out. A planting that went in early moves nothing forward. One that stands from the season
    before is in the ground, whatever the log of this one says.
    """
    standing = standing_records(records)
    by_planting: dict[str, list[LogRecord]] = {}
    for record in standing:
        by_planting.setdefault(record.planting_code, []).append(record)
    plantings = tuple(
        _planting(each, by_planting.get(each.code, ()), plan.book.season_start) for each in plan.plantings
    )
    known = {each.code for each in plan.plantings}
    seen = {each.planting.code: each for each in plantings}
    by_task = _by_task(plan.tasks, standing)
    tasks = [
        _task(task, seen.get(task.planting_code or ""), by_task.get(task.code, ()), today)
        for task in plan.tasks
    ]
    return LoggedSeason(
        tasks=tuple(
            sorted(tasks, key=lambda each: (each.task.start, each.task.bed_code or "", each.task.code))
        ),
        plantings=plantings,
        conflicts=conflicts_of(standing),
        squeezes=tuple(_squeezes(plantings)),
        strays=tuple(each for each in standing if each.planting_code and each.planting_code not in known),
        totals=totals_of(standing),
    )


def conflicts_of(standing: Iterable[LogRecord]) -> tuple[TickConflict, ...]:
    """Jobs reported finished more than once, on different days or with different amounts.

    An amount beside none is no contradiction: one of the two simply did not count.
    """
    finished: dict[str, list[LogRecord]] = {}
    for record in standing:
        if record.task_code and not record.partly and record.kind not in REPEATED_KINDS:
            finished.setdefault(record.task_code, []).append(record)
    found = []
    for code, ticks in sorted(finished.items()):
        amounts = {(tick.quantity, tick.unit) for tick in ticks if tick.quantity is not None}
        if len(amounts) > 1 or len({tick.day for tick in ticks}) > 1:
            found.append(TickConflict(code, tuple(ticks)))
    return tuple(found)


def conflicts_by_season(
    records: Iterable[LogRecord], season_starts: Mapping[str, date]
) -> tuple[TickConflict, ...]:
    """Contradictions in a log that goes on over years: the same job of two years is none."""
    seasons = records_by_season(records, season_starts)
    return tuple(
        conflict for _, lines in sorted(seasons.items()) for conflict in conflicts_of(standing_records(lines))
    )


def totals_of(standing: Iterable[LogRecord]) -> LogTotals:
    """Sums over lines that hold: harvest by crop, hours, rain, water."""
    picks: dict[str, list[LogRecord]] = {}
    hours_h = rain_mm = watered_l = 0.0
    for record in standing:
        hours_h += (record.person_min or 0.0) / 60
        if record.kind == "picked":
            picks.setdefault(record.crop, []).append(record)
        elif record.kind == "rain" and record.unit == "mm":
            rain_mm += record.quantity or 0.0
        elif record.kind == "watered" and record.unit == "L":
            watered_l += record.quantity or 0.0
    harvest = tuple(
        CropHarvest(crop, _kg(of), len(of), min(each.day for each in of), max(each.day for each in of))
        for crop, of in sorted(picks.items())
    )
    return LogTotals(harvest, sum(each.picked_kg for each in harvest), hours_h, rain_mm, watered_l)


def _kg(records: Iterable[LogRecord]) -> float:
    return sum(each.quantity or 0.0 for each in records if each.kind == "picked" and each.unit == "kg")


def _planting(planting: Planting, records: Sequence[LogRecord], season_start: date) -> PlantingLogged:
    dates = planting.dates
    under_cover = _finished_on(records, "sown under cover")
    in_ground = _finished_on(records, "sown" if planting.way == "sow" else "set out")
    if in_ground is None and dates.in_ground < season_start:
        in_ground = dates.in_ground
    late = 0
    if in_ground is not None:
        late = max(0, (in_ground - dates.in_ground).days)
    elif under_cover is not None and dates.sow_under_cover is not None:
        late = max(0, (under_cover - dates.sow_under_cover).days)
    emerged = _first_day(records, "emerged")
    picks = [each for each in records if each.kind == "picked"]
    n_plants, failed_on = _plants_left(planting, records)
    cleared = _finished_on(records, "cleared")
    moved = _moved(dates, late)
    return PlantingLogged(
        planting=planting,
        sown_under_cover_on=under_cover,
        in_ground_on=in_ground,
        late_days=late,
        emerged_on=emerged,
        failed_on=failed_on,
        n_plants=0 if cleared is not None else n_plants,
        first_picked_on=picks[0].day if picks else None,
        last_picked_on=picks[-1].day if picks else None,
        picked_kg=_kg(picks),
        cleared_on=cleared,
        dates=replace(
            moved,
            sow_under_cover=under_cover or dates.sow_under_cover,
            in_ground=in_ground or moved.in_ground,
            emerges=emerged or moved.emerges,
        ),
    )


def _finished_on(records: Iterable[LogRecord], kind: LogKind) -> date | None:
    """First day on which it was reported finished."""
    return min((each.day for each in records if each.kind == kind and not each.partly), default=None)


def _first_day(records: Iterable[LogRecord], kind: LogKind) -> date | None:
    return min((each.day for each in records if each.kind == kind), default=None)


def _plants_left(planting: Planting, records: Iterable[LogRecord]) -> tuple[int, date | None]:
    """Plants left after all counts and losses in order of days, and the day none was left."""
    n_plants, failed_on = planting.n_plants, None
    for record in records:
        if record.kind in {"counted", "thinned"} and record.quantity is not None and record.unit == "plants":
            n_plants = round(record.quantity)
        elif record.kind == "failed":
            lost = n_plants if record.quantity is None else round(record.quantity)
            n_plants = max(0, n_plants - lost)
        else:
            continue
        failed_on = record.day if n_plants == 0 else None
    return n_plants, failed_on


def _moved(dates: DateChoice, days: int) -> DateChoice:
    """Days of a planting from going into the ground on, moved by some days."""

    def later(day: date | None) -> date | None:
        return None if day is None else day + timedelta(days=days)

    by = timedelta(days=days)
    return replace(
        dates,
        harden_off_from=later(dates.harden_off_from),
        in_ground=dates.in_ground + by,
        emerges=later(dates.emerges),
        first_pick=dates.first_pick + by,
        first_pick_early=dates.first_pick_early + by,
        first_pick_late=dates.first_pick_late + by,
        last_pick=dates.last_pick + by,
        clear_by=dates.clear_by + by,
    )


def _by_task(tasks: Iterable[Task], standing: Iterable[LogRecord]) -> dict[str, list[LogRecord]]:
    """Lines of each task: those that name it, and those that tell of its kind and planting."""
    of_kind = {
        (log_kind_of(task.kind), task.planting_code): task.code
        for task in tasks
        if task.kind in KIND_OF_TASK and task.planting_code
    }
    codes = {task.code for task in tasks}
    found: dict[str, list[LogRecord]] = {}
    for record in standing:
        code = record.task_code if record.task_code in codes else None
        code = code or of_kind.get((record.kind, record.planting_code))
        if code is not None:
            found.setdefault(code, []).append(record)
    return found


def _task(
    task: Task, planting: PlantingLogged | None, records: Sequence[LogRecord], today: date
) -> TaskLogged:
    moved = 0 if planting is None or task.kind in _BEFORE_GROUND else planting.late_days
    if planting is not None and planting.in_ground_on is not None and task.kind in {"sow", "set out"}:
        moved = 0
    task = replace(task, start=task.start + timedelta(days=moved), end=task.end + timedelta(days=moved))
    finished = [each for each in records if not each.partly]
    amounts = [each.quantity for each in records if each.quantity is not None]
    if records and task.kind != "pick" and not any(each.partly for each in records):
        # Two reports of one job are not twice the job; the log shows where they differ.
        amounts = amounts[-1:]
    return TaskLogged(
        task=task,
        state=_state(task, planting, records, today),
        moved_days=moved,
        done_on=min((each.day for each in finished), default=None),
        quantity=sum(amounts) if amounts else None,
        record_ids=tuple(each.id for each in records),
    )


def _state(
    task: Task, planting: PlantingLogged | None, records: Sequence[LogRecord], today: date
) -> TaskState:
    if task.kind == "pick":
        # Picking ends with the crop, not with a crate.
        if planting is not None and planting.cleared_on is not None:
            return "done"
        gone = planting is not None and planting.failed_on is not None
        return "dropped" if gone else "going on" if records else "open"
    if any(not each.partly for each in records):
        return "done"
    if planting is not None and planting.failed_on is not None and task.kind != "clear":
        return "dropped"
    if records:
        return "partly"
    return "overdue" if task.end < today else "open"


def _squeezes(plantings: Sequence[PlantingLogged]) -> Iterable[Squeeze]:
    """Pairs on the same ground that now meet in time, though they were not planned to."""
    for one in plantings:
        if one.late_days == 0 or one.failed_on is not None or one.cleared_on is not None:
            continue
        for other in plantings:
            planned = other.planting.dates.in_ground
            if (
                other.in_ground_on is None
                and planned > one.planting.dates.clear_by
                and other.dates.in_ground <= one.dates.clear_by
                and _same_ground(one.planting, other.planting)
            ):
                overlap = (one.dates.clear_by - other.dates.in_ground).days + 1
                yield Squeeze(one.planting.code, other.planting.code, one.planting.bed_code, overlap)


def _same_ground(one: Planting, other: Planting) -> bool:
    return (
        one.bed_code == other.bed_code
        and one.along_m[0] < other.along_m[1] - _SMALL_M
        and other.along_m[0] < one.along_m[1] - _SMALL_M
        and one.across_m[0] < other.across_m[1] - _SMALL_M
        and other.across_m[0] < one.across_m[1] - _SMALL_M
    )
