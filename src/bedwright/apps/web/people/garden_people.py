"""Who has a part in a garden: invite, change, remove."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.people.access import Ability, GardenRequest, garden_page
from bedwright.apps.web.people.forms import InvitationForm
from bedwright.apps.web.people.leaving import only_coordinator, remove_person
from bedwright.apps.web.people.models import (
    INVITATION_LASTS,
    Invitation,
    Membership,
    Role,
    digest_of,
    new_secret,
)


@garden_page(Ability.MANAGE)
def list_people(request: GardenRequest, garden: Garden) -> HttpResponse:
    """People with a part, and open invitations."""
    return _page(request, garden, InvitationForm())


@garden_page(Ability.MANAGE, "POST")
def invite(request: GardenRequest, garden: Garden) -> HttpResponse:
    """Make an invitation and show its link, this once."""
    form = InvitationForm(request.POST)
    if not form.is_valid():
        return _page(request, garden, form, status=422)
    secret = new_secret()
    Invitation.objects.create(
        garden=garden,
        role=form.cleaned_data["role"],
        note=form.cleaned_data["note"],
        digest=digest_of(secret),
        made_by=request.user,
        expires_at=timezone.now() + INVITATION_LASTS,
    )
    link = request.build_absolute_uri(reverse("people:accept", args=[secret]))
    return _page(request, garden, InvitationForm(), link=link)


@garden_page(Ability.MANAGE, "POST")
def revoke(request: GardenRequest, garden: Garden, invitation_id: int) -> HttpResponse:
    """Withdraw an invitation that nobody has used."""
    get_object_or_404(Invitation, pk=invitation_id, garden=garden).delete()
    messages.success(request, _("The invitation is withdrawn."))
    return redirect("garden-people:list", garden.pk)


@garden_page(Ability.MANAGE, "POST")
def change_part(request: GardenRequest, garden: Garden, membership_id: int) -> HttpResponse:
    """Give a person another part; a garden keeps at least one coordinator."""
    membership = get_object_or_404(Membership, pk=membership_id, garden=garden)
    role = request.POST.get("role", "")
    if role not in Role.values:
        messages.error(request, _("Choose one of the parts."))
    elif role != Role.COORDINATOR and only_coordinator(membership):
        messages.error(request, _("A garden needs a coordinator. Make somebody else one first."))
    else:
        membership.role = role
        membership.save()
        messages.success(request, _("Kept."))
    return redirect("garden-people:list", garden.pk)


@garden_page(Ability.MANAGE, "POST")
def remove(request: GardenRequest, garden: Garden, membership_id: int) -> HttpResponse:
    """Take a person out; their records stay without the name."""
    membership = get_object_or_404(Membership, pk=membership_id, garden=garden)
    if only_coordinator(membership):
        messages.error(request, _("A garden needs a coordinator. Make somebody else one first."))
        return redirect("garden-people:list", garden.pk)
    oneself = membership.user_id == request.user.pk
    remove_person(membership)
    if oneself:
        return redirect("gardens:list")
    messages.success(request, _("Removed. Records stay, without the name."))
    return redirect("garden-people:list", garden.pk)


def _page(
    request: GardenRequest, garden: Garden, form: InvitationForm, *, link: str = "", status: int = 200
) -> HttpResponse:
    context = {
        "form": form,
        "link": link,
        "roles": Role.choices,
        "memberships": garden.memberships.select_related("user"),
        "invitations": [each for each in garden.invitations.all() if each.open],
    }
    return render(request, "people/garden_people.html", context, status=status)
