"""What the origin of a number in a season plan is the origin of, in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from django.utils.functional import Promise
from django.utils.translation import gettext_lazy as _

WORDS: Mapping[str, Promise] = MappingProxyType(
    {
        "n_plants": _("Plants"),
        "successions": _("Sowings one after another"),
        "in_ground": _("In the ground"),
        "sow_under_cover": _("Sow under cover"),
        "harden_off_from": _("Harden off from"),
        "emerges": _("Comes up"),
        "first_pick": _("First pick"),
        "last_pick": _("Last pick"),
        "chance": _("Chance"),
    }
)
"""By the quantity of an `Origin` of a planting."""
COUNTS = frozenset({"n_plants", "successions"})
"""Their value is a plain number; of the others the rule says it, with its unit."""


def words_of(quantity: str) -> str:
    """A quantity in the language of the page; one not known here by its own name."""
    return str(WORDS.get(quantity, quantity.replace("_", " ")))
