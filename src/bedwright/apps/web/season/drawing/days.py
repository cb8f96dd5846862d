"""Days a planting may be moved to."""

from __future__ import annotations

import tempfile
from collections.abc import Mapping
from datetime import date
from functools import lru_cache
from pathlib import Path

from bedwright.apps.web.gardens.models import BookRevision
from bedwright.apps.web.gardens.reading import BOOK_NAME, book_of
from bedwright.apps.web.gardens.weather import put_beside_book
from bedwright.apps.web.season.drawing.pins import request_code
from bedwright.apps.web.season.models import SavedPlan
from bedwright.model.season import Planting
from bedwright.service.load import load
from bedwright.service.possible_days import possible_days


def days_for(saved: SavedPlan, planting: Planting) -> tuple[date, ...]:
    """Days worked out for a planting from the book its plan was made from, earliest first.

    Raises
    ------
    BadDocumentError
        If book or record cannot be read any more.
    """
    days = _days(saved.revision_id, saved.today).get(request_code(planting), ())
    # The day it has stands always: the record may have been put in anew since.
    return tuple(sorted({*days, planting.dates.in_ground}))


@lru_cache(maxsize=4)
def _days(revision_id: int, today: date) -> Mapping[str, tuple[date, ...]]:
    # Some two seconds of work for a whole garden, and asked for again with every block moved.
    revision = BookRevision.objects.select_related("garden").get(pk=revision_id)
    with tempfile.TemporaryDirectory(prefix="bedwright-days-") as work:
        book_file = Path(work) / BOOK_NAME
        book_file.write_text(revision.text, encoding="utf-8")
        put_beside_book(revision.garden, book_of(revision.text).weather_file, Path(work))
        return possible_days(load(book_file), today=today)
