"""Dates where there is no weather record: frost dates stated by hand, and the packet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from bedwright.engine.climate.dates import anniversary
from bedwright.engine.timing.choices import HARDEN_OFF_DAYS, weekly_days
from bedwright.engine.timing.growth import comes_up, emergence_days, middle_days
from bedwright.engine.timing.outcomes import SEASON_DAYS
from bedwright.model.book import StatedFrost, Way
from bedwright.model.crop import Crop, FrostClass
from bedwright.model.season import DateChoice

FALL_FACTOR_DAYS = 14
"""Slow growth in cool, short days; Virginia Cooperative Extension (VCE_FALL)."""

FROST_TENDER_DAYS = 14
"""A frost-tender crop must be ripe this long before the first frost; VCE_FALL."""

HARVEST_COUNTED_DAYS = 14
"""Most days of picking the count back asks for: a long-bearing crop is worth planting for two weeks."""

WEEKS_FROM_LAST_FROST: dict[FrostClass, tuple[float, float]] = {
    "hardy": (-6.0, -4.0),
    "half-hardy": (-3.0, -2.0),
    "tender": (0.0, 0.0),
    "very tender": (1.0, 2.0),
}
"""Purdue HO-203 (PURDUE_HO203): very hardy, frost tolerant, tender, very tender."""

AUTUMN_PLANTING_DAYS = 28
"""Crops that stand over winter go in within four weeks of the first autumn frost; practice."""

LEAP_YEAR = 2000
"""Has every month and day that a book can state."""

SPRING_PLANTING_DAYS = 42
"""Perennials go in within six weeks of their first date in spring; practice."""


def stated_choices(crop: Crop, way: Way, frost: StatedFrost, season_start: date) -> tuple[DateChoice, ...]:
    """Dates by stated frost dates and packet practice, on Mondays, earliest first.

    Parameters
    ----------
    crop
        With the packet's values where stated.
    way
        How it gets into the bed.
    frost
        Last spring and first autumn frost as stated in the book.
    season_start
        First day of the season; each frost date is the first of its kind from then on.

    Returns
    -------
    tuple[DateChoice, ...]
        Chances are None: nothing is known of the years behind a stated date.

    Source
    ------
    First date: last spring frost and the crop's `plant_out_weeks_from_last_frost`, or its
    frost class, by Purdue HO-203. Last date: Virginia Cooperative Extension's count back
    from the first autumn frost (days to maturity, harvest period, fall factor, frost-tender
    factor); that no more than two weeks of the harvest are asked for is chosen here.
    """
    return tuple(
        _choice(crop, way, season_start + timedelta(days=day), frost, season_start)
        for day in _days(crop, way, frost, season_start)
    )


def first_stated_day(crop: Crop, frost: StatedFrost, season_start: date) -> date:
    """First day on which the crop may be out by the stated last frost."""
    earliest, _ = weeks_from_last_frost(crop)
    return _next_date(frost.last_spring, season_start) + timedelta(days=round(7 * earliest))


def weeks_from_last_frost(crop: Crop) -> tuple[float, float]:
    """Weeks from the last spring frost to setting out or sowing, early and late."""
    for fact in crop.facts_of("plant_out_weeks_from_last_frost"):
        if fact.low is not None and fact.high is not None:
            return fact.low, fact.high
    return WEEKS_FROM_LAST_FROST[crop.frost_class]


def _next_date(month_day: tuple[int, int], start: date) -> date:
    found = anniversary(date(LEAP_YEAR, *month_day), start.year)
    return found if found >= start else anniversary(date(LEAP_YEAR, *month_day), start.year + 1)


def _days(crop: Crop, way: Way, frost: StatedFrost, season_start: date) -> Iterator[int]:
    if crop.life_cycle == "overwintering":
        first = _next_date(frost.first_autumn, season_start)
        last = first + timedelta(days=AUTUMN_PLANTING_DAYS)
    else:
        first = first_stated_day(crop, frost, season_start)
        autumn = _next_date(frost.first_autumn, _next_date(frost.last_spring, season_start))
        last = autumn - timedelta(days=_count_back_days(crop, way))
        if crop.life_cycle == "perennial":
            last = first + timedelta(days=SPRING_PLANTING_DAYS)
    for day in weekly_days(season_start):
        if first <= season_start + timedelta(days=int(day)) <= last:
            yield int(day)


def _count_back_days(crop: Crop, way: Way) -> int:
    harvest_days = min(crop.harvest_span_days, HARVEST_COUNTED_DAYS)
    days = _days_to_pick(crop, way) + harvest_days + FALL_FACTOR_DAYS
    return round(days + (FROST_TENDER_DAYS if crop.frost_class in ("tender", "very tender") else 0))


def _days_to_pick(crop: Crop, way: Way) -> float:
    days = middle_days(crop)
    raised_days = 7 * (crop.weeks_raised or 0.0)
    if way == "sow" and crop.maturity_basis == "setting out":
        return days + (raised_days or emergence_days(crop, way))
    if way != "sow" and crop.maturity_basis == "sowing" and not comes_up(crop, way):
        return max(days - raised_days, days / 2)
    return days


def _choice(crop: Crop, way: Way, in_ground: date, frost: StatedFrost, season_start: date) -> DateChoice:
    middle = _days_to_pick(crop, way)
    low, high = crop.days_to_maturity_days
    half = (high - low) / 2
    first = in_ground + timedelta(days=round(middle))
    last = first + timedelta(days=max(1, round(crop.harvest_span_days)) - 1)
    if crop.life_cycle == "annual" and crop.frost_class in ("tender", "very tender"):
        last = max(first, min(last, _next_date(frost.first_autumn, in_ground)))
    clear = last + timedelta(days=round(half))
    if crop.life_cycle == "perennial":
        clear = max(clear, season_start + timedelta(days=SEASON_DAYS - 1))
    raised = way == "raise" and crop.weeks_raised is not None
    weeks = crop.weeks_raised or 0.0
    return DateChoice(
        sow_under_cover=in_ground - timedelta(days=round(7 * weeks)) if raised else None,
        harden_off_from=in_ground - timedelta(days=HARDEN_OFF_DAYS) if raised else None,
        in_ground=in_ground,
        emerges=in_ground + timedelta(days=round(emergence_days(crop, way))) if comes_up(crop, way) else None,
        first_pick=first,
        first_pick_early=first - timedelta(days=round(half)),
        first_pick_late=first + timedelta(days=round(half)),
        last_pick=last,
        clear_by=clear,
        chance=None,
        n_years=0,
        failures=(),
    )
