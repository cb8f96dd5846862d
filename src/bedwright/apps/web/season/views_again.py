"""The rest of a season planned again from today; a plan searched on."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.log.reading import newest_plan_in, season_in, today_in
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.again_form import AgainForm
from bedwright.apps.web.season.making import ask_for_plan
from bedwright.apps.web.season.models import PlanKind, PlanState
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan


@garden_page(Ability.EDIT, "GET", "POST")
def again(request: GardenRequest, garden: Garden) -> HttpResponse:
    """What the log tells, what else happened, and the button that plans the rest again."""
    found = newest_plan_in(garden)
    if found is None:
        messages.error(request, _("There is no plan yet that could be made again."))
        return redirect("season:plans", garden.pk)
    saved, plan = found
    if _is_of_another_season(garden, plan):
        messages.error(request, _("The garden book is of another season by now; make its plan."))
        return redirect("season:plans", garden.pk)
    today = max(today_in(garden), saved.today)
    form = AgainForm(request.POST if request.method == "POST" else None, plan=plan, today=today)
    if form.is_valid():
        asked = ask_for_plan(
            garden,
            request.user,
            today=form.cleaned_data["today"],
            seed=saved.seed,
            name=saved.name,
            kind=PlanKind.AGAIN,
            follows=saved,
            asked=form.asked().kept(),
        )
        return redirect("season:plan", garden.pk, asked.pk)
    logged = season_in(garden, plan)
    context = {
        "saved": saved,
        "plan": plan,
        "form": form,
        "failed": [each for each in logged.plantings if each.failed_on is not None],
        "late": [each for each in logged.plantings if each.late_days and each.failed_on is None],
        "unlogged": [
            each
            for each in logged.plantings
            if each.in_ground_on is None and each.failed_on is None and each.planting.dates.in_ground < today
        ],
    }
    return render(request, "season/again.html", context, status=422 if form.errors else 200)


@garden_page(Ability.EDIT, "POST")
def search_on(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Search on from a plan, such as one whose search was stopped."""
    saved = get_object_or_404(garden.plans.defer("packed"), pk=plan_id, state=PlanState.DONE)
    asked = ask_for_plan(
        garden,
        request.user,
        today=saved.today,
        seed=saved.seed,
        name=saved.name,
        kind=PlanKind.FURTHER,
        follows=saved,
    )
    return redirect("season:plan", garden.pk, asked.pk)


def _is_of_another_season(garden: Garden, plan: SeasonPlan) -> bool:
    """Whether the garden book is of another season than a plan; one with problems is told of later."""
    try:
        book = head_book(garden)
    except BadDocumentError:
        return False
    return book is not None and not plan.is_of(book)
