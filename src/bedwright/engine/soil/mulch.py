"""Leaf mulch: how deep, how many sacks, and not before the plants can stand it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import date, timedelta

from bedwright.engine.soil.compost import layer_volume_m3
from bedwright.engine.soil.rounding import spoken_volume, two_figures
from bedwright.engine.soil.sources import PRACTICE
from bedwright.model.season import Planting
from bedwright.model.soil import MulchNeed
from bedwright.model.source import Origin

DEPTH_MM = (51.0, 102.0)
"""2 to 4 inches of shredded leaves (ISU_MULCH_2012)."""
SHREDDING_RATIO = 6.0
"""Volume of whole leaves to that of shredded ones: 100 bags make 17 (LEAF_SHREDDING); 5 to 20 elsewhere."""
SACK_L = 114.0
"""A paper leaf sack of 30 US gal: common size, no source."""
WARM_SOIL_C = 15.0
"""Soil called warm from here up: common practice, no source."""
AFTER_SETTING_OUT_DAYS = 14
AFTER_EMERGENCE_DAYS = 28
"""As the mulching job of the season plan: common practice, no source."""


def mulch_needs(
    plantings: Sequence[Planting],
    *,
    soil_warm_from: date | None = None,
    sack_l: float = SACK_L,
) -> tuple[MulchNeed, ...]:
    """Leaf mulch for every planting that can use it.

    Parameters
    ----------
    plantings : Sequence[Planting]
        Plantings with their ground and dates.
    soil_warm_from : date, optional
        First day of the season on which the soil is warm (15 °C); None where it is not known.
    sack_l : float
        Size of a sack of whole leaves. [L]

    Returns
    -------
    tuple of MulchNeed
        Cover crops, and plantings picked before mulch may go on, are left out. Never over a
        fresh drill: sown rows wait for their seedlings.

    Raises
    ------
    ValueError
        If a sack holds nothing.

    Source
    ------
    Depth: ISU_MULCH_2012; transplants watered in first, sowings not before seedlings are through,
    off the stem: MSU_MULCH; warm soil: LINN_MULCH_2011; whole leaves per shredded: LEAF_SHREDDING.
    """
    if not 0 < sack_l < math.inf:
        raise ValueError(f"a sack holds more than 0 L; got {sack_l}")
    found = [_need(planting, soil_warm_from, sack_l) for planting in plantings]
    return tuple(need for need in found if need is not None)


def sacks_of_whole_leaves(shredded_l: float, sack_l: float = SACK_L) -> int:
    """Sacks of whole leaves that make a volume of shredded ones."""
    return math.ceil(shredded_l * SHREDDING_RATIO / sack_l - 1e-9)


def not_before(planting: Planting, soil_warm_from: date | None) -> date:
    """First day on which mulch may go on round a planting."""
    dates = planting.dates
    if planting.way == "sow":
        through = (dates.emerges or dates.in_ground + timedelta(days=14)) + timedelta(
            days=AFTER_EMERGENCE_DAYS
        )
    else:
        through = dates.in_ground + timedelta(days=AFTER_SETTING_OUT_DAYS)
    return through if soil_warm_from is None else max(through, soil_warm_from)


def _need(planting: Planting, soil_warm_from: date | None, sack_l: float) -> MulchNeed | None:
    day = not_before(planting, soil_warm_from)
    if planting.crop.kind == "cover crop" or day >= planting.dates.first_pick:
        return None
    area_m2 = (planting.along_m[1] - planting.along_m[0]) * (planting.across_m[1] - planting.across_m[0])
    exact_l = tuple(1000 * layer_volume_m3(area_m2, depth) for depth in DEPTH_MM)
    low_l, high_l = two_figures(exact_l[0]), two_figures(exact_l[1])
    sacks = (sacks_of_whole_leaves(exact_l[0], sack_l), sacks_of_whole_leaves(exact_l[1], sack_l))
    sown = "Not over the drill before the seedlings stand clear. " if planting.way == "sow" else ""
    warm = "" if soil_warm_from else " Feel the soil first: it must be warm."
    text = (
        f"{spoken_volume(low_l)} to {spoken_volume(high_l)} of shredded leaves, 5 to 10 cm (2 to 4 in) "
        f"deep, from about {_sacks(sacks)} of whole leaves. {sown}Water first; keep it off the stems; no "
        f"walnut leaves.{warm}"
    )
    origins = (
        Origin("depth_mm", "51 to 102", "2 to 4 inches", ("ISU_MULCH_2012",), "read"),
        Origin(
            "not_before",
            day.isoformat(),
            "soil warm, seedlings through or transplants settled; the days are common practice",
            ("MSU_MULCH", "LINN_MULCH_2011", PRACTICE),
            "practice",
        ),
        Origin(
            "shredding_ratio",
            SHREDDING_RATIO,
            "100 sacks make 17; others say 5 to 20",
            ("LEAF_SHREDDING",),
            "weak",
        ),
        Origin("sack_l", sack_l, "30 US gal unless stated", (PRACTICE,), "practice"),
    )
    return MulchNeed(
        planting.code,
        planting.bed_code,
        area_m2,
        DEPTH_MM,
        (low_l, high_l),
        sacks,
        sack_l,
        day,
        text,
        origins,
    )


def _sacks(sacks: tuple[int, int]) -> str:
    few, many = sacks
    if few == many:
        return "1 sack" if few == 1 else f"{few} sacks"
    return f"{few} to {many} sacks"
