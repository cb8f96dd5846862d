"""Pages on which a plan is drawn."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.functional import SimpleLazyObject
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.log.reading import season_in
from bedwright.apps.web.people.access import Ability, GardenRequest, allows, garden_page
from bedwright.apps.web.season.drawing.curves import hours_curves, measures_of, picking_curves, water_curves
from bedwright.apps.web.season.drawing.hatches import patterns_of
from bedwright.apps.web.season.drawing.measures import PageMeasures
from bedwright.apps.web.season.drawing.occupancy import occupancy_of
from bedwright.apps.web.season.drawing.pins import pinned_codes
from bedwright.apps.web.season.drawing.plan_data import ground_data, name_of, plantings_data, words_of
from bedwright.apps.web.season.drawing.undoing import may_be_undone
from bedwright.apps.web.season.drawing.weeks import WEEK, Weeks, fullest, stands_in, weeks_of
from bedwright.apps.web.season.logged import logged_words, told_of
from bedwright.apps.web.season.models import PlanState, SavedPlan
from bedwright.apps.web.season.reading import newest, plan_of
from bedwright.apps.web.season.tables import planting_rows
from bedwright.apps.web.sentences import in_language, part_in_language
from bedwright.model.changes import Change
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.changes_drawing import change_drawings, change_key
from bedwright.papers.drawing import Drawing
from bedwright.papers.drawing_svg import drawing_svg
from bedwright.papers.hatching import hatch_by_group
from bedwright.service.compare import compare

_TOLD_POINTS = 0.05
"""Less than this is told as no difference."""
_DRAWING_MM = 270.0
"""Width of the drawing of a changed bed, before the page makes it as wide as itself."""


def done_plan(garden: Garden, plan_id: int) -> SavedPlan:
    """A finished plan of the garden.

    Raises
    ------
    Http404
        If the garden has none of that number.
    """
    found = garden.plans.filter(state=PlanState.DONE).select_related("revision")
    return get_object_or_404(found.defer("packed", "revision__text"), pk=plan_id)


def pinned_now(garden: Garden, plan: SeasonPlan) -> frozenset[str]:
    """Codes of plantings that the newest book pins."""
    book = head_book(garden)
    return pinned_codes(plan, () if book is None else book.pins)


def kept_key(request: GardenRequest, garden: Garden, saved: SavedPlan, *more: object) -> str:
    """What a part of a page of a plan depends on: under it the part is kept once it is written.

    Parameters
    ----------
    more
        What it depends on beside garden, plan, language, and whether it may be changed.
    """
    may_edit = allows(request.membership, Ability.EDIT)
    return repr((garden.pk, saved.pk, saved.digest, get_language(), may_edit, more))


def drawn(garden: Garden, plan: SeasonPlan, plantings: Iterable[Planting]) -> list[dict[str, Any]]:
    """Plantings of a plan, or of the plan with a block on trial, as the drawing needs them."""
    logged = {each.planting.code: each for each in season_in(garden, plan).plantings}
    return plantings_data(plan.book, plantings, patterns_of(plan), pinned_now(garden, plan), logged)


def context_of(garden: Garden, saved: SavedPlan, plan: SeasonPlan, here: str) -> dict[str, Any]:
    """What every page of a drawn plan shows."""
    return {
        "saved": saved,
        "plan": plan,
        "drawn": here,
        "newest": newest(garden),
        "undo_code": saved.asked.get("planting", "") if may_be_undone(garden, saved) else "",
    }


@garden_page(Ability.READ)
def newest_drawing(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The drawing of the newest plan."""
    saved = newest(garden)
    if saved is None:
        return redirect("season:plans", garden.pk)
    return redirect("season:drawing", garden.pk, saved.pk)


@garden_page(Ability.READ)
def drawing(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """All beds to scale, with what stands in one week."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    weeks = weeks_of(plan.plantings)
    context = context_of(garden, saved, plan, "drawing")
    if weeks is None:
        return render(request, "season/drawing_empty.html", context)
    week = _week_asked(request, plan, weeks)
    pinned = pinned_now(garden, plan)
    seen = season_in(garden, plan)
    words = logged_words(seen)
    # Callables: a page whose parts are kept needs none of them.
    context |= {
        "kept": kept_key(
            request, garden, saved, week, request.GET.get("planting"), sorted(pinned), told_of(seen)
        ),
        "logged": any(words.values()),
        "weeks": lambda: [(monday, week_words(monday)) for monday in weeks],
        "week": week,
        "week_number": (week - weeks.first).days // 7,
        "week_words": week_words(week),
        "rows": lambda: [
            _list_row(each, week, each.code in pinned) | {"told": words[each.code]}
            for each in planting_rows(plan)
        ],
        "patterns": lambda: patterns_of(plan),
        "data": lambda: _data(request, garden, saved, plan),
    }
    return render(request, "season/drawing.html", context)


def week_words(monday: date) -> str:
    """A week by its Monday."""
    return _("Week from Monday, %(day)s") % {"day": date_format(monday, "DATE_FORMAT")}


def _week_asked(request: GardenRequest, plan: SeasonPlan, weeks: Weeks) -> date:
    """The week of the address; else this week, or where the season has not begun, the fullest."""
    try:
        return weeks.nearest(date.fromisoformat(request.GET.get("week", "")))
    except ValueError:
        today = timezone.localdate()
    if weeks.first <= today < weeks.last + WEEK:
        return weeks.nearest(today)
    return fullest(plan.plantings, weeks)


def _list_row(planting: Planting, week: date, pinned: bool) -> dict[str, Any]:
    return {
        "planting": planting,
        "name": name_of(planting),
        "words": words_of(planting),
        "shown": stands_in(planting, week),
        "pinned": pinned,
    }


def _data(
    request: GardenRequest,
    garden: Garden,
    saved: SavedPlan,
    plan: SeasonPlan,
) -> dict[str, Any]:
    weeks = weeks_of(plan.plantings)
    return {
        **ground_data(plan.book),
        "plantings": drawn(garden, plan, plan.plantings),
        "weeks": [{"day": monday, "words": week_words(monday)} for monday in weeks or ()],
        "units": plan.book.site.units,
        "may_edit": allows(request.membership, Ability.EDIT),
        "why": reverse("season:why", args=[garden.pk, saved.pk, "CODE"]),
        "move": reverse("season:move", args=[garden.pk, saved.pk, "CODE"]),
        "ready": reverse("season:ready", args=[garden.pk, saved.pk]),
        "chosen": request.GET.get("planting", ""),
        "texts": {
            "stand": _("Plantings: {plantings}. Plants: {plants}."),
            "goes_in": _("goes in"),
            "picked": _("is picked"),
            "cleared": _("is cleared"),
            "chosen": _("{what} is chosen; the reasons stand beside the drawing."),
            "off_beds": _("No bed there; nothing was moved."),
            "trying": _("Laying the bed out again …"),
            "tried": _("{what} is tried here; the cost stands beside the drawing. Nothing is kept yet."),
            "refused": _("It cannot stand there; the reason stands beside the drawing."),
        },
    }


@garden_page(Ability.READ)
def beds_chart(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Ground taken in each bed, week by week."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    context = context_of(garden, saved, plan, "beds")
    if weeks_of(plan.plantings) is None:
        return render(request, "season/drawing_empty.html", context)
    pinned = pinned_now(garden, plan)
    context |= {
        "kept": kept_key(request, garden, saved, sorted(pinned)),
        "chart": SimpleLazyObject(lambda: occupancy_of(plan, patterns_of(plan), pinned)),
        "patterns": lambda: patterns_of(plan),
    }
    return render(request, "season/drawing_beds.html", context)


@garden_page(Ability.READ)
def curves(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """Picking, hours and water, week by week."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    context = context_of(garden, saved, plan, "curves")
    context["kept"] = kept_key(request, garden, saved)
    if (care := plan.care) is not None:
        measures: PageMeasures = measures_of(plan)
        limits = plan.book.water_limits
        context |= {
            "picking": SimpleLazyObject(lambda: picking_curves(care, measures)),
            "hours": SimpleLazyObject(lambda: hours_curves(care)),
            "water": SimpleLazyObject(lambda: water_curves(care, limits, measures)),
        }
    return render(request, "season/drawing_curves.html", context)


@garden_page(Ability.READ)
def changes(request: GardenRequest, garden: Garden, plan_id: int) -> HttpResponse:
    """What this plan does differently from the one before."""
    saved = done_plan(garden, plan_id)
    plan = plan_of(saved)
    context = context_of(garden, saved, plan, "changes")
    earlier = garden.plans.filter(state=PlanState.DONE, pk__lt=saved.pk).defer("packed").first()
    if earlier is not None:
        found = compare(plan_of(earlier), plan)
        context |= {
            "earlier": earlier,
            "found": found,
            "codes_now": frozenset(each.code for each in plan.plantings),
            "points": None if found.points is None else abs(found.points),
            "same_worth": found.points is not None and abs(found.points) < _TOLD_POINTS,
            "drawings": _change_drawings(plan, found.changes),
            "drawing_key": _svg(change_key(), _("What the lines mean")),
        }
    return render(request, "season/drawing_changes.html", context)


def _change_drawings(plan: SeasonPlan, changes: Sequence[Change]) -> list[tuple[str, SafeString]]:
    """Each bed in which something changed, with its drawing as SVG."""
    hatches = hatch_by_group(one.crop.rotation_group for one in plan.plantings)
    made = change_drawings(plan, changes, hatches, _DRAWING_MM, plan.book.site.units)
    return [
        (one.words, _svg(one.drawing, f"{_('Ground that changes')}, {in_language(one.words)}"))
        for one in made
    ]


def _svg(drawing: Drawing, title: str) -> SafeString:
    """A drawing of the papers with its words in the language of the page."""
    for item in drawing.items:
        if item["k"] == "text":
            item["s"] = part_in_language("drawn", item["s"]) or item["s"]
    # Words in it come from the book and are escaped where they are drawn.
    return mark_safe(drawing_svg(drawing, title))  # noqa: S308


def planting_or_404(plan: SeasonPlan, code: str) -> Planting:
    """The planting of a code.

    Raises
    ------
    Http404
        If the plan has none.
    """
    found = next((each for each in plan.plantings if each.code == code), None)
    if found is None:
        raise Http404
    return found
