"""What was done, seen or brought in, line by line. Lines are added, never changed or deleted."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from datetime import datetime, timedelta
from pathlib import Path
from types import MappingProxyType
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.gardens.models import Garden


class Kind(models.TextChoices):
    """What a line of the log tells of; the values are those of `model.log.LogKind`."""

    SOWN_UNDER_COVER = "sown under cover", _("sown under cover")
    SOWN = "sown", _("sown")
    SET_OUT = "set out", _("set out")
    EMERGED = "emerged", _("seedlings through")
    THINNED = "thinned", _("thinned")
    COUNTED = "counted", _("counted")
    FAILED = "failed", _("failed")
    PICKED = "picked", _("picked")
    CLEARED = "cleared", _("cleared")
    WATERED = "watered", _("watered")
    WEEDED = "weeded", _("weeded")
    RAIN = "rain", _("rain gauge read")
    WORK = "work", _("other work")
    CAME = "came", _("signed in")
    LEFT = "left", _("signed out")
    SEEN = "seen", _("seen")


JOBS: Mapping[str, Promise] = MappingProxyType(
    {
        "prepare": _("Prepare"),
        "harden off": _("Harden off"),
        "cover": _("Cover at night"),
        "mulch": _("Mulch round"),
        "support": _("Put up supports"),
        "earth up": _("Earth up"),
        "cut down": _("Cut down"),
        "raise": _("Look after trays"),
        "side dress": _("Feed along the row"),
    }
)
"""Jobs of a plan that are other work in the log, by the end of their code."""


class Unit(models.TextChoices):
    """What an amount is in; the values are those of `model.log.LogUnit`."""

    NONE = "", _("no amount")
    PLANTS = "plants", _("plants")
    KG = "kg", _("kg")
    LITRES = "L", _("L")
    MM = "mm", _("mm")
    ROW_M = "row m", _("m of row")


class Clock(models.TextChoices):
    """What is to be thought of the clock that a line was written by."""

    SOUND = "", _("agrees with the server")
    SET_RIGHT = "set right", _("was wrong when the line was sent; day and time were set right by it")
    DOUBTFUL = "doubtful", _("cannot have been right when the line was written; check the day")


class LogEntry(models.Model):
    """One line. When a person is deleted the line stays without a name."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="log_entries")
    client_id = models.UUIDField(default=uuid.uuid4)
    """Given by whoever wrote it; the same line sent twice is kept once."""
    day = models.DateField()
    kind = models.CharField(max_length=20, choices=Kind.choices)
    bed_code = models.CharField(max_length=6, blank=True)
    row_code = models.CharField(max_length=10, blank=True)
    planting_code = models.CharField(max_length=60, blank=True)
    crop = models.CharField(max_length=60, blank=True)
    task_code = models.CharField(max_length=100, blank=True)
    quantity = models.FloatField(null=True, blank=True)
    unit = models.CharField(max_length=8, choices=Unit.choices, blank=True)
    person_min = models.PositiveIntegerField(null=True, blank=True)
    """Minutes of all who worked, added up."""
    n_people = models.PositiveSmallIntegerField(default=1)
    """People signed in or out by it."""
    ends = models.UUIDField(null=True, blank=True)
    """Signing out: `client_id` of the signing in that it ends."""
    partly = models.BooleanField(default=False)
    """The job is not finished by it."""
    corrects = models.UUIDField(null=True, blank=True)
    """`client_id` of the line it takes the place of. Not a key: it may come before that line."""
    struck = models.BooleanField(default=False)
    """It only takes the corrected line away."""
    note = models.TextField(max_length=4000, blank=True)
    plan_digest = models.CharField(max_length=16, blank=True)
    """Plan whose codes it uses."""
    author = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )

    written_at = models.DateTimeField(default=timezone.now)
    """By the clock of whoever wrote it, right or wrong."""
    received_at = models.DateTimeField(default=timezone.now)
    """By the server's clock."""
    clock_ahead_s = models.FloatField(default=0.0)
    """By how much the sender's clock was ahead of the server's when the line was sent."""
    clock = models.CharField(max_length=10, choices=Clock.choices, blank=True)
    stated_day = models.DateField(null=True, blank=True)
    """Day as the phone had it, where that was not believed."""
    device = models.UUIDField(null=True, blank=True)
    device_count = models.PositiveBigIntegerField(null=True, blank=True)
    """Counts up on each phone, whatever its clock does."""
    sent_digest = models.CharField(max_length=32, blank=True)
    """Of the line as it was sent: tells a second copy from another line under the same id."""

    class Meta:
        """Newest day first."""

        ordering: ClassVar[list[str]] = ["-day", "-received_at", "-pk"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "client_id"], name="one_line_a_client_id"),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["garden", "day"], name="log_by_day"),
            models.Index(fields=["garden", "corrects"], name="log_by_corrected"),
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.kind}"

    @property
    def what(self) -> str:
        """What happened; of other work which job it was, where a job of the plan was ticked."""
        job = JOBS.get(self.task_code.rpartition(":")[2]) if self.kind == Kind.WORK else None
        return str(job or self.get_kind_display())

    @property
    def at(self) -> datetime:
        """When it was written, as well as the clocks allow."""
        if self.clock == Clock.DOUBTFUL:
            return self.received_at
        return self.written_at - timedelta(seconds=self.clock_ahead_s)


class LogPhoto(models.Model):
    """A photograph that belongs to a line of the log, made small, with nothing hidden in it."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="log_photos")
    client_id = models.UUIDField(default=uuid.uuid4)
    entry_id_of_client = models.UUIDField()
    """`client_id` of its line. Not a key: it may come before that line."""
    n_bytes = models.PositiveIntegerField()
    width_px = models.PositiveIntegerField()
    height_px = models.PositiveIntegerField()
    received_at = models.DateTimeField(default=timezone.now)

    class Meta:
        """In the order they came."""

        ordering: ClassVar[list[str]] = ["received_at", "pk"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "client_id"], name="one_photo_a_client_id"),
        ]
        indexes: ClassVar[list[models.Index]] = [
            models.Index(fields=["garden", "entry_id_of_client"], name="photo_by_line"),
        ]

    def __str__(self) -> str:
        return f"{self.client_id}.jpg"

    @property
    def path(self) -> Path:
        """Its file below the data folder."""
        return Path(settings.MEDIA_ROOT) / "log" / str(self.garden_id) / f"{self.client_id}.jpg"
