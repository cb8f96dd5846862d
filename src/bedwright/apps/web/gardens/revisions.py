"""Keeping revisions, and going back and forth among them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction

from bedwright.apps.web.gardens.models import BookRevision, Garden, RevisionKind
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.people.models import User


class HeadMovedError(Exception):
    """Another revision was kept since the one that was to be followed."""


@transaction.atomic
def keep(
    garden: Garden,
    text: str,
    *,
    author: User | None,
    follows: BookRevision | None,
    note: str = "",
    kind: RevisionKind = RevisionKind.CHANGE,
) -> BookRevision:
    """Keep a text as the newest revision.

    Parameters
    ----------
    garden
        Its `head` and `name` are brought up to date.
    text
        A book without problems.
    author
        Who made it.
    follows
        The revision it was made from; None for a garden's first.
    note
        What was changed, in a few words.
    kind
        How it came about.

    Raises
    ------
    BadDocumentError
        If the text has problems; nothing is kept then.
    HeadMovedError
        If `follows` is not the newest any more; nothing is kept then.
    """
    book = book_of(text)
    locked = Garden.objects.select_for_update().get(pk=garden.pk)
    if locked.head_id != (follows.pk if follows else None):
        raise HeadMovedError
    revision = BookRevision.objects.create(
        garden=garden,
        number=follows.number + 1 if follows else 1,
        parent=follows,
        kind=kind,
        author=author,
        note=note[:200],
        text=text,
    )
    garden.head, garden.name = revision, book.site.name
    garden.save(update_fields=["head", "name"])
    return revision


@dataclass(frozen=True, slots=True)
class Steps:
    """Numbers of the revisions to which one can go back and forth, nearest last."""

    back: tuple[int, ...]
    forth: tuple[int, ...]


def steps(kinds: Iterable[tuple[int, str]]) -> Steps:
    """Where undoing and redoing lead, from the revisions in order.

    Parameters
    ----------
    kinds
        (number, kind) from the first revision on. A change makes a new state and forgets
        what was undone; undo and redo walk between states.
    """
    back: list[int] = []
    forth: list[int] = []
    here: int | None = None
    for number, kind in kinds:
        if kind == RevisionKind.UNDO and back and here is not None:
            forth.append(here)
            here = back.pop()
        elif kind == RevisionKind.REDO and forth and here is not None:
            back.append(here)
            here = forth.pop()
        else:
            if here is not None:
                back.append(here)
            here, forth = number, []
    return Steps(tuple(back), tuple(forth))


def steps_of(garden: Garden) -> Steps:
    """Where undoing and redoing lead in a garden."""
    return steps(garden.revisions.order_by("number").values_list("number", "kind"))


def undo(garden: Garden, author: User, follows: BookRevision) -> BookRevision | None:
    """Keep the text before the last change again; None if there is nothing to undo.

    Raises
    ------
    HeadMovedError
        If `follows` is not the newest any more.
    """
    return _step(garden, author, follows, steps_of(garden).back, RevisionKind.UNDO)


def redo(garden: Garden, author: User, follows: BookRevision) -> BookRevision | None:
    """Keep again what was undone last; None if there is nothing to redo.

    Raises
    ------
    HeadMovedError
        If `follows` is not the newest any more.
    """
    return _step(garden, author, follows, steps_of(garden).forth, RevisionKind.REDO)


def _step(
    garden: Garden, author: User, follows: BookRevision, numbers: tuple[int, ...], kind: RevisionKind
) -> BookRevision | None:
    if not numbers:
        return None
    target = garden.revisions.get(number=numbers[-1])
    note = f"{kind.value} to {target.number}"
    return keep(garden, target.text, author=author, follows=follows, note=note, kind=kind)
