"""Light on beds and plantings, put with a finished plan."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from bedwright.engine.care import SiteWeather
from bedwright.engine.sunlight import (
    average_light,
    bed_daylight,
    clear_light,
    planting_daylight_mol_m2,
    sun_among_crops_h,
)
from bedwright.engine.sunlight.open_sky import TYPICAL_VAPOUR_KPA
from bedwright.model.light import DaylightCells
from bedwright.model.season import BedDaylight, Planting, PlantingLight, SeasonPlan


def with_light(plan: SeasonPlan, weather: SiteWeather | None) -> SeasonPlan:
    """The plan with daily light on its beds, and the light of every planting over its own weeks."""
    site, beds = plan.book.site, plan.book.beds
    skies = [clear_light(site.latitude_deg, site.elevation_m, [TYPICAL_VAPOUR_KPA] * 12)]
    if weather is not None:
        skies.append(average_light(weather.record, site.latitude_deg, site.elevation_m))
    cells = bed_daylight(site, beds, skies)
    by_bed = {each.bed_code: each for each in cells}
    sun_h = sun_among_crops_h(site, beds, plan.plantings)
    return replace(
        plan,
        daylight=tuple(_bed(each) for each in cells),
        planting_light=tuple(
            _planting(one, by_bed[one.bed_code], *sun_h[one.code])
            for one in plan.plantings
            if one.code in sun_h
        ),
    )


def _bed(cells: DaylightCells) -> BedDaylight:
    means = np.nanmean(cells.light_mol_m2, axis=(2, 3))
    rounded = [tuple(round(float(value), 1) for value in sky) for sky in means]
    return BedDaylight(cells.bed_code, rounded[0], rounded[1] if len(rounded) > 1 else ())


def _planting(planting: Planting, cells: DaylightCells, alone_h: float, among_h: float) -> PlantingLight:
    light_mol = planting_daylight_mol_m2(cells, planting)
    return PlantingLight(
        planting.code,
        round(alone_h, 2),
        round(alone_h - among_h, 2),
        round(float(light_mol[0]), 1),
        round(float(light_mol[1]), 1) if len(light_mol) > 1 else None,
    )
