"""The log's pages: reading, writing, correcting, settling."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import head_book
from bedwright.apps.web.log.accepting import Sender, accept
from bedwright.apps.web.log.amounts import amount_words
from bedwright.apps.web.log.forms import LineForm, fresh, initial_of
from bedwright.apps.web.log.listing import family_of, filter_of, listing, units_of
from bedwright.apps.web.log.models import Clock, Kind, LogEntry
from bedwright.apps.web.log.photos import BadPhotoError, keep_photo
from bedwright.apps.web.log.reading import (
    all_records_of,
    plan_in,
    today_in,
    zone_of,
)
from bedwright.apps.web.log.settling import conflicts_shown, settle_conflict
from bedwright.apps.web.log.tables import log_csv
from bedwright.apps.web.people.access import Ability, GardenRequest, allows, garden_page
from bedwright.apps.web.season.models import PlanState
from bedwright.model.problem import BadDocumentError
from bedwright.service.season_log import standing_records

LINES_A_PAGE = 100


@garden_page(Ability.READ)
def entries(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Every line, filtered, with sums."""
    wanted = filter_of(request.GET)
    found = listing(garden, wanted)
    units = units_of(garden)
    query = request.GET.copy()
    query.pop("page", None)
    return render(
        request,
        "log/entries.html",
        {
            "page": Paginator(found.lines, LINES_A_PAGE).get_page(request.GET.get("page")),
            "wanted": wanted,
            "filtered": bool(query),
            "query": query.urlencode(),
            "kinds": Kind.choices,
            "beds": found.beds,
            "crops": found.crops,
            "harvest": [(each, amount_words(each.picked_kg, "kg", units)) for each in found.totals.harvest],
            "picked": amount_words(found.totals.picked_kg, "kg", units),
            "rain": amount_words(found.totals.rain_mm, "mm", units) if found.totals.rain_mm else "",
            "watered": amount_words(found.totals.watered_l, "L", units) if found.totals.watered_l else "",
            "hours_h": found.totals.hours_h,
            "conflicts": conflicts_shown(found, units),
            "has_plan": garden.plans.filter(state=PlanState.DONE).exists(),
            "page_title": _("Log"),
        },
    )


@garden_page(Ability.READ)
def entry(request: GardenRequest, garden: Garden, client_id: UUID) -> HttpResponse:
    """One line with its history, clocks and photographs."""
    found = get_object_or_404(garden.log_entries.select_related("author"), client_id=client_id)
    family = family_of(garden, found)
    units = units_of(garden)
    held = {record.id for record in standing_records(all_records_of(garden))}
    return render(
        request,
        "log/entry.html",
        {
            "entry": found,
            "amount": amount_words(found.quantity, found.unit, units),
            "family": [
                (each, amount_words(each.quantity, each.unit, units), str(each.client_id) in held)
                for each in family
            ],
            "holds": str(found.client_id) in held,
            "doubtful": found.clock == Clock.DOUBTFUL,
            "ahead_days": round(abs(found.clock_ahead_s) / 86400),
            "photos": garden.log_photos.filter(entry_id_of_client__in=[each.client_id for each in family]),
            "may_correct": _may_correct(request, found),
            "page_title": _("Line of the log"),
        },
    )


@garden_page(Ability.RECORD, "GET", "POST")
def new(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Write a line."""
    form = _form(request, garden, fresh() | {"day": today_in(garden)})
    if request.method == "POST" and form.is_valid() and _keep(request, garden, form, None):
        messages.success(request, _("Written down."))
        return redirect("log:entries", garden.pk)
    status = 422 if form.is_bound else 200
    return render(request, "log/form.html", {"form": form, "page_title": _("New line")}, status=status)


@garden_page(Ability.RECORD, "GET", "POST")
def correct(request: GardenRequest, garden: Garden, client_id: UUID) -> HttpResponse:
    """Put a new line in the place of one; the old one stays in the history."""
    old = get_object_or_404(garden.log_entries, client_id=client_id)
    if not _may_correct(request, old):
        raise PermissionDenied
    form = _form(request, garden, initial_of(old, units_of(garden)), old)
    if request.method == "POST" and form.is_valid() and _keep(request, garden, form, old):
        messages.success(request, _("Corrected; the old line stays in the history."))
        return redirect("log:entry", garden.pk, form.cleaned_data["client_id"])
    status = 422 if form.is_bound else 200
    context = {"form": form, "old": old, "page_title": _("Correct a line")}
    return render(request, "log/form.html", context, status=status)


@garden_page(Ability.RECORD, "POST")
def strike(request: GardenRequest, garden: Garden, client_id: UUID) -> HttpResponse:
    """Take a line away; it stays in the history."""
    old = get_object_or_404(garden.log_entries, client_id=client_id)
    if not _may_correct(request, old):
        raise PermissionDenied
    hidden = fresh()
    item = {
        "id": str(hidden["client_id"]), "written_at": hidden["written_at"], "day": old.day.isoformat(),
        "kind": old.kind, "bed": old.bed_code, "row": old.row_code, "planting": old.planting_code,
        "crop": old.crop, "task": old.task_code, "corrects": str(old.client_id), "struck": True,
        "plan": old.plan_digest,
    }  # fmt: skip
    accept(garden, sender_of(request, garden), [item])
    messages.success(request, _("Taken away; it stays in the history."))
    return redirect("log:entries", garden.pk)


@garden_page(Ability.EDIT, "POST")
def settle(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Decide between reports of one job that contradict each other."""
    keep = request.POST.get("keep", "")
    settled = settle_conflict(
        garden,
        sender_of(request, garden),
        request.POST.get("report", ""),
        keep=keep,
        add_up=request.POST.get("do") == "add",
    )
    if settled:
        messages.success(request, _("Settled; every report stays in the history."))
    else:
        messages.error(request, _("Nothing was to be settled any more."))
    return redirect("log:entries", garden.pk)


@garden_page(Ability.READ)
def table(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The lines that pass the filter, as a file for spreadsheets."""
    found = listing(garden, filter_of(request.GET))
    answer = HttpResponse(log_csv(found), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="log-{garden.pk}-{today_in(garden)}.csv"'
    return answer


@garden_page(Ability.READ)
def photo(request: GardenRequest, garden: Garden, client_id: UUID) -> HttpResponse:
    """A photograph, for members only."""
    found = get_object_or_404(garden.log_photos, client_id=client_id)
    try:
        content = found.path.read_bytes()
    except FileNotFoundError as error:
        raise Http404 from error
    return HttpResponse(
        content,
        content_type="image/jpeg",
        headers={"Cache-Control": "private, max-age=31536000, immutable"},
    )


def sender_of(request: GardenRequest, garden: Garden) -> Sender:
    """Somebody who writes on a page: the server's clock is the only one."""
    now = timezone.now()
    return Sender(
        author=request.user,
        may_correct_others=allows(request.membership, Ability.EDIT),
        zone=zone_of(garden),
        sent_at=now,
        received_at=now,
    )


def _may_correct(request: GardenRequest, found: LogEntry) -> bool:
    own = found.author_id == request.user.pk and allows(request.membership, Ability.RECORD)
    return own or allows(request.membership, Ability.EDIT)


def _form(
    request: GardenRequest, garden: Garden, initial: dict[str, Any], old: LogEntry | None = None
) -> LineForm:
    try:
        book = head_book(garden)
    except BadDocumentError:
        book = None
    newest = plan_in(garden)
    plan = newest[1] if newest is not None else None
    data = request.POST if request.method == "POST" else None
    form = LineForm(data, initial=initial, book=book, plan=plan, units=units_of(garden))
    if old is not None:
        form.correct(old)
    return form


def _keep(request: GardenRequest, garden: Garden, form: LineForm, old: LogEntry | None) -> bool:
    """Keep the line and its photographs; what stands against it is told at the form."""
    (answer,) = accept(garden, sender_of(request, garden), [form.item(corrects=old)])
    if answer.state not in {"kept", "had"}:
        for problem in answer.problems:
            form.add_error(None, problem)
        return False
    _keep_photos(request, garden, form.cleaned_data["client_id"])
    return True


def _keep_photos(request: HttpRequest, garden: Garden, entry_id: UUID) -> None:
    for number, file in enumerate(request.FILES.getlist("photos")):
        # Made from the line's id, so that a form sent twice does not double them.
        client_id = UUID(int=(entry_id.int + number + 1) % 2**128)
        try:
            keep_photo(garden, client_id, entry_id, file.read())
        except BadPhotoError as error:
            messages.error(request, str(error))
