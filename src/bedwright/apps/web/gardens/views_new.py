"""A new garden of one's own: from a few questions, or from a book."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import get_language
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.document import Raw, book_of_document
from bedwright.apps.web.gardens.entry.boxes import Box, boxes_of, every_box, place_problems
from bedwright.apps.web.gardens.entry.posted import entry_of
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.gardens.reading import book_of
from bedwright.apps.web.gardens.revisions import keep
from bedwright.apps.web.gardens.saving import tidy
from bedwright.apps.web.gardens.surroundings import surroundings_of_new
from bedwright.apps.web.gardens.views_book import text_of_upload
from bedwright.apps.web.gardens.weather import keep_weather
from bedwright.apps.web.people.access import PersonRequest, signed_in
from bedwright.apps.web.people.models import Membership, Role, User
from bedwright.model.book import UnitSystem
from bedwright.model.problem import BadDocumentError, Problem
from bedwright.store.book import schema, write_book
from bedwright.store.book.kinds import Record

_ASKED = {
    "site": (
        "name",
        "latitude_deg",
        "longitude_deg",
        "elevation_m",
        "time_zone",
        "units",
        "paper",
        "coordinator",
    ),
    "season": ("start",),
    "bed": ("code", "name", "rectangle", "polygon", "circle", "texture"),
}
"""Keys asked for at first, of records that have more."""
LAST_MONTH_OF_PLANNING_AHEAD = 6
"""From July on a new garden is planned for the year to come: a choice of our own."""


def _hints() -> dict[str, str]:
    """How to find out what a newcomer may not know, by the name of the box."""
    return {
        "site.latitude_deg": _(
            "A map programme shows both numbers of a spot pressed for a while; the first."
        ),
        "site.longitude_deg": _("The second of the two numbers."),
        "site.elevation_m": _("The nearest contour line of a map will do."),
        "site.time_zone": _("Filled in as this computer has it; change it where the garden keeps another."),
        "weather.stated_frost.last_spring": _(
            "As 05-10 or 10 May. Ask neighbours; a weather record replaces it later."
        ),
        "weather.stated_frost.first_autumn": _("As 10-12 or 12 October."),
        "beds[1].code": _("One letter will do: A."),
        "beds[1].rectangle.bearing_deg": _(
            "Stand at the peg and look along the bed: 0 is north, 90 east, 180 south, 270 west."
        ),
        "beds[1].texture": _("How to tell by hand stands below."),
    }


def _start_of_season(today: date) -> date:
    """The first of January that a garden planned now is planned from."""
    return date(today.year + (today.month > LAST_MONTH_OF_PLANNING_AHEAD), 1, 1)


def _first(units: UnitSystem) -> dict[str, Raw]:
    """What stands in the boxes at first: choices, and the datum at the first peg; no fact of the place."""
    corner = {"east_m": 0, "north_m": 0}
    return {
        "site": {"units": units, "paper": "letter"} if units == "us" else {},
        "season": {"start": _start_of_season(timezone.localdate())},
        "beds": ({"code": "A", "rectangle": corner, "circle": corner},),
    }


def _units_of(request: HttpRequest) -> UnitSystem:
    """Units of the boxes: as asked for, else by the country that the browser names first."""
    asked = request.POST.get("shown_in") or request.GET.get("units")
    if asked in {"metric", "us"}:
        return "us" if asked == "us" else "metric"
    first = request.headers.get("accept-language", "").partition(",")[0].partition(";")[0]
    return "us" if first.strip().lower().endswith("-us") else "metric"


def _groups(document: Mapping[str, Any], units: UnitSystem) -> list[tuple[str, list[Box]]]:
    """The questions a book cannot do without, in four groups."""
    around = surroundings_of_new(units)
    frost = document.get("weather", {}).get("stated_frost", {})
    asked = (
        (_("Where it is"), schema.SITE, document.get("site", {}), "site"),
        (_("Season"), schema.SEASON, document.get("season", {}), "season"),
        (_("Frost as you know it"), schema.STATED_FROST, frost, "weather.stated_frost"),
        (_("First bed"), schema.BED, document.get("beds", ({},))[0], "beds[1]"),
    )
    groups = [
        (label, boxes_of(record, entry, around, prefix, skip=_left_for_later(record)))
        for label, record, entry, prefix in asked
    ]
    hints = _hints()
    for box in every_box(box for _label, boxes in groups for box in boxes):
        if box.name in hints:
            box.help = f"{box.help} {hints[box.name]}"
    return groups


def _left_for_later(record: Record) -> list[str]:
    keys = [each.key for each in record.fields]
    return [key for key in keys if key not in _ASKED.get(record.name, keys)]


@signed_in("GET", "POST")
def new_garden(request: PersonRequest) -> HttpResponse:
    """Ask for what a book cannot do without, and make it."""
    units = _units_of(request)
    if request.method != "POST":
        return render(request, "gardens/new.html", {"groups": _groups(_first(units), units), "units": units})
    language = get_language() or "en"
    site, season, frost, bed = (
        entry_of(boxes, request.POST, language) for _label, boxes in _groups({}, units)
    )
    document: dict[str, Raw] = {
        "site": site,
        "season": season,
        "weather": {"stated_frost": frost},
        "beds": (bed,),
        "wishes": (),
    }
    try:
        text = write_book(book_of_document(document))
    except BadDocumentError as error:
        groups = _groups(document, units)
        elsewhere: tuple[Problem, ...] = error.problems
        for _label, boxes in groups:
            elsewhere = tuple(place_problems(boxes, elsewhere, ""))
        faulty = [box for _label, boxes in groups for box in every_box(boxes) if box.problems]
        context = {"groups": groups, "problems": elsewhere, "faulty": faulty, "units": units}
        return render(request, "gardens/new.html", context, status=422)
    garden = _make(request.user, text)
    return redirect("garden:home", garden.pk)


@signed_in("GET", "POST")
def from_book(request: PersonRequest) -> HttpResponse:
    """A garden from a book that is there already, with its weather record."""
    if request.method != "POST":
        return render(request, "gardens/new_from_book.html")
    typed = request.POST.get("text", "")
    file, record = request.FILES.get("file"), request.FILES.get("weather")
    try:
        text = text_of_upload(file.name or "", file.read()) if file is not None else typed
        with transaction.atomic():
            garden = _make(request.user, tidy(text))
            named = book_of(tidy(text)).weather_file
            if record is not None and named is not None:
                keep_weather(garden, named, record.read(), request.user)
    except BadDocumentError as error:
        context = {"text": typed, "problems": error.problems}
        return render(request, "gardens/new_from_book.html", context, status=422)
    return redirect("garden:home", garden.pk)


@transaction.atomic
def _make(person: User, text: str) -> Garden:
    """A garden with its first revision; the person is its coordinator."""
    garden = Garden.objects.create(name=book_of(text).site.name)
    Membership.objects.create(garden=garden, user=person, role=Role.COORDINATOR)
    keep(garden, text, author=person, follows=None, note="first revision")
    return garden
