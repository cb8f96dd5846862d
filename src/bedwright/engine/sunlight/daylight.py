"""Daily light on beds and plantings: sun and sky together, and what taller crops take."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta

import numpy as np

from bedwright.engine.sunlight.bed_light import CELL_M, as_observed, beds_left, midsummer_month
from bedwright.engine.sunlight.crops import crop_height_m, crop_obstacles
from bedwright.engine.sunlight.obstacles import bed_obstacles, obstacles_of
from bedwright.engine.sunlight.open_sky import PLANT_LIGHT_MOL_MJ, daily_light_mj_m2, direct_light_weight
from bedwright.engine.sunlight.own_weeks import overlap
from bedwright.engine.sunlight.places import Places, slope_of
from bedwright.engine.sunlight.remaining import hidden_by, remaining
from bedwright.engine.sunlight.skylines import skyline
from bedwright.engine.sunlight.sun_position import sun_day
from bedwright.engine.sunlight.sun_table import ALL_MONTHS, day_table, month_periods, sky_table, sun_table
from bedwright.model.book import Bed, Site
from bedwright.model.light import DaylightCells, OpenLight
from bedwright.model.season import Planting
from bedwright.model.weather import FloatArray

CROP_DAYS = 21
"""Crops are looked at so many days apart."""
CROP_STEP_MIN = 20.0
TALL_M = 0.5
"""Lower crops take next to nothing from their neighbours."""
POINTS_ALONG, POINTS_ACROSS = 4, 2
"""Points of a planting's ground that are looked at among crops."""


def bed_daylight(
    site: Site, beds: Sequence[Bed], skies: Sequence[OpenLight], *, cell_m: float = CELL_M
) -> tuple[DaylightCells, ...]:
    """Daily light on every cell of each bed, month by month, under one sky or several.

    Parameters
    ----------
    site, beds, cell_m
        As in `bed_light`.
    skies
        Light of open level ground.

    Limits
    ------
    Direct sun of a bed whose hours were observed is scaled like its hours; the sky is not. An
    even sky; see docs/light.md.
    """
    place, slope = (site.latitude_deg, site.longitude_deg), slope_of(site)
    weight = direct_light_weight(site.elevation_m, slope=slope)
    direct = sun_table(*place, month_periods(), slope=slope, weight=weight)
    level = direct
    if slope.slope_deg:
        level = sun_table(*place, month_periods(), weight=direct_light_weight(site.elevation_m))
    open_direct = (level.total * level.per_count)[:, None, None]
    found = []
    hours = sun_table(*place, month_periods(), slope=slope)
    for cells, (sun, sky, sun_h) in beds_left(
        site, beds, (direct, sky_table(ALL_MONTHS, slope), hours), cell_m
    ):
        seen_h = as_observed(sun_h, cells.bed.sun_h, sun_h[midsummer_month(site) - 1])
        scale = np.divide(seen_h, sun_h, out=np.ones_like(sun_h), where=sun_h > 0)
        sun_share = scale * np.divide(sun, open_direct, out=np.zeros_like(sun), where=open_direct > 0)
        sun_share[:, ~cells.inside] = np.nan
        light_mol = [daily_light_mj_m2(sun_share, sky, light) * PLANT_LIGHT_MOL_MJ for light in skies]
        found.append(DaylightCells(cells.bed.code, cell_m, np.array(light_mol)))
    return tuple(found)


def planting_daylight_mol_m2(light: DaylightCells, planting: Planting) -> FloatArray:
    """Mean daily light on a planting's ground from going in to being cleared, (n_skies,). [mol/m²/day].

    nan if its ground lies outside the bed.
    """
    shape = light.light_mol_m2.shape
    weights = np.outer(
        overlap(planting.along_m, shape[2], light.cell_m), overlap(planting.across_m, shape[3], light.cell_m)
    )
    weights[np.isnan(light.light_mol_m2[0, 0])] = 0
    if weights.sum() <= 0:
        return np.full(shape[0], np.nan)
    month = np.nansum(light.light_mol_m2 * weights, axis=(2, 3)) / weights.sum()
    start, end = planting.dates.in_ground, planting.dates.clear_by
    days = np.bincount(
        [(start + timedelta(days=k)).month - 1 for k in range((end - start).days + 1)], minlength=12
    )
    mean: FloatArray = month @ days / days.sum()
    return mean


def sun_among_crops_h(
    site: Site, beds: Sequence[Bed], plantings: Sequence[Planting]
) -> Mapping[str, tuple[float, float]]:
    """Hours of direct sun a day on each planting over its own weeks: alone, and among the others.

    A planting is looked at from its own height on the day, since there its leaves are, and
    taller crops stand about it as dense bodies.

    Parameters
    ----------
    site, beds
        The site, its features and beds.
    plantings
        The plan.

    Returns
    -------
    mapping
        Planting code to (without other crops, with them). [h/day]

    Limits
    ------
    Every third week one day is looked at, every 20 minutes of it; crops lower than half a metre count as
    none. A clear sky.
    """
    first = min((one.dates.in_ground for one in plantings), default=date.min)
    last = max((one.dates.clear_by for one in plantings), default=date.min)
    sums = {one.code: np.zeros(3) for one in plantings}
    for number in range((last - first).days // CROP_DAYS + 1):
        day = first + timedelta(days=number * CROP_DAYS + CROP_DAYS // 2)
        # A planting that stands between two looks is looked at on the nearer one.
        seen = [one for one in plantings if _stands(one, day)]
        for one, alone_h, among_h in _on_day(site, beds, seen, plantings, day):
            sums[one.code] += (alone_h, among_h, 1.0)
    return {
        code: (float(alone_h / n), float(among_h / n)) for code, (alone_h, among_h, n) in sums.items() if n
    }


def _stands(planting: Planting, day: date) -> bool:
    """Whether a planting stands on a day, or in the ten days before or after it."""
    around = timedelta(days=CROP_DAYS // 2)
    return planting.dates.in_ground - around <= day <= planting.dates.clear_by + around


def _on_day(
    site: Site, beds: Sequence[Bed], seen: Sequence[Planting], plantings: Sequence[Planting], day: date
) -> list[tuple[Planting, float, float]]:
    if not seen:
        return []
    by_code, slope = {bed.code: bed for bed in beds}, slope_of(site)
    points_m, eye_m = [], []
    for one in seen:
        bed = by_code[one.bed_code]
        points = np.array([bed.frame.to_site(point) for point in _points(one)])
        points_m.append(points)
        eye_m.append(slope.ground_m(points) + bed.raised_m + crop_height_m(one, day))
    places = Places(np.concatenate(points_m), np.concatenate(eye_m), slope)
    path = sun_day(day, site.latitude_deg, site.longitude_deg, step_min=CROP_STEP_MIN)
    table, directions_rad = day_table(path, day.month, slope)
    standing = [
        skyline(body, places, directions_rad) for body in (*obstacles_of(site.features), *bed_obstacles(beds))
    ]
    tall = [one for one in plantings if crop_height_m(one, day) >= TALL_M]
    crops = [skyline(body, places, directions_rad) for body in crop_obstacles(tall, beds, day)]
    n_places = len(places.eye_m)
    both_h = [
        remaining(hidden_by(bodies, len(table.lowest), n_places), table)[:, 0]
        .reshape(len(seen), -1)
        .mean(axis=1)
        for bodies in (standing, [*standing, *crops])
    ]
    return list(zip(seen, *(each.tolist() for each in both_h), strict=True))


def _points(planting: Planting) -> list[tuple[float, float]]:
    (along_from, along_to), (across_from, across_to) = planting.along_m, planting.across_m
    return [
        (
            along_from + (along_to - along_from) * (i + 0.5) / POINTS_ALONG,
            across_from + (across_to - across_from) * (j + 0.5) / POINTS_ACROSS,
        )
        for i in range(POINTS_ALONG)
        for j in range(POINTS_ACROSS)
    ]
