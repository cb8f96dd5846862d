"""The panel beside a drawing: why a block stands there and then, or why a wish fell short."""

from __future__ import annotations

from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import render

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.drawing.curves import measures_of
from bedwright.apps.web.season.drawing.measures import PageMeasures
from bedwright.apps.web.season.drawing.move_form import MoveForm
from bedwright.apps.web.season.drawing.pins import pins_of, places_of
from bedwright.apps.web.season.drawing.plan_data import name_of
from bedwright.apps.web.season.drawing.views import context_of, done_plan, planting_or_404
from bedwright.apps.web.season.drawing.why import shortfalls_of, why_of
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.season import Planting, SeasonPlan


@garden_page(Ability.READ)
def why_here(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Why a planting stands where and when it does; what else there was; moving it."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    context = context_of(garden, saved, plan, "why") | panel_context(garden, plan, planting)
    return render(request, page_or_panel(request, "season/drawing_why"), context)


@garden_page(Ability.READ)
def why_short(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Why a wish fell short, and what would have to give."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    shortfalls = shortfalls_of(plan, code)
    if not shortfalls and not any(code in {each.code, each.wish_code} for each in plan.plantings):
        raise Http404
    book = head_book(garden)
    context = context_of(garden, saved, plan, "why") | {
        "shortfalls": shortfalls,
        "wishes_now": frozenset(wish.code for wish in book.wishes) if book is not None else frozenset(),
    }
    return render(request, page_or_panel(request, "season/drawing_short"), context)


def page_or_panel(request: GardenRequest, name: str) -> str:
    """The panel alone for a page that asks for it, else within a page of its own."""
    return f"{name}_panel.html" if request.htmx else f"{name}.html"


def panel_context(garden: Garden, plan: SeasonPlan, planting: Planting) -> dict[str, Any]:
    """What the panel of one planting shows."""
    measures = measures_of(plan)
    book = head_book(garden)
    base = garden.head.number if garden.head is not None else 0
    pins = () if book is None else pins_of(plan, planting, book.pins)
    return {
        "why": why_of(plan, planting),
        "planting": planting,
        "name": name_of(planting),
        "bed": plan.book.bed(planting.bed_code),
        "place": _place(planting, measures),
        "pins": pins,
        "n_places": len(places_of(plan, planting)),
        "form": MoveForm(None, book=plan.book, planting=planting, base=base),
        "base": base,
    }


def _place(planting: Planting, measures: PageMeasures) -> dict[str, str]:
    (a0, a1), (c0, c1) = planting.along_m, planting.across_m
    return {
        "a": measures.length(a0),
        "b": measures.length(a1),
        "c": measures.length(c0),
        "d": measures.length(c1),
    }
