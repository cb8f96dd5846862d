"""Garden books read against the catalogue, each text once."""

from __future__ import annotations

from functools import cache, lru_cache

from bedwright.apps.web.gardens.models import Garden
from bedwright.catalogue import load_catalogue
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.service.load import book_from_text

BOOK_NAME = "garden-book.yaml"


@cache
def catalogue() -> Catalogue:
    """The crops, read once in a process."""
    return load_catalogue()


@lru_cache(maxsize=64)
def book_of(text: str) -> GardenBook:
    """The book in a text.

    Raises
    ------
    BadDocumentError
        With every problem of the text, in the words of the command line.
    """
    return book_from_text(text, BOOK_NAME, catalogue())


def head_book(garden: Garden) -> GardenBook | None:
    """The book of the newest revision; None while there is none.

    Raises
    ------
    BadDocumentError
        If an older release accepted a book that this one does not.
    """
    return None if garden.head is None else book_of(garden.head.text)
