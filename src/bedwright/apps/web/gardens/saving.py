"""Changes of a book kept as a new revision, merged with what others changed meanwhile."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from bedwright.apps.web.gardens.document import Raw, book_of_document
from bedwright.apps.web.gardens.joining_lines import join_lines
from bedwright.apps.web.gardens.merging import merge
from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.revisions import HeadMovedError, keep
from bedwright.apps.web.people.models import User
from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book.document import to_document
from bedwright.store.weaving import weave

_ATTEMPTS = 5


@dataclass(frozen=True, slots=True)
class Saved:
    """What became of a change."""

    revision: BookRevision
    merged: bool
    """True where it was put together with somebody else's."""
    changed: bool
    """False where the book said the same already; no revision was made then."""


class ChangedMeanwhileError(Exception):
    """Somebody else changed the same entries since the page was opened; nothing was kept."""

    def __init__(
        self, head: BookRevision, parts: tuple[str, ...], problems: tuple[Problem, ...] = ()
    ) -> None:
        super().__init__(f"changed meanwhile: {', '.join(parts)}")
        self.head = head
        self.parts = parts
        """Entries that both changed, such as `wishes carrot-2`."""
        self.problems = problems
        """Where the two changes fit together but not into one sound book."""


def save_document(
    garden: Garden,
    *,
    base_number: int,
    document: Mapping[str, Raw],
    author: User | None,
    note: str = "",
) -> Saved:
    """Keep a changed book, given as a document.

    Parameters
    ----------
    garden
        The garden.
    base_number
        Number of the revision that was changed.
    document
        The whole changed document.
    author
        Who changed it.
    note
        What was changed, in a few words.

    Raises
    ------
    BadDocumentError
        With every problem of the document.
    ChangedMeanwhileError
        If the change cannot be put together with a newer revision.
    BookRevision.DoesNotExist
        If the garden has no revision of that number.
    """
    base = garden.revisions.get(number=base_number)
    mine = book_of_document(document)

    def text_on(head: BookRevision) -> str:
        if head.pk == base.pk or book_of(head.text) == book_of(base.text):
            return weave(head.text, mine, book_of)
        merged = merge(*(to_document(each) for each in (book_of(base.text), mine, book_of(head.text))))
        if merged.conflicts:
            raise ChangedMeanwhileError(head, merged.conflicts)
        return weave(head.text, _sound(head, merged.document), book_of)

    return _save(garden, base, text_on, author, note)


def save_text(garden: Garden, *, base_number: int, text: str, author: User | None, note: str = "") -> Saved:
    """Keep a changed book, given as its whole text; comments and layout are kept as written.

    Raises
    ------
    BadDocumentError
        With every problem of the text.
    ChangedMeanwhileError
        If the change cannot be put together, line by line, with a newer revision.
    BookRevision.DoesNotExist
        If the garden has no revision of that number.
    """
    base = garden.revisions.get(number=base_number)
    mine = tidy(text)
    book_of(mine)

    def text_on(head: BookRevision) -> str:
        if head.pk == base.pk or head.text == base.text:
            return mine
        joined = join_lines(base.text, mine, head.text)
        if joined is None:
            raise ChangedMeanwhileError(head, ("lines of the text",))
        try:
            book_of(joined)
        except BadDocumentError as error:
            raise ChangedMeanwhileError(head, (), error.problems) from error
        return joined

    return _save(garden, base, text_on, author, note)


def tidy(text: str) -> str:
    """A text with the line ends of files, as browsers send others."""
    return text.replace("\r\n", "\n").replace("\r", "\n").removeprefix("\N{BYTE ORDER MARK}")


def _sound(head: BookRevision, document: Mapping[str, Raw]) -> GardenBook:
    try:
        return book_of_document(document)
    except BadDocumentError as error:
        raise ChangedMeanwhileError(head, (), error.problems) from error


def _save(
    garden: Garden,
    base: BookRevision,
    text_on: Callable[[BookRevision], str],
    author: User | None,
    note: str,
) -> Saved:
    """Keep the text that a change gives on the newest revision, whichever that is by now."""
    head = base
    for _ in range(_ATTEMPTS):
        garden.refresh_from_db()
        head = garden.head or base
        text = text_on(head)
        if text == head.text:
            return Saved(head, merged=False, changed=False)
        try:
            revision = keep(garden, text, author=author, follows=head, note=note)
        except HeadMovedError:
            continue
        return Saved(revision, merged=head.pk != base.pk, changed=True)
    raise ChangedMeanwhileError(head, ())
