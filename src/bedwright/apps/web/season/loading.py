"""Book, weather record and catalogue of a revision, as the command line reads them."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from bedwright.apps.web.gardens.models import BookRevision
from bedwright.apps.web.gardens.reading import BOOK_NAME, book_of
from bedwright.apps.web.gardens.weather import put_beside_book
from bedwright.service.load import Loaded, load


@contextmanager
def book_folder(revision: BookRevision) -> Iterator[Path]:
    """A folder with the book of a revision and the record it names; gone afterwards."""
    with tempfile.TemporaryDirectory(prefix="bedwright-plan-") as work:
        folder = Path(work)
        (folder / BOOK_NAME).write_text(revision.text, encoding="utf-8")
        put_beside_book(revision.garden, book_of(revision.text).weather_file, folder)
        yield folder


def loaded_of(revision: BookRevision) -> Loaded:
    """A revision with all that it names.

    Raises
    ------
    BadDocumentError
        If book or record cannot be read any more.
    """
    with book_folder(revision) as folder:
        return load(folder / BOOK_NAME)
