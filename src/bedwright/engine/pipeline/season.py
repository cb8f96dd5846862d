"""From a garden book to its season plan."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from bedwright.engine.pipeline.bare_ground import bare_ground, bare_ground_words
from bedwright.engine.pipeline.carried import carried_over, carried_words, still_to_do
from bedwright.engine.pipeline.finish import (
    SCHEMA_VERSION,
    orders_of,
    refuse_broken,
    revision_of,
    warnings_for,
    with_care,
    without_beds,
)
from bedwright.engine.pipeline.ground import bed_sun, groundwork_of, rules_of
from bedwright.engine.placement import (
    PlacementProgress,
    check,
    place,
)
from bedwright.engine.placement.changes import (
    board_of,
    with_alternatives,
    with_what_would_help,
)
from bedwright.engine.placement.problem import build_problem
from bedwright.engine.work import tasks_of
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.progress import Progress
from bedwright.model.season import SeasonPlan
from bedwright.model.weather import WeatherRecord

STOPPED_EARLY = (
    "The search for places was stopped early: this is the best plan found until then. Searching on may find "
    "a better one."
)
"""Note on a plan whose search was stopped."""


def plan_season(
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    *,
    seed: int,
    today: date,
    progress: Callable[[Progress], None] = lambda _: None,
    stop: Callable[[], bool] | None = None,
    start: SeasonPlan | None = None,
    after: SeasonPlan | None = None,
) -> SeasonPlan:
    """Work the season plan out of a garden book.

    Parameters
    ----------
    book
        A book whose reader found no problem.
    record
        The site's daily weather; None only where the book states frost dates instead.
    catalogue
        Crops and findings about neighbours.
    seed
        Starts the search for places; the same seed gives the same plan bit for bit.
    today
        No task is planned before it.
    progress
        Called as stages begin, and with the best found so far while places are sought.
    stop
        Asked while places are sought: once it says True, the best plan so far is finished.
    start
        An earlier plan of the garden to search on from, never to anything worse where the book
        and the days that are left still allow it.
    after
        The season before: what still stands of it keeps its ground, rows and pegs.

    Raises
    ------
    PlanRuleBrokenError
        If the finished plan breaks a rule of placement. Never expected.
    """
    stands = () if after is None else carried_over(after, book)
    ground = groundwork_of(book, record, catalogue, today=today, progress=progress)
    requests, rules = ground.requests, rules_of(book, today)
    progress(Progress("places", f"places for {len(requests)} plantings"))
    placement = place(
        book,
        requests,
        ground.light,
        catalogue.neighbours,
        catalogue.crops,
        seed=seed,
        rules=rules,
        standing=stands,
        pins=book.pins,
        closed_beds=book.leave_alone,
        hours=ground.hours,
        measures=ground.measures,
        progress=lambda state: progress(Progress("places", best_so_far(state))),
        stop=stop,
        start=None if start is None else start.plantings,
    )
    progress(Progress("checking", "checking the plan"))
    refuse_broken(
        check(
            book,
            placement.plantings,
            without_beds(requests, book.leave_alone),
            catalogue.crops,
            rules=rules,
            standing=stands,
            pins=book.pins,
            closed_beds=book.leave_alone,
        )
    )
    board = board_of(
        build_problem(
            book,
            requests,
            ground.light,
            catalogue.neighbours,
            catalogue.crops,
            rules,
            standing=stands,
            pins=book.pins,
            closed_beds=book.leave_alone,
            hours=ground.hours,
            measures=ground.measures,
        ),
        placement.plantings,
    )
    plantings = with_alternatives(board, placement.plantings)
    there = {planting.code for planting in stands}
    orders = orders_of(book, [one for one in plantings if one.code not in there], today)
    years = None if ground.weather is None else ground.weather.years
    bare = bare_ground(book, plantings, catalogue.crops, years, today=today)
    # A plan that was stopped, or searched on from another, is not the one that the inputs alone give.
    apart: list[object] = [*([] if start is None else [start.revision]), *stands]
    if placement.stopped:
        apart += [STOPPED_EARLY, placement.n_moves]
    plan = SeasonPlan(
        schema_version=SCHEMA_VERSION,
        revision=revision_of(book, record, catalogue, seed, today, apart),
        made_on=today,
        seed=seed,
        book=book,
        climate=ground.climate,
        sun=tuple(bed_sun(each) for each in ground.light),
        plantings=plantings,
        shortfalls=with_what_would_help(board, placement.shortfalls),
        tasks=still_to_do(tasks_of(plantings, orders), there, today),
        orders=orders,
        warnings=(
            *((STOPPED_EARLY,) if placement.stopped else ()),
            *(() if after is None else carried_words(after, book)),
            *warnings_for(book, record, (*placement.warnings, *bare_ground_words(bare))),
        ),
        value=placement.value,
        bound=placement.bound,
    )
    return with_care(plan, ground, catalogue, progress)


def best_so_far(state: PlacementProgress) -> str:
    """The best plan so far, how much better any could be, and what is being tried, on one line."""
    parts = [f"{state.n_placed} of {state.n_wanted} plants have a place"]
    if state.bound is not None and state.value > 0:
        parts.append(f"no plan can be more than {max(0.0, state.bound / state.value - 1):.1%} better")
    if state.trying:
        parts.append(f"trying {state.trying}")
    share = state.done / state.total if state.total else 1.0
    return f"{'; '.join(parts)} ({share:.0%})"
