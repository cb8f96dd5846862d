"""Checks a finished feeding plan from its amounts alone, without the code that made it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from bedwright.model.soil import BedFeeding, Material

ROUNDING = 1e-6
"""Share by which a total may pass its limit through binary rounding."""
STOCK_ROUNDING = 0.05
"""Two significant figures may ask for a twentieth more than the shed was said to hold."""


@dataclass(frozen=True, slots=True)
class FeedingFault:
    """One rule a feeding plan breaks."""

    rule: str
    bed_code: str | None
    what: str
    actual: float
    limit: float


def check_feeding(
    feedings: Sequence[BedFeeding], materials: Mapping[str, Material], stock_g: Mapping[str, float]
) -> tuple[FeedingFault, ...]:
    """Every cap that is passed, every material overdrawn from the shed.

    Parameters
    ----------
    feedings : Sequence[BedFeeding]
        Plan of all beds.
    materials : Mapping[str, Material]
        By name.
    stock_g : Mapping[str, float]
        In the shed, by material. [g]
    """
    faults: list[FeedingFault] = []
    taken: dict[str, float] = defaultdict(float)
    for feeding in feedings:
        for use in feeding.uses:
            if use.from_stock:
                taken[use.material] += use.mass_g
        if not feeding.tested:
            continue
        for need in feeding.needs:
            if need.cap_g_m2 is None:
                continue
            given = 0.0
            for use in feeding.uses:
                material = materials[use.material]
                if need.nutrient == "N":
                    share = material.n_pct[1] * material.n_first_year_pct[1] / 1e4
                else:
                    share = (material.p2o5_pct if need.nutrient == "P2O5" else material.k2o_pct)[1] / 100
                given += use.mass_g * share
            limit = need.cap_g_m2 * feeding.area_m2
            if given > limit * (1 + ROUNDING) + ROUNDING:
                faults.append(FeedingFault("cap", feeding.bed_code, need.nutrient, given, limit))
    for name, grams in taken.items():
        limit = stock_g.get(name, 0.0)
        if grams > limit * (1 + STOCK_ROUNDING):
            faults.append(FeedingFault("stock", None, name, grams, limit))
    return tuple(faults)
