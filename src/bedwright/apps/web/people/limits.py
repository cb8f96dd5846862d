"""Slows down guessing of passwords."""

from __future__ import annotations

from datetime import timedelta

from django.http import HttpRequest
from django.utils import timezone

from bedwright.apps.web.people.models import FailedSignIn, digest_of

WINDOW = timedelta(minutes=15)
MOST_A_PERSON = 5
"""Failures for one address of a person, wherever they come from."""
MOST_A_PLACE = 30
"""Failures from one network address, for whomever: many people may share one."""


def too_many(email: str, request: HttpRequest) -> bool:
    """Whether no further attempt is let through for now."""
    recent = FailedSignIn.objects.filter(at__gt=timezone.now() - WINDOW)
    if recent.filter(email_digest=_digest(email)).count() >= MOST_A_PERSON:
        return True
    place = _place(request)
    return place is not None and recent.filter(address=place).count() >= MOST_A_PLACE


def failed(email: str, request: HttpRequest) -> None:
    """Remember a failure, and forget those past the window."""
    FailedSignIn.objects.filter(at__lte=timezone.now() - WINDOW).delete()
    FailedSignIn.objects.create(email_digest=_digest(email), address=_place(request))


def succeeded(email: str) -> None:
    """Forget the failures of a person who got in."""
    FailedSignIn.objects.filter(email_digest=_digest(email)).delete()


def _digest(email: str) -> str:
    # Attempts may carry a password typed into the wrong field: nothing readable is kept.
    return digest_of(email.strip().lower())


def _place(request: HttpRequest) -> str | None:
    return request.META.get("REMOTE_ADDR") or None
