"""From the wishes of a garden book to plantings with their possible dates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from bedwright.engine.timing.amounts import plants_wanted
from bedwright.engine.timing.choices import (
    DateTable,
    allowed_days,
    best_choice,
    choice_on,
    date_table,
)
from bedwright.engine.timing.outcomes import SEASON_DAYS
from bedwright.engine.timing.reasons import (
    date_origins,
    no_frost_dates_reason,
    no_weeks_reason,
    no_window_reason,
    other_ways_sentence,
    past_reason,
    stated_origins,
    succession_origin,
)
from bedwright.engine.timing.stated import stated_choices
from bedwright.engine.timing.successions import Succession, inside_weeks, successions
from bedwright.model.book import GardenBook, Variety, Way, Wish
from bedwright.model.crop import Crop, with_packet
from bedwright.model.season import DateChoice, PlantingRequest
from bedwright.model.source import Origin
from bedwright.model.weather import SeasonYears

NO_YIELD = (
    "No yield of {crop} is known, so kilograms cannot be turned into plants; ask for plants or metres of row."
)


@dataclass(frozen=True, slots=True)
class _Dates:
    """Every allowed day of a wish, or why there is none."""

    daily: tuple[DateChoice, ...]
    origins: tuple[Origin, ...]
    reason: str


def plan_dates(
    book: GardenBook, crops: Mapping[str, Crop], years: SeasonYears | None, *, today: date
) -> tuple[PlantingRequest, ...]:
    """Work out the possible dates of every wish.

    Parameters
    ----------
    book
        A book whose reader found no problem.
    crops
        Crops of the catalogue by name; must hold every crop wished for.
    years
        The site's weather as seasons from the book's season start; None where there is no
        record, and the book's stated frost dates are used.
    today
        Nothing is begun before it, under cover or in the bed.

    Returns
    -------
    tuple[PlantingRequest, ...]
        In the order of the wishes, successions after one another. A request without choices
        carries the reason in words.

    Raises
    ------
    KeyError
        If a wish names a crop that is not among `crops`.
    """
    tables: dict[tuple[str, Variety | None, Way], DateTable] = {}
    requests: list[PlantingRequest] = []
    for wish in book.wishes:
        crop = crops[wish.crop]
        if wish.variety is not None:
            crop = with_packet(crop, wish.variety)
        way = wish.way or crop.ways[0]
        if years is None:
            dates = _stated_dates(book, wish, crop, way, today)
        else:
            key = (wish.crop, wish.variety, way)
            if key not in tables:
                tables[key] = date_table(crop, years, way, latitude_deg=book.site.latitude_deg)
            dates = _recorded_dates(book, wish, tables[key], years, today)
        requests.extend(_requests(wish, crop, way, dates))
    return tuple(requests)


def _recorded_dates(
    book: GardenBook, wish: Wish, table: DateTable, years: SeasonYears, today: date
) -> _Dates:
    risk_pct, wanted_pct = book.frost_risk_pct, book.chance_wanted_pct
    allowed = allowed_days(table, frost_risk_pct=risk_pct, chance_wanted_pct=wanted_pct)
    daily = [choice_on(table, day) for day in range(SEASON_DAYS) if allowed[day]]
    origins = date_origins(table, frost_risk_pct=risk_pct, chance_wanted_pct=wanted_pct)
    if not daily:
        reason = no_window_reason(table, frost_risk_pct=risk_pct, chance_wanted_pct=wanted_pct)
        instead = other_ways_sentence(
            _other_ways(table, years, book.site.latitude_deg),
            frost_risk_pct=risk_pct,
            chance_wanted_pct=wanted_pct,
        )
        return _Dates((), origins, f"{reason} {instead}".rstrip())
    return _wanted(wish, daily, origins, today)


def _other_ways(table: DateTable, years: SeasonYears, latitude_deg: float) -> dict[str, DateTable]:
    """What else might do where the crop has no date: young plants, a quick variety, or both."""
    crop = table.crop
    low, high = crop.days_to_maturity_days
    quick = replace(crop, days_to_maturity_days=(low, low), degree_days_to_maturity=None)
    young_plants = table.way == "sow" and "raise" in crop.ways
    tried: dict[str, tuple[Crop, Way]] = {}
    if young_plants:
        tried["Set out as young plants"] = (crop, "raise")
    if low < high:
        tried[f"With a quick variety ({low:g} days)"] = (quick, table.way)
        if young_plants:
            tried[f"Set out as young plants of a quick variety ({low:g} days)"] = (quick, "raise")
    return {
        words: date_table(other, years, way, latitude_deg=latitude_deg)
        for words, (other, way) in tried.items()
    }


def _stated_dates(book: GardenBook, wish: Wish, crop: Crop, way: Way, today: date) -> _Dates:
    if book.stated_frost is None:
        return _Dates((), (), no_frost_dates_reason())
    daily = stated_choices(crop, way, book.stated_frost, book.season_start)
    origins = stated_origins(crop)
    if not daily:
        reason = f"Between the stated frost dates there is no room for {crop.name}, by the packet's days."
        return _Dates((), origins, reason)
    return _wanted(wish, daily, origins, today)


def _wanted(wish: Wish, daily: Sequence[DateChoice], origins: tuple[Origin, ...], today: date) -> _Dates:
    ahead = [choice for choice in daily if (choice.sow_under_cover or choice.in_ground) >= today]
    if not ahead:
        return _Dates((), origins, past_reason(daily, today))
    inside = inside_weeks(ahead, wish.harvest_from, wish.harvest_to)
    reason = "" if inside else no_weeks_reason(ahead, wish.harvest_from, wish.harvest_to)
    return _Dates(inside, origins, reason)


def _requests(wish: Wish, crop: Crop, way: Way, dates: _Dates) -> list[PlantingRequest]:
    found = plants_wanted(crop, wish.amount)
    none = PlantingRequest(
        code=wish.code,
        wish_code=wish.code,
        crop=crop,
        variety=wish.variety.name if wish.variety else "",
        way=way,
        amount=wish.amount,
        n_plants=0,
        priority=wish.priority,
        only_beds=wish.only_beds,
        not_beds=wish.not_beds,
        choices=(),
        best=None,
        no_window_reason=NO_YIELD.format(crop=crop.name),
        layout=wish.layout,
    )
    if found is None:
        return [none]
    n_plants, plants_origin = found
    sowings = _sowings(wish, crop, dates, n_plants)
    origins = (plants_origin, *dates.origins)
    if wish.successions != 1:
        origins = (*origins, succession_origin(wish.successions, len(sowings), crop.harvest_span_days))
    each, left = divmod(n_plants, len(sowings))
    requests = []
    for index, sowing in enumerate(sowings):
        n_here = each + (index < left)
        share = n_here if wish.amount.unit == "plants" else wish.amount.value / len(sowings)
        requests.append(
            replace(
                none,
                code=wish.code if index == 0 else f"{wish.code}/{index + 1}",
                amount=replace(wish.amount, value=float(share)),
                n_plants=n_here,
                choices=sowing.choices,
                best=sowing.best if sowing.choices else None,
                no_window_reason=dates.reason,
                origins=origins,
            )
        )
    return requests


def _sowings(wish: Wish, crop: Crop, dates: _Dates, n_plants: int) -> tuple[Succession, ...]:
    if not dates.daily:
        return (Succession((), 0),)
    if wish.successions == 1:
        mondays = tuple(choice for choice in dates.daily if choice.in_ground.weekday() == 0) or dates.daily
        best = best_choice(
            mondays, wish.harvest_from, wish.harvest_to, go_in_early=crop.life_cycle != "annual"
        )
        return (Succession(mondays, best or 0),)
    wanted = wish.successions if wish.successions == "keep picking" else min(wish.successions, n_plants)
    return successions(dates.daily, wanted, crop.harvest_span_days)[:n_plants]
