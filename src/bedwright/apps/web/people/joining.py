"""The first account, and invitations accepted."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import login
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.crypto import constant_time_compare
from django.utils.translation import gettext as _

from bedwright.apps.web.gardens.demo import load_demo
from bedwright.apps.web.people.access import everyone
from bedwright.apps.web.people.forms import FirstPersonForm, NewPersonForm
from bedwright.apps.web.people.models import Invitation, Membership, Role, User, digest_of, new_secret

START_FILE = "start-link"


def start_secret() -> str:
    """Secret of the link under which the first account is made; kept in the data folder."""
    file = settings.DATA / START_FILE
    if not file.exists():
        file.touch(mode=0o600)
        file.write_text(new_secret(), encoding="ascii")
    return str(file.read_text(encoding="ascii").strip())


@everyone("GET", "POST")
def start(request: HttpRequest, secret: str) -> HttpResponse:
    """The first account; gone as soon as there is one."""
    if User.objects.exists() or not constant_time_compare(secret, start_secret()):
        raise Http404
    form = FirstPersonForm(request.POST or None)
    if request.method != "POST":
        return render(request, "people/start.html", {"form": form})
    if not form.is_valid():
        return render(request, "people/start.html", {"form": form}, status=422)
    with transaction.atomic():
        person = form.save()
        garden = load_demo(person) if form.cleaned_data["with_demo"] else None
    login(request, person, backend="django.contrib.auth.backends.ModelBackend")
    (settings.DATA / START_FILE).unlink(missing_ok=True)
    return redirect("gardens:list") if garden is None else redirect("garden:home", garden.pk)


@everyone("GET", "POST")
def accept(request: HttpRequest, secret: str) -> HttpResponse:
    """Take the part an invitation offers, as the person signed in or as somebody new."""
    invitation = Invitation.objects.select_related("garden").filter(digest=digest_of(secret)).first()
    if invitation is None or not invitation.open:
        return render(request, "people/invitation_closed.html", status=410)
    person = request.user if isinstance(request.user, User) else None
    form = None if person else NewPersonForm(request.POST or None)
    context = {"form": form, "invitation": invitation, "path": request.path}
    if request.method != "POST":
        return render(request, "people/accept.html", context)
    if form is not None and not form.is_valid():
        return render(request, "people/accept.html", context, status=422)
    with transaction.atomic():
        # Only one of two requests at once finds it unused.
        used = Invitation.objects.filter(pk=invitation.pk, used_at=None).update(used_at=timezone.now())
        if not used:
            return render(request, "people/invitation_closed.html", status=410)
        newcomer = form.save() if form is not None else person
        if newcomer is None:  # pragma: no cover  # one of the two is always there
            raise Http404
        Membership.objects.get_or_create(
            garden=invitation.garden, user=newcomer, defaults={"role": Role(invitation.role)}
        )
    if form is not None:
        login(request, newcomer, backend="django.contrib.auth.backends.ModelBackend")
    messages.success(request, _("Welcome to %(garden)s.") % {"garden": invitation.garden.name})
    return redirect("garden:home", invitation.garden.pk)
