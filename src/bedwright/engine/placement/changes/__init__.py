"""Explaining a plan and changing it: what else there was, what to do after something happened."""

from bedwright.engine.placement.changes.again import Replanned, replan
from bedwright.engine.placement.changes.alternatives import board_of, with_alternatives
from bedwright.engine.placement.changes.board import Board
from bedwright.engine.placement.changes.giving import with_what_would_help
from bedwright.engine.placement.changes.listing import changes_between
from bedwright.engine.placement.changes.situation import EventRefusedError, begun_before

__all__ = [
    "Board",
    "EventRefusedError",
    "Replanned",
    "begun_before",
    "board_of",
    "changes_between",
    "replan",
    "with_alternatives",
    "with_what_would_help",
]
