"""The addresses on pegs: the card for visitors, and the page that switches it on."""

from __future__ import annotations

import tempfile
from pathlib import Path

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _

from bedwright.apps.web.field.models import PegLink, new_token
from bedwright.apps.web.field.public_card import public_card
from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.reading import plan_in
from bedwright.apps.web.people.access import Ability, GardenRequest, everyone, garden_page
from bedwright.apps.web.people.models import Membership
from bedwright.papers import PaperName, default_label_sheet, write_papers


def link_base(garden: Garden, request: HttpRequest) -> str | None:
    """What stands before a row's code in the address on a peg; None while a garden has no such link."""
    link = PegLink.objects.filter(garden=garden).first()
    return None if link is None else request.build_absolute_uri(f"/p/{link.token}")


@everyone()
def card(request: HttpRequest, token: str, row_code: str) -> HttpResponse:
    """A row for whoever scans its peg: members go to its page in the field, visitors see the card."""
    link = get_object_or_404(PegLink.objects.select_related("garden"), token=token)
    garden = link.garden
    inside = (
        request.user.is_authenticated
        and Membership.objects.filter(garden=garden, user_id=request.user.pk).exists()
    )
    if inside and "card" not in request.GET:
        return HttpResponseRedirect(f"{reverse('field:today', args=[garden.pk])}#row={row_code}")
    if not inside and not link.public:
        raise Http404
    found = public_card(garden, row_code)
    status = 200 if found is not None else 404
    return render(
        request,
        "field/card.html",
        {"card": found, "row_code": row_code, "garden_name": garden.name},
        status=status,
    )


@garden_page(Ability.MANAGE, "GET", "POST")
def manage(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Switch the addresses on pegs on and off, or make new ones."""
    link = PegLink.objects.filter(garden=garden).first()
    if request.method == "POST":
        _change(request, garden, link)
        return redirect("field:pegs", garden.pk)
    base = link_base(garden, request)
    return render(request, "field/pegs.html", {"link": link, "base": base, "page_title": _("Peg links")})


@garden_page(Ability.READ)
def labels(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Peg labels of the newest plan whose codes lead to the rows' pages."""
    newest = plan_in(garden)
    base = link_base(garden, request)
    if newest is None or base is None:
        raise Http404
    plan = newest[1]
    site = plan.book.site
    only: tuple[PaperName, ...] = ("labels",)
    with tempfile.TemporaryDirectory() as folder:
        (file,) = write_papers(
            plan,
            Path(folder),
            paper=site.paper,
            units=site.units,
            label_sheet=default_label_sheet(site.paper).name,
            every_row="every" in request.GET,
            only=only,
            link_base=base,
        )
        content = file.read_bytes()
    headers = {"Content-Disposition": 'inline; filename="labels.pdf"'}
    return HttpResponse(content, content_type="application/pdf", headers=headers)


def _change(request: GardenRequest, garden: Garden, link: PegLink | None) -> None:
    wanted = request.POST.get("do", "")
    if wanted == "make" and link is None:
        PegLink.objects.get_or_create(garden=garden, defaults={"public": True})
        messages.success(request, _("Labels printed on this page lead to the rows' pages."))
    elif wanted in {"open", "close"} and link is not None:
        link.public = wanted == "open"
        link.save(update_fields=["public"])
        messages.success(
            request,
            _("Visitors see the card of a row.") if link.public else _("Visitors see nothing any more."),
        )
    elif wanted == "renew" and link is not None:
        link.token = new_token()
        link.save(update_fields=["token"])
        messages.success(request, _("New links are made. Labels printed before lead nowhere."))
