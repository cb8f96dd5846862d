"""A block of a season plan moved by hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.pipeline import ReadyToMove, plan_moved, ready_to_move
from bedwright.engine.placement.changes import Moved, MoveRefusedError
from bedwright.engine.placement.changes import move_planting as moved_in
from bedwright.model.book import Pin
from bedwright.model.changes import Change
from bedwright.model.season import Planting, SeasonPlan
from bedwright.service.load import Loaded

__all__ = ["Dragged", "MoveRefusedError", "ReadyToMove", "keep_move", "move_planting", "ready"]


@dataclass(frozen=True, slots=True, eq=False)
class Dragged:
    """What comes of a block moved by hand, before anyone keeps it."""

    moved: Moved
    cost_text: str
    """What it costs and what else changes, in plain sentences."""
    changes: tuple[Change, ...]
    points: float
    """What the plan gains by it; negative: loses."""

    @property
    def plantings(self) -> tuple[Planting, ...]:
        """All plantings of the changed plan."""
        return self.moved.plantings


def ready(plan: SeasonPlan, loaded: Loaded, *, today: date) -> ReadyToMove:
    """A plan ready to have blocks moved in it: about two seconds of work, kept for all its moves."""
    return ready_to_move(plan, loaded.record, loaded.catalogue, today=today)


def move_planting(
    table: ReadyToMove, planting_code: str, bed_code: str, along_m: float, in_ground: date | None = None
) -> Dragged:
    """Move one planting and decide again everything else in the bed it comes to.

    Parameters
    ----------
    table
        From `ready`; stays as it is, and may be used by several at once.
    planting_code
        Code of a planting that is not in the ground yet.
    bed_code, along_m
        Where its ground is to start [m from the peg], to the nearest 5 cm.
    in_ground
        Day it is to go in, to the nearest of its dates; None: as planned.

    Raises
    ------
    MoveRefusedError
        If it cannot be moved, or cannot stand there; the reason in words.
    """
    moved = moved_in(table.table, planting_code, bed_code, along_m, in_ground)
    return Dragged(moved, moved.text, moved.changes, moved.points)


def keep_move(
    table: ReadyToMove, dragged: Dragged, loaded: Loaded, *, pins: Sequence[Pin] | None = None
) -> SeasonPlan:
    """The whole season plan with the block where it was moved to.

    Parameters
    ----------
    table, dragged
        From `ready` and `move_planting`.
    loaded
        As for `ready`.
    pins
        What is settled from now on, such as the place moved to; None: as before.
    """
    plan = plan_moved(table, dragged.moved, loaded.catalogue)
    return plan if pins is None else replace(plan, book=replace(plan.book, pins=tuple(pins)))
