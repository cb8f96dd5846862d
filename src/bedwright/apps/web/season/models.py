"""Season plans: asked for, being made, made."""

from __future__ import annotations

import gzip
from typing import Any, ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from bedwright.apps.web.gardens.models import BookRevision, Garden


class PlanState(models.TextChoices):
    """How far a plan has come."""

    WAITING = "waiting", _("waiting")
    WORKING = "working", _("being made")
    DONE = "done", _("done")
    STOPPED = "stopped", _("stopped")
    FAILED = "failed", _("failed")


class PlanKind(models.TextChoices):
    """How a plan comes about."""

    MADE = "made", _("made from the book")
    FURTHER = "further", _("searched on")
    AGAIN = "again", _("planned again")
    MOVED = "moved", _("moved by hand")
    BACK = "back", _("put back")


OPEN_STATES = (PlanState.WAITING, PlanState.WORKING)


class SavedPlan(models.Model):
    """One season plan of one revision of the book."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="plans")
    revision = models.ForeignKey(BookRevision, on_delete=models.CASCADE, related_name="plans")
    asked_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    asked_at = models.DateTimeField(default=timezone.now)
    today = models.DateField()
    """No task is planned before it."""
    seed = models.PositiveIntegerField(default=1)
    name = models.CharField(max_length=80, blank=True)
    kind = models.CharField(max_length=8, choices=PlanKind.choices, default=PlanKind.MADE)
    follows = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="followed_by"
    )
    """The plan it was made from; None for one made from the book alone."""
    asked: models.JSONField[Any, Any] = models.JSONField(default=dict, blank=True)
    """What happened, or which block was moved where: see `season.asking`."""

    state = models.CharField(max_length=8, choices=PlanState.choices, default=PlanState.WAITING)
    stage = models.CharField(max_length=20, blank=True)
    progress = models.CharField(max_length=200, blank=True)
    stop_asked = models.BooleanField(default=False)
    """Somebody wants it not to be made after all."""
    enough_asked = models.BooleanField(default=False)
    """Somebody wants the best that is found by now."""
    finished_at = models.DateTimeField(null=True)
    problems: models.JSONField[Any, Any] = models.JSONField(default=list)
    """Why it failed: records of `Problem`, or one entry with a plain text."""

    digest = models.CharField(max_length=16, blank=True)
    """The plan's own revision: the same inputs give the same one."""
    season_start = models.DateField(null=True)
    """First day of its season; None until it is made."""
    n_plantings = models.PositiveIntegerField(default=0)
    n_plants = models.PositiveIntegerField(default=0)
    n_shortfalls = models.PositiveIntegerField(default=0)
    packed = models.BinaryField(null=True)
    """season.json, gzip."""

    class Meta:
        """Newest first."""

        ordering: ClassVar[list[str]] = ["-asked_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.garden} {self.asked_at:%Y-%m-%d %H:%M}"

    @property
    def open(self) -> bool:
        """True until it is done, stopped or has failed."""
        return self.state in OPEN_STATES

    @property
    def behind_book(self) -> bool:
        """Whether the book has become another one since."""
        head = self.garden.head
        return head is not None and self.revision_id != head.pk and self.revision.text != head.text

    @property
    def json(self) -> str:
        """season.json, empty while there is none."""
        return gzip.decompress(bytes(self.packed)).decode() if self.packed else ""


class Worker(models.Model):
    """A process that makes plans, and when it last told that it is alive."""

    worker_id = models.CharField(max_length=64, primary_key=True)
    """Host, process number and a random end."""
    seen_at = models.DateTimeField()

    def __str__(self) -> str:
        return self.worker_id
