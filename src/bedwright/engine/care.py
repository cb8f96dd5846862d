"""Works out what a planted season asks for: water, feeding, hours, supplies and caution."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np

from bedwright.engine.soil import feed_beds, mulch_needs, planting_holes, safety_sheet, side_dressings
from bedwright.engine.supplies import season_supplies
from bedwright.engine.water import (
    METHODS,
    patches_of,
    recorded_seasons,
    season_days,
    season_demand,
    site_conditions,
    sun_share,
    tank_sizing,
    watering_in_l,
)
from bedwright.engine.work import relief, season_hours, week_list
from bedwright.model.book import GardenBook, UnitSystem
from bedwright.model.care import Care, FeedingPlan, PickingWeek, WateringIn, WaterPlan
from bedwright.model.safety import LEAD_RULES
from bedwright.model.season import BedSun, Planting, SeasonPlan, Task
from bedwright.model.soil import Material, SideDressing
from bedwright.model.units import us_gallons_to_litres
from bedwright.model.water import BedWater, SeasonWater, TankSizing, WateredPatch, WaterSupply
from bedwright.model.weather import SeasonYears, WeatherRecord
from bedwright.model.work import SeasonHours, WeekList

WARM_SOIL_C = 15.0
"""Soil called warm, so that mulch may go on: common practice, no source."""
MULCH_COVER_SHARE = 0.8
"""Share of the ground a mulch covers between the stems: common practice, no source."""
COMMON_CAN_L = 10.0
"""Watering can where the book states none: common size, no source."""
COMMON_TANKS_L: Mapping[UnitSystem, tuple[float, ...]] = {
    "metric": (200.0, 500.0, 1000.0, 2000.0),
    "us": tuple(us_gallons_to_litres(size) for size in (50, 100, 250, 500)),
}
"""Sizes tried beside the one the garden has, round in its units."""
SAFE_YEARS = 0.8
LEAST_NITROGEN_PCT = 4.0
"""A fertiliser with less is not used to side-dress: common practice, no source."""


@dataclass(frozen=True, slots=True)
class SiteWeather:
    """The record without gaps, and the same cut into seasons."""

    record: WeatherRecord
    years: SeasonYears


def care_of(
    plan: SeasonPlan,
    weather: SiteWeather | None,
    materials: Sequence[Material],
    open_month_h: Sequence[float],
) -> tuple[SeasonPlan, Care]:
    """The plan with the jobs that feeding brings, and everything it asks for.

    Parameters
    ----------
    plan
        Placed and dated.
    weather
        None where there is no record: then no water is worked out.
    materials
        Materials for the soil.
    open_month_h
        Hours of sun a day in the open, January to December. [h]
    """
    book = plan.book
    feeding = _feeding(plan, weather, materials)
    tasks = sorted(
        (*plan.tasks, *(_feed_task(each, plan.plantings) for each in feeding.side_dressings)),
        key=lambda task: (task.start, task.bed_code or "", task.code),
    )
    plan = replace(plan, tasks=tuple(tasks))
    water = None if weather is None or not plan.plantings else _water(plan, weather, open_month_h)
    hours = season_hours(plan, bed_water=_watered_by_tap(water))
    picking, unknown = picking_weeks(plan.plantings)
    used = {use.material for bed in feeding.beds for use in bed.uses}
    lead_rules = LEAD_RULES if book.lead_rule is None else (*LEAD_RULES, book.lead_rule.rule)
    safety = safety_sheet(
        book.beds,
        plan.plantings,
        today=plan.made_on,
        features=book.site.features,
        manure=book.manure,
        materials_used=[material for material in materials if material.name in used],
        workdays=[workday.day for workday in book.workdays],
        record=None if weather is None else weather.record,
        children_in=book.children_in,
        lead_rules=lead_rules,
    )
    supplies = season_supplies(
        plan.plantings,
        plan.orders,
        book.beds,
        book.stock,
        today=plan.made_on,
        space=None if book.propagation is None else book.propagation.space,
        offers=book.offers,
        feedings=feeding.beds,
        mulches=feeding.mulches,
        dressings=feeding.side_dressings,
    )
    return plan, Care(
        water=water,
        feeding=feeding,
        safety=safety,
        hours=hours,
        relief=relief(plan, hours),
        weeks=_week_lists(plan, hours),
        supplies=supplies,
        picking=picking,
        picking_unknown=unknown,
    )


def _feeding(plan: SeasonPlan, weather: SiteWeather | None, materials: Sequence[Material]) -> FeedingPlan:
    book = plan.book
    known = {material.name for material in materials}
    prices: dict[str, float] = {}
    for offer in book.offers:
        if offer.name in known and offer.unit == "kg":
            price_per_kg = offer.price / offer.pack_quantity
            prices[offer.name] = min(price_per_kg, prices.get(offer.name, price_per_kg))
    lime_g_m2 = {
        bed.code: bed.soil_test.lime_g_m2
        for bed in book.beds
        if bed.soil_test is not None and bed.soil_test.lime_g_m2 is not None
    }
    beds = feed_beds(
        book.beds,
        materials,
        book.stock,
        buyable=sorted(prices),
        price_per_kg=prices or None,
        laboratory_lime_g_m2=lime_g_m2,
    )
    mulched = {bed.code for bed in book.beds if bed.mulch_planned is not False}
    warm_from = None if weather is None else soil_warm_from(weather.years)
    mulches = [m for m in mulch_needs(plan.plantings, soil_warm_from=warm_from) if m.bed_code in mulched]
    nitrogen = _nitrogen_material(book, materials)
    dressings = () if nitrogen is None else side_dressings(plan.plantings, nitrogen)
    full = {fed.bed_code for fed in beds if any(n.nutrient == "P2O5" and n.cap_g_m2 == 0 for n in fed.needs)}
    return FeedingPlan(beds, dressings, tuple(mulches), planting_holes(plan.plantings, full))


def _nitrogen_material(book: GardenBook, materials: Sequence[Material]) -> Material | None:
    """The fertiliser to side-dress with: from the shed, else one that is offered, else the richest."""
    rich = sorted(
        (m for m in materials if m.kind == "fertiliser" and m.n_pct[0] >= LEAST_NITROGEN_PCT),
        key=lambda m: (-m.n_pct[0], m.name),
    )
    held = {stock.material for stock in book.stock}
    offered = {offer.name for offer in book.offers}
    for names in (held, offered):
        for material in rich:
            if material.name in names or names & set(material.also_called):
                return material
    return rich[0] if rich else None


def _feed_task(dressing: SideDressing, plantings: Sequence[Planting]) -> Task:
    label = next(p.label_code for p in plantings if p.code == dressing.planting_code)
    return Task(
        code=f"{dressing.planting_code}:side-dress-{dressing.ordinal}",
        kind="side dress",
        start=dressing.opens,
        end=dressing.closes,
        bed_code=dressing.bed_code,
        planting_code=dressing.planting_code,
        title=f"{label} {dressing.crop}: side dress",
        details=dressing.text,
        source_ids=tuple(sorted({key for origin in dressing.origins for key in origin.source_ids})),
    )


def soil_warm_from(years: SeasonYears) -> date | None:
    """First day of the season on which the mean of a week's soil is usually warm; None if never."""
    usual_c = years.soil_temp_c[:, :365].mean(axis=0)
    week_c = np.convolve(usual_c, np.ones(7) / 7, mode="valid")
    warm = np.flatnonzero(week_c >= WARM_SOIL_C)
    return None if not warm.size else years.season_start + timedelta(days=int(warm[0]) + 6)


def _water(plan: SeasonPlan, weather: SiteWeather, open_month_h: Sequence[float]) -> WaterPlan:
    book = plan.book
    patches = watered_patches(plan, open_month_h)
    flow_l_min = tap_flow_l_min(book)
    supply = WaterSupply(flow_l_min or 1.0, book.can_l or COMMON_CAN_L)
    counted = {patch.code for patch in patches}
    left_out = tuple(p.code for p in plan.plantings if p.code not in counted)
    if not patches:
        return WaterPlan((), (), None, flow_l_min, (), 0.0, (), left_out, ())
    site = site_conditions(weather.record, book.site.latitude_deg, book.site.elevation_m)
    seasons = recorded_seasons(site, book.season_start, season_days(patches, book.season_start))
    season = season_demand(patches, seasons, supply)
    roof_m2 = sum(feature.roof_m2 or 0.0 for feature in book.site.features)
    return WaterPlan(
        beds=season.beds,
        weeks=season.weeks,
        busiest=max(season.weeks, key=lambda week: (week.safe_l, -week.start.toordinal())).start,
        busiest_day_l=float(np.quantile(season.daily_l.max(axis=0), SAFE_YEARS)),
        tap_flow_l_min=flow_l_min,
        tanks=_tanks(book, season, roof_m2),
        roof_m2=roof_m2,
        watering_in=tuple(_watering_in(patch) for patch in patches),
        not_counted=left_out,
        origins=seasons.origins,
    )


def watered_patches(plan: SeasonPlan, open_month_h: Sequence[float]) -> tuple[WateredPatch, ...]:
    """Ground of each planting as the water balance sees it, with shade, mulch and way of watering.

    Parameters
    ----------
    plan
        Placed and dated.
    open_month_h
        Hours of sun a day in the open, January to December. [h]
    """
    book = plan.book
    return patches_of(
        plan.plantings,
        book.beds,
        methods={bed.code: METHODS[bed.irrigation] for bed in book.beds if bed.irrigation is not None},
        sun_shares={sun.bed_code: _season_sun_share(sun, open_month_h) for sun in plan.sun},
        mulch_cover_shares=_mulch_cover(plan),
    )


def tap_flow_l_min(book: GardenBook) -> float | None:
    """What the best tap of a garden gives [L/min]; None where no tap's flow is stated."""
    return max((f.flow_l_min for f in book.site.features if f.flow_l_min is not None), default=None)


def _season_sun_share(sun: BedSun, open_month_h: Sequence[float]) -> float:
    summer = sorted(range(1, 13), key=lambda month: -open_month_h[month - 1])[:6]
    return sun_share(sun.month_h, open_month_h, summer)


def _mulch_cover(plan: SeasonPlan) -> dict[str, float]:
    """Share under mulch, only where the book says that the bed is to be mulched."""
    mulched = {bed.code for bed in plan.book.beds if bed.mulch_planned}
    return {p.code: MULCH_COVER_SHARE for p in plan.plantings if p.bed_code in mulched}


def _tanks(book: GardenBook, season: SeasonWater, roof_m2: float) -> tuple[TankSizing, ...]:
    if roof_m2 <= 0:
        return ()
    own_l = sum(feature.volume_l or 0.0 for feature in book.site.features)
    sizes_l = sorted({*COMMON_TANKS_L[book.site.units], *((own_l,) if own_l > 0 else ())})
    return tank_sizing(season, roof_area_m2=roof_m2, tanks_l=sizes_l)


def _watering_in(patch: WateredPatch) -> WateringIn:
    return WateringIn(patch.code, patch.bed_code, watering_in_l(patch))


def _watered_by_tap(water: WaterPlan | None) -> tuple[BedWater, ...]:
    """Beds whose minutes of tap are known; without a stated flow they are not."""
    return () if water is None or water.tap_flow_l_min is None else water.beds


def _week_lists(plan: SeasonPlan, hours: SeasonHours) -> tuple[WeekList, ...]:
    return tuple(week_list(plan, week.week, hours=hours) for week in hours.weeks)


def picking_weeks(plantings: Sequence[Planting]) -> tuple[tuple[PickingWeek, ...], tuple[str, ...]]:
    """Harvest by crop and week, spread evenly from first to last pick.

    Parameters
    ----------
    plantings
        Placed plantings.

    Returns
    -------
    weeks, unknown
        By week, then crop; and crops whose yield is not in the catalogue.

    Limits
    ------
    The catalogue's yield in an ordinary year, on plants that all live.
    """
    kg: dict[tuple[date, str], float] = {}
    unknown: set[str] = set()
    for planting in plantings:
        total_kg = _harvest_kg(planting)
        if planting.crop.kind in {"cover crop", "flower"}:
            continue
        if total_kg is None:
            unknown.add(planting.crop.name)
            continue
        first, last = planting.dates.first_pick, planting.dates.last_pick
        n_days = (last - first).days + 1
        for offset in range(n_days):
            day = first + timedelta(days=offset)
            key = (day - timedelta(days=day.weekday()), planting.crop.name)
            kg[key] = kg.get(key, 0.0) + total_kg / n_days
    weeks = tuple(PickingWeek(week, crop, round(kg[week, crop], 3)) for week, crop in sorted(kg))
    return weeks, tuple(sorted(unknown))


def _harvest_kg(planting: Planting) -> float | None:
    crop = planting.crop
    if crop.yield_kg_per_plant is not None:
        return crop.yield_kg_per_plant * planting.n_plants
    if crop.yield_kg_per_m_row is not None:
        return crop.yield_kg_per_m_row * crop.in_row_spacing_m * planting.n_plants
    return None
