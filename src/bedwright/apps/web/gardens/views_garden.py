"""A garden's first page, taking it out, closing it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import slugify
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.next_steps import next_steps
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.gardens.taking_out import garden_zip
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.season.reading import newest
from bedwright.model.problem import BadDocumentError


@garden_page(Ability.READ)
def home(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Where the garden stands and what comes next."""
    problems: tuple[object, ...] = ()
    book = None
    try:
        book = head_book(garden)
    except BadDocumentError as error:
        problems = error.problems
    plan = newest(garden)
    steps = next_steps(garden, book, plan, request.membership)
    context = {
        "book": book,
        "problems": problems,
        "plan": plan,
        "open_plan": next((each for each in garden.plans.all()[:5] if each.open), None),
        "outdated": plan is not None and plan.behind_book,
        "steps": [step for step in steps if step.needed],
        "surer": [step for step in steps if not step.needed],
        "last_lines": garden.log_entries.select_related("author")[:4],
        "revisions": garden.revisions.select_related("author").defer("text")[:4],
    }
    return render(request, "gardens/home.html", context)


@garden_page(Ability.MANAGE)
def take_out(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Everything the garden holds, as one file."""
    name = slugify(garden.name) or "garden"
    return HttpResponse(
        garden_zip(garden),
        content_type="application/zip",
        headers={"Content-Disposition": f'attachment; filename="{name}.zip"'},
    )


@garden_page(Ability.MANAGE, "GET", "POST")
def close(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Delete the garden for good, once its name is typed."""
    if request.method == "POST":
        if request.POST.get("name", "").strip() == garden.name.strip():
            garden.delete()
            messages.success(request, _("The garden is closed and everything in it deleted."))
            return redirect("gardens:list")
        messages.error(request, _("The name typed is not the garden's. Nothing was deleted."))
        return redirect("garden:close", garden.pk)
    return render(request, "gardens/close.html")
