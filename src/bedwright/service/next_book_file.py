"""The garden book of the next season as a new file beside the one of the season that is over."""

from __future__ import annotations

import os
from pathlib import Path

from bedwright.catalogue import load_catalogue
from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.model.season import SeasonPlan
from bedwright.service.load import book_from_text
from bedwright.service.next_book import next_book
from bedwright.store.book import text_of_file
from bedwright.store.weaving import weave


def write_next_book(book_file: Path, plan: SeasonPlan, target: Path) -> GardenBook:
    """Begin the garden book of the next season, with the comments of the old one.

    Parameters
    ----------
    book_file
        The book of the season that is over, as it is now.
    plan
        That season, as it was last planned.
    target
        A new file in the same folder, since a book names its weather record from there.

    Returns
    -------
    GardenBook
        What the new file says; see `next_book`.

    Raises
    ------
    BadDocumentError
        If the book has problems or is of another season, or the new one has problems or cannot be written;
        nothing is written then.
    """
    catalogue = load_catalogue()

    def read(text: str) -> GardenBook:
        return book_from_text(text, str(target), catalogue)

    if target.exists():
        raise _cannot(target, "a file that is there already", "a new file")
    if target.absolute().parent.resolve() != book_file.absolute().parent.resolve():
        hint = "A book names its weather record from its own folder."
        raise _cannot(target, str(target.parent), f"a file in {book_file.parent}", hint)
    text = text_of_file(book_file)
    book = book_from_text(text, str(book_file), catalogue)
    if not plan.is_of(book):
        expected = f"a day of the season that is over, which began {plan.book.season_start}"
        where = (str(book_file), None, None, "season.start")
        raise BadDocumentError((Problem(*where, str(book.season_start), expected),))
    new = weave(text, next_book(book, plan), read)
    found = read(new)
    _write_whole(target, new)
    return found


def _write_whole(target: Path, text: str) -> None:
    """The whole file or none."""
    work = target.with_name(f".{target.name}-{os.getpid()}")
    try:
        work.write_text(text, encoding="utf-8", newline="\n")
        work.rename(target)
    except OSError as error:
        work.unlink(missing_ok=True)
        raise _cannot(target, error.strerror or "no access", "a place that can be written to") from error


def _cannot(target: Path, got: str, expected: str, hint: str = "Nothing was changed.") -> BadDocumentError:
    return BadDocumentError((Problem(str(target), None, None, "--to", got, expected, hint),))
