"""Plantings as the water balance sees them, and their lanes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from bedwright.engine.water.balance import Ground
from bedwright.engine.water.coefficients import mulch_factor, shade_factor
from bedwright.engine.water.methods import method_within_reach
from bedwright.engine.water.soils import soil_water_of
from bedwright.engine.water.sources import FAO56, HTT_WATERING, VCE_426_322
from bedwright.engine.water.stages import ESTABLISHING_DAYS, Stand, kcb_mid_season, water_facts
from bedwright.model.book import Bed
from bedwright.model.season import Planting
from bedwright.model.source import Origin
from bedwright.model.water import WateredPatch, WateringMethod

PLANT_WATERING_IN_L = 0.25
"""A cupful for each young plant on planting day: harvesttotable.com."""


def patches_of(
    plantings: Sequence[Planting],
    beds: Sequence[Bed],
    *,
    methods: Mapping[str, WateringMethod] | None = None,
    sun_shares: Mapping[str, float] | None = None,
    mulch_cover_shares: Mapping[str, float] | None = None,
) -> tuple[WateredPatch, ...]:
    """Patches of ground to water, one for each planting of a crop whose needs are known.

    Parameters
    ----------
    plantings : sequence of Planting
        Placed plantings.
    beds : sequence of Bed
        All beds they stand in.
    methods : mapping or None
        Way of watering by bed code; otherwise hose or can by what reaches the bed.
    sun_shares : mapping or None
        Sun of a bed as a share of that in the open, by bed code; otherwise 1.
    mulch_cover_shares : mapping or None
        Share of the ground under organic mulch, by planting code; otherwise 0.

    Returns
    -------
    tuple of WateredPatch
        In the order of the plantings.

    Raises
    ------
    ValueError
        If a planting's bed is not among the beds, or a share is not 0 to 1.
    """
    by_code = {bed.code: bed for bed in beds}
    found = []
    for planting in plantings:
        if planting.crop.water is None:
            continue
        bed = by_code.get(planting.bed_code)
        if bed is None:
            raise ValueError(f"{planting.code}: there is no bed {planting.bed_code}")
        dates = planting.dates
        along, across = planting.along_m, planting.across_m
        found.append(
            WateredPatch(
                code=planting.code,
                bed_code=bed.code,
                crop=planting.crop,
                way=planting.way,
                area_m2=(along[1] - along[0]) * (across[1] - across[0]),
                n_plants=planting.n_plants,
                in_ground=dates.in_ground,
                emerges=dates.emerges if planting.way == "sow" else None,
                first_pick=dates.first_pick,
                last_pick=dates.last_pick,
                soil=soil_water_of(bed),
                soil_depth_m=bed.soil_depth_m,
                method=(methods or {}).get(bed.code, method_within_reach(bed.watering_reach)),
                sun_share=_share(f"sun share of {bed.code}", (sun_shares or {}).get(bed.code, 1.0)),
                mulch_cover_share=_share(
                    f"mulch on {planting.code}", (mulch_cover_shares or {}).get(planting.code, 0.0)
                ),
            )
        )
    return tuple(found)


def sun_share(bed_month_h: Sequence[float], open_month_h: Sequence[float], months: Sequence[int]) -> float:
    """Sun on a bed as a share of that in the open over some months.

    Parameters
    ----------
    bed_month_h, open_month_h : twelve numbers each
        Mean hours of sun a day, January first. [h]
    months : sequence of int
        Months that count, 1 to 12.

    Returns
    -------
    float
        Share, 0 to 1. [1]

    Raises
    ------
    ValueError
        If the open has no sun in those months.
    """
    total = sum(open_month_h[month - 1] for month in months)
    if total <= 0:
        raise ValueError("there is no sun in the open in those months")
    return min(1.0, sum(bed_month_h[month - 1] for month in months) / total)


def ground_of(patches: Sequence[WateredPatch], stand: Stand) -> Ground:
    """Ground of patches as lanes of shape (n_patches, 1)."""

    def column(values: Sequence[float]) -> np.ndarray[tuple[int, ...], np.dtype[np.float64]]:
        return np.array(values, dtype=np.float64)[:, None]

    return Ground(
        available_mm_m=column([p.soil.available_mm_m for p in patches]),
        readily_evaporable_mm=column([p.soil.readily_evaporable_mm for p in patches]),
        total_evaporable_mm=column([p.soil.total_evaporable_mm for p in patches]),
        depletion_fraction=column([water_facts(p).depletion_fraction for p in patches]),
        wetted_share=column([p.method.wetted_share for p in patches]),
        under_leaves=column([float(p.method.under_leaves) for p in patches]),
        evaporation_factor=np.asarray(mulch_factor(column([p.mulch_cover_share for p in patches]))),
        demand_factor=np.asarray(shade_factor(column([p.sun_share for p in patches]))),
        deepest_root_m=stand.deepest_root_m,
    )


def watering_in_l(patch: WateredPatch) -> float:
    """Water for a planting on planting day, losses included.

    Parameters
    ----------
    patch : WateredPatch
        Planting.

    Returns
    -------
    float
        Seed: enough to wet the surface layer once it looks dry. Young plants: a cupful each, or the same
        depth as for seed where that is more. [L]

    Source
    ------
    Seed: the readily evaporable water of the soil (FAO56 Table 19), own rule. Plants: HTT_WATERING.
    """
    surface_l = patch.soil.readily_evaporable_mm * patch.method.wetted_share * patch.area_m2
    needed_l = surface_l if patch.way == "sow" else max(surface_l, PLANT_WATERING_IN_L * patch.n_plants)
    return needed_l / patch.method.efficiency


def patch_origins(patch: WateredPatch) -> tuple[Origin, ...]:
    """Where the numbers behind a patch's water come from."""
    facts = patch.crop.facts
    wanted = ("kcb_ini", "kcb_mid", "kcb_end", "depletion_fraction_p", "rooting_depth_m", "stage_days")
    crop = tuple(
        Origin(
            fact.quantity,
            fact.low if not fact.text else fact.text,
            fact.locator,
            (fact.source_id,),
            fact.standing,
        )
        for fact in facts
        if fact.used and fact.quantity in wanted
    )
    rules = [
        Origin("water_mm", None, "dual crop coefficient and daily balance", (FAO56,), "derived"),
        Origin(
            "establishing_days",
            ESTABLISHING_DAYS,
            "the first two weeks of growth establish the plant",
            (VCE_426_322,),
            "read",
        ),
    ]
    if patch.crop.water is not None:
        kcb = kcb_mid_season(patch.crop, patch.crop.water)
        if kcb > patch.crop.water.kcb_mid:
            rules.append(
                Origin("kcb_mid", kcb, "Table 17, footnote 2: led up a tall support", (FAO56,), "read")
            )
    if patch.way != "sow":
        cup = "a cupful a plant on planting day"
        rules.append(Origin("watering_in_l", PLANT_WATERING_IN_L, cup, (HTT_WATERING,), "weak"))
    return (*patch.soil.origins, *patch.method.origins, *crop, *rules)


def _share(what: str, value: float) -> float:
    if not 0 <= value <= 1:
        raise ValueError(f"{what}: got {value:g}; expected 0 to 1")
    return value
