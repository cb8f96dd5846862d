"""The choice of a language, kept with the person or, before signing in, in a cookie."""

from __future__ import annotations

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.utils.http import url_has_allowed_host_and_scheme

from bedwright.apps.web.people.access import everyone
from bedwright.apps.web.people.models import User


@everyone("POST")
def set_language(request: HttpRequest) -> HttpResponse:
    """Keep the language chosen and go back to the page it was chosen on."""
    back = request.POST.get("next", "/")
    if not url_has_allowed_host_and_scheme(back, {request.get_host()}):
        back = "/"
    response = HttpResponseRedirect(back)
    code = request.POST.get("language", "")
    if code in {known for known, _ in settings.LANGUAGES}:
        if isinstance(request.user, User):
            User.objects.filter(pk=request.user.pk).update(language=code)
        response.set_cookie(
            settings.LANGUAGE_COOKIE_NAME,
            code,
            max_age=60 * 60 * 24 * 365,
            samesite="Lax",
            secure=settings.SESSION_COOKIE_SECURE,
            httponly=True,
        )
    return response
