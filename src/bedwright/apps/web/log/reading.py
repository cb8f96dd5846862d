"""The log of a garden as plain records, and the plan seen through it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import cast
from uuid import UUID
from zoneinfo import ZoneInfo

from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.log.seen import shelf
from bedwright.apps.web.season import reading
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.model.log import LoggedSeason, LogKind, LogRecord, LogUnit
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.service.season_log import in_season, records_by_season, season_as_logged


def record_of(entry: LogEntry) -> LogRecord:
    """One line as a plain record."""
    return LogRecord(
        id=str(entry.client_id),
        day=entry.day,
        kind=cast("LogKind", entry.kind),
        at=entry.at,
        bed_code=entry.bed_code,
        row_code=entry.row_code,
        planting_code=entry.planting_code,
        crop=entry.crop,
        task_code=entry.task_code,
        quantity=entry.quantity,
        unit=cast("LogUnit", entry.unit),
        person_min=entry.person_min,
        partly=entry.partly,
        corrects=str(entry.corrects or ""),
        struck=entry.struck,
        note=entry.note,
        plan_revision=entry.plan_digest,
    )


def all_records_of(garden: Garden) -> tuple[LogRecord, ...]:
    """Every line of a garden's log, corrected ones and those of other seasons too."""
    entries: Iterable[LogEntry] = garden.log_entries.all()
    return tuple(record_of(entry) for entry in entries)


def records_of(garden: Garden, plan: SeasonPlan) -> tuple[LogRecord, ...]:
    """Every line that tells of a plan's season, corrected ones too."""
    found = records_by_season(all_records_of(garden), season_starts(garden))
    return found.get(plan.book.season_start.year, ())


def season_starts(garden: Garden) -> dict[str, date]:
    """First day of the season of each plan that was made, by the plan's revision."""
    done = garden.plans.filter(state=PlanState.DONE, season_start__isnull=False)
    starts = done.values_list("digest", "season_start")
    return {digest: start for digest, start in starts if start is not None}


def followed(garden: Garden) -> SavedPlan | None:
    """The plan that the garden is worked by today; None while there is none.

    It is the newest; but one made in winter for the season to come is followed when that begins,
    and until then the one by which lines are written down.
    """
    newest = reading.newest(garden)
    today = today_in(garden)
    if newest is None or newest.season_start is None or newest.season_start <= today:
        return newest
    starts = season_starts(garden)
    earlier = {digest: start for digest, start in starts.items() if start.year < newest.season_start.year}
    begun = {digest for digest, start in earlier.items() if in_season(today, start)}
    if not garden.log_entries.filter(plan_digest__in=begun).exists():
        return newest
    done = garden.plans.filter(state=PlanState.DONE, digest__in=begun).defer("packed")
    return done.select_related("revision", "asked_by").order_by("-season_start", "-asked_at", "-pk").first()


def plan_in(garden: Garden) -> tuple[SavedPlan, SeasonPlan] | None:
    """The plan that a garden is worked by; None while there is none that this release reads."""
    return _with_plan(followed(garden))


def newest_plan_in(garden: Garden) -> tuple[SavedPlan, SeasonPlan] | None:
    """The newest plan of a garden; None while there is none that this release reads."""
    return _with_plan(reading.newest(garden))


def _with_plan(saved: SavedPlan | None) -> tuple[SavedPlan, SeasonPlan] | None:
    if saved is None:
        return None
    try:
        return saved, reading.plan_of(saved)
    except BadDocumentError:
        return None


def zone_of(garden: Garden) -> ZoneInfo:
    """The garden's time zone; UTC while its book says none."""
    try:
        book = head_book(garden)
    except BadDocumentError:
        book = None
    return ZoneInfo(book.site.time_zone if book is not None else "UTC")


def today_in(garden: Garden) -> date:
    """Today by the garden's own calendar."""
    return timezone.now().astimezone(zone_of(garden)).date()


def season_in(garden: Garden, plan: SeasonPlan) -> LoggedSeason:
    """A plan of the garden seen through its log today."""
    today = today_in(garden)

    def made() -> LoggedSeason:
        return season_as_logged(plan, records_of(garden, plan), today=today)

    return shelf().get((garden.pk, plan.revision, plan.made_on, today, _state_of_log(garden)), made)


def _state_of_log(garden: Garden) -> tuple[int, UUID | None]:
    """What differs whenever the log does: lines are added and taken away, never changed."""
    lines = garden.log_entries.order_by("-pk").values_list("client_id", flat=True)
    return lines.count(), lines.first()
