"""Pages for what went wrong."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render


def no_such_page(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """There is no such page, or it belongs to a garden the person is no part of."""
    return render(request, "faults/no_such_page.html", status=404)


def not_allowed(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """The person's role in this garden does not reach so far."""
    return render(request, "faults/not_allowed.html", status=403)


def own_fault(request: HttpRequest) -> HttpResponse:
    """A fault of the application itself."""
    return render(request, "faults/own_fault.html", status=500)


def form_too_old(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form came without the token that ties it to this browser."""
    return render(request, "faults/form_too_old.html", status=403)
