"""Pages of the book's sections: lists of entries, and forms made from the schema."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.entry.boxes import Box, every_box, place_problems
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.entry.words import name_of
from bedwright.apps.web.gardens.entry_form import EntryForm, form_of, section_or_404
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.opening import opened
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, save_document
from bedwright.apps.web.gardens.sections import Section
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.problem import BadDocumentError, Problem

ESTIMATED = frozenset({"wishes", "people", "goals", "beds"})
"""Sections beside which stands whether ground, weeks and hours suffice."""


@garden_page(Ability.READ, posting=Ability.EDIT)
def section(request: GardenRequest, garden: Garden, slug: str) -> HttpResponse:
    """A section: the list of its entries, or the form of a single record."""
    found = section_or_404(slug)
    if not found.is_list:
        return _form_page(request, garden, found, None)
    book = opened(garden)
    rows = [
        {"name": name, "cells": [cell(entry, book.units) for _label, cell in found.columns]}
        for name, entry in zip(found.names(book.document), found.value_in(book.document), strict=True)
    ]
    context = {
        "section": found,
        "rows": rows,
        "columns": [label for label, _cell in found.columns],
        "estimated": found.slug in ESTIMATED,
    }
    return render(request, "gardens/section.html", context)


@garden_page(Ability.EDIT, "GET", "POST")
def add(request: GardenRequest, garden: Garden, slug: str) -> HttpResponse:
    """A new entry."""
    found = section_or_404(slug)
    if not found.is_list:
        raise Http404
    return _form_page(request, garden, found, None)


@garden_page(Ability.READ, posting=Ability.EDIT)
def entry(request: GardenRequest, garden: Garden, slug: str, name: str) -> HttpResponse:
    """One entry of a list."""
    found = section_or_404(slug)
    if not found.is_list:
        raise Http404
    return _form_page(request, garden, found, name)


def _form_page(request: GardenRequest, garden: Garden, found: Section, name: str | None) -> HttpResponse:
    form = form_of(request, garden, found, name)
    if request.method == "POST":
        return _change(request, form, name)
    preset = {"crop": request.GET["crop"]} if "crop" in request.GET and form.index is None else {}
    return _show(request, form, form.boxes({**form.entry, **preset}), name)


def _change(request: GardenRequest, form: EntryForm, name: str | None) -> HttpResponse:
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
    form: EntryForm,
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
        "estimated": form.section.slug in ESTIMATED,
        "crop": form.entry.get("crop") if form.section.slug in {"wishes", "seed-drawer"} else None,
    }
    return render(request, "gardens/entry.html", context, status=status)
