"""Headers on every answer that tell the browser what a page may do."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

_POLICY = {
    "default-src": "'none'",
    "script-src": "'self'",
    "style-src": "'self'",
    "img-src": "'self' data: blob:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "manifest-src": "'self'",
    "worker-src": "'self'",
    "frame-src": "'self'",
    "form-action": "'self'",
    "frame-ancestors": "'none'",
    "base-uri": "'none'",
}
CONTENT_SECURITY_POLICY = "; ".join(f"{name} {value}" for name, value in _POLICY.items())
"""Nothing from elsewhere, and nothing written into the page itself."""

PERMISSIONS_POLICY = "camera=(self), geolocation=(), microphone=(), payment=(), usb=()"
"""The camera is for photographs in the log."""


def security_headers(
    get_response: Callable[[HttpRequest], HttpResponse],
) -> Callable[[HttpRequest], HttpResponse]:
    """Middleware that sets the headers; pages of a garden are kept in no shared store."""

    def answer(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        response.headers.setdefault("Permissions-Policy", PERMISSIONS_POLICY)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        if not request.path.startswith("/static/"):
            response.headers.setdefault("Cache-Control", "private, no-cache")
        return response

    return answer
