"""A block moved by hand: tried first, with what it costs; then kept, or put back."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.utils.translation import gettext as _
from django.utils.translation import gettext_noop
from django_htmx.http import HttpResponseClientRedirect

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.asking import MoveAsked
from bedwright.apps.web.season.drawing.move_form import KeepForm, MoveForm
from bedwright.apps.web.season.drawing.pins import settled
from bedwright.apps.web.season.drawing.plan_data import name_of
from bedwright.apps.web.season.drawing.table import day_now, ready_unless_busy, table_of
from bedwright.apps.web.season.drawing.undoing import NotUndoneError, put_back
from bedwright.apps.web.season.drawing.views import context_of, done_plan, drawn, planting_or_404
from bedwright.apps.web.season.drawing.views_pins import NotSavedError, called, panel, save_pins
from bedwright.apps.web.season.drawing.views_why import page_or_panel
from bedwright.apps.web.season.making import ask_for_plan
from bedwright.apps.web.season.models import OPEN_STATES, PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import newest, plan_of
from bedwright.model.book import Pin
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import Planting
from bedwright.service.drag import Dragged, MoveRefusedError, move_planting


@garden_page(Ability.EDIT, "POST")
def ready(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Lay the plan out for trying, so that the first move is answered as fast as the others."""
    saved = done_plan(garden, plan_id)
    try:
        is_ready = ready_unless_busy(saved)
    except BadDocumentError:
        # Told in words where somebody moves a block.
        return HttpResponse(status=409)
    return HttpResponse(status=204 if is_ready else 202)


@garden_page(Ability.EDIT, "POST")
def move(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Try a planting at another place or day: what it costs and what else changes; nothing is kept."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    form = MoveForm(request.POST, book=plan.book, planting=planting, base=_base(garden))
    if not form.is_valid():
        return panel(request, garden, saved, planting, {"form": form})
    day = form.cleaned_data["day"]
    try:
        found = move_planting(table_of(saved), code, form.cleaned_data["bed"], form.along_m, day)
    except (MoveRefusedError, BadDocumentError) as error:
        return panel(request, garden, saved, planting, {"form": form, "refused": str(error)})
    return _trial(request, garden, saved, planting, found, form)


def _trial(
    request: GardenRequest,
    garden: Garden,
    saved: SavedPlan,
    planting: Planting,
    found: Dragged,
    form: MoveForm,
) -> HttpResponse:
    plan = plan_of(saved)
    now = next((each for each in found.plantings if each.code == planting.code), planting)
    others = [each for each in found.changes if each.planting_code != planting.code]
    context = context_of(garden, saved, plan, "why") | {
        "planting": planting,
        "name": name_of(planting),
        "found": found,
        "others": others,
        "form": form,
        "same": not found.changes,
        "keep": KeepForm(
            initial={"bed": now.bed_code, "along_m": now.along_m[0], "day": now.dates.in_ground}
        ),
        "trial": {
            "plantings": drawn(garden, plan, found.plantings),
            "changed": [each.planting_code for each in found.changes],
        },
    }
    return render(request, page_or_panel(request, "season/drawing_trial"), context)


@garden_page(Ability.EDIT, "POST")
def keep(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Keep a move that was tried: settled in the garden book, and a plan with it is made."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    form = KeepForm(request.POST)
    if not form.is_valid():
        return panel(
            request, garden, saved, planting, {"refused": gettext_noop("Try it again; nothing was kept.")}
        )
    asked = MoveAsked(code, form.cleaned_data["bed"], form.cleaned_data["along_m"], form.cleaned_data["day"])
    try:
        made = _kept(request, garden, saved, planting, asked)
    except (NotSavedError, MoveRefusedError, BadDocumentError) as error:
        return panel(request, garden, saved, planting, {"refused": str(error)})
    if not request.htmx:
        return redirect("season:plan", garden.pk, made.pk)
    return render(request, "season/drawing_kept.html", _kept_context(request, garden, made, planting))


@transaction.atomic
def _kept(
    request: GardenRequest, garden: Garden, saved: SavedPlan, planting: Planting, asked: MoveAsked
) -> SavedPlan:
    """The plan asked for, its place settled in the book: both or neither."""
    Garden.objects.select_for_update().get(pk=garden.pk)
    _refuse_if_overtaken(garden, saved)
    plan = plan_of(saved)
    # What cannot be is told before anything is written.
    move_planting(table_of(saved), asked.planting_code, asked.bed_code, asked.along_m, asked.in_ground)

    def moved(pins: tuple[Pin, ...]) -> tuple[Pin, ...]:
        day = _day(planting, asked.in_ground, pins)
        return settled(plan, planting, pins, bed_code=asked.bed_code, along_m=asked.along_m, in_ground=day)

    save_pins(request, garden, plan, moved, _("moved %(what)s") % {"what": called(planting)})
    garden.refresh_from_db()
    return ask_for_plan(
        garden,
        request.user,
        today=day_now(saved),
        seed=saved.seed,
        name=saved.name,
        kind=PlanKind.MOVED,
        follows=saved,
        asked=asked.kept(),
    )


def _refuse_if_overtaken(garden: Garden, saved: SavedPlan) -> None:
    latest = newest(garden)
    if latest is not None and latest.pk != saved.pk:
        raise NotSavedError(gettext_noop("Meanwhile there is a newer plan. Nothing was kept; move it there."))
    if garden.plans.filter(state__in=OPEN_STATES).exclude(kind=PlanKind.MADE).exists():
        raise NotSavedError(
            gettext_noop("Another change of this plan is being worked out. Try again in a moment.")
        )


def _kept_context(
    request: GardenRequest, garden: Garden, made: SavedPlan, planting: Planting
) -> dict[str, Any]:
    here = request.htmx.current_url_abs_path or ""
    return {
        "made": made,
        "planting": planting,
        "name": name_of(planting),
        "number": garden.head.number if garden.head is not None else 0,
        "back_to": "beds" if "/beds/" in here else "drawing",
    }


@garden_page(Ability.EDIT)
def kept(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """How far the plan with a kept move is; asked for every second, and left once it is done."""
    made = get_object_or_404(garden.plans.defer("packed"), pk=plan_id)
    back_to = "beds" if request.GET.get("to") == "beds" else "drawing"
    if not request.htmx:
        return redirect("season:plan", garden.pk, plan_id)
    if not (made.open or made.state == PlanState.DONE):
        return HttpResponseClientRedirect(reverse("season:plan", args=[garden.pk, plan_id]))
    if made.open:
        return HttpResponse(status=204)
    return HttpResponseClientRedirect(_address(garden, made, code, back_to))


def _address(garden: Garden, saved: SavedPlan, code: str, page: str = "drawing") -> str:
    """The page of a plan with one planting chosen, in the week in which it goes in."""
    found = next((each for each in plan_of(saved).plantings if each.code == code), None)
    words = {"planting": code}
    if found is not None:
        words["week"] = found.dates.in_ground.isoformat()
    return f"{reverse(f'season:{page}', args=[garden.pk, saved.pk])}?{urlencode(words)}"


@garden_page(Ability.EDIT, "POST")
def undo_move(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Go back to the plan before a kept move, and to the book before it."""
    saved = done_plan(garden, plan_id)
    code = str(saved.asked.get("planting", ""))
    try:
        back = put_back(garden, saved, request.user)
    except NotUndoneError as error:
        messages.error(request, str(error))
        back = saved
    else:
        messages.success(request, _("Undone: the plan is as it was before the move."))
    address = _address(garden, back, code)
    return HttpResponseClientRedirect(address) if request.htmx else redirect(address)


def _base(garden: Garden) -> int:
    return garden.head.number if garden.head is not None else 0


def _day(planting: Planting, day: date, pins: tuple[Pin, ...]) -> date | None:
    """A day is settled if it is another one, or was settled before."""
    before = any(pin.planting_code == planting.code and pin.in_ground is not None for pin in pins)
    return day if before or day != planting.dates.in_ground else None
