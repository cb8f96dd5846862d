"""Pages of the book's sections: lists of entries, and forms made from the schema."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.entry.boxes import Box, Surroundings, boxes_of, every_box, place_problems
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.entry.words import name_of
from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.opening import OpenBook, opened
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, save_document
from bedwright.apps.web.gardens.sections import BY_SLUG, Section
from bedwright.apps.web.gardens.surroundings import surroundings_of
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.problem import BadDocumentError, Problem


@dataclass(slots=True)
class _Form:
    """One entry being looked at or changed."""

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


@garden_page(Ability.READ, posting=Ability.EDIT)
def section(request: GardenRequest, garden: Garden, slug: str) -> HttpResponse:
    """A section: the list of its entries, or the form of a single record."""
    found = _section(slug)
    if not found.is_list:
        return _form_page(request, garden, found, None)
    book = opened(garden)
    rows = [
        {"name": name, "cells": [cell(entry, book.units) for _label, cell in found.columns]}
        for name, entry in zip(found.names(book.document), found.value_in(book.document), strict=True)
    ]
    context = {"section": found, "rows": rows, "columns": [label for label, _cell in found.columns]}
    return render(request, "gardens/section.html", context)


@garden_page(Ability.EDIT, "GET", "POST")
def add(request: GardenRequest, garden: Garden, slug: str) -> HttpResponse:
    """A new entry."""
    found = _section(slug)
    if not found.is_list:
        raise Http404
    return _form_page(request, garden, found, None)


@garden_page(Ability.READ, posting=Ability.EDIT)
def entry(request: GardenRequest, garden: Garden, slug: str, name: str) -> HttpResponse:
    """One entry of a list."""
    found = _section(slug)
    if not found.is_list:
        raise Http404
    return _form_page(request, garden, found, name)


def _section(slug: str) -> Section:
    if slug not in BY_SLUG:
        raise Http404
    return BY_SLUG[slug]


def _form_page(request: GardenRequest, garden: Garden, found: Section, name: str | None) -> HttpResponse:
    base = _base(request, garden)
    book = opened(garden, base)
    index: int | None = None
    if name is not None:
        names = found.names(book.document)
        if name not in names:
            raise Http404
        index = names.index(name)
    form = _Form(garden, found, book, index, surroundings_of(book.book))
    if request.method == "POST":
        return _change(request, form, name)
    preset = {"crop": request.GET["crop"]} if "crop" in request.GET and index is None else {}
    return _show(request, form, form.boxes({**form.entry, **preset}), name)


def _base(request: GardenRequest, garden: Garden) -> BookRevision:
    """The revision that the page was opened at."""
    number = request.POST.get("base", "")
    found = garden.revisions.filter(number=int(number)).first() if number.isdecimal() else garden.head
    if found is None:
        raise Http404
    return found


def _change(request: GardenRequest, form: _Form, name: str | None) -> HttpResponse:
    label = str(form.section.label)
    posted: dict[str, Any] = {}
    if "remove" in request.POST and form.index is not None:
        document, note = form.document_without(), f"{label}: {name} removed"
    else:
        posted = entry_of(form.boxes(form.entry), request.POST, get_language() or "en")
        document, note = form.document_with(posted), f"{label}: {name}" if name else label
    try:
        saved = save_document(
            form.garden,
            base_number=form.book.revision.number,
            document=document,
            author=request.user,
            note=note,
        )
    except BadDocumentError as error:
        boxes = form.boxes(posted or form.entry)
        elsewhere = place_problems(boxes, error.problems, form.where if posted else "-")
        return _show(request, form, boxes, name, problems=elsewhere, status=422)
    except ChangedMeanwhileError as error:
        # The next attempt starts from the newer revision, knowingly.
        return _show(request, form, form.boxes(posted or form.entry), name, conflict=error, status=409)
    if not saved.changed:
        messages.info(request, _("Nothing was changed."))
    elif saved.merged:
        messages.success(request, _("Kept, together with changes somebody else made meanwhile."))
    else:
        messages.success(request, _("Kept as revision %(number)s.") % {"number": saved.revision.number})
    return redirect("book:section", form.garden.pk, form.section.slug)


def _show(
    request: GardenRequest,
    form: _Form,
    boxes: list[Box],
    name: str | None,
    *,
    problems: list[Problem] | None = None,
    conflict: ChangedMeanwhileError | None = None,
    status: int = 200,
) -> HttpResponse:
    context = {
        "section": form.section,
        "entry_word": _(name_of(form.section.record)),
        "boxes": boxes,
        "name": name,
        "is_new": form.section.is_list and form.index is None,
        "base": conflict.head.number if conflict else form.book.revision.number,
        "problems": problems or [],
        "faulty": [box for box in every_box(boxes) if box.problems],
        "conflict": conflict,
        "crop": form.entry.get("crop") if form.section.slug in {"wishes", "seed-drawer"} else None,
    }
    return render(request, "gardens/entry.html", context, status=status)
