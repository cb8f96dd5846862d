"""Everything a garden holds, in one file that the command line can go on with."""

from __future__ import annotations

import csv
import io
import zipfile

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import BOOK_NAME
from bedwright.apps.web.season.models import PlanState

_LOG_COLUMNS = (
    "client_id", "day", "kind", "bed_code", "row_code", "planting_code", "crop", "task_code", "quantity",
    "unit", "person_min", "n_people", "ends", "partly", "corrects", "struck", "note", "plan_digest",
    "author", "written_at",
)  # fmt: skip


def garden_zip(garden: Garden) -> bytes:
    """The book with its weather records, all revisions, the log and the plans.

    `garden-book.yaml` stands beside the weather record it names, so that
    `bedwright plan garden-book.yaml` works in the unpacked folder.
    """
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        if garden.head is not None:
            packed.writestr(BOOK_NAME, garden.head.text)
        for kept in garden.weather_files.all():
            packed.writestr(kept.name, kept.content)
        for revision in garden.revisions.order_by("number"):
            packed.writestr(f"revisions/{revision.number:05}.yaml", revision.text)
        packed.writestr("revisions.csv", _revisions_table(garden))
        packed.writestr("log.csv", log_table(garden))
        for photo in garden.log_photos.all():
            if photo.path.is_file():
                packed.write(photo.path, f"photographs/{photo.path.name}")
        plans = garden.plans.filter(state=PlanState.DONE).order_by("pk")
        for plan in plans:
            packed.writestr(f"plans/{plan.pk:05}-{plan.digest}/season.json", plan.json)
        newest = plans.last()
        if newest is not None:
            packed.writestr("season.json", newest.json)
    return out.getvalue()


def log_table(garden: Garden) -> str:
    """The log as CSV, oldest line first."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_LOG_COLUMNS)
    for line in garden.log_entries.select_related("author").order_by("day", "written_at", "pk"):
        author = line.author.name if line.author else ""
        values = [getattr(line, name) for name in _LOG_COLUMNS[:-2]]
        writer.writerow(
            [*("" if value is None else value for value in values), author, line.written_at.isoformat()]
        )
    return out.getvalue()


def _revisions_table(garden: Garden) -> str:
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(("number", "made_at", "kind", "author", "note"))
    for revision in garden.revisions.select_related("author").order_by("number"):
        author = revision.author.name if revision.author else ""
        writer.writerow((revision.number, revision.made_at.isoformat(), revision.kind, author, revision.note))
    return out.getvalue()
