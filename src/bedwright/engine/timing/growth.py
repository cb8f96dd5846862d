"""How fast a crop comes up and grows from day to day, as whole numbers that add up exactly."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

import numpy as np
from numpy.typing import NDArray

from bedwright.engine.climate.dates import day_of_year
from bedwright.engine.climate.degree_days import degree_days
from bedwright.engine.climate.radiation import sun_day
from bedwright.engine.timing.sources import BASE_TEMPERATURES, GROWTH_TEMPERATURES
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.weather import FloatArray, SeasonYears

IntArray = NDArray[np.int64]

EMERGENCE_UNITS = 1_000_000_000
"""Units of progress from sowing to emergence; whole numbers add up the same in any order."""

GROWTH_UNITS_PER_DEGREE_DAY = 1_000

EMERGENCE_DAYS_UNTABLED = 14.0
"""Days to emergence in soil within the crop's limits where no trial is listed; practice."""

EMERGENCE_DAYS_STOCK = 21.0
"""Days until shoots of tubers, cloves and sets show, in soil within the crop's limits; practice."""

EMERGENCE_REFERENCE_C = 20.0
"""Soil temperature at which a packet's days from sowing are taken to hold."""

SETBACK_MIN_SHARE = 0.5
"""A raised plant still needs at least this share of days that are counted from sowing."""

LIGHT_NONE_MJ_M2 = 12.0
LIGHT_FULL_MJ_M2 = 32.0
"""Sun above the air, per day, at which growth stands still and from which light is plenty."""

EMERGENCE_BASE_BELOW_MIN_C = 3.0
"""Seed is taken to stand still this far below the lowest temperature advised for sowing; practice."""


@dataclass(frozen=True, slots=True)
class GrowthTemperatures:
    """Daily mean temperatures that govern a crop's growth."""

    base_c: float
    """No growth at or below it."""
    packet_c: float
    """Where the packet's days to maturity hold; growth is no faster above it."""


COOL_SEASON = GrowthTemperatures(base_c=4.4, packet_c=15.6)
ONION_KIN = GrowthTemperatures(base_c=4.4, packet_c=12.8)
WARM_SEASON = GrowthTemperatures(base_c=10.0, packet_c=16.9)
HEAT_LOVING = GrowthTemperatures(base_c=10.0, packet_c=21.1)

ONION_FAMILY = "Amaryllidaceae"
HEAT_LOVING_CROPS = frozenset({"eggplant", "okra", "sweet potato", "watermelon"})
"""Those of the row for 70 to 85 °F of the handbook's table that are in the catalogue."""


def growth_temperatures(crop: Crop) -> GrowthTemperatures:
    """Base and packet temperature of a crop's growth.

    Source
    ------
    Bases 40 and 50 °F: Peet, Appendix 2 (PEET_APP2), read for five vegetables and used for
    the rest of their group. Best growth from 55 °F (onion kin), 60 °F (other cool-season
    crops, but also bean and sweet corn), 65 °F (squash, cucumber) and 70 °F (tomato, pepper
    and the heat-loving) up: Knott's Handbook, 4th ed. 1997 (KNOTT97_GROWTH). That the
    packet's days hold from there up, that no warmth makes a crop faster than its packet, and
    the 62.5 °F that stands for tender crops other than the heat-loving, are chosen here;
    docs/timing.md shows how the dates agree with practice.

    Limits
    ------
    The handbook speaks of monthly means and of quality; that growth rises in a straight line
    from base to packet temperature is chosen here.
    """
    if crop.name in HEAT_LOVING_CROPS:
        return HEAT_LOVING
    if crop.frost_class in ("tender", "very tender"):
        return WARM_SEASON
    return ONION_KIN if crop.family == ONION_FAMILY else COOL_SEASON


@dataclass(frozen=True, slots=True)
class GrowthNeed:
    """What a planting needs from coming up, or being set out, to its first picking."""

    degree_days: float
    """Above `temperatures.base_c`. [°C day]"""
    packet_days: float
    """The same at the temperature where the packet holds. [days]"""
    temperatures: GrowthTemperatures
    from_sowing: bool
    """True: counted from the day of sowing, whenever it comes up."""
    rule: str
    source_ids: tuple[str, ...]


def growth_need(crop: Crop, way: Way) -> GrowthNeed:
    """Degree days from coming up, or setting out, to the first picking.

    Parameters
    ----------
    crop
        With the packet's days where the book states them.
    way
        How it gets into the bed.

    Source
    ------
    Degree days of the catalogue where it has a sum and its base, no packet states days, and the
    sum agrees with the crop's own days to maturity: a sum that would take longer or shorter
    than those at the packet's temperature was measured by another definition. Otherwise
    the middle of the days to maturity, at the packet's temperature (`growth_temperatures`);
    turning days into degree days so is chosen here.

    Limits
    ------
    Where days count from sowing, those a seed takes to come up at 20 °C are taken off, since
    emergence is followed by itself. Where they count from setting out and the crop is sown in
    place, the weeks it would have been raised are added.
    """
    temperatures = growth_temperatures(crop)
    facts = crop.facts_of("days_to_maturity")
    total = _published_sum(crop, temperatures)
    if total is not None:
        base_c, degree_day_sum = total
        own = replace(temperatures, base_c=base_c)
        sum_facts = crop.facts_of("gdd_to_maturity_c")
        return GrowthNeed(
            degree_days=degree_day_sum,
            packet_days=degree_day_sum / (own.packet_c - base_c),
            temperatures=own,
            from_sowing=way == "sow" and crop.maturity_basis == "sowing",
            rule=f"{degree_day_sum:g} degree days above {base_c:g} °C, no faster above {own.packet_c:g} °C",
            source_ids=tuple(fact.source_id for fact in sum_facts if fact.used) or (BASE_TEMPERATURES,),
        )
    days = _days_after_start(crop, way)
    span_c = temperatures.packet_c - temperatures.base_c
    used = tuple(fact.source_id for fact in facts if fact.used)
    return GrowthNeed(
        degree_days=days * span_c,
        packet_days=days,
        temperatures=temperatures,
        from_sowing=False,
        rule=(
            f"{days_in_words(crop)} from {crop.maturity_basis}, taken to hold from a daily mean of "
            f"{temperatures.packet_c:.1f} °C up; slower in cooler weather, nil at {temperatures.base_c:g} °C"
        ),
        source_ids=tuple(dict.fromkeys((*used, GROWTH_TEMPERATURES, BASE_TEMPERATURES))),
    )


def _published_sum(crop: Crop, temperatures: GrowthTemperatures) -> tuple[float, float] | None:
    """Base and sum of the catalogue's degree days, where they may be used."""
    base_c, total = crop.degree_day_base_c, crop.degree_days_to_maturity
    if base_c is None or total is None or base_c >= temperatures.packet_c:
        return None
    low, high = crop.days_to_maturity_days
    from_packet = any(fact.used and fact.standing == "packet" for fact in crop.facts_of("days_to_maturity"))
    days = total / (temperatures.packet_c - base_c)
    return (base_c, total) if not from_packet and low <= days <= high else None


def middle_days(crop: Crop) -> float:
    """Middle of the crop's days to maturity, in days."""
    low, high = crop.days_to_maturity_days
    return (low + high) / 2


def days_in_words(crop: Crop) -> str:
    """The crop's days to maturity, such as "70 to 90 days"."""
    low, high = crop.days_to_maturity_days
    return f"{low:g} days" if low == high else f"{low:g} to {high:g} days"


def comes_up(crop: Crop, way: Way) -> bool:
    """True where the planting is out of sight, and out of reach of frost, until it comes up."""
    return way == "sow" or crop.set_underground


def _days_after_start(crop: Crop, way: Way) -> float:
    days = middle_days(crop)
    raised_days = 7 * (crop.weeks_raised or 0.0)
    if comes_up(crop, way):
        added = raised_days if crop.maturity_basis == "setting out" and way == "sow" else 0.0
        hidden = 0.0 if crop.maturity_basis == "setting out" and way == "sow" else emergence_days(crop, way)
        return max(days + added - hidden, 1.0)
    if crop.maturity_basis == "sowing":
        return max(days - raised_days, SETBACK_MIN_SHARE * days)
    return days


def _tabled(crop: Crop) -> tuple[FloatArray, FloatArray]:
    points = sorted(
        (point.soil_temp_c, point.days_to_emergence)
        for point in crop.germination
        if point.germinates and point.days_to_emergence is not None
    )
    return np.array([t for t, _ in points], float), np.array([d for _, d in points], float)


def emergence_days(crop: Crop, way: Way) -> float:
    """Days to come up in soil at 20 °C, or the nearest temperature at which it does."""
    if way != "sow" or crop.set_underground:
        return EMERGENCE_DAYS_STOCK
    temps_c, days = _tabled(crop)
    if not temps_c.size:
        return EMERGENCE_DAYS_UNTABLED
    return float(np.interp(EMERGENCE_REFERENCE_C, temps_c, days))


def soil_limits_c(crop: Crop, way: Way) -> tuple[float, float]:
    """Lowest and highest soil temperature at which the planting makes progress below ground.

    The trial's own where it found the temperature beyond which nothing came up; otherwise
    the limits of sowing, which may lie beyond the temperatures tried.
    """
    lowest_c = crop.soil_temp_min_c
    highest_c = np.inf if crop.soil_temp_max_c is None else crop.soil_temp_max_c
    temps_c, _ = _tabled(crop)
    if way != "sow" or crop.set_underground or not temps_c.size:
        return lowest_c, highest_c
    failed_c = [point.soil_temp_c for point in crop.germination if not point.germinates]
    if any(temp_c > temps_c[-1] for temp_c in failed_c):
        highest_c = temps_c[-1]
    return min(lowest_c, float(temps_c[0])), max(highest_c, float(temps_c[-1]))


def emergence_progress(crop: Crop, way: Way, soil_temp_c: FloatArray) -> IntArray:
    """Progress towards emergence on each day, in units of which `EMERGENCE_UNITS` are needed.

    Parameters
    ----------
    crop
        With its germination table, which may be empty.
    way
        How it gets into the bed.
    soil_temp_c : (n_years, n_days)
        Daily mean soil temperature. [°C]

    Returns
    -------
    (n_years, n_days)
        Whole units; 0 in soil too cold or too hot.

    Source
    ------
    Days to emergence: the crop's table (Harrington & Minges 1954 for most). Straight lines
    between its points, and adding up one over the days, day by day, are chosen here.
    Colder than the coldest temperature tried, the speed falls in a straight line to nothing
    at three degrees below the advised minimum; chosen here.

    Limits
    ------
    Blind to drought, crusts, seed depth other than the trial's, and the swing of a day.
    """
    coldest_c, hottest_c = soil_limits_c(crop, way)
    temps_c, days = _tabled(crop)
    if way != "sow" or crop.set_underground or not temps_c.size:
        per_day = np.full(soil_temp_c.shape, EMERGENCE_UNITS / emergence_days(crop, way))
    else:
        per_day = EMERGENCE_UNITS / np.interp(soil_temp_c, temps_c, days)
        base_c = min(crop.soil_temp_min_c, temps_c[0]) - EMERGENCE_BASE_BELOW_MIN_C
        colder = np.clip((soil_temp_c - base_c) / (temps_c[0] - base_c), 0.0, 1.0)
        per_day = per_day * colder
    inside = (soil_temp_c >= coldest_c) & (soil_temp_c <= hottest_c)
    return np.where(inside, np.ceil(per_day), 0).astype(np.int64)


def growth_progress(
    need: GrowthNeed, years: SeasonYears, light: FloatArray, stopped: NDArray[np.bool_]
) -> IntArray:
    """Growth on each day, in thousandths of a degree day.

    Parameters
    ----------
    need
        Base and optimum of the crop.
    years
        Seasons on record.
    light : (n_days,)
        Share of full growth that the day's length allows.
    stopped : (n_years, n_days)
        True on days so hot that growth towards the first picking stands still.

    Returns
    -------
    (n_years, n_days)
        Whole units, at least 0.

    Source
    ------
    Degree days by the first method of McMaster & Wilhelm 1997: limits applied to the mean.
    """
    temperatures = need.temperatures
    warmth_c = degree_days(
        years.tmin_c,
        years.tmax_c,
        base_c=temperatures.base_c,
        upper_c=temperatures.packet_c,
        method="mean",
    )
    units = np.rint(GROWTH_UNITS_PER_DEGREE_DAY * warmth_c * light)
    return np.where(stopped, 0, units).astype(np.int64)


def light_share(latitude_deg: float, season_start: date, n_days: int) -> FloatArray:
    """Share of full growth that the sun of each day allows.

    Parameters
    ----------
    latitude_deg
        [°], north positive.
    season_start
        Date of day 0.
    n_days
        Days wanted.

    Returns
    -------
    (n_days,)
        1 where the sun above the air gives 32 MJ/m² a day or more, 0 at 12 and less, in a
        straight line between.

    Source
    ------
    Sun above the air: FAO-56 Eq. 21, by `sun_day`. The line is chosen here so that a 65-day
    crop of Virginia's autumn needs about 80 days, as Virginia Cooperative Extension's fall
    factor of about two weeks has it (VCE_FALL). It agrees with the common practice, no
    source, that outdoor crops all but stand still below ten hours of day.

    Limits
    ------
    Clouds and shade are left out.
    """
    dates = np.datetime64(season_start, "D") + np.arange(n_days)
    sun_mj_m2 = sun_day(latitude_deg, day_of_year(dates).astype(np.float64)).extraterrestrial_mj_m2
    return np.clip((sun_mj_m2 - LIGHT_NONE_MJ_M2) / (LIGHT_FULL_MJ_M2 - LIGHT_NONE_MJ_M2), 0.0, 1.0)
