"""Climate, sun and possible dates: what is known before any place is sought."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import date

import numpy as np

from bedwright.engine.care import SiteWeather
from bedwright.engine.climate import climate_of, fill_gaps, season_years
from bedwright.engine.placement import (
    COMMON_RULES,
    NOTHING_KNOWN,
    BedHours,
    PlantingRules,
    WeekMeasures,
)
from bedwright.engine.sunlight import bed_light
from bedwright.engine.supplies import Grown, most_trays, tray_uses
from bedwright.engine.timing import plan_dates
from bedwright.engine.work import bed_hours
from bedwright.model.book import GardenBook
from bedwright.model.crop import Catalogue
from bedwright.model.light import BedLight
from bedwright.model.progress import Progress
from bedwright.model.safety import LEAD_RULES, lead_rule_on
from bedwright.model.season import BedSun, Climate, PlantingRequest
from bedwright.model.weather import WeatherRecord


@dataclass(frozen=True, slots=True)
class Groundwork:
    """What is known of a site and its wishes before any place is sought."""

    climate: Climate | None
    weather: SiteWeather | None
    light: tuple[BedLight, ...]
    requests: tuple[PlantingRequest, ...]
    measures: WeekMeasures = NOTHING_KNOWN
    """What the weeks of the season have only so much of."""
    hours: BedHours | None = None
    """Work that ground takes; None where the book names no people."""


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
    measures = measures_of(book, climate, requests)
    hours = bed_hours(book, climate)
    return Groundwork(climate, weather, tuple(light), tuple(requests), measures, hours)


def measures_of(book: GardenBook, climate: Climate | None, grown: Sequence[Grown]) -> WeekMeasures:
    """Trays that plants take, room for them and the climate, for limits by the week.

    Parameters
    ----------
    grown
        All that is to be grown, or grows already.
    """
    months = () if climate is None else climate.months
    if book.propagation is None:
        return WeekMeasures(months=months)
    uses = tray_uses(grown, book.seed_drawer, season_year=book.season_start.year)
    return WeekMeasures(uses, most_trays(book.propagation.space), months)


def rules_of(book: GardenBook, today: date) -> PlantingRules:
    """The common rules, with the level of lead that is in force or that the book states."""
    entered = () if book.lead_rule is None else (book.lead_rule.rule,)
    lead = lead_rule_on(today, (*LEAD_RULES, *entered))
    return replace(
        COMMON_RULES,
        lead_limit_mg_kg=lead.screening_mg_kg,
        lead_rule_words=f"{lead.authority}, {lead.issued.day} {lead.issued:%B %Y}",
        lead_source_ids=(lead.source_id,),
    )


def bed_sun(light: BedLight) -> BedSun:
    """Mean hours of sun of a bed, month by month."""
    month_h = tuple(round(float(np.nanmean(cells)), 2) for cells in light.sun_h)
    return BedSun(light.bed_code, month_h, light.observed)


def open_month_h(book: GardenBook) -> tuple[float, ...]:
    """Hours of sun a day where nothing on the site casts shade."""
    bed = replace(book.beds[0], sun_h=None)
    (light,) = bed_light(replace(book.site, features=()), [bed])
    return bed_sun(light).month_h
