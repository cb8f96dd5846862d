"""Pages of season plans."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import get_args

from django.conf import settings
from django.contrib import messages
from django.core.paginator import Paginator
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.opening import opened
from bedwright.apps.web.log.reading import season_in
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.comparing import compare
from bedwright.apps.web.season.drawing.undoing import may_be_undone
from bedwright.apps.web.season.drawing.views import kept_key
from bedwright.apps.web.season.forms import AskForm
from bedwright.apps.web.season.logged import logged_words, told_of
from bedwright.apps.web.season.making import ask_for_plan
from bedwright.apps.web.season.models import OPEN_STATES, PlanKind, PlanState, SavedPlan
from bedwright.apps.web.season.reading import newest, plan_of
from bedwright.apps.web.season.tables import beds_of, planting_rows, reasons_of
from bedwright.model.problem import BadDocumentError
from bedwright.model.progress import Stage

_A_PAGE = 20
_STAGES: tuple[str, ...] = get_args(Stage)


@garden_page(Ability.READ)
def plans(request: GardenRequest, garden: Garden) -> HttpResponse:
    """All plans, and the form that asks for one."""
    return _plans_page(request, garden, AskForm(initial={"today": timezone.localdate(), "seed": 1}))


def _plans_page(request: GardenRequest, garden: Garden, form: AskForm, status: int = 200) -> HttpResponse:
    all_plans = garden.plans.select_related("revision", "asked_by").defer("packed", "revision__text")
    page = Paginator(all_plans, _A_PAGE).get_page(request.GET.get("page"))
    context = {
        "page": page,
        "form": form,
        "n_wishes": len(opened(garden).book.wishes) if garden.head else 0,
        "n_done": garden.plans.filter(state=PlanState.DONE).count(),
    }
    return render(request, "season/plans.html", context, status=status)


@garden_page(Ability.EDIT, "POST")
def make(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Ask for a plan; it is made in the background."""
    form = AskForm(request.POST)
    if not form.is_valid():
        return _plans_page(request, garden, form, status=422)
    data = form.cleaned_data
    asked = ask_for_plan(garden, request.user, today=data["today"], seed=data["seed"], name=data["name"])
    return redirect("season:plan", garden.pk, asked.pk)


def _saved(garden: Garden, plan_id: int) -> SavedPlan:
    found = garden.plans.select_related("revision", "asked_by").defer("packed", "revision__text")
    return get_object_or_404(found, pk=plan_id)


@garden_page(Ability.READ)
def plan(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """A plan: its progress while it is made, then its tables."""
    saved = _saved(garden, plan_id)
    if saved.state != PlanState.DONE:
        return render(request, "season/making.html", _progress_context(saved))
    try:
        made = plan_of(saved)
    except BadDocumentError:
        return render(request, "season/too_old.html", {"saved": saved})
    seen = season_in(garden, made)
    logged = {code: words for code, words in logged_words(seen).items() if words}
    # Callables: a page whose tables are kept needs none of them.
    context = {
        "kept": kept_key(request, garden, saved, told_of(seen)),
        "saved": saved,
        "plan": made,
        "logged": logged,
        "rows": lambda: [(each, logged.get(each.code)) for each in planting_rows(made)],
        "beds": lambda: beds_of(made),
        "newest": newest(garden),
        "undo_code": saved.asked.get("planting", "") if may_be_undone(garden, saved) else "",
        "others": garden.plans.filter(state=PlanState.DONE).exclude(pk=saved.pk).defer("packed")[:10],
    }
    return render(request, "season/plan.html", context)


def _progress_context(saved: SavedPlan) -> dict[str, object]:
    here = _STAGES.index(saved.stage) if saved.stage in _STAGES else -1
    return {
        "saved": saved,
        "stages": [
            (stage, "done" if k < here else "now" if k == here else "") for k, stage in enumerate(_STAGES)
        ],
        "may_take": saved.kind in (PlanKind.MADE, PlanKind.FURTHER) and not saved.enough_asked,
        "n_before": SavedPlan.objects.filter(state__in=OPEN_STATES, pk__lt=saved.pk).count(),
    }


@garden_page(Ability.READ)
def progress(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """The part of the page that tells how far the plan is; asked for every second."""
    saved = _saved(garden, plan_id)
    response = render(request, "season/progress.html", _progress_context(saved))
    if not saved.open:
        response.headers["HX-Refresh"] = "true"
    return response


@garden_page(Ability.EDIT, "POST")
def stop(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Ask for the work on a plan to end: with the best found by now, or without a plan."""
    saved = _saved(garden, plan_id)
    if "keep" in request.POST:
        SavedPlan.objects.filter(pk=saved.pk, state__in=OPEN_STATES).update(enough_asked=True)
        return redirect("season:plan", garden.pk, saved.pk)
    SavedPlan.objects.filter(pk=saved.pk).update(stop_asked=True)
    # One that nobody has begun with ends here and now.
    SavedPlan.objects.filter(pk=saved.pk, state=PlanState.WAITING).update(
        state=PlanState.STOPPED, finished_at=timezone.now()
    )
    return redirect("season:plan", garden.pk, saved.pk)


@garden_page(Ability.EDIT, "POST")
def delete(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Delete a plan that nobody needs any more."""
    saved = _saved(garden, plan_id)
    if saved.open:
        messages.error(request, _("Stop it first."))
        return redirect("season:plan", garden.pk, saved.pk)
    shutil.rmtree(Path(settings.MADE_PAPERS) / str(saved.pk), ignore_errors=True)
    saved.delete()
    messages.success(request, _("The plan is deleted."))
    return redirect("season:plans", garden.pk)


@garden_page(Ability.READ)
def season_file(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """The plan as the file that the command line writes."""
    saved = get_object_or_404(garden.plans, pk=plan_id, state=PlanState.DONE)
    return HttpResponse(
        saved.json.encode(),
        content_type="application/json",
        headers={"Content-Disposition": f'attachment; filename="season-{saved.digest}.json"'},
    )


@garden_page(Ability.READ)
def planting(request: GardenRequest, garden: Garden, plan_id: int, code: str) -> HttpResponse:
    """One planting: why here, why then, and where the numbers come from."""
    saved = get_object_or_404(garden.plans.defer("packed"), pk=plan_id, state=PlanState.DONE)
    made = plan_of(saved)
    found = next((each for each in made.plantings if each.code == code), None)
    if found is None:
        raise Http404
    context = {"saved": saved, "plan": made, **reasons_of(made, found)}
    return render(request, "season/planting.html", context)


@garden_page(Ability.READ)
def compare_plans(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Two plans beside each other, the older first."""
    done = (
        garden.plans.filter(state=PlanState.DONE).select_related("revision").defer("packed", "revision__text")
    )
    numbers = [int(number) for number in request.GET.getlist("plan") if number.isdecimal()][:2]
    chosen = sorted(done.filter(pk__in=numbers), key=lambda each: each.pk)
    context: dict[str, object] = {"plans": done[:30], "chosen": chosen, "numbers": numbers}
    if len(chosen) == 2:
        context["comparison"] = compare(plan_of(chosen[0]), plan_of(chosen[1]))
    return render(request, "season/compare.html", context)
