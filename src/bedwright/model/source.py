"""Where a value comes from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Standing = Literal["read", "weak", "derived", "memory", "practice", "own", "packet"]
"""How well a value stands.

read      seen in the named publication
weak      seen, but in an unsigned, commercial or second-hand page
derived   arithmetic on a value that was read; the rule stands beside it
memory    recalled, no copy seen: a first guess
practice  common practice, no source
own       measured, stated or chosen by the coordinator in the garden book
packet    printed on the seed packet, entered in the garden book
"""

PUBLISHED: frozenset[Standing] = frozenset({"read", "weak", "derived"})
"""Standings that end at a publication."""


@dataclass(frozen=True, slots=True)
class Source:
    """A publication, or a stated lack of one."""

    id: str
    citation: str
    seen: str
    """What of it was seen, and where."""


@dataclass(frozen=True, slots=True)
class Origin:
    """The answer to "where does this number come from?" for one number shown to a user."""

    quantity: str
    """Name with unit, such as `in_row_spacing_m`."""
    value: float | str | None
    rule: str
    """How the value was reached, in plain words."""
    source_ids: tuple[str, ...]
    """Keys into the list of sources; empty only if `standing` is `own` or `practice`."""
    standing: Standing
