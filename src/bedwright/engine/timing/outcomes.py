"""What would have become of a planting made on each day of each recorded season."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.timing.growth import (
    EMERGENCE_UNITS,
    GROWTH_UNITS_PER_DEGREE_DAY,
    GrowthNeed,
    IntArray,
    comes_up,
    emergence_days,
    emergence_progress,
    growth_need,
    growth_progress,
    light_share,
    middle_days,
    soil_limits_c,
)
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.season import FailureCause
from bedwright.model.weather import BoolArray, FloatArray, SeasonYears

SEASON_DAYS = 365

CAUSES: tuple[FailureCause, ...] = (
    "killing frost", "heat", "season too short", "soil too cold", "soil too hot",
)  # fmt: skip
FROST, HEAT, SHORT, COLD_SOIL, HOT_SOIL = range(len(CAUSES))
WORKED = -1
"""In `Outcomes.cause`: the planting worked."""

EMERGENCE_LIMIT_DAYS = 60
"""Seed not up by then is given up; practice. The slowest usual trial, carrot at 5 °C, took 51 days."""

HEAT_SPELL_DAYS = 14
"""Heat counts when the daily maximum averages above the crop's limit for this long; practice."""

HEAT_SENSITIVE_FROM = 2 / 3
"""Heat ruins a cool-season crop after this share of its growth, when heads and pods form; practice."""

STRETCH_LIMIT = 2.5
"""An annual may stand through the coldest time of the year only if it is picked within this many
times its packet days, as in mild winters; practice. Otherwise the season was too short for it."""

FAR = 1_000_000
"""Day that stands for "not within the days kept of the season"."""

WEEK_DAYS = 7
"""Soil is judged by the mean of a week, as with a soil thermometer; practice."""

NO_SEASONS = 1e-6
"""Swing of the year, summed over its days, below which it is rounding noise. [°C day]"""

BELOW_GROUND_PARTS = frozenset({"root", "tuber", "bulb"})

STEEP = 0.7
"""Spring and autumn: the quarters of the year round the fastest warming and cooling; `warming`."""

PICKING_WANTED_DAYS = 7
"""A planting has worked if a weekly visit finds something to pick; chosen here."""

CALENDAR_DAYS = 200.0
"""Crops longer than this count plain days: growth through winter is not degree days; practice."""


@dataclass(frozen=True, slots=True, eq=False)
class Outcomes:
    """Fate of one crop, put in one way, for every day it could go in and every recorded season.

    Arrays have shape (n_sow_days, n_years); a day is counted from the season's start.
    """

    emerges: IntArray
    """Day seedlings or shoots show; the day of setting out for plants already up."""
    ripe: IntArray
    """Day of first picking had nothing ended the crop; `FAR` where it never came."""
    first_pick: IntArray
    """Day of first picking; -1 where it failed."""
    last_pick: IntArray
    """Day of last picking; -1 where it failed."""
    ended: IntArray
    """Day on which a failed planting was lost or given up; -1 where it worked."""
    cause: NDArray[np.int8]
    """Index into `CAUSES`; `WORKED` where it worked."""

    @property
    def worked(self) -> BoolArray:
        """True where there was a harvest."""
        return np.asarray(self.cause == WORKED)


@dataclass(frozen=True, slots=True, eq=False)
class _Course:
    """How a planting would go if nothing ended it; arrays of shape (n_years, n_sow_days)."""

    start: IntArray
    """Day it is in sight and grows on."""
    not_up: NDArray[np.int8]
    """Cause for which it never came up; `WORKED` where it did."""
    ripe: IntArray
    sensitive: IntArray
    """Day from which heat can ruin it."""


@dataclass(frozen=True, slots=True, eq=False)
class _Fates:
    """First day of each kind of end, on or after each day; shape (n_years, n_days)."""

    frost: IntArray
    heat: IntArray
    falling: BoolArray
    """True on days of the half-year in which the site cools; shape (n_days,)."""


def sowing_outcomes(crop: Crop, years: SeasonYears, way: Way, *, latitude_deg: float) -> Outcomes:
    """Follow every possible planting of a crop through every recorded season.

    Parameters
    ----------
    crop
        With the packet's values where stated.
    years
        Recorded seasons, at least one, of more than 365 days.
    way
        "sow": the day is that of sowing in place; "raise", "buy": of setting out.
    latitude_deg
        Of the site, for the light of the season. [°], -90 to 90.

    Returns
    -------
    Outcomes
        Days 0 to 364 of the season, each recorded year.

    Raises
    ------
    ValueError
        If there is no recorded season, or seasons are not longer than a year.

    Source
    ------
    Emergence: `emergence_progress`. Growth: `growth_need`, `growth_progress`, `light_share`.
    Killing frost: `killing_nights`. The rest is practice or chosen here; see the constants of
    this module and docs/timing.md.

    Limits
    ------
    Blind to drought, pests and variety beyond its days to maturity. Crops of more than
    200 days, and those that stand over winter, count plain days. What happens past the
    days kept of each season counts as no frost.
    """
    if not years.n_years or years.n_days <= SEASON_DAYS:
        raise ValueError(
            f"{years.n_years} seasons of {years.n_days} days; more than {SEASON_DAYS} days needed"
        )
    start, not_up = _start_days(crop, years, way)
    need = growth_need(crop, way)
    hot = _hot_spells(crop, years)
    if counts_plain_days(crop):
        ripe = _plain_ripening(crop, years) + np.zeros_like(start)
        sensitive = ripe
    else:
        ripe, sensitive = _ripening(crop, years, need, start, hot, latitude_deg)
    course = _Course(start, not_up, ripe, sensitive)
    return _judge(crop, _limit(crop, years, need, way), course, _fates(crop, years, hot))


def counts_plain_days(crop: Crop) -> bool:
    """True for crops whose days to maturity are counted as plain days, through winter."""
    return crop.life_cycle == "overwintering" or middle_days(crop) > CALENDAR_DAYS


def killing_nights(crop: Crop, years: SeasonYears) -> BoolArray:
    """Nights that end the crop once it is in sight.

    Returns
    -------
    (n_years, n_days)
        True where the shelter minimum is at or below the crop's `frost_kill_c`.

    Source
    ------
    Chosen here: the limits on record are told by the air temperature of the place, as a
    thermometer shows it, not by the leaf's, so the frost at low plants is in them already.
    Held against the minimum at plant height, some 2 °C lower, they put the dates at De Bilt
    three to four weeks behind what is common practice there, no source (tomatoes out after
    the middle of May, peas sown from the middle of March); against the shelter minimum they
    agree with it.

    Limits
    ------
    On a clear, still night low plants may freeze though the shelter stays above the limit.
    """
    killing = years.tmin_c <= crop.frost_kill_c
    return killing if dies_of_frost(crop) else np.zeros_like(killing)


def dies_of_frost(crop: Crop) -> bool:
    """False for what dies back and comes again: hardy perennials, and cloves set for the winter.

    Source
    ------
    Garlic frozen back to the ground grows again, and stands -30 °F: Growing for Market 2016
    (GFM_GARLIC). Perennials: common practice.
    """
    if crop.life_cycle == "overwintering":
        return not crop.set_underground
    return crop.life_cycle == "annual" or crop.frost_class in ("tender", "very tender")


def dies_of_heat(crop: Crop) -> bool:
    """True for cool-season annuals grown for leaves, heads or pods, which bolt or turn tough.

    Growth of roots, tubers, bulbs and of all tender crops only pauses in heat; practice.
    """
    cool = crop.frost_class in ("hardy", "half-hardy")
    below_ground = bool(crop.edible_parts) and crop.edible_parts[0] in BELOW_GROUND_PARTS
    return cool and crop.life_cycle == "annual" and not below_ground and not counts_plain_days(crop)


def warming(years: SeasonYears) -> FloatArray:
    """How fast the site warms on each day of its usual year.

    Parameters
    ----------
    years
        Recorded seasons.

    Returns
    -------
    (n_days,)
        Slope of the first harmonic of the mean daily temperature: 1 when it warms fastest,
        -1 when it cools fastest, 0 all year where there are no seasons.
    """
    mean_c = ((years.tmin_c + years.tmax_c) / 2)[:, :SEASON_DAYS].mean(axis=0)
    angle = 2 * np.pi * np.arange(SEASON_DAYS) / SEASON_DAYS
    cosine, sine = float(mean_c @ np.cos(angle)), float(mean_c @ np.sin(angle))
    size = float(np.hypot(cosine, sine))
    if size < NO_SEASONS:
        return np.zeros(years.n_days)
    every = 2 * np.pi * np.arange(years.n_days) / SEASON_DAYS
    return np.asarray((sine * np.cos(every) - cosine * np.sin(every)) / size)


def _sow_days() -> IntArray:
    return np.arange(SEASON_DAYS, dtype=np.int64)


def _running(progress: IntArray) -> IntArray:
    """Sum of all days before each, shape (n_years, n_days + 1)."""
    zero = np.zeros((progress.shape[0], 1), np.int64)
    return np.concatenate([zero, np.cumsum(progress, axis=1)], axis=1)


def _reached(running: IntArray, start: IntArray, amount: int) -> IntArray:
    """First day by which `amount` has been added since `start`; `FAR` if never.

    One search serves all years: each is lifted above the one before it.
    """
    n_years, n_sums = running.shape
    target = np.take_along_axis(running, np.minimum(start, n_sums - 1), axis=1) + amount
    year = np.arange(n_years, dtype=np.int64)[:, None]
    lift = (int(running[:, -1].max()) + amount + 1) * year
    found = np.searchsorted((running + lift).ravel(), (target + lift).ravel()).reshape(start.shape)
    day = found - n_sums * year
    return np.where((start < n_sums) & (day < n_sums), day, FAR)


def next_day(condition: BoolArray) -> IntArray:
    """First day on or after each on which the condition holds, (n_years, n_days); `FAR` if none does."""
    day = np.where(condition, np.arange(condition.shape[1], dtype=np.int64), FAR)
    return np.minimum.accumulate(day[:, ::-1], axis=1)[:, ::-1]


def _at(next_days: IntArray, start: IntArray) -> IntArray:
    n_days = next_days.shape[1]
    found = np.take_along_axis(next_days, np.minimum(start, n_days - 1), axis=1)
    return np.where(start < n_days, found, FAR)


def _start_days(crop: Crop, years: SeasonYears, way: Way) -> tuple[IntArray, NDArray[np.int8]]:
    """Day on which growth in sight begins, and the cause where it never does."""
    shape = (years.n_years, SEASON_DAYS)
    sow_days = np.broadcast_to(_sow_days(), shape)
    cause = np.full(shape, WORKED, np.int8)
    if not comes_up(crop, way):
        return sow_days.copy(), cause
    progress = emergence_progress(crop, way, years.soil_temp_c)
    emerges = _reached(_running(progress), sow_days, EMERGENCE_UNITS)
    if crop.set_underground:
        return emerges, cause
    lowest_c, highest_c = soil_limits_c(crop, way)
    cold = _running((years.soil_temp_c < lowest_c).astype(np.int64))
    hot = _running((years.soil_temp_c > highest_c).astype(np.int64))
    end = np.minimum(sow_days + EMERGENCE_LIMIT_DAYS, years.n_days)
    n_cold = np.take_along_axis(cold, end, axis=1) - cold[:, :SEASON_DAYS]
    n_hot = np.take_along_axis(hot, end, axis=1) - hot[:, :SEASON_DAYS]
    late = emerges > sow_days + EMERGENCE_LIMIT_DAYS
    cause[late] = np.where(n_hot > n_cold, HOT_SOIL, COLD_SOIL)[late]
    return emerges, cause


def _hot_spells(crop: Crop, years: SeasonYears) -> BoolArray:
    """Days that close a fortnight whose maxima averaged above the crop's heat limit."""
    hot = np.zeros(years.tmax_c.shape, np.bool_)
    if crop.heat_limit_c is None or years.n_days < HEAT_SPELL_DAYS:
        return hot
    # Hundredths of a degree as whole numbers: sums do not depend on the order of adding.
    running = _running(np.rint(100 * years.tmax_c).astype(np.int64))
    spell = running[:, HEAT_SPELL_DAYS:] - running[:, :-HEAT_SPELL_DAYS]
    hot[:, HEAT_SPELL_DAYS - 1 :] = spell > round(100 * crop.heat_limit_c) * HEAT_SPELL_DAYS
    return hot


def _ripening(
    crop: Crop, years: SeasonYears, need: GrowthNeed, start: IntArray, hot: BoolArray, latitude_deg: float
) -> tuple[IntArray, IntArray]:
    """Day of first picking if all goes well, and the day from which heat can ruin it."""
    light = light_share(latitude_deg, years.season_start, years.n_days)
    pause = np.zeros_like(hot) if dies_of_heat(crop) else hot
    running = _running(growth_progress(need, years, light, pause))
    counted = np.broadcast_to(_sow_days(), start.shape) if need.from_sowing else start
    units = round(GROWTH_UNITS_PER_DEGREE_DAY * need.degree_days)
    ripe = np.maximum(_reached(running, counted, units), start + 1)
    sensitive = _reached(running, counted, round(HEAT_SENSITIVE_FROM * units))
    return ripe, np.maximum(sensitive, start)


def _plain_ripening(crop: Crop, years: SeasonYears) -> IntArray:
    """Day of first picking by plain days; perennials wait for the spring after them."""
    ripe = _sow_days() + round(middle_days(crop))
    spring = usual_soil_c(years) >= crop.soil_temp_min_c
    spring &= warming(years)[:SEASON_DAYS] >= STEEP
    if crop.life_cycle != "perennial" or not spring.any():
        return ripe
    first = next_day(np.tile(spring, 2)[None, :])[0]
    within = ripe % SEASON_DAYS
    return np.asarray(ripe - within + first[within])


def usual_soil_c(years: SeasonYears) -> FloatArray:
    """Soil temperature of the last seven days in the middle one of the recorded years.

    Returns
    -------
    (365,)
        Means over a week, or over the days so far in the season's first week. [°C]
    """
    return _usual_week(years.soil_temp_c)


def usual_air_c(years: SeasonYears) -> FloatArray:
    """Daily mean temperature of the last seven days in the middle one of the recorded years.

    Returns
    -------
    (365,)
        As `usual_soil_c`. [°C]
    """
    return _usual_week((years.tmin_c + years.tmax_c) / 2)


def _usual_week(daily_c: FloatArray) -> FloatArray:
    running = np.cumsum(daily_c[:, :SEASON_DAYS], axis=1)
    week = running.copy()
    week[:, WEEK_DAYS:] -= running[:, :-WEEK_DAYS]
    return np.asarray(np.median(week / np.minimum(np.arange(SEASON_DAYS) + 1, WEEK_DAYS), axis=0))


def _fates(crop: Crop, years: SeasonYears, hot: BoolArray) -> _Fates:
    killing = killing_nights(crop, years)
    ruinous = hot if dies_of_heat(crop) else np.zeros_like(hot)
    falling = (warming(years) < 0) & (crop.life_cycle == "annual")
    return _Fates(next_day(killing), next_day(ruinous), falling)


def _judge(crop: Crop, limit: IntArray, course: _Course, fates: _Fates) -> Outcomes:
    start, ripe = course.start, course.ripe
    frost, heat = _at(fates.frost, start), _at(fates.heat, course.sensitive)
    in_sight = course.not_up == WORKED
    cause = course.not_up.copy()
    ended = np.where(in_sight, -1, _sow_days() + EMERGENCE_LIMIT_DAYS)

    lost = in_sight & ~((ripe < frost) & (ripe < heat) & (ripe <= limit))
    end = np.minimum(np.minimum(frost, heat), limit)
    why = np.where(end == frost, _frost_cause(fates, frost), np.where(end == heat, HEAT, SHORT))
    cause[lost], ended[lost] = why[lost], end[lost]

    span = max(1, round(crop.harvest_span_days))
    frost, heat = _at(fates.frost, ripe), _at(fates.heat, ripe)
    stop = np.minimum(np.minimum(ripe + span, frost), heat)
    brief = (cause == WORKED) & (stop - ripe < min(span, PICKING_WANTED_DAYS))
    why = np.where(stop == frost, _frost_cause(fates, frost), HEAT)
    cause[brief], ended[brief] = why[brief], stop[brief]

    worked = cause == WORKED
    return Outcomes(
        emerges=start.T,
        ripe=ripe.T,
        first_pick=np.where(worked, ripe, -1).T,
        last_pick=np.where(worked, stop - 1, -1).T,
        ended=ended.T,
        cause=cause.T,
    )


def _limit(crop: Crop, years: SeasonYears, need: GrowthNeed, way: Way) -> IntArray:
    """Last day on which the first picking still counts, for each day of going in."""
    sow_days = _sow_days()
    if counts_plain_days(crop):
        return np.full_like(sow_days, FAR)
    if crop.life_cycle == "perennial":
        return np.full_like(sow_days, years.n_days - 1)
    stretched = sow_days + stretch_days(crop, need, way)
    return np.minimum(np.maximum(stretched, coldest_after(years)), years.n_days - 1)


def stretch_days(crop: Crop, need: GrowthNeed, way: Way) -> int:
    """Days from going in within which an annual may stand through winter."""
    hidden = emergence_days(crop, way) if comes_up(crop, way) else 0.0
    return int(np.ceil(STRETCH_LIMIT * (need.packet_days + hidden)))


def coldest_after(years: SeasonYears) -> IntArray:
    """Next coldest time of the usual year after each day of the season; 0 where there is none.

    Returns
    -------
    (365,)
        Day counted from the season's start.
    """
    cooling = warming(years) < 0
    turns = np.concatenate([[False], cooling[:-1] & ~cooling[1:]])
    found = next_day(turns[None, :])[0]
    return np.where(found < FAR, found, 0)[1 : SEASON_DAYS + 1]


def _frost_cause(fates: _Fates, frost: IntArray) -> NDArray[np.int8]:
    """A frost as the year cools means the season was too short; any other is a killing frost."""
    in_autumn = fates.falling[np.minimum(frost, fates.falling.size - 1)]
    return np.where(in_autumn, SHORT, FROST).astype(np.int8)
