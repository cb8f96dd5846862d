"""Explaining a plan and changing it: what else there was, what to do after something happened."""

from bedwright.engine.placement.changes.again import Replanned, replan, shortfalls_again
from bedwright.engine.placement.changes.alternatives import board_of, with_alternatives
from bedwright.engine.placement.changes.board import Board
from bedwright.engine.placement.changes.drag import Moved, MoveTable, move_planting, move_table
from bedwright.engine.placement.changes.giving import with_what_would_help
from bedwright.engine.placement.changes.listing import changes_between
from bedwright.engine.placement.changes.settle import MoveRefusedError, settle_bed
from bedwright.engine.placement.changes.situation import EventRefusedError, begun_before
from bedwright.engine.placement.changes.table import Ground, lay_out

__all__ = [
    "Board",
    "EventRefusedError",
    "Ground",
    "MoveRefusedError",
    "MoveTable",
    "Moved",
    "Replanned",
    "begun_before",
    "board_of",
    "changes_between",
    "lay_out",
    "move_planting",
    "move_table",
    "replan",
    "settle_bed",
    "shortfalls_again",
    "with_alternatives",
    "with_what_would_help",
]
