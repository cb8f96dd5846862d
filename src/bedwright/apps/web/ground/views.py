"""The page of the site plan, and what its scripts ask for."""

from __future__ import annotations

import json
from typing import Any, Never

from django.db import transaction
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.answers import conflict_json, problems_json
from bedwright.apps.web.gardens.models import BookRevision, Garden
from bedwright.apps.web.gardens.reading import book_of, head_book
from bedwright.apps.web.gardens.revisions import HeadMovedError, redo, undo
from bedwright.apps.web.gardens.saving import ChangedMeanwhileError, save_document
from bedwright.apps.web.ground.answers import ground_state, plants_of
from bedwright.apps.web.ground.draft import UnsoundDraftError, drafted
from bedwright.apps.web.ground.form import form_of_ground, kinds, months
from bedwright.apps.web.ground.references import with_bed_codes
from bedwright.apps.web.ground.sun_shelf import shelf
from bedwright.apps.web.ground.texts import texts
from bedwright.apps.web.people.access import Ability, GardenRequest, allows, garden_page
from bedwright.apps.web.season.reading import newest, plan_of
from bedwright.model.book import GardenBook
from bedwright.model.problem import BadDocumentError
from bedwright.papers.scale import usual_scales
from bedwright.service.site_sun import SiteSun, site_sun
from bedwright.store.book.document import to_document


@garden_page(Ability.READ)
def plan(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The site plan; an editor for those who may change the book."""
    book = head_book(garden)
    if book is None or garden.head is None:
        return render(request, "ground/empty.html")
    data = {
        "state": ground_state(garden, garden.head),
        "book": form_of_ground(),
        "texts": texts(),
        "units": book.site.units,
        "paper": book.site.paper,
        "scales": [(scale.ratio, scale.words) for scale in usual_scales(book.site.units)],
        "may_edit": allows(request.membership, Ability.EDIT),
        "season_start": book.season_start,
        "urls": {
            name: reverse(f"ground:{name}", args=[garden.pk])
            for name in ("now", "plants", "sun", "save", "step")
        },
    }
    context = {
        "book": book,
        "data": data,
        "kinds": kinds(),
        "months": months(),
        "longest_days": 12 if book.site.southern else 6,
        "page_title": _("Site plan"),
    }
    return render(request, "ground/plan.html", context)


@garden_page(Ability.READ)
def now(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Beds and features as last saved by anybody."""
    if garden.head is None:
        return _refused(_("There is no garden book yet."))
    return JsonResponse(ground_state(garden, garden.head))


@garden_page(Ability.READ)
def plants(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Places of all plants of the newest season plan."""
    saved = newest(garden)
    if saved is None:
        return JsonResponse({"plan": None, "plantings": []})
    try:
        plantings = plants_of(plan_of(saved))
    except BadDocumentError:
        # Made by an older release; the pages of the season say so and offer to make it again.
        return JsonResponse({"plan": None, "plantings": []})
    return JsonResponse({"plan": saved.pk, "plantings": plantings})


@garden_page(Ability.READ, "POST")
def sun(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Hours of sun over the site as it is being drawn, in one month."""
    book = head_book(garden)
    try:
        asked = _asked(request)
        if book is None:
            return _refused(_("There is no garden book yet."))
        site, beds = drafted(book.site, asked.get("features"), asked.get("beds"))
        key = (garden.pk, request.user.pk)
        answer = site_sun(site, beds, int(asked.get("month", 6)), before=shelf().get(key))
    except (UnsoundDraftError, ValueError, TypeError) as error:
        return _refused(str(error), 422)
    shelf().put(key, answer)
    return JsonResponse(_sun_answer(answer))


def _sun_answer(answer: SiteSun) -> dict[str, Any]:
    n_north, n_east = answer.sun_h.shape
    return {
        "month": answer.month,
        "west_m": answer.west_m,
        "south_m": answer.south_m,
        "cell_m": answer.cell_m,
        "n_east": n_east,
        "n_north": n_north,
        # Tenths of an hour, row by row from the south: short to send, and finer than can be seen.
        "tenths_h": (answer.sun_h * 10).round().astype(int).ravel().tolist(),
        "bed_sun_h": {code: round(hours, 2) for code, hours in answer.bed_sun_h.items()},
    }


@garden_page(Ability.EDIT, "POST")
def save(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Keep beds and features as drawn, as a new revision of the whole book."""
    try:
        asked = _asked(request)
        base = garden.revisions.get(number=int(asked["base"]))
        document = _document(book_of(base.text), asked)
    except (BookRevision.DoesNotExist, KeyError, TypeError, ValueError):
        return _refused(_("This page is too old to be saved. Open it again."))
    try:
        saved = save_document(
            garden,
            base_number=base.number,
            document=document,
            author=request.user,
            note=str(asked.get("note", "")),
        )
    except BadDocumentError as error:
        return problems_json(error)
    except ChangedMeanwhileError as error:
        return conflict_json(error)
    others = garden.revisions.filter(number__gt=base.number, number__lt=saved.revision.number)
    return JsonResponse(
        {
            **ground_state(garden, saved.revision),
            "merged": saved.merged,
            "changed": saved.changed,
            "others": ", ".join(
                sorted({str(each.author or "") for each in others.select_related("author")} - {""})
            ),
        }
    )


@garden_page(Ability.EDIT, "POST")
def step(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Undo the newest revision, or redo what was undone."""
    try:
        asked = _asked(request)
        base = garden.revisions.get(number=int(asked["base"]))
        walk = {"undo": undo, "redo": redo}[asked["direction"]]
    except (BookRevision.DoesNotExist, KeyError, TypeError, ValueError):
        return _refused(_("This page is too old to be saved. Open it again."))
    try:
        with transaction.atomic():
            revision = walk(garden, request.user, base)
    except HeadMovedError:
        return _refused(_("Somebody has saved meanwhile. Open the page again before you undo."), 409)
    if revision is None:
        return _refused(_("There is nothing to undo or redo."), 409)
    return JsonResponse(ground_state(garden, revision))


def _document(book: GardenBook, asked: dict[str, Any]) -> dict[str, Any]:
    """The book of the base with the beds and features that were sent."""
    document: dict[str, Any] = to_document(book)
    new_codes: dict[str, str | None] = {
        str(old): str(new) for old, new in dict(asked.get("new_codes") or {}).items()
    }
    new_codes.update({str(code): None for code in list(asked.get("forget") or [])})
    document = with_bed_codes(document, new_codes)
    return {
        **document,
        "beds": list(asked["beds"]),
        "site": {**document["site"], "features": list(asked["features"])},
    }


def _asked(request: HttpRequest) -> dict[str, Any]:
    asked = json.loads(request.body, parse_constant=_no_number)
    if not isinstance(asked, dict):
        raise TypeError("expected a record")
    return asked


def _no_number(word: str) -> Never:
    raise ValueError(f"{word} is no number")


def _refused(text: str, status: int = 400) -> JsonResponse:
    return JsonResponse({"text": text}, status=status)
