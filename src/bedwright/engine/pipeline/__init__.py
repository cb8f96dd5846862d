"""The functions that run the stages of the engine in order."""

from bedwright.engine.pipeline.carried import carried_over, stands_on, years_later
from bedwright.engine.pipeline.change import ReadyToMove, plan_again, plan_moved, ready_to_move
from bedwright.engine.pipeline.estimate import estimate_season
from bedwright.engine.pipeline.finish import revision_of
from bedwright.engine.pipeline.ground import Groundwork, groundwork_of, open_month_h
from bedwright.engine.pipeline.season import plan_season

__all__ = [
    "Groundwork",
    "ReadyToMove",
    "carried_over",
    "estimate_season",
    "groundwork_of",
    "open_month_h",
    "plan_again",
    "plan_moved",
    "plan_season",
    "ready_to_move",
    "revision_of",
    "stands_on",
    "years_later",
]
