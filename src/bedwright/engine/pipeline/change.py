"""A season plan made again after something happened, or with a block moved by hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.pipeline.finish import (
    SCHEMA_VERSION,
    orders_of,
    refuse_broken,
    revision_of,
    warnings_for,
    with_care,
    without_beds,
)
from bedwright.engine.pipeline.ground import Groundwork, bed_sun, groundwork_of, measures_of, rules_of
from bedwright.engine.placement import (
    WeekMeasures,
    check,
)
from bedwright.engine.placement.changes import (
    Board,
    Ground,
    Moved,
    MoveTable,
    begun_before,
    move_table,
    replan,
    shortfalls_again,
    with_alternatives,
)
from bedwright.engine.placement.plan import pin_warnings, warnings_of
from bedwright.engine.placement.scarce import limit_warnings
from bedwright.engine.work import tasks_of
from bedwright.model.book import GardenBook, Pin
from bedwright.model.changes import Event
from bedwright.model.crop import Catalogue
from bedwright.model.progress import Progress
from bedwright.model.season import Planting, PlantingRequest, SeasonPlan
from bedwright.model.weather import WeatherRecord


def plan_again(
    plan: SeasonPlan,
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    events: Sequence[Event],
    *,
    today: date,
    progress: Callable[[Progress], None] = lambda _: None,
) -> SeasonPlan:
    """Make a season plan again after something happened; what stands stays.

    Parameters
    ----------
    plan
        The plan before.
    book
        The garden book as it is now; may have more beds and wishes than that of the plan.
    record, catalogue, progress
        As for `plan_season`.
    events
        What happened.
    today
        What went into the ground before it stands, and nothing new is begun before it.

    Returns
    -------
    SeasonPlan
        With `changes` and `happened`; its book has the beds and hours that are left.

    Raises
    ------
    EventRefusedError
        If an event names what is not there or cannot be.
    PlanRuleBrokenError
        If the finished plan breaks a rule of placement. Never expected.
    """
    ground = groundwork_of(book, record, catalogue, progress=progress)
    progress(Progress("places", "putting back what was lost"))
    made = replan(
        plan,
        book,
        ground.requests,
        ground.light,
        catalogue.neighbours,
        catalogue.crops,
        events,
        today=today,
        rules=rules_of(book, today),
        hours=ground.hours,
        measures=_measures(plan, book, ground),
    )
    progress(Progress("checking", "checking the plan"))
    changed = replace(
        plan,
        revision=revision_of(made.book, record, catalogue, plan.seed, today, (plan.revision, *events)),
        made_on=today,
        book=made.book,
        plantings=made.plantings,
        shortfalls=made.shortfalls,
        value=made.value,
        happened=made.happened,
        changes=made.changes,
    )
    fixed = Fixed(made.requests, made.standing, made.pins)
    return _changed_plan(changed, fixed, made.board, ground, record, catalogue, progress)


def _measures(plan: SeasonPlan, book: GardenBook, ground: Groundwork) -> WeekMeasures:
    """Measures of what the book asks for and of what stands though it no longer does."""
    asked = {(one.crop.name, one.variety) for one in ground.requests}
    stands = [one for one in plan.plantings if (one.crop.name, one.variety) not in asked]
    return measures_of(book, ground.climate, (*ground.requests, *stands))


@dataclass(frozen=True, slots=True, eq=False)
class ReadyToMove:
    """A plan ready to have blocks moved in it by hand."""

    ground: Groundwork
    record: WeatherRecord | None
    today: date
    table: MoveTable


def ready_to_move(
    plan: SeasonPlan, record: WeatherRecord | None, catalogue: Catalogue, *, today: date
) -> ReadyToMove:
    """A plan ready to have blocks moved in it by hand; made once, used for every move.

    Parameters
    ----------
    plan
        A season plan; its own book is used.
    record, catalogue
        As for `plan_season`.
    today
        What went into the ground before it stands and cannot be moved.
    """
    ground = groundwork_of(plan.book, record, catalogue)
    site = Ground(
        ground.light,
        catalogue.neighbours,
        catalogue.crops,
        rules_of(plan.book, today),
        hours=ground.hours,
        measures=_measures(plan, plan.book, ground),
    )
    return ReadyToMove(ground, record, today, move_table(plan, ground.requests, site, today=today))


def plan_moved(
    ready: ReadyToMove,
    moved: Moved,
    catalogue: Catalogue,
    *,
    progress: Callable[[Progress], None] = lambda _: None,
) -> SeasonPlan:
    """The whole season plan with a block moved by hand: jobs, orders, water and hours with it.

    Raises
    ------
    PlanRuleBrokenError
        If the finished plan breaks a rule of placement. Never expected.
    """
    plan, table = ready.table.plan, ready.table.table
    changed = replace(
        plan,
        revision=revision_of(
            plan.book, ready.record, catalogue, plan.seed, ready.today, (plan.revision, moved.changes)
        ),
        made_on=ready.today,
        plantings=moved.plantings,
        shortfalls=shortfalls_again(moved.board, table.requests),
        value=moved.board.value,
        happened=("Moved by hand.",),
        changes=moved.changes,
    )
    fixed = Fixed(table.requests, table.situation.standing, ())
    return _changed_plan(changed, fixed, moved.board, ready.ground, ready.record, catalogue, progress)


@dataclass(frozen=True, slots=True)
class Fixed:
    """What bound a changed plan, as the checker takes it."""

    requests: tuple[PlantingRequest, ...]
    standing: tuple[Planting, ...]
    pins: tuple[Pin, ...]


def _changed_plan(
    plan: SeasonPlan,
    fixed: Fixed,
    board: Board,
    ground: Groundwork,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    progress: Callable[[Progress], None],
) -> SeasonPlan:
    """A plan whose plantings have changed, checked, with all that follows from them."""
    book, today = plan.book, plan.made_on
    refuse_broken(
        check(
            book,
            plan.plantings,
            without_beds(fixed.requests, book.leave_alone),
            catalogue.crops,
            rules=rules_of(book, today),
            standing=fixed.standing,
            pins=fixed.pins,
            closed_beds=book.leave_alone,
        )
    )
    plantings = with_alternatives(board, plan.plantings)
    orders = orders_of(book, [one for one in plantings if not begun_before(one, today)], today)
    whole = replace(
        plan,
        schema_version=SCHEMA_VERSION,
        climate=ground.climate,
        sun=tuple(bed_sun(each) for each in ground.light),
        plantings=plantings,
        tasks=tasks_of(plantings, orders),
        orders=orders,
        warnings=tuple(
            warnings_for(
                book,
                record,
                (
                    *warnings_of(board.problem),
                    *pin_warnings(board.problem, plantings),
                    *limit_warnings(board.problem, board.spots),
                ),
            )
        ),
        bound=None,
        care=None,
    )
    return with_care(whole, ground, catalogue, progress)
