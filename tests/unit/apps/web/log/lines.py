"""Lines as a phone makes them, for tests."""

from __future__ import annotations

import uuid
from datetime import datetime
from random import Random
from typing import Any

from django.utils import timezone

from bedwright.apps.web.gardens.models import Garden
from bedwright.apps.web.log.accepting import Sender
from bedwright.apps.web.log.reading import zone_of
from bedwright.apps.web.people.models import User


def line(at: datetime | None = None, **fields: Any) -> dict[str, Any]:
    """A crate of carrots, or what the fields say."""
    written_at = at or timezone.now()
    base = {
        "id": str(uuid.uuid4()),
        "kind": "picked",
        "day": written_at.date().isoformat(),
        "written_at": written_at.isoformat(),
        "bed": "A",
        "row": "A1",
        "planting": "carrot-1",
        "crop": "carrot",
        "quantity": 2.5,
        "unit": "kg",
    }
    return base | fields


def random_id(random: Random) -> str:
    """An id that comes again with the same seed."""
    return str(uuid.UUID(int=random.getrandbits(128), version=4))


def sender(garden: Garden, author: User, *, sent_at: datetime | None = None, leader: bool = False) -> Sender:
    """Somebody who sends now."""
    now = timezone.now()
    return Sender(author, leader, zone_of(garden), sent_at or now, now)
