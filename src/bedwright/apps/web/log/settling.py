"""Reports of one job that contradict each other: shown beside one another, and settled."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import Sender, accept
from bedwright.apps.web.log.amounts import amount_words
from bedwright.apps.web.log.listing import Listing
from bedwright.apps.web.log.models import LogEntry
from bedwright.apps.web.log.reading import all_records_of, season_starts
from bedwright.model.book import UnitSystem
from bedwright.service.season_log import conflicts_by_season


@dataclass(frozen=True, slots=True)
class ShownConflict:
    """One job with the reports that contradict each other."""

    kind: str
    crop: str
    where: str
    reports: tuple[tuple[LogEntry, str], ...]
    """Each with its amount in words."""
    adds_up: bool
    """True where every report has an amount of one unit."""


def conflicts_shown(found: Listing, units: UnitSystem) -> tuple[ShownConflict, ...]:
    """Contradictions of a log with what is known of each report."""
    shown = []
    for conflict in found.conflicts:
        entries = [found.entries[UUID(record.id)] for record in conflict.records]
        first = entries[0]
        shown.append(
            ShownConflict(
                kind=first.what,
                crop=first.crop,
                where=first.row_code or first.bed_code,
                reports=tuple((each, amount_words(each.quantity, each.unit, units)) for each in entries),
                adds_up=len({each.unit for each in entries}) == 1
                and all(each.quantity is not None for each in entries),
            )
        )
    return tuple(shown)


def settle_conflict(garden: Garden, sender: Sender, report: str, *, keep: str, add_up: bool) -> bool:
    """Settle the reports of one job, by lines that correct them.

    Parameters
    ----------
    garden
        The garden.
    sender
        Who decides.
    report
        Id of one of the reports.
    keep
        Id of the report that is right; unused with `add_up`.
    add_up
        True where all are right, each about a part of the job: the amounts add up.

    Returns
    -------
    bool
        False where there is no such contradiction any more.
    """
    conflicts = conflicts_by_season(all_records_of(garden), season_starts(garden))
    reports = [[record.id for record in each.records] for each in conflicts]
    ids = next((each for each in reports if report in each), None)
    if ids is None:
        return False
    if add_up:
        keep = ids[-1]
    if keep not in ids:
        return False
    others = garden.log_entries.filter(client_id__in=[each for each in ids if each != keep])
    accept(garden, sender, [_correction(entry, sender, partly=add_up) for entry in others])
    return True


def _correction(entry: LogEntry, sender: Sender, *, partly: bool) -> dict[str, Any]:
    item: dict[str, Any] = {
        "id": str(uuid.uuid4()), "written_at": sender.sent_at.isoformat(), "day": entry.day.isoformat(),
        "kind": entry.kind, "bed": entry.bed_code, "row": entry.row_code, "planting": entry.planting_code,
        "crop": entry.crop, "task": entry.task_code, "corrects": str(entry.client_id),
        "plan": entry.plan_digest,
    }  # fmt: skip
    if not partly:
        return item | {"struck": True}
    amount = {} if entry.quantity is None else {"quantity": entry.quantity, "unit": entry.unit}
    minutes = {} if entry.person_min is None else {"person_min": entry.person_min}
    return item | amount | minutes | {"partly": True, "note": entry.note, "n_people": entry.n_people}
