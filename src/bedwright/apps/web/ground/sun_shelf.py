"""What was worked out about the sun of sites being drawn just now, within bounds of memory."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Hashable
from functools import cache
from threading import Lock

from bedwright.service.site_sun import SiteSun

MOST_VIEWS = 250_000
"""Views kept in all, about a kilobyte each."""


class SunShelf:
    """The last answer for each of a few drawings; the one untouched longest is given up first."""

    def __init__(self, most_views: int = MOST_VIEWS) -> None:
        self._most_views = most_views
        self._kept: OrderedDict[Hashable, SiteSun] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable) -> SiteSun | None:
        """What is kept for a drawing."""
        with self._lock:
            found = self._kept.get(key)
            if found is not None:
                self._kept.move_to_end(key)
            return found

    def put(self, key: Hashable, sun: SiteSun) -> None:
        """Keep an answer, and let go of others where they are too many together."""
        with self._lock:
            self._kept[key] = sun
            self._kept.move_to_end(key)
            while len(self._kept) > 1 and self._n_views() > self._most_views:
                self._kept.popitem(last=False)

    def _n_views(self) -> int:
        return sum(sun.n_views for sun in self._kept.values())


@cache
def shelf() -> SunShelf:
    """The shelf of this process. It holds values only: losing it costs time and nothing else."""
    return SunShelf()
