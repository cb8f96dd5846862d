"""The link that the codes on a garden's pegs lead to."""

from __future__ import annotations

import secrets

from django.db import models
from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden

ALPHABET = "abcdefghjkmnpqrstuvwxyz23456789"
"""Without signs that are mistaken for one another when a link is typed off a peg."""
N_SIGNS = 10


def new_token() -> str:
    """Ten signs: short enough for a small code, and some 49 bits, so that nobody finds it by trying."""
    return "".join(secrets.choice(ALPHABET) for _ in range(N_SIGNS))


class PegLink(models.Model):
    """What comes before the row's code in the address on every peg of a garden.

    The address is no secret: it stands on the pegs. A new one makes all pegs printed before
    lead nowhere.
    """

    garden = models.OneToOneField(Garden, on_delete=models.CASCADE, related_name="peg_link")
    token = models.CharField(max_length=16, unique=True, default=new_token)
    public = models.BooleanField(default=False)
    """Whether visitors without a part in the garden see the card of a row."""
    made_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return self.token
