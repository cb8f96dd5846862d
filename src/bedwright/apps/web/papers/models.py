"""Secret links to the calendar of a garden's newest plan."""

from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden


class CalendarLink(models.Model):
    """A link that gives the calendar to whoever has it, until it is revoked.

    Only the digest of its secret is kept.
    """

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="calendar_links")
    name = models.CharField(max_length=80)
    """Whose calendar it is for."""
    digest = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    last_read_at = models.DateTimeField(null=True)

    class Meta:
        """Newest first."""

        ordering: ClassVar[list[str]] = ["-made_at"]

    def __str__(self) -> str:
        return self.name
