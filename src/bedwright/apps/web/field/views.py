"""Pages and data for a phone in the garden."""

from __future__ import annotations

import json
from typing import Any
from uuid import UUID

from django.http import HttpResponse, JsonResponse
from django.middleware.csrf import get_token
from django.shortcuts import render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.field.models import PegLink
from bedwright.apps.web.field.season_data import season_data
from bedwright.apps.web.field.words import words
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import Sender, accept
from bedwright.apps.web.log.photos import MOST_BYTES, BadPhotoError, keep_photo
from bedwright.apps.web.log.reading import zone_of
from bedwright.apps.web.log.wire import moment
from bedwright.apps.web.people.access import Ability, GardenRequest, allows, garden_page

MOST_LINES = 200
"""Lines taken in one request."""


@garden_page(Ability.READ)
def today(request: GardenRequest, garden: Garden) -> HttpResponse:
    """The page that holds all field pages; it names nobody, since phones keep it."""
    addresses = {
        "state": reverse("field:state", args=[garden.pk]),
        "data": reverse("field:data", args=[garden.pk]),
        "sync": reverse("field:sync", args=[garden.pk]),
        "photo": reverse("field:photo", args=[garden.pk]),
        "worker": reverse("field:worker", args=[garden.pk]),
        "home": reverse("garden:home", args=[garden.pk]),
        "log": reverse("log:entries", args=[garden.pk]),
        "sign_in": f"{reverse('people:sign-in')}?next={reverse('field:today', args=[garden.pk])}",
        "shell": reverse("field:today", args=[garden.pk]),
    }
    return render(
        request,
        "field/shell.html",
        {"words": words(), "settings": {"garden": garden.pk, "addresses": addresses}},
    )


@garden_page(Ability.READ)
def state(request: GardenRequest, garden: Garden) -> JsonResponse:
    """Who has signed in, what they may do, and the server's time."""
    peg = PegLink.objects.filter(garden=garden).first()
    return _json(
        {
            "author": request.user.pk,
            "csrf": get_token(request),
            "server_time": timezone.now().isoformat(),
            "may_record": allows(request.membership, Ability.RECORD),
            "pegs": f"/p/{peg.token}/" if peg is not None else "",
        }
    )


@garden_page(Ability.READ)
def data(request: GardenRequest, garden: Garden) -> JsonResponse:
    """Everything a phone needs for the next weeks."""
    may_record = allows(request.membership, Ability.RECORD)
    return _json(season_data(garden, may_record=may_record, author_id=request.user.pk))


@garden_page(Ability.RECORD, "POST")
def sync(request: GardenRequest, garden: Garden) -> JsonResponse:
    """Keep lines sent by a phone; each is answered by itself, and sending again changes nothing."""
    received_at = timezone.now()
    try:
        sent = json.loads(request.body)
        items = sent["lines"]
        sent_at = moment(sent["sent_at"])
        if not isinstance(items, list) or len(items) > MOST_LINES:
            raise ValueError
    except (ValueError, KeyError, TypeError):
        text = _("Expected sent_at and at most %(n)d lines.") % {"n": MOST_LINES}
        return JsonResponse({"problems": [text]}, status=400)
    sender = Sender(
        author=request.user,
        may_correct_others=allows(request.membership, Ability.EDIT),
        zone=zone_of(garden),
        sent_at=sent_at,
        received_at=received_at,
    )
    answers = accept(garden, sender, items)
    return _json(
        {
            "server_time": received_at.isoformat(),
            "ahead_s": round((sent_at - received_at).total_seconds()),
            "answers": [
                {"id": each.id, "state": each.state, "problems": list(each.problems)} for each in answers
            ],
        }
    )


@garden_page(Ability.RECORD, "POST")
def photo(request: GardenRequest, garden: Garden) -> JsonResponse:
    """Keep one photograph; sending it again changes nothing."""
    file = request.FILES.get("file")
    try:
        client_id, entry_id = UUID(request.POST.get("id", "")), UUID(request.POST.get("entry", ""))
    except ValueError:
        return _refused(_("Expected the ids of the photograph and of its line."))
    if file is None or file.size is None or file.size > MOST_BYTES:
        most = _("Expected a photograph of at most %(n).0f MB.") % {"n": MOST_BYTES / 1e6}
        return _refused(most)
    try:
        kept = keep_photo(garden, client_id, entry_id, file.read())
    except BadPhotoError as error:
        return _refused(str(error))
    return _json({"id": str(client_id), "state": kept})


def _refused(why: str) -> JsonResponse:
    return JsonResponse({"state": "refused", "problems": [why]}, status=422)


def _json(content: dict[str, Any]) -> JsonResponse:
    return JsonResponse(content, headers={"Cache-Control": "no-store"})
