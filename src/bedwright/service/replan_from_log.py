"""The rest of a season planned again from today, keeping what stands as the log tells it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from typing import Literal

from bedwright.engine.pipeline import plan_again
from bedwright.engine.placement.changes import EventRefusedError
from bedwright.model.book import GardenBook
from bedwright.model.changes import Event, PlantingFailed
from bedwright.model.crop import Catalogue
from bedwright.model.log import LoggedSeason, LogRecord
from bedwright.model.progress import Progress
from bedwright.model.season import Planting, SeasonPlan
from bedwright.model.weather import WeatherRecord
from bedwright.service.season_log import season_as_logged

__all__ = ["EventRefusedError", "Unlogged", "plan_as_it_stands", "replan", "what_is_left", "what_stands"]

Unlogged = Literal["stand", "not gone in"]


def what_stands(logged: LoggedSeason) -> tuple[Planting, ...]:
    """Plantings in the ground, with their true days: what a plan made again must keep.

    Returns
    -------
    tuple of Planting
        Codes, rows and place as they are, dates as logged and moved. Plantings that failed or
        were cleared are left out, so that their ground is free.
    """
    return tuple(replace(each.planting, dates=each.dates) for each in logged.plantings if each.stands)


def what_is_left(plan: SeasonPlan, logged: LoggedSeason) -> SeasonPlan:
    """A plan without the plantings that failed or were cleared, and with the true days of the others.

    What nothing was written down of is taken to stand as planned: a log may have gaps.
    """
    return replace(
        plan,
        plantings=tuple(
            replace(each.planting, dates=each.dates)
            for each in logged.plantings
            if each.failed_on is None and each.cleared_on is None
        ),
    )


def plan_as_it_stands(
    plan: SeasonPlan, logged: LoggedSeason, *, today: date, unlogged: Unlogged
) -> SeasonPlan:
    """A plan with the true days of what went in, and without what did not.

    Parameters
    ----------
    plan
        The season plan.
    logged
        The same plan seen through the log.
    today
        Plantings planned for before it are the ones in question.
    unlogged
        What to think of plantings planned for before today of which nothing is written down:
        "stand" as planned, or have "not gone in", so that they are to be planned anew.
    """
    kept: list[Planting] = []
    for each in logged.plantings:
        gone_in = each.in_ground_on is not None
        if gone_in or each.planting.dates.in_ground >= today:
            dates = each.dates
            if each.cleared_on is not None:
                dates = replace(
                    dates, clear_by=each.cleared_on, last_pick=min(dates.last_pick, each.cleared_on)
                )
            kept.append(replace(each.planting, dates=dates if gone_in else each.planting.dates))
        elif unlogged == "stand":
            kept.append(each.planting)
    codes = {planting.code for planting in kept}
    tasks = tuple(task for task in plan.tasks if task.planting_code is None or task.planting_code in codes)
    return replace(plan, plantings=tuple(kept), tasks=tasks)


def replan(
    plan: SeasonPlan,
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    records: Iterable[LogRecord],
    *,
    today: date,
    unlogged: Unlogged = "stand",
    events: Sequence[Event] = (),
    progress: Callable[[Progress], None] = lambda _: None,
) -> SeasonPlan:
    """Plan the rest of the season from today, keeping what stands as the log tells it.

    Parameters
    ----------
    plan
        The plan that was followed so far.
    book, record, catalogue
        As they are now.
    records
        Every line of the log.
    today
        Nothing new is begun before it.
    unlogged
        What to think of plantings of which nothing is written down; see `plan_as_it_stands`.
    events
        What else happened, beyond the log.
    progress
        Called as work goes on.

    Raises
    ------
    EventRefusedError
        If an event names what is not there or cannot be.
    PlanRuleBrokenError
        If the finished plan breaks a rule of placement. Never expected.
    """
    logged = season_as_logged(plan, records, today=today)
    followed = plan_as_it_stands(plan, logged, today=today, unlogged=unlogged)
    there = {planting.code for planting in followed.plantings}
    failed = [
        PlantingFailed(each.planting.code)
        for each in logged.plantings
        if each.failed_on is not None and each.planting.code in there
    ]
    happened = tuple(dict.fromkeys((*failed, *events)))
    return plan_again(followed, book, record, catalogue, happened, today=today, progress=progress)
