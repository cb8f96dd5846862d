"""What was done, seen or brought in, line by line."""

from __future__ import annotations

import uuid
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.gardens.models import Garden


class LogKind(models.TextChoices):
    """What a line of the log tells of."""

    SOWN = "sown", _("sown")
    SET_OUT = "set out", _("set out")
    WATERED = "watered", _("watered")
    WEEDED = "weeded", _("weeded")
    PICKED = "picked", _("picked")
    CLEARED = "cleared", _("cleared")
    WORK = "work", _("other work")
    SEEN = "seen", _("seen")


class LogUnit(models.TextChoices):
    """What an amount counts."""

    PLANTS = "plants", _("plants")
    KG = "kg", _("kg")
    LITRES = "L", _("L")
    ROW_M = "row m", _("m of row")
    NONE = "", _("no amount")


class LogEntry(models.Model):
    """One line. When a person is deleted the line stays without a name."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="log_entries")
    client_id = models.UUIDField(default=uuid.uuid4)
    """Given by whoever wrote it; the same line sent twice is kept once."""
    day = models.DateField()
    kind = models.CharField(max_length=10, choices=LogKind.choices)
    bed_code = models.CharField(max_length=6, blank=True)
    planting_code = models.CharField(max_length=60, blank=True)
    task_code = models.CharField(max_length=100, blank=True)
    quantity = models.FloatField(null=True, blank=True)
    unit = models.CharField(max_length=8, choices=LogUnit.choices, blank=True)
    person_min = models.PositiveIntegerField(null=True, blank=True)
    """Minutes of all who worked, added up."""
    note = models.TextField(max_length=4000, blank=True)
    author = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    written_at = models.DateTimeField(default=timezone.now)

    class Meta:
        """Newest day first."""

        ordering: ClassVar[list[str]] = ["-day", "-written_at", "-pk"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "client_id"], name="one_line_a_client_id"),
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.kind}"
