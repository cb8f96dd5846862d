"""A phone as the field pages behave: what it wrote stays until the server names it as kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from random import Random
from typing import Any

from tests.unit.apps.web.log.lines import line, random_id

Send = Callable[[dict[str, Any]], dict[str, Any]]
"""Takes the body of a request and gives the answer; raises OSError where the network is cut."""


@dataclass
class Phone:
    """One phone with its queue, its own clock and its own counter."""

    random: Random
    clock_off: timedelta = timedelta(0)
    count: int = 0
    queue: dict[str, dict[str, Any]] = field(default_factory=dict)
    written: list[str] = field(default_factory=list)

    def now(self, true_now: datetime) -> datetime:
        """What its clock says."""
        return true_now + self.clock_off

    def write(self, true_now: datetime, **fields: Any) -> str:
        """Write a line down; it waits."""
        self.count += 1
        made = line(self.now(true_now), id=random_id(self.random), count=self.count, **fields)
        self.queue[made["id"]] = made
        self.written.append(made["id"])
        return str(made["id"])

    def sync(self, send: Send, true_now: datetime, *, most: int = 50) -> bool:
        """Send some of what waits, in any order; False where the network was cut."""
        waiting = list(self.queue.values())
        self.random.shuffle(waiting)
        body = {"sent_at": self.now(true_now).isoformat(), "lines": waiting[:most]}
        try:
            answers = send(body)["answers"]
        except OSError:
            return False
        self.forget(answer["id"] for answer in answers if answer["state"] in {"kept", "had"})
        return True

    def forget(self, ids: Iterable[str]) -> None:
        """Drop lines that the server has."""
        for each in ids:
            self.queue.pop(each, None)
