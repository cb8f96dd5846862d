"""A garden's book opened for a page."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import Http404

from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.model.book import GardenBook, UnitSystem
from bedwright.store.book.document import to_document


@dataclass(frozen=True, slots=True)
class OpenBook:
    """One revision, read."""

    revision: BookRevision
    book: GardenBook
    document: dict[str, Any]

    @property
    def units(self) -> UnitSystem:
        """Units of the garden's pages and papers."""
        return self.book.site.units


def opened(garden: Garden, revision: BookRevision | None = None) -> OpenBook:
    """The newest revision, or a given one.

    Raises
    ------
    Http404
        If the garden has none.
    BadDocumentError
        If an older release accepted what this one does not.
    """
    found = revision or garden.head
    if found is None:
        raise Http404
    book = book_of(found.text)
    return OpenBook(found, book, to_document(book))
