"""All that a phone needs to work through some weeks without a network, as plain data."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from typing import Any

from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.field.bed_plan import bed_plan
from bedwright.apps.web.field.instructions import instruction
from bedwright.apps.web.field.local_measures import LocalMeasures
from bedwright.apps.web.field.pictures import picture_of
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.reading import newest_plan_in, plan_in, record_of, season_in, zone_of
from bedwright.apps.web.log.wire import coming_code
from bedwright.apps.web.season import reading
from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.sentences import in_language
from bedwright.model.log import LoggedSeason, LogRecord, PlantingLogged
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.cautions import LOCAL_RULES
from bedwright.papers.measures import Measures
from bedwright.service.field_jobs import FieldJob, field_jobs, walking_order
from bedwright.service.season_log import log_kind_of, standing_records

DAYS_BACK = 3
DAYS_AHEAD = 18
"""Days a phone is given in advance: as long as somebody may be without any network."""


def season_data(garden: Garden, *, may_record: bool, author_id: int) -> dict[str, Any]:
    """What a phone keeps: jobs of three weeks, plantings, bed plans, walking order.

    No names and no notes of other people are in it, since a phone may be lost. First jobs of a season
    to come are among the others, their codes with the revision of its plan before them.
    """
    now = timezone.now()
    today = now.astimezone(zone_of(garden)).date()
    newest = plan_in(garden)
    common: dict[str, Any] = {
        "drawn_at": now.isoformat(),
        "garden": garden.name,
        "zone": str(zone_of(garden)),
        "may_record": may_record,
        "today": today.isoformat(),
    }
    if newest is None:
        return common | {"plan": None, "units": "metric", "jobs": [], "plantings": {}, "beds": [], "walk": []}
    saved, plan = newest
    entries = list(garden.log_entries.all())
    records = [record_of(entry) for entry in entries]
    mine = {str(entry.client_id) for entry in entries if entry.author_id == author_id}
    logged = season_in(garden, plan)
    first, last = today - timedelta(days=DAYS_BACK), today + timedelta(days=DAYS_AHEAD)
    jobs = field_jobs(plan, logged, first, last, hours=plan.care.hours if plan.care else None)
    measures = LocalMeasures(plan.book.site.units)
    plantings = {each.code: each for each in plan.plantings}
    starts_at, walk = walking_order(plan.book)
    lines = _lines_by_task(jobs, logged, standing_records(records))
    pictures: dict[str, str] = {}
    seen_coming: dict[str, PlantingLogged] = {}
    coming = newest_plan_in(garden)
    if coming is not None and coming[1].book.season_start > plan.book.season_start:
        new_jobs, seen_coming, new_lines = _coming(garden, coming[1], records, first, last)
        jobs = tuple(sorted((*jobs, *new_jobs), key=lambda job: (job.start, job.end, job.code)))
        plantings |= {code: each.planting for code, each in seen_coming.items()}
        lines |= new_lines
    return common | {
        "plan": plan.revision,
        "units": plan.book.site.units,
        "jobs": [_job(job, plantings, measures, pictures, lines.get(job.code, ()), mine) for job in jobs],
        "pictures": pictures,
        "plantings": {each.planting.code: _planting(each, measures) for each in logged.plantings},
        "coming": {code: _planting(each, measures) for code, each in seen_coming.items()},
        "beds": _beds(saved, saved.digest, get_language()),
        "walk": list(walk),
        "starts_at": _start_words(starts_at),
        "local": _(LOCAL_RULES),
        "signed_in": _signed_in(records, mine, today),
    }


def _coming(
    garden: Garden, plan: SeasonPlan, records: Iterable[LogRecord], first: date, last: date
) -> tuple[list[FieldJob], dict[str, PlantingLogged], dict[str, list[LogRecord]]]:
    """Jobs of some days from a plan whose season has not begun, such as sowing under cover.

    What stands over from the season before is left out: its jobs are told by the plan that is followed.
    Codes get the plan's revision before them, since those of the plan that is followed may be the same.
    """

    def marked(code: str) -> str:
        return coming_code(plan.revision, code)

    logged = season_in(garden, plan)
    new = {
        each.planting.code: each
        for each in logged.plantings
        if each.planting.dates.in_ground >= plan.book.season_start
    }
    found = field_jobs(plan, logged, first, last, hours=plan.care.hours if plan.care else None)
    jobs = [job for job in found if job.planting_code in new]
    lines = _lines_by_task(jobs, logged, standing_records(records))
    return (
        [replace(job, code=marked(job.code), planting_code=marked(job.planting_code or "")) for job in jobs],
        {marked(job.planting_code): new[job.planting_code] for job in jobs if job.planting_code},
        {marked(code): of_job for code, of_job in lines.items()},
    )


def _lines_by_task(
    jobs: Iterable[FieldJob], logged: LoggedSeason, standing: Iterable[LogRecord]
) -> dict[str, list[LogRecord]]:
    by_id = {record.id: record for record in standing}
    found = {
        each.task.code: [by_id[each_id] for each_id in each.record_ids]
        for each in logged.tasks
        if each.record_ids
    }
    found = {job.code: found[job.code] for job in jobs if job.code in found}
    spans = {job.code: job for job in jobs if job.code not in found}
    for record in by_id.values():
        job = spans.get(record.task_code)
        if job is not None and job.start <= record.day <= job.end:
            found.setdefault(job.code, []).append(record)
    return found


def _job(
    job: FieldJob,
    plantings: Mapping[str, Planting],
    measures: Measures,
    pictures: dict[str, str],
    lines: Iterable[LogRecord],
    mine: set[str],
) -> dict[str, Any]:
    planting = plantings.get(job.planting_code or "")
    picture = ""
    if planting is not None:
        picture = f"{job.kind}|{planting.crop.name}|{planting.variety}|{planting.way}"
        if picture not in pictures:
            pictures[picture] = picture_of(job.kind, planting, measures)
        picture = picture if pictures[picture] else ""
    return {
        "code": job.code,
        "kind": job.kind,
        "log": log_kind_of(job.kind),
        "words": instruction(job.kind, planting, measures, job.details),
        "start": job.start.isoformat(),
        "end": job.end.isoformat(),
        "bed": job.bed_code or "",
        "planting": job.planting_code or "",
        "state": job.state,
        "moved": job.moved_days,
        "min": None if job.likely_min is None else round(job.likely_min),
        "tools": [_(tool) for tool in job.tools],
        "cautions": [{"text": in_language(each.text), "source": each.source} for each in job.cautions],
        "every_day": job.goes_on,
        "picture": picture,
        "lines": [
            {
                "id": line.id, "day": line.day.isoformat(), "quantity": line.quantity, "unit": line.unit,
                "partly": line.partly, "mine": line.id in mine,
            }
            for line in lines
        ],
    }  # fmt: skip


def _start_words(starts_at: str) -> str:
    """Where the walk starts, in the reader's language; a name of the garden's own stays."""
    before, bed, code = starts_at.partition("peg of bed ")
    return _("peg of bed %(code)s") % {"code": code} if bed and not before else starts_at


def _planting(logged: PlantingLogged, measures: Measures) -> dict[str, Any]:
    planting, dates = logged.planting, logged.dates
    return {
        "code": planting.code,
        "label": planting.label_code,
        "crop": planting.crop.name,
        "name": _(planting.crop.name),
        "variety": planting.variety,
        "bed": planting.bed_code,
        "way": planting.way,
        "along": [measures.place(along_m) for along_m in planting.along_m],
        "rows": [row.code for row in planting.rows],
        "n": planting.n_plants,
        "left": logged.n_plants,
        "in_ground": dates.in_ground.isoformat(),
        "done": logged.in_ground_on.isoformat() if logged.in_ground_on else None,
        "late": logged.late_days,
        "pick": [dates.first_pick.isoformat(), dates.last_pick.isoformat()],
        "clear": (logged.cleared_on or dates.clear_by).isoformat(),
        "gone": logged.cleared_on is not None or logged.failed_on is not None,
        "failed": logged.failed_on is not None,
        "kg": round(logged.picked_kg, 3),
        "eaten": [_(part) for part in planting.crop.edible_parts],
        "not_eaten": [_(part) for part in planting.crop.poisonous_parts],
        "food": planting.crop.kind != "cover crop",
    }


@lru_cache(maxsize=16)
def _beds(saved: SavedPlan, digest: str, language: str | None) -> list[dict[str, Any]]:
    # Digest and language are part of the key: the drawings differ with them.
    plan = reading.plan_of(saved)
    measures = LocalMeasures(plan.book.site.units)
    return [
        {"code": bed.code, "name": bed.name, "plan": bed_plan(bed, plan.in_bed(bed.code), measures)}
        for bed in plan.book.beds
    ]


def _signed_in(records: Iterable[LogRecord], mine: set[str], today: date) -> list[dict[str, Any]]:
    """Own signings in of yesterday and today, so that another phone can sign out."""
    return [
        {"id": record.id, "at": record.at.isoformat()}
        for record in standing_records(records)
        if record.kind == "came" and record.id in mine and record.day >= today - timedelta(days=1)
    ]
