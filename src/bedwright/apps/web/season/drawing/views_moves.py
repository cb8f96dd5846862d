"""A block moved by hand to another place, bed or week."""

from __future__ import annotations

from datetime import date

from django.http import HttpResponse
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.drawing.days import days_for
from bedwright.apps.web.season.drawing.move_form import MoveForm
from bedwright.apps.web.season.drawing.pins import settled
from bedwright.apps.web.season.drawing.views import done_plan, planting_or_404
from bedwright.apps.web.season.drawing.views_pins import NotSavedError, called, panel, save_pins
from bedwright.apps.web.season.reading import plan_of
from bedwright.model.book import Pin
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import Planting
from bedwright.service.possible_days import NEAR_DAYS

_MOST_NAMED = 5


@garden_page(Ability.EDIT, "POST")
def move(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """Settle a planting at another place or day in the garden book."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    planting = planting_or_404(plan, code)
    base = garden.head.number if garden.head is not None else 0
    form = MoveForm(request.POST, book=plan.book, planting=planting, base=base)
    if not form.is_valid():
        return panel(request, garden, saved, planting, {"form": form})
    bed_code, along_m, day = form.cleaned_data["bed"], form.along_m, form.cleaned_data["day"]
    if day != planting.dates.in_ground:
        try:
            days = days_for(saved, planting)
        except BadDocumentError as error:
            return panel(request, garden, saved, planting, {"form": form, "refused": str(error)})
        if not any(abs((day - each).days) <= NEAR_DAYS for each in days):
            form.add_error("day", _days_that_would_do(day, days))
            return panel(request, garden, saved, planting, {"form": form})

    def moved(pins: tuple[Pin, ...]) -> tuple[Pin, ...]:
        day_settled = _day(planting, day, pins)
        return settled(plan, planting, pins, bed_code=bed_code, along_m=along_m, in_ground=day_settled)

    try:
        kept = save_pins(request, garden, moved, _("moved %(what)s") % {"what": called(planting)})
    except NotSavedError as error:
        return panel(request, garden, saved, planting, {"form": form, "refused": str(error)})
    return panel(request, garden, saved, planting, {"form": form, "kept": kept, "moved": True})


def _days_that_would_do(day: date, days: tuple[date, ...]) -> str:
    """A refusal that names the days nearest to the one wanted."""
    nearest = sorted(sorted(days, key=lambda each: (abs((each - day).days), each))[:_MOST_NAMED])
    words = ", ".join(date_format(each, "SHORT_DATE_FORMAT") for each in nearest)
    return _("It cannot go in on that day here. Days that would do: %(days)s.") % {"days": words}


def _day(planting: Planting, day: date, pins: tuple[Pin, ...]) -> date | None:
    """A day is settled if it is another one, or was settled before."""
    before = any(pin.planting_code == planting.code and pin.in_ground is not None for pin in pins)
    return day if before or day != planting.dates.in_ground else None
