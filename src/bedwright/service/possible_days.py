"""Days on which each planting of a book may go into the ground."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from bedwright.engine.pipeline import groundwork_of
from bedwright.engine.placement.pins import NEAR_DAYS
from bedwright.service.load import Loaded

__all__ = ["NEAR_DAYS", "possible_days"]


def possible_days(loaded: Loaded, *, today: date) -> Mapping[str, tuple[date, ...]]:
    """Code of what is asked for to the days worked out for it, earliest first.

    Parameters
    ----------
    loaded
        A garden book with its record.
    today
        Nothing is begun before it.
    """
    ground = groundwork_of(loaded.book, loaded.record, loaded.catalogue, today=today)
    return {
        request.code: tuple(choice.in_ground for choice in request.choices) for request in ground.requests
    }
