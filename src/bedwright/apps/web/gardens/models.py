"""Gardens, their books revision by revision, and the weather records the books name."""

from __future__ import annotations

import gzip
from typing import ClassVar

from django.conf import settings
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _


class Garden(models.Model):
    """One garden, closed to everybody without a part in it."""

    name = models.CharField(max_length=80)
    """As in the newest revision of the book, for lists."""
    made_at = models.DateTimeField(default=timezone.now)
    head = models.ForeignKey("BookRevision", on_delete=models.SET_NULL, null=True, related_name="+")
    """The newest revision."""

    class Meta:
        """By name."""

        ordering: ClassVar[list[str]] = ["name", "pk"]

    def __str__(self) -> str:
        return self.name


class RevisionKind(models.TextChoices):
    """How a revision came about."""

    CHANGE = "change", _("change")
    UNDO = "undo", _("undo")
    REDO = "redo", _("redo")


class BookRevision(models.Model):
    """The whole text of a garden book at one moment. Never changed, never deleted alone.

    Undoing makes a new revision with an old text, so that history only ever grows.
    """

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="revisions")
    number = models.PositiveIntegerField()
    """Counted from 1 in each garden."""
    parent = models.ForeignKey("self", on_delete=models.SET_NULL, null=True, related_name="+")
    """The revision it followed."""
    kind = models.CharField(max_length=8, choices=RevisionKind.choices, default=RevisionKind.CHANGE)
    author = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now)
    note = models.CharField(max_length=200, blank=True)
    text = models.TextField()
    """The book as YAML."""

    class Meta:
        """Newest first."""

        ordering: ClassVar[list[str]] = ["-number"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            # Two people who save at once cannot both get the next number.
            models.UniqueConstraint(fields=["garden", "number"], name="one_revision_a_number"),
        ]

    def __str__(self) -> str:
        return f"{self.garden} {self.number}"


class WeatherFile(models.Model):
    """A daily weather record under the name by which a book of the garden calls it."""

    garden = models.ForeignKey(Garden, on_delete=models.CASCADE, related_name="weather_files")
    name = models.CharField(max_length=120)
    packed = models.BinaryField()
    """The file as it came, gzip."""
    n_bytes = models.PositiveBigIntegerField()
    station = models.CharField(max_length=200)
    provenance = models.TextField(blank=True)
    invented = models.BooleanField(default=False)
    first_day = models.DateField()
    last_day = models.DateField()
    uploaded_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.SET_NULL, null=True, related_name="+"
    )
    uploaded_at = models.DateTimeField(default=timezone.now)

    class Meta:
        """Newest first; a name means one file."""

        ordering: ClassVar[list[str]] = ["-uploaded_at"]
        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "name"], name="one_weather_file_a_name"),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def content(self) -> bytes:
        """The file as it came."""
        return gzip.decompress(bytes(self.packed))
