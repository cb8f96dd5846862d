"""The one function that runs the stages of the engine in order."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import fields, is_dataclass, replace
from datetime import date

import numpy as np

from bedwright.engine.care import SiteWeather, care_of
from bedwright.engine.climate import CLIMATE_SOURCES, climate_of, fill_gaps, season_years
from bedwright.engine.placement import COMMON_RULES, PLACEMENT_SOURCES, Placement, PlantingRules, check, place
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
from bedwright.model.crop import Catalogue
from bedwright.model.light import BedLight
from bedwright.model.progress import PlanRuleBrokenError, Progress
from bedwright.model.safety import LEAD_RULES, lead_rule_on
from bedwright.model.season import BedSun, SeasonPlan
from bedwright.model.source import Source
from bedwright.model.weather import WeatherRecord

SCHEMA_VERSION = 1


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
    progress(Progress("places", f"places for {len(requests)} plantings"))
    placement = place(
        book,
        requests,
        light,
        catalogue.neighbours,
        catalogue.crops,
        seed=seed,
        rules=_rules(book, today),
        pins=book.pins,
        closed_beds=book.leave_alone,
        progress=lambda state: progress(Progress("places", state.text)),
    )
    plantings = placement.plantings
    progress(Progress("checking", "checking the plan"))
    violations = check(book, plantings, requests, catalogue.crops, rules=_rules(book, today))
    if violations:
        raise PlanRuleBrokenError("\n".join(str(violation) for violation in violations))
    packets = {
        (wish.crop, wish.variety.name): wish.variety.packet_seeds
        for wish in book.wishes
        if wish.variety is not None and wish.variety.packet_seeds is not None
    }
    orders = order_lines(
        plantings, book.seed_drawer, packets, season_year=book.season_start.year, today=today
    )
    tasks = tasks_of(plantings, orders)
    plan = SeasonPlan(
        schema_version=SCHEMA_VERSION,
        revision=revision_of(book, record, catalogue, seed, today),
        made_on=today,
        seed=seed,
        book=book,
        climate=climate,
        sun=tuple(_bed_sun(each) for each in light),
        plantings=plantings,
        shortfalls=placement.shortfalls,
        tasks=tasks,
        orders=orders,
        warnings=tuple(_warnings(book, record, placement)),
        value=placement.value,
        bound=placement.bound,
    )
    progress(Progress("care", "water, feeding, hours and supplies"))
    plan, care = care_of(plan, weather, catalogue.materials, _open_month_h(book))
    return _with_sources(replace(plan, care=care), catalogue)


def _rules(book: GardenBook, today: date) -> PlantingRules:
    """The common rules, with the level of lead that is in force or that the book states."""
    entered = () if book.lead_rule is None else (book.lead_rule.rule,)
    lead = lead_rule_on(today, (*LEAD_RULES, *entered))
    return replace(COMMON_RULES, lead_limit_mg_kg=lead.screening_mg_kg, lead_source_ids=(lead.source_id,))


def _open_month_h(book: GardenBook) -> tuple[float, ...]:
    """Hours of sun a day where nothing on the site casts shade."""
    bed = replace(book.beds[0], sun_h=None)
    (light,) = bed_light(replace(book.site, features=()), [bed])
    return _bed_sun(light).month_h


def revision_of(
    book: GardenBook, record: WeatherRecord | None, catalogue: Catalogue, seed: int, today: date
) -> str:
    """Eight letters and digits that stand for everything the plan was made from."""
    digest = hashlib.sha256()
    digest.update(repr((SCHEMA_VERSION, book, catalogue.version, seed, today)).encode())
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
    placement: Placement,
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
    yield from placement.warnings


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
