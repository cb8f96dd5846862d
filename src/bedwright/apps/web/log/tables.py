"""The log as a table for spreadsheets."""

from __future__ import annotations

import csv
import io

from bedwright.apps.web.log.listing import Listing

HEAD = (
    "id", "day", "what", "bed", "row", "planting", "crop", "task", "quantity", "unit", "person_min", "people",
    "partly", "note", "author", "written_at", "received_at", "clock", "clock_ahead_s", "stated_day",
    "corrects", "struck", "holds", "photos",
)  # fmt: skip
_FORMULA = ("=", "+", "-", "@", "\t", "\r")


def log_csv(found: Listing) -> str:
    """Lines as CSV (RFC 4180), one a line, amounts in SI units."""
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\r\n")
    write.writerow(HEAD)
    for line in found.lines:
        entry = line.entry
        write.writerow(
            [
                entry.client_id, entry.day, entry.kind, _plain(entry.bed_code), _plain(entry.row_code),
                _plain(entry.planting_code), _plain(entry.crop), _plain(entry.task_code),
                "" if entry.quantity is None else f"{entry.quantity:.6g}", entry.unit,
                "" if entry.person_min is None else entry.person_min, entry.n_people, int(entry.partly),
                _plain(entry.note), _plain(str(entry.author or "")), entry.written_at.isoformat(),
                entry.received_at.isoformat(), entry.clock, round(entry.clock_ahead_s),
                entry.stated_day or "", entry.corrects or "", int(entry.struck), int(line.holds),
                line.n_photos,
            ]
        )  # fmt: skip
    return out.getvalue()


def _plain(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return f"'{text}" if text.startswith(_FORMULA) else text
