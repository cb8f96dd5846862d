"""Pinning a planting where and when it is, and letting it go again."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.revisions import HeadMovedError, steps_of, undo
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, Saved, save_document
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.drawing.pins import freed, keeping
from bedwright.apps.web.season.drawing.plan_data import name_of
from bedwright.apps.web.season.drawing.views import context_of, done_plan, planting_or_404
from bedwright.apps.web.season.drawing.views_why import page_or_panel, panel_context
from bedwright.apps.web.season.models import SavedPlan
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import Pin
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import Planting, SeasonPlan
from bedwright.store.book.document import to_document
from bedwright.store.book.pins import pin_document

Change = Callable[[tuple[Pin, ...]], tuple[Pin, ...]]


class NotSavedError(Exception):
    """The book could not take the change; the reason in words."""


@garden_page(Ability.EDIT, "POST")
def pin(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Hold a planting where and when it is, whenever the plan is made again."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    note = _("pinned %(what)s") % {"what": called(planting)}
    return _answer(request, garden, saved, planting, lambda pins: keeping(plan, planting, pins), note)


@garden_page(Ability.EDIT, "POST")
def unpin(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Leave a planting to the planner again."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    note = _("unpinned %(what)s") % {"what": called(planting)}
    return _answer(request, garden, saved, planting, lambda pins: freed(plan, planting, pins), note)


@garden_page(Ability.EDIT, "POST")
def undo_pin(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Go back one revision of the book, if it is still the one the panel spoke of."""
    saved = done_plan(garden, plan_id)
    planting = planting_or_404(plan_of(saved), code)
    head, told = garden.head, _("Somebody has changed the book meanwhile; nothing was undone.")
    if head is not None and request.POST.get("base") == str(head.number) and steps_of(garden).back:
        try:
            undo(garden, request.user, head)
            told = _("Undone.")
        except HeadMovedError:
            pass
    return panel(request, garden, saved, planting, {"told": told})


def called(planting: Planting) -> str:
    """A planting by its first row and its name."""
    return f"{planting.label_code} {name_of(planting)}"


def panel(
    request: GardenRequest, garden: Garden, saved: SavedPlan, planting: Planting, more: dict[str, object]
) -> HttpResponse:
    """The panel of a planting, with what was done."""
    plan = plan_of(saved)
    context = context_of(garden, saved, plan, "why") | panel_context(garden, plan, planting) | more
    return render(request, page_or_panel(request, "season/drawing_why"), context)


def _answer(
    request: GardenRequest, garden: Garden, saved: SavedPlan, planting: Planting, change: Change, note: str
) -> HttpResponse:
    try:
        kept = save_pins(request, garden, plan_of(saved), change, note)
    except NotSavedError as error:
        return panel(request, garden, saved, planting, {"refused": str(error)})
    if not request.htmx:
        return redirect("season:why", garden.pk, saved.pk, planting.code)
    return panel(request, garden, saved, planting, {"kept": kept if kept.changed else None})


def save_pins(request: GardenRequest, garden: Garden, plan: SeasonPlan, change: Change, note: str) -> Saved:
    """Keep a book with other pins as a new revision.

    Raises
    ------
    NotSavedError
        If the book does not take them, is of another season than the plan, or somebody else changed the
        same ones.
    """
    if garden.head is None:
        raise NotSavedError(gettext_noop("There is no garden book yet."))
    book = book_of(garden.head.text)
    if not plan.is_of(book):
        raise NotSavedError(
            gettext_noop(
                "The garden book is of another season by now; nothing of this plan is settled in it."
            )
        )
    document = {key: value for key, value in to_document(book).items() if key != "pins"}
    pins = tuple(pin_document(each) for each in change(book.pins))
    if pins:
        document["pins"] = pins
    try:
        return save_document(
            garden, base_number=garden.head.number, document=document, author=request.user, note=note
        )
    except BadDocumentError as error:
        found = [f"Got {each.got}; expected {each.expected}." for each in error.problems]
        raise NotSavedError(" ".join(found)) from error
    except ChangedMeanwhileError as error:
        raise NotSavedError(
            gettext_noop("Somebody changed the same entries meanwhile. Nothing was kept.")
        ) from error
