"""The catalogue: crops to search and wish for, with facts and sources."""

from __future__ import annotations

from typing import get_args

from django.http import Http404, HttpResponse
from django.shortcuts import render

from bedwright.apps.web.gardens.crop_facts import findings_of, matching, quantities_of
from bedwright.apps.web.gardens.crop_words import as_in_book, crop_word
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.opening import opened
from bedwright.apps.web.gardens.reading import catalogue
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.catalogue import crop_named, nearest_crops
from bedwright.model.crop import CropKind


@garden_page(Ability.READ)
def crops(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Crops that match what is typed; only the list for a page that asks with htmx."""
    known = catalogue()
    words, kind = request.GET.get("q", "").strip(), request.GET.get("kind", "")
    meant = crop_named(str(as_in_book("crop", words)), known) if words else None
    found = matching(known.crops.values(), words, kind, meant.name if meant else None)
    wished: dict[str, int] = {}
    for wish in opened(garden).book.wishes:
        wished[wish.crop] = wished.get(wish.crop, 0) + 1
    context = {
        "q": words,
        "kind": kind,
        "kinds": get_args(CropKind),
        "crops": [
            (crop, wished.get(crop.name, 0))
            for crop in sorted(found, key=lambda crop: crop_word(crop.name).casefold())
        ],
        "nearest": nearest_crops(words, known) if words and not found else (),
    }
    template = "gardens/crop_list.html" if request.htmx else "gardens/crops.html"
    return render(request, template, context)


@garden_page(Ability.READ)
def crop(request: GardenRequest, garden: Garden, name: str) -> HttpResponse:
    """Everything known of one crop."""
    known = catalogue()
    found = crop_named(name, known)
    if found is None:
        raise Http404
    context = {
        "crop": found,
        "quantities": quantities_of(found, known, opened(garden).units),
        "findings": findings_of(found, known),
    }
    return render(request, "gardens/crop.html", context)
