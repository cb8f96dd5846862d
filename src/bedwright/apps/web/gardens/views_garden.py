"""A garden's first page."""

from __future__ import annotations

from django.http import HttpResponse
from django.shortcuts import render

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.problem import BadDocumentError


@garden_page(Ability.READ)
def home(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Where the garden stands and what comes next."""
    try:
        book = head_book(garden)
    except BadDocumentError:
        book = None
    return render(request, "gardens/home.html", {"book": book})
