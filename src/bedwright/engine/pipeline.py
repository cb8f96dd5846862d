"""The one function that runs the stages of the engine in order."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date

import numpy as np

from bedwright.engine.care import SiteWeather, care_of
from bedwright.engine.climate import CLIMATE_SOURCES, climate_of, fill_gaps, season_years
from bedwright.engine.placement import (
    COMMON_RULES,
    PLACEMENT_SOURCES,
    PlantingRules,
    Violation,
    check,
    place,
)
from bedwright.engine.placement.changes import (
    begun_before,
    board_of,
    replan,
    with_alternatives,
    with_what_would_help,
)
from bedwright.engine.placement.plan import warnings_of
from bedwright.engine.placement.problem import build_problem
from bedwright.engine.placement.weekly import hours_of
from bedwright.engine.soil import SOURCES as SOIL_SOURCES
from bedwright.engine.sunlight import SOURCES as SUNLIGHT_SOURCES
from bedwright.engine.sunlight import bed_light
from bedwright.engine.supplies import SOURCES as SUPPLIES_SOURCES
from bedwright.engine.supplies import order_lines
from bedwright.engine.timing import TIMING_SOURCES, plan_dates
from bedwright.engine.water import SOURCES as WATER_SOURCES
from bedwright.engine.work import SOURCES as WORK_SOURCES
from bedwright.engine.work import TASK_SOURCES, tasks_of
from bedwright.model.book import BOOK_LEAD_RULE, GardenBook
from bedwright.model.changes import Event
from bedwright.model.crop import Catalogue
from bedwright.model.light import BedLight
from bedwright.model.progress import PlanRuleBrokenError, Progress
from bedwright.model.safety import LEAD_RULES, lead_rule_on
from bedwright.model.season import BedSun, Climate, OrderLine, Planting, PlantingRequest, SeasonPlan
from bedwright.model.source import Source
from bedwright.model.weather import WeatherRecord

SCHEMA_VERSION = 1


@dataclass(frozen=True, slots=True)
class Groundwork:
    """What is known of a site and its wishes before any place is sought."""

    climate: Climate | None
    weather: SiteWeather | None
    light: tuple[BedLight, ...]
    requests: tuple[PlantingRequest, ...]


def groundwork_of(
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    *,
    today: date = date.min,
    progress: Callable[[Progress], None] = lambda _: None,
) -> Groundwork:
    """Climate, sun and possible dates.

    Parameters
    ----------
    book, record, catalogue, progress
        As for `plan_season`.
    today
        Nothing is begun before it; left out, the dates of the whole season are given.
    """
    climate = weather = None
    if record is not None:
        progress(Progress("climate", f"climate of {record.station}"))
        climate = climate_of(record, book.site, book.season_start)
        filled, _, _ = fill_gaps(record)
        weather = SiteWeather(filled, season_years(filled, book.season_start))
    progress(Progress("sun", "hours of sun on each bed"))
    light = bed_light(book.site, book.beds)
    progress(Progress("dates", "dates of each planting"))
    requests = plan_dates(book, catalogue.crops, None if weather is None else weather.years, today=today)
    return Groundwork(climate, weather, tuple(light), tuple(requests))


def plan_season(
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    *,
    seed: int,
    today: date,
    progress: Callable[[Progress], None] = lambda _: None,
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
        Called as stages begin.

    Raises
    ------
    PlanRuleBrokenError
        If the finished plan breaks a rule of placement. Never expected.
    """
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
        pins=book.pins,
        closed_beds=book.leave_alone,
        progress=lambda state: progress(Progress("places", state.text)),
    )
    progress(Progress("checking", "checking the plan"))
    _refuse_broken(
        check(
            book,
            placement.plantings,
            without_beds(requests, book.leave_alone),
            catalogue.crops,
            rules=rules,
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
            pins=book.pins,
            closed_beds=book.leave_alone,
            hours=hours_of(book),
        ),
        placement.plantings,
    )
    plantings = with_alternatives(board, placement.plantings)
    orders = _orders(book, plantings, today)
    plan = SeasonPlan(
        schema_version=SCHEMA_VERSION,
        revision=revision_of(book, record, catalogue, seed, today),
        made_on=today,
        seed=seed,
        book=book,
        climate=ground.climate,
        sun=tuple(_bed_sun(each) for each in ground.light),
        plantings=plantings,
        shortfalls=with_what_would_help(board, placement.shortfalls),
        tasks=tasks_of(plantings, orders),
        orders=orders,
        warnings=tuple(_warnings(book, record, placement.warnings)),
        value=placement.value,
        bound=placement.bound,
    )
    return _with_care(plan, ground, catalogue, progress)


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
    rules = rules_of(book, today)
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
        rules=rules,
    )
    progress(Progress("checking", "checking the plan"))
    _refuse_broken(
        check(
            made.book,
            made.plantings,
            without_beds(made.requests, made.book.leave_alone),
            catalogue.crops,
            rules=rules,
            standing=made.standing,
            pins=made.pins,
            closed_beds=made.book.leave_alone,
        )
    )
    plantings = with_alternatives(made.board, made.plantings)
    to_begin = [planting for planting in plantings if not begun_before(planting, today)]
    orders = _orders(made.book, to_begin, today)
    new = replace(
        plan,
        schema_version=SCHEMA_VERSION,
        revision=revision_of(made.book, record, catalogue, plan.seed, today, (plan.revision, *events)),
        made_on=today,
        book=made.book,
        climate=ground.climate,
        sun=tuple(_bed_sun(each) for each in ground.light),
        plantings=plantings,
        shortfalls=made.shortfalls,
        tasks=tasks_of(plantings, orders),
        orders=orders,
        warnings=tuple(_warnings(book, record, warnings_of(made.board.problem))),
        value=made.value,
        bound=None,
        care=None,
        happened=made.happened,
        changes=made.changes,
    )
    return _with_care(new, ground, catalogue, progress)


def _refuse_broken(violations: Sequence[Violation]) -> None:
    if violations:
        raise PlanRuleBrokenError("\n".join(str(violation) for violation in violations))


def without_beds(
    requests: Sequence[PlantingRequest], bed_codes: Collection[str]
) -> tuple[PlantingRequest, ...]:
    """Requests that some beds are not open to: a trellis in such a bed binds no climber."""
    closed = tuple(sorted(bed_codes))
    return tuple(replace(one, not_beds=(*one.not_beds, *closed)) for one in requests)


def _orders(book: GardenBook, plantings: Sequence[Planting], today: date) -> tuple[OrderLine, ...]:
    packets = {
        (wish.crop, wish.variety.name): wish.variety.packet_seeds
        for wish in book.wishes
        if wish.variety is not None and wish.variety.packet_seeds is not None
    }
    return order_lines(plantings, book.seed_drawer, packets, season_year=book.season_start.year, today=today)


def _with_care(
    plan: SeasonPlan, ground: Groundwork, catalogue: Catalogue, progress: Callable[[Progress], None]
) -> SeasonPlan:
    progress(Progress("care", "water, feeding, hours and supplies"))
    plan, care = care_of(plan, ground.weather, catalogue.materials, open_month_h(plan.book))
    return _with_sources(replace(plan, care=care), catalogue)


def rules_of(book: GardenBook, today: date) -> PlantingRules:
    """The common rules, with the level of lead that is in force or that the book states."""
    entered = () if book.lead_rule is None else (book.lead_rule.rule,)
    lead = lead_rule_on(today, (*LEAD_RULES, *entered))
    return replace(COMMON_RULES, lead_limit_mg_kg=lead.screening_mg_kg, lead_source_ids=(lead.source_id,))


def open_month_h(book: GardenBook) -> tuple[float, ...]:
    """Hours of sun a day where nothing on the site casts shade."""
    bed = replace(book.beds[0], sun_h=None)
    (light,) = bed_light(replace(book.site, features=()), [bed])
    return _bed_sun(light).month_h


def revision_of(
    book: GardenBook,
    record: WeatherRecord | None,
    catalogue: Catalogue,
    seed: int,
    today: date,
    after: Sequence[object] = (),
) -> str:
    """Eight letters and digits that stand for everything the plan was made from.

    Parameters
    ----------
    after
        Revision of the plan before and what happened since, where there was one.
    """
    digest = hashlib.sha256()
    digest.update(repr((SCHEMA_VERSION, book, catalogue.version, seed, today, *after)).encode())
    if record is not None:
        for values in (record.dates, record.tmin_c, record.tmax_c, record.rain_mm):
            digest.update(np.ascontiguousarray(values).tobytes())
    return digest.hexdigest()[:8]


def _bed_sun(light: BedLight) -> BedSun:
    month_h = tuple(round(float(np.nanmean(cells)), 2) for cells in light.sun_h)
    return BedSun(light.bed_code, month_h, light.observed)


def _warnings(
    book: GardenBook,
    record: WeatherRecord | None,
    of_placement: Sequence[str],
) -> Iterable[str]:
    if record is None:
        yield "No weather record: chances are not known. Dates follow the frost dates stated in the book."
    elif record.invented:
        yield "The weather record is invented. Dates and chances are an example, not advice for a real place."
    untested = [bed.code for bed in book.beds if bed.soil_test is None]
    if untested:
        yield (
            f"No soil test of bed{'s' if len(untested) > 1 else ''} {', '.join(untested)}. "
            "Test before feeding or liming, and for lead before growing food."
        )
    yield from of_placement


def _with_sources(plan: SeasonPlan, catalogue: Catalogue) -> SeasonPlan:
    """The plan with every source that one of its numbers names."""
    known = dict(catalogue.sources) | ENGINE_SOURCES
    if plan.book.lead_rule is not None:
        known[BOOK_LEAD_RULE] = plan.book.lead_rule.source
    named = set(_named_sources(plan))
    missing = named - known.keys()
    if missing:
        raise PlanRuleBrokenError(f"numbers name sources that are not listed: {sorted(missing)}")
    return replace(plan, sources={source_id: known[source_id] for source_id in sorted(named)})


def _named_sources(value: object) -> Iterator[str]:
    """Every source id anywhere in a record, by the names that such fields always have."""
    if is_dataclass(value):
        for field in fields(value):
            inner = getattr(value, field.name)
            if field.name == "source_ids":
                yield from inner
            elif field.name == "source_id":
                yield inner
            else:
                yield from _named_sources(inner)
    elif isinstance(value, tuple):
        for inner in value:
            yield from _named_sources(inner)


ENGINE_SOURCES: dict[str, Source] = {
    **WATER_SOURCES,
    **SOIL_SOURCES,
    **SUPPLIES_SOURCES,
    **WORK_SOURCES,
    **TASK_SOURCES,
    **PLACEMENT_SOURCES,
    **TIMING_SOURCES,
    **SUNLIGHT_SOURCES,
    **CLIMATE_SOURCES,
}
