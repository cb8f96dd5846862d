"""Lines of the log as the pages list them: which hold, which were corrected, what they sum to."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.http import QueryDict
from django.utils.dateparse import parse_date

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.log.amounts import amount_words
from bedwright.apps.web.log.models import Kind, LogEntry
from bedwright.apps.web.log.reading import record_of, season_starts
from bedwright.model.book import UnitSystem
from bedwright.model.log import LogTotals, TickConflict
from bedwright.model.problem import BadDocumentError
from bedwright.service.season_log import conflicts_by_season, standing_records, totals_of


@dataclass(frozen=True, slots=True)
class Filter:
    """What is looked for; empty fields let everything through."""

    bed: str = ""
    crop: str = ""
    kind: str = ""
    first: date | None = None
    last: date | None = None
    history: bool = False
    """Also lines that were corrected or taken away."""

    def passes(self, entry: LogEntry) -> bool:
        """Whether a line is one of those looked for."""
        return (
            (not self.bed or entry.bed_code == self.bed)
            and (not self.crop or entry.crop == self.crop)
            and (not self.kind or entry.kind == self.kind)
            and (self.first is None or entry.day >= self.first)
            and (self.last is None or entry.day <= self.last)
        )


def filter_of(query: QueryDict) -> Filter:
    """What an address asks for; what makes no sense is let through."""
    return Filter(
        bed=query.get("bed", ""),
        crop=query.get("crop", ""),
        kind=query.get("kind", "") if query.get("kind", "") in Kind.values else "",
        first=_day(query.get("first", "")),
        last=_day(query.get("last", "")),
        history=query.get("history") == "1",
    )


def _day(text: str) -> date | None:
    try:
        return parse_date(text)
    except ValueError:
        return None


@dataclass(frozen=True, slots=True)
class Listed:
    """One line with what has become of it."""

    entry: LogEntry
    amount: str
    hours: float | None
    holds: bool
    n_photos: int


@dataclass(frozen=True, slots=True)
class Listing:
    """Lines that pass a filter, newest day first, with sums and contradictions."""

    lines: tuple[Listed, ...]
    totals: LogTotals
    """Over the lines that pass and hold."""
    conflicts: tuple[TickConflict, ...]
    """Over the whole log."""
    entries: dict[UUID, LogEntry]
    """Of the whole log, by id of the sender."""
    beds: tuple[str, ...]
    crops: tuple[str, ...]


def units_of(garden: Garden) -> UnitSystem:
    """The garden's system of units."""
    try:
        book = head_book(garden)
    except BadDocumentError:
        book = None
    return book.site.units if book is not None else "metric"


def listing(garden: Garden, wanted: Filter) -> Listing:
    """The lines of a garden's log that pass a filter."""
    entries = list(garden.log_entries.select_related("author"))
    records = {entry.client_id: record_of(entry) for entry in entries}
    standing = standing_records(records.values())
    held = {record.id for record in standing}
    photos: dict[UUID, int] = {}
    for entry_id in garden.log_photos.values_list("entry_id_of_client", flat=True):
        photos[entry_id] = photos.get(entry_id, 0) + 1
    units = units_of(garden)
    passing = [entry for entry in entries if wanted.passes(entry)]
    return Listing(
        lines=tuple(
            Listed(
                entry,
                amount_words(entry.quantity, entry.unit, units),
                None if entry.person_min is None else entry.person_min / 60,
                str(entry.client_id) in held,
                photos.get(entry.client_id, 0),
            )
            for entry in passing
            if wanted.history or str(entry.client_id) in held
        ),
        totals=totals_of(records[entry.client_id] for entry in passing if str(entry.client_id) in held),
        conflicts=conflicts_by_season(records.values(), season_starts(garden)),
        entries={entry.client_id: entry for entry in entries},
        beds=tuple(sorted({entry.bed_code for entry in entries if entry.bed_code})),
        crops=tuple(sorted({entry.crop for entry in entries if entry.crop})),
    )


def family_of(garden: Garden, entry: LogEntry) -> Sequence[LogEntry]:
    """A line with everything it corrects and everything that corrects it, oldest first."""
    found = {entry.client_id: entry}
    open_ids = {entry.client_id}
    back = {entry.corrects} if entry.corrects else set()
    lines = garden.log_entries.select_related("author")
    while open_ids or back:
        new = list(lines.filter(corrects__in=open_ids)) + list(lines.filter(client_id__in=back))
        fresh = {each.client_id: each for each in new if each.client_id not in found}
        found |= fresh
        open_ids = set(fresh)
        back = {each.corrects for each in fresh.values() if each.corrects and each.corrects not in found}
    return sorted(found.values(), key=lambda each: (each.at, each.pk))
