"""The language of a page: the person's choice, else the browser's."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.utils import translation
from django.utils.cache import patch_vary_headers


def language_of_person(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that switches to the language of the person, the cookie or the browser."""
    known = {code for code, _ in settings.LANGUAGES}

    def answer(request: HttpRequest) -> HttpResponse:
        chosen = getattr(request.user, "language", "")
        language = chosen if chosen in known else translation.get_language_from_request(request)
        with translation.override(language):
            request.LANGUAGE_CODE = translation.get_language() or settings.LANGUAGE_CODE
            response = get_response(request)
            response.headers.setdefault("Content-Language", request.LANGUAGE_CODE)
        patch_vary_headers(response, ("Accept-Language",))
        return response

    return answer
