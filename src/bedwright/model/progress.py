"""What a long piece of work is busy with, told while it goes on."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Stage = Literal["climate", "sun", "dates", "places", "checking", "care", "papers"]


@dataclass(frozen=True, slots=True)
class Progress:
    """What is being worked on."""

    stage: Stage
    text: str


class PlanRuleBrokenError(Exception):
    """The independent checker found a fault in a finished plan: a fault of Bedwright itself."""
