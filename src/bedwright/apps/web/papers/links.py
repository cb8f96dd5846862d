"""The calendar by a secret link: made, read by a calendar program, revoked."""

from __future__ import annotations

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.papers.made import TYPES, paper_file
from bedwright.apps.web.papers.models import CalendarLink
from bedwright.apps.web.papers.views import papers_page
from bedwright.apps.web.people.access import Ability, GardenRequest, everyone, garden_page
from bedwright.apps.web.people.models import digest_of, new_secret
from bedwright.apps.web.season.reading import newest, plan_of


@garden_page(Ability.MANAGE, "POST")
def add(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Make a link and show it, this once."""
    secret = new_secret()
    CalendarLink.objects.create(
        garden=garden,
        name=request.POST.get("name", "").strip()[:80] or _("calendar"),
        digest=digest_of(secret),
        made_by=request.user,
    )
    link = request.build_absolute_uri(reverse("calendar:feed", args=[secret]))
    return papers_page(request, garden, link=link)


@garden_page(Ability.MANAGE, "POST")
def revoke(request: GardenRequest, garden: Garden, link_id: int) -> HttpResponse:
    """Let a link lead nowhere from now on."""
    get_object_or_404(garden.calendar_links, pk=link_id).delete()
    messages.success(request, _("The link leads nowhere from now on."))
    return redirect("papers:all", garden.pk)


@everyone()
def feed(request: HttpRequest, secret: str) -> HttpResponse:
    """The calendar of the garden's newest plan."""
    link = get_object_or_404(CalendarLink.objects.select_related("garden"), digest=digest_of(secret))
    saved = newest(link.garden)
    if saved is None:
        raise Http404
    site = plan_of(saved).book.site
    path = paper_file(saved, "calendar.ics", site.paper, site.units)
    if path is None:  # pragma: no cover  # every plan has a calendar
        raise Http404
    CalendarLink.objects.filter(pk=link.pk).update(last_read_at=timezone.now())
    return HttpResponse(path.read_bytes(), content_type=TYPES[path.suffix])
