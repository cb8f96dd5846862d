"""Signing in and out."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth import authenticate, login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render, resolve_url
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _

from bedwright.apps.web.people import limits
from bedwright.apps.web.people.access import everyone
from bedwright.apps.web.people.forms import SignInForm


@everyone("GET", "POST")
def sign_in(request: HttpRequest) -> HttpResponse:
    """The sign-in page; 429 once too many attempts have failed."""
    following = request.POST.get("next") or request.GET.get("next") or ""
    if not url_has_allowed_host_and_scheme(
        following, {request.get_host()}, require_https=request.is_secure()
    ):
        following = resolve_url(settings.LOGIN_REDIRECT_URL)
    if request.user.is_authenticated:
        return redirect(following)
    form = SignInForm(request.POST or None)
    status = 200
    if request.method == "POST":
        status = 422
        if form.is_valid():
            email, password = form.cleaned_data["email"], form.cleaned_data["password"]
            if limits.too_many(email, request):
                status = 429
                form.add_error(
                    None, _("Too many failed attempts. Wait a quarter of an hour, then try again.")
                )
            else:
                person = authenticate(request, username=email, password=password)
                if person is not None:
                    limits.succeeded(email)
                    login(request, person)
                    return redirect(following)
                limits.failed(email, request)
                form.add_error(None, _("Address and password do not belong together."))
    return render(request, "people/sign_in.html", {"form": form, "next": following}, status=status)


@everyone("POST")
def sign_out(request: HttpRequest) -> HttpResponse:
    """End the session."""
    logout(request)
    messages.success(request, _("You are signed out."))
    return redirect("people:sign-in")
