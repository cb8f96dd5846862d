"""The season seen through the log, and the garden book of the next begun from it."""

from __future__ import annotations

from datetime import date, timedelta

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of, head_book
from bedwright.apps.web.gardens.revisions import HeadMovedError, keep
from bedwright.apps.web.log.amounts import amount_words
from bedwright.apps.web.log.listing import units_of
from bedwright.apps.web.log.own_times import own_time_rows
from bedwright.apps.web.log.reading import plan_in, records_of, season_in, today_in
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.model.problem import BadDocumentError
from bedwright.model.season import SeasonPlan
from bedwright.service.next_book import next_book, next_book_text
from bedwright.service.own_times import own_times, rate_lines
from bedwright.store.weaving import weave


@garden_page(Ability.READ)
def season(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Planned and done, planting by planting."""
    newest = plan_in(garden)
    if newest is None:
        return render(request, "log/season.html", {"plan": None, "page_title": _("Planned and done")})
    plan = newest[1]
    logged = season_in(garden, plan)
    times = own_times(plan, records_of(garden, plan))
    units = units_of(garden)
    day = today_in(garden)
    return render(
        request,
        "log/season.html",
        {
            "plan": plan,
            "today": day,
            "soon": day + timedelta(days=14),
            "plantings": [
                (each, amount_words(each.picked_kg, "kg", units) if each.picked_kg else "")
                for each in logged.plantings
            ],
            "squeezes": logged.squeezes,
            "n_strays": len(logged.strays),
            "own_times": own_time_rows(times, units),
            "rate_lines": rate_lines(times, units),
            "next_book": next_book_text(plan, logged, on_pages=True),
            "begun": _begun_after(garden, plan),
            "page_title": _("Planned and done"),
        },
    )


@garden_page(Ability.EDIT, "POST")
def begin_next_season(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Make the garden book that of the next season, with what the plan and its log leave."""
    found, head = plan_in(garden), garden.head
    if found is None or head is None:
        raise Http404
    plan = found[1]
    try:
        if request.POST.get("base") != str(head.number) or _begun_after(garden, plan) is not None:
            raise HeadMovedError
        new = next_book(book_of(head.text), plan, season_in(garden, plan))
        note = _("season from %(day)s") % {"day": new.season_start.isoformat()}
        keep(garden, weave(head.text, new, book_of), author=request.user, follows=head, note=note)
    except HeadMovedError:
        messages.error(request, _("Somebody changed the book a moment ago. Look at it, then try again."))
        return redirect("log:season", garden.pk)
    except BadDocumentError as error:
        told = " ".join(f"{each.where}: got {each.got}; expected {each.expected}." for each in error.problems)
        messages.error(request, told)
        return redirect("log:season", garden.pk)
    messages.success(
        request,
        _("This is the book of the season from %(day)s. Look through wishes, people and days, then plan.")
        % {"day": date_format(new.season_start, "DATE_FORMAT")},
    )
    return redirect("book:overview", garden.pk)


def _begun_after(garden: Garden, plan: SeasonPlan) -> date | None:
    """Where the garden book is of a later season than a plan, the day on which that begins."""
    try:
        book = head_book(garden)
    except BadDocumentError:
        return None
    later = book is not None and book.season_start.year > plan.book.season_start.year
    return book.season_start if book is not None and later else None
