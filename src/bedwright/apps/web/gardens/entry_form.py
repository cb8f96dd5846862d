"""One entry of the book as a form: what it is filled with, and the book as it would become."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.http import Http404

from bedwright.apps.web.gardens.entry.boxes import Box, Surroundings, boxes_of
from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.opening import OpenBook, opened
from bedwright.apps.web.gardens.sections import BY_SLUG, Section
from bedwright.apps.web.gardens.surroundings import surroundings_of
from bedwright.apps.web.people.access import GardenRequest


@dataclass(slots=True)
class EntryForm:
    """One entry of a section being looked at or changed."""

    garden: Garden
    section: Section
    book: OpenBook
    index: int | None
    """Place in the list, counted from 0; None for a new entry."""
    around: Surroundings

    @property
    def entry(self) -> Mapping[str, Any]:
        """The entry as it stands in the book."""
        value = self.section.value_in(self.book.document)
        if not self.section.is_list:
            return dict(value)
        return {} if self.index is None else dict(value[self.index])

    @property
    def where(self) -> str:
        """Path of the entry in the book, as problems name it."""
        path = ".".join(self.section.path)
        if not self.section.is_list:
            return path
        n_entries = len(self.section.value_in(self.book.document))
        return f"{path}[{(n_entries if self.index is None else self.index) + 1}]"

    def boxes(self, entry: Mapping[str, Any]) -> list[Box]:
        """Boxes filled with an entry."""
        return boxes_of(self.section.record, entry, self.around, skip=self.section.skip)

    def document_with(self, entry: Mapping[str, Any]) -> dict[str, Any]:
        """The book's document with the entry in its place."""
        kept = {key: self.entry[key] for key in self.section.skip if key in self.entry}
        value: Any = {**entry, **kept}
        if self.section.is_list:
            entries = list(self.section.value_in(self.book.document))
            if self.index is None:
                entries.append(value)
            else:
                entries[self.index] = value
            value = tuple(entries)
        return self.section.put_into(self.book.document, value)

    def document_without(self) -> dict[str, Any]:
        """The book's document without the entry."""
        entries = [
            entry
            for number, entry in enumerate(self.section.value_in(self.book.document))
            if number != self.index
        ]
        return self.section.put_into(self.book.document, tuple(entries))


def section_or_404(slug: str) -> Section:
    """The section of an address."""
    if slug not in BY_SLUG:
        raise Http404
    return BY_SLUG[slug]


def form_of(request: GardenRequest, garden: Garden, section: Section, name: str | None) -> EntryForm:
    """The form of an entry at the revision its page was opened at; name None: a new one, or a record."""
    book = opened(garden, _base(request, garden))
    index: int | None = None
    if name is not None:
        names = section.names(book.document)
        if name not in names:
            raise Http404
        index = names.index(name)
    return EntryForm(garden, section, book, index, surroundings_of(book.book))


def _base(request: GardenRequest, garden: Garden) -> BookRevision:
    """The revision that the page was opened at."""
    number = request.POST.get("base", "")
    found = garden.revisions.filter(number=int(number)).first() if number.isdecimal() else garden.head
    if found is None:
        raise Http404
    return found
