"""The list of a person's gardens, and the ways to a new one."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.people.access import PersonRequest, signed_in
from bedwright.apps.web.people.models import Membership


@signed_in()
def list_gardens(request: PersonRequest) -> HttpResponse:
    """Gardens in which the person has a part."""
    parts = Membership.objects.filter(user=request.user).select_related("garden", "garden__head")
    return render(request, "gardens/list.html", {"memberships": parts.order_by("garden__name", "garden_id")})


@signed_in("POST")
def new_from_demo(request: PersonRequest) -> HttpResponse:
    """A copy of the demonstration garden."""
    garden = load_demo(request.user)
    messages.success(request, _("The demonstration garden is yours to change."))
    return redirect("garden:home", garden.pk)
