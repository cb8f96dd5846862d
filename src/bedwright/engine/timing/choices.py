"""The dates a crop may go in at a site, and which of them to prefer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from bedwright.engine.timing.ground_frost import cover_from, freezing_nights
from bedwright.engine.timing.growth import IntArray, comes_up
from bedwright.engine.timing.outcomes import (
    CAUSES,
    FAR,
    FROST,
    SEASON_DAYS,
    STEEP,
    Outcomes,
    next_day,
    sowing_outcomes,
    usual_air_c,
    usual_soil_c,
    warming,
)
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice
from bedwright.model.weather import BoolArray, FloatArray, SeasonYears

OVERWINTERING_SOIL_C = (4.4, 15.0)
"""Garlic and its like go in once the soil has cooled to the upper, and while roots still grow."""

TENDER_AIR_MEAN_C = 13.0
"""Tender crops wait until the mean of the week is usually this warm, or they stand still; practice."""

HARDEN_OFF_DAYS = 10
"""Within the 1 to 2 weeks of University of Maryland Extension (UMD_HARDENING)."""

LEAST_CHANCE = 0.5
"""A date that fails more often than not is never offered."""

CHANCE_STEP = 0.1
"""Chances closer than this are taken as equal: one year in ten."""

EARLY_ENOUGH_DAYS = 7
"""A first picking this much after the earliest is as good: weeks in cold ground gain days at most."""

EARLY, MIDDLE, LATE = 0.2, 0.5, 0.8


@dataclass(frozen=True, slots=True, eq=False)
class DateTable:
    """One crop's outcomes summed over the recorded years, for each day of the season.

    Arrays have shape (365,) unless said otherwise. Days are order statistics over the years
    that worked: the smallest day by which at least that share of them had come.
    """

    crop: Crop
    way: Way
    season_start: date
    n_years: int
    outcomes: Outcomes
    chance: FloatArray
    failures: FloatArray
    """Shape (n causes, 365): share of all years lost to each cause."""
    season_ready: BoolArray
    emerges: IntArray
    first_pick: IntArray
    first_pick_early: IntArray
    first_pick_late: IntArray
    last_pick: IntArray
    last_pick_late: IntArray
    freezing_nights: BoolArray
    """Shape (n_years, n_days): nights of spring on which low plants may freeze."""

    def day(self, index: int) -> date:
        """Date of a day counted from the season's start."""
        return self.season_start + timedelta(days=index)


def date_table(crop: Crop, years: SeasonYears, way: Way, *, latitude_deg: float) -> DateTable:
    """Sum up `sowing_outcomes` over the recorded years.

    Parameters
    ----------
    crop, years, way, latitude_deg
        As for `sowing_outcomes`.
    """
    outcomes = sowing_outcomes(crop, years, way, latitude_deg=latitude_deg)
    worked = outcomes.worked
    return DateTable(
        crop=crop,
        way=way,
        season_start=years.season_start,
        n_years=years.n_years,
        outcomes=outcomes,
        chance=worked.mean(axis=1),
        failures=np.stack([(outcomes.cause == index).mean(axis=1) for index in range(len(CAUSES))]),
        season_ready=season_ready(crop, years, way),
        emerges=_quantile(outcomes.emerges, worked, MIDDLE),
        first_pick=_quantile(outcomes.first_pick, worked, MIDDLE),
        first_pick_early=_quantile(outcomes.first_pick, worked, EARLY),
        first_pick_late=_quantile(outcomes.first_pick, worked, LATE),
        last_pick=_quantile(outcomes.last_pick, worked, MIDDLE),
        last_pick_late=_quantile(outcomes.last_pick, worked, LATE),
        freezing_nights=freezing_nights(crop, years),
    )


def _quantile(days: IntArray, worked: BoolArray, share: float) -> IntArray:
    """Order statistic over the years that worked; -1 where none did."""
    ordered = np.sort(np.where(worked, days, np.iinfo(np.int64).max), axis=1)
    n_worked = worked.sum(axis=1)
    index = np.maximum(np.ceil(share * n_worked).astype(np.int64) - 1, 0)
    found = np.take_along_axis(ordered, index[:, None], axis=1)[:, 0]
    return np.where(n_worked > 0, found, -1)


def season_ready(crop: Crop, years: SeasonYears, way: Way) -> BoolArray:
    """Days on which soil and season are usually fit for the crop.

    Parameters
    ----------
    crop, years, way
        As for `sowing_outcomes`.

    Returns
    -------
    (365,)
        True where the soil of the last seven days lies within the crop's limits in half of
        the recorded years, and in spring from then on; the upper limit holds for sowing
        only. Tender crops: where the air of those days averages 13 °C as well. Crops that
        stand over winter: only in autumn, garlic and its like in soil of 15 °C or less.
        Perennials: only in spring.

    Source
    ------
    Limits: the crop's table of germination temperatures. Garlic: planted round 50 °F of soil,
    its tops and roots growing above 40 °F, Growing for Market 2016 (GFM_GARLIC); that the
    window opens at 15 °C is chosen here. Spring and autumn: `warming`. The rest is practice.
    """
    soil_c, slope = usual_soil_c(years), warming(years)[:SEASON_DAYS]
    lowest_c = crop.soil_temp_min_c
    highest_c = np.inf if crop.soil_temp_max_c is None or way != "sow" else crop.soil_temp_max_c
    if crop.life_cycle == "overwintering" and crop.set_underground:
        coldest_c, warmest_c = OVERWINTERING_SOIL_C
        lowest_c, highest_c = max(lowest_c, coldest_c), min(highest_c, warmest_c)
    ready = _settled(soil_c, lowest_c, slope) & (soil_c <= highest_c)
    if crop.life_cycle == "overwintering":
        ready &= slope <= -STEEP
    elif crop.life_cycle == "perennial":
        ready &= slope >= STEEP
    if crop.frost_class in ("tender", "very tender"):
        ready &= _settled(usual_air_c(years), TENDER_AIR_MEAN_C, slope)
    return np.asarray(ready)


def _settled(usual_c: FloatArray, lowest_c: float, slope: FloatArray) -> BoolArray:
    """True where it is warm enough and, as the year warms, usually stays so."""
    warm = usual_c >= lowest_c
    setback = next_day(np.tile(~warm & (slope >= 0), 2)[None, :])[0, :SEASON_DAYS]
    turn = next_day(np.tile(slope < 0, 2)[None, :])[0, :SEASON_DAYS]
    return np.asarray(warm & ((slope < 0) | (setback > turn) | (setback == FAR)))


def allowed_days(table: DateTable, *, frost_risk_pct: float, chance_wanted_pct: float) -> BoolArray:
    """Days on which a crop may go in.

    Parameters
    ----------
    table
        Of one crop and way.
    frost_risk_pct
        Largest accepted share of years in which a killing frost still comes. [%], 0 to 100.
    chance_wanted_pct
        Share of years in which it should work. [%], 50 to 99.

    Returns
    -------
    (365,)
        Days fit for the crop, frost risk within bounds, and the chance wanted. At a site where
        no day fit for the crop reaches that chance, days that work in at least half of the
        years are allowed instead. What counts as "no day" does not look at frost risk, so
        accepting more risk never takes a date away.
    """
    least = chance_wanted_pct / 100
    if not (table.chance[table.season_ready] >= least).any():
        least = min(least, LEAST_CHANCE)
    risky = table.failures[FROST] > frost_risk_pct / 100
    return np.asarray(table.season_ready & ~risky & (table.chance >= least))


def weekly_days(season_start: date) -> IntArray:
    """The Mondays of a season, as days counted from its start."""
    first = (-season_start.weekday()) % 7
    return np.arange(first, SEASON_DAYS, 7, dtype=np.int64)


def choice_on(table: DateTable, index: int) -> DateChoice:
    """What the recorded years say of going in on one day; at least one year must have worked."""
    crop, way = table.crop, table.way
    in_ground = table.day(index)
    raised = way == "raise" and crop.weeks_raised is not None
    sow_under_cover = in_ground - timedelta(days=round(7 * (crop.weeks_raised or 0))) if raised else None
    shares = sorted(
        ((CAUSES[cause], float(table.failures[cause, index])) for cause in range(len(CAUSES))),
        key=lambda pair: -pair[1],
    )
    end_of_season = SEASON_DAYS - 1
    clear = int(table.last_pick_late[index])
    in_sight = int(table.emerges[index]) if comes_up(crop, way) else index
    share, cover_until = cover_from(table.freezing_nights, in_sight)
    if crop.life_cycle == "perennial":
        clear = max(clear, end_of_season)
    return DateChoice(
        sow_under_cover=sow_under_cover,
        harden_off_from=in_ground - timedelta(days=HARDEN_OFF_DAYS) if raised else None,
        in_ground=in_ground,
        emerges=table.day(int(table.emerges[index])) if comes_up(crop, way) else None,
        first_pick=table.day(int(table.first_pick[index])),
        first_pick_early=table.day(int(table.first_pick_early[index])),
        first_pick_late=table.day(int(table.first_pick_late[index])),
        last_pick=table.day(int(table.last_pick[index])),
        clear_by=table.day(clear),
        chance=float(table.chance[index]),
        n_years=table.n_years,
        failures=tuple(pair for pair in shares if pair[1] > 0),
        ground_frost_share=share if share > 0 else None,
        cover_until=None if cover_until is None else table.day(cover_until),
    )


def date_choices(
    table: DateTable,
    *,
    frost_risk_pct: float = 10.0,
    chance_wanted_pct: float = 80.0,
    days: Iterable[int] | None = None,
) -> tuple[DateChoice, ...]:
    """Allowed dates of a crop, earliest first.

    Parameters
    ----------
    table
        Of one crop and way.
    frost_risk_pct, chance_wanted_pct
        As for `allowed_days`.
    days
        Days to look at, counted from the season's start; None: its Mondays.
    """
    allowed = allowed_days(table, frost_risk_pct=frost_risk_pct, chance_wanted_pct=chance_wanted_pct)
    wanted = weekly_days(table.season_start) if days is None else days
    return tuple(choice_on(table, index) for index in sorted({int(day) for day in wanted}) if allowed[index])


def best_choice(
    choices: Sequence[DateChoice],
    harvest_from: date | None = None,
    harvest_to: date | None = None,
    *,
    go_in_early: bool = False,
) -> int | None:
    """Index of the date to prefer; None if there is no date.

    Of the dates whose chance comes within ten points of the highest, those with the most
    picking days inside the weeks wanted; of these, those that begin to yield within a week of
    the first; of these the latest to go in, which holds the ground for the shortest time. For
    what stands for long (`go_in_early`) the earliest instead, which gives it time to root.
    """
    if not choices:
        return None
    top = max(choice.chance or 0.0 for choice in choices)
    left = [i for i, each in enumerate(choices) if (each.chance or 0.0) >= top - CHANCE_STEP - 1e-9]
    inside = {i: picking_days_inside(choices[i], harvest_from, harvest_to) for i in left}
    left = [i for i in left if inside[i] == max(inside.values())]
    first = min(choices[i].first_pick for i in left)
    left = [i for i in left if (choices[i].first_pick - first).days <= EARLY_ENOUGH_DAYS]
    pick = min if go_in_early else max
    return pick(left, key=lambda i: choices[i].in_ground)


def picking_days_inside(choice: DateChoice, harvest_from: date | None, harvest_to: date | None) -> int:
    """Days of picking that fall in the weeks wanted; 0 where no weeks are named."""
    if harvest_from is None and harvest_to is None:
        return 0
    first = max(choice.first_pick, harvest_from or date.min)
    last = min(choice.last_pick, harvest_to or date.max)
    return max((last - first).days + 1, 0)


def last_useful_sowing(
    table: DateTable, *, chance_wanted_pct: float = 80.0, frost_risk_pct: float = 10.0
) -> date | None:
    """Last day on which the crop can go in and still be picked with the chance wanted.

    Parameters
    ----------
    table
        Of one crop and way.
    chance_wanted_pct, frost_risk_pct
        As for `allowed_days`, without its lower chance where the wanted one is out of reach.

    Returns
    -------
    date | None
        None if no day of the season reaches that chance.
    """
    risky = table.failures[FROST] > frost_risk_pct / 100
    fit = table.season_ready & ~risky & (table.chance >= chance_wanted_pct / 100)
    return table.day(int(np.flatnonzero(fit)[-1])) if fit.any() else None
