"""People who can sign in, their part in each garden, and invitations to take one."""

from __future__ import annotations

import hashlib
import secrets
from datetime import timedelta
from typing import Any, ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

INVITATION_LASTS = timedelta(days=14)


class UserManager(BaseUserManager["User"]):
    """Makes users; addresses are kept in small letters, so that one person has one."""

    def create_user(self, email: str, password: str | None = None, **fields: Any) -> User:
        """A new user with a hashed password; None: nobody can sign in as them yet."""
        user = self.model(email=email.strip().lower(), **fields)
        user.set_password(password)
        user.save(using=self._db)
        return user

    def get_by_natural_key(self, username: str | None) -> User:
        """The user with an address in any case of letters."""
        return self.get(email=(username or "").strip().lower())


class User(AbstractBaseUser):
    """Somebody who can sign in."""

    email = models.EmailField(_("email address"), unique=True)
    name = models.CharField(_("name"), max_length=80)
    language = models.CharField(_("language"), max_length=8, blank=True)
    is_active = models.BooleanField(default=True)
    joined_at = models.DateTimeField(default=timezone.now)

    objects: ClassVar[UserManager] = UserManager()

    USERNAME_FIELD = "email"
    REQUIRED_FIELDS: ClassVar[list[str]] = ["name"]

    def __str__(self) -> str:
        return self.name


class Role(models.TextChoices):
    """The part a person has in one garden."""

    COORDINATOR = "coordinator", _("coordinator")
    LEADER = "leader", _("team leader")
    VOLUNTEER = "volunteer", _("volunteer")
    READER = "reader", _("reader")


class Membership(models.Model):
    """One person's part in one garden."""

    garden = models.ForeignKey("gardens.Garden", on_delete=models.CASCADE, related_name="memberships")
    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=12, choices=Role.choices)
    since = models.DateTimeField(default=timezone.now)

    class Meta:
        """One part a person in a garden."""

        constraints: ClassVar[list[models.BaseConstraint]] = [
            models.UniqueConstraint(fields=["garden", "user"], name="one_part_a_person"),
        ]
        ordering: ClassVar[list[str]] = ["user__name"]

    def __str__(self) -> str:
        return f"{self.user}: {self.get_role_display()}"


class Invitation(models.Model):
    """A link with which one person can take a part in a garden, once and for a while.

    Only the digest of the link's secret is kept, so that reading the database lets nobody in.
    """

    garden = models.ForeignKey("gardens.Garden", on_delete=models.CASCADE, related_name="invitations")
    role = models.CharField(max_length=12, choices=Role.choices)
    note = models.CharField(max_length=80, blank=True)
    """Whom it is meant for, as a reminder; not checked."""
    digest = models.CharField(max_length=64, unique=True)
    made_by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(default=timezone.now)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True)

    class Meta:
        """Newest first."""

        ordering: ClassVar[list[str]] = ["-made_at"]

    def __str__(self) -> str:
        return f"{self.garden}: {self.get_role_display()}"

    @property
    def open(self) -> bool:
        """True while it can still be used."""
        return self.used_at is None and timezone.now() < self.expires_at


def digest_of(secret: str) -> str:
    """What is kept of a link's secret."""
    return hashlib.sha256(secret.encode()).hexdigest()


def new_secret() -> str:
    """A secret for a link; 256 bits."""
    return secrets.token_urlsafe(32)


class FailedSignIn(models.Model):
    """One failed attempt, kept for a quarter of an hour to slow down guessing."""

    email_digest = models.CharField(max_length=64)
    address = models.GenericIPAddressField(null=True)
    at = models.DateTimeField(default=timezone.now, db_index=True)

    def __str__(self) -> str:
        return f"{self.at:%Y-%m-%d %H:%M}"
