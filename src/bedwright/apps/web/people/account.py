"""A person's own page."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from bedwright.apps.web.people.access import PersonRequest, signed_in
from bedwright.apps.web.people.forms import OwnPageForm, PasswordForm
from bedwright.apps.web.people.leaving import gardens_left_alone


@signed_in("GET", "POST")
def own_page(request: PersonRequest) -> HttpResponse:
    """Name and language, and the ways to the password and out."""
    form = OwnPageForm(request.POST or None, instance=request.user)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, _("Kept."))
        return redirect("people:account")
    status = 422 if form.errors else 200
    context = {"form": form, "left_alone": gardens_left_alone(request.user)}
    return render(request, "people/account.html", context, status=status)


@signed_in("GET", "POST")
def change_password(request: PersonRequest) -> HttpResponse:
    """A new password; other devices are signed out by it."""
    form = PasswordForm(request.user, request.POST or None)
    if request.method == "POST" and form.is_valid():
        request.user.set_password(form.cleaned_data["new"])
        request.user.save()
        update_session_auth_hash(request, request.user)
        messages.success(request, _("The new password holds from now on."))
        return redirect("people:account")
    return render(request, "people/password.html", {"form": form}, status=422 if form.errors else 200)


@signed_in("POST")
def delete_own(request: PersonRequest) -> HttpResponse:
    """Delete the account; what the person wrote stays, without the name."""
    person = request.user
    if gardens_left_alone(person):
        messages.error(
            request, _("A garden would be left without a coordinator. Hand it on or close it first.")
        )
        return redirect("people:account")
    logout(request)
    person.delete()
    messages.success(request, _("Your account is deleted. Records you wrote stay without your name."))
    return redirect("people:sign-in")
