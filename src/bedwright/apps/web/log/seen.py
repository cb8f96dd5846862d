"""The last few seasons seen through their logs: what one request worked out, the next need not."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import cache
from threading import Lock

from bedwright.model.log import LoggedSeason

MOST = 12


class SeenShelf:
    """Seasons by garden, plan, day and state of the log; the one untouched longest is given up first."""

    def __init__(self, most: int = MOST) -> None:
        self._most = most
        self._kept: OrderedDict[Hashable, LoggedSeason] = OrderedDict()
        self._lock = Lock()

    def get(self, key: Hashable, make: Callable[[], LoggedSeason]) -> LoggedSeason:
        """What is kept under a key, made if there is nothing."""
        with self._lock:
            found = self._kept.get(key)
            if found is not None:
                self._kept.move_to_end(key)
                return found
        # Others go on meanwhile; two who make the same make it alike.
        made = make()
        with self._lock:
            self._kept[key] = made
            while len(self._kept) > self._most:
                self._kept.popitem(last=False)
        return made


@cache
def shelf() -> SeenShelf:
    """The shelf of this process. It holds values only: losing it costs time and nothing else."""
    return SeenShelf()
