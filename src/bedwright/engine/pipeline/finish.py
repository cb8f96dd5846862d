"""What follows from the places of a plan: orders, water, hours, warnings, sources, revision."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Iterable, Iterator, Sequence
from dataclasses import fields, is_dataclass, replace
from datetime import date

import numpy as np

from bedwright.engine.care import care_of
from bedwright.engine.climate import CLIMATE_SOURCES
from bedwright.engine.pipeline.daylight import with_light
from bedwright.engine.pipeline.ground import Groundwork, open_month_h
from bedwright.engine.placement import (
    PLACEMENT_SOURCES,
    Violation,
)
from bedwright.engine.soil import SOURCES as SOIL_SOURCES
from bedwright.engine.sunlight import SOURCES as SUNLIGHT_SOURCES
from bedwright.engine.supplies import SOURCES as SUPPLIES_SOURCES
from bedwright.engine.supplies import order_lines
from bedwright.engine.timing import TIMING_SOURCES
from bedwright.engine.water import SOURCES as WATER_SOURCES
from bedwright.engine.work import SOURCES as WORK_SOURCES
from bedwright.engine.work import TASK_SOURCES
from bedwright.model.book import BOOK_LEAD_RULE, GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.progress import PlanRuleBrokenError, Progress
from bedwright.model.season import OrderLine, Planting, PlantingRequest, SeasonPlan
from bedwright.model.source import Source
from bedwright.model.weather import WeatherRecord

SCHEMA_VERSION = 1


def refuse_broken(violations: Sequence[Violation]) -> None:
    """Raise PlanRuleBrokenError if a finished plan breaks a rule of placement."""
    if violations:
        raise PlanRuleBrokenError("\n".join(str(violation) for violation in violations))


def without_beds(
    requests: Sequence[PlantingRequest], bed_codes: Collection[str]
) -> tuple[PlantingRequest, ...]:
    """Requests that some beds are not open to: a trellis in such a bed binds no climber."""
    closed = tuple(sorted(bed_codes))
    return tuple(replace(one, not_beds=(*one.not_beds, *closed)) for one in requests)


def orders_of(book: GardenBook, plantings: Sequence[Planting], today: date) -> tuple[OrderLine, ...]:
    """What is to be ordered for plantings."""
    packets = {
        (wish.crop, wish.variety.name): wish.variety.packet_seeds
        for wish in book.wishes
        if wish.variety is not None and wish.variety.packet_seeds is not None
    }
    return order_lines(plantings, book.seed_drawer, packets, season_year=book.season_start.year, today=today)


def with_care(
    plan: SeasonPlan, ground: Groundwork, catalogue: Catalogue, progress: Callable[[Progress], None]
) -> SeasonPlan:
    """The plan with what the planted season asks for, and every source named."""
    plan = with_light(plan, ground.weather)
    progress(Progress("care", "water, feeding, hours and supplies"))
    plan, care = care_of(plan, ground.weather, catalogue.materials, open_month_h(plan.book))
    return _with_sources(replace(plan, care=care), catalogue)


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


def warnings_for(
    book: GardenBook,
    record: WeatherRecord | None,
    of_placement: Sequence[str],
) -> Iterable[str]:
    """What the reader of a plan is to know; `of_placement` is what places and beds give rise to."""
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
