"""What a crop loses when it is short of water."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.engine.water.sources import CROPWAT_KY, FAO33, FAO56
from bedwright.model.crop import Crop
from bedwright.model.source import Origin

SEASONAL_KY: dict[str, float] = {
    "beans": 1.15, "cabbage": 0.95, "maize": 1.25, "onion": 1.1, "peas": 1.15, "pepper": 1.1,
    "potato": 1.1, "sugarbeet": 1.0, "sunflower": 0.95, "tomato": 1.05, "watermelon": 1.1,
}  # fmt: skip
"""FAO-56 Table 24, which gives the seasonal factors of FAO paper 33; rows of garden crops."""

STAGE_KY: dict[str, tuple[float, float, float, float]] = {
    "tomato": (0.5, 0.6, 1.1, 0.8),
    "maize": (0.4, 0.4, 1.3, 0.5),
    "sunflower": (0.4, 0.6, 0.8, 0.8),
    "beans": (0.2, 1.1, 0.75, 0.2),
}
"""Factors when water is short in one stage only: initial, development, mid-season, late."""

UNKNOWN_KY = 1.0
"""FAO-56 p. 177: near 1 for many crops, and to be used where a crop's own is not known."""

_OWN_ROW: dict[str, str] = {
    "bush bean": "beans", "pole bean": "beans", "cabbage": "cabbage", "sweet corn": "maize",
    "onion": "onion", "pea": "peas", "sweet pepper": "pepper", "potato": "potato",
    "sunflower": "sunflower", "tomato": "tomato", "watermelon": "watermelon",
}  # fmt: skip

_LIKE: dict[str, str] = {
    "Brassicaceae": "cabbage",
    "Amaryllidaceae": "onion",
    "Cucurbitaceae": "watermelon",
    "Amaranthaceae": "sugarbeet",
    "Fabaceae": "beans",
}
"""Row of the family, for crops without their own; FAO-56 p. 177 allows a crop of similar behaviour."""


@dataclass(frozen=True, slots=True)
class YieldFactor:
    """How strongly yield answers to missing water."""

    ky: float
    of_stage: bool
    """True: for the stage alone; False: for the whole season."""
    origin: Origin


def yield_factor(crop: Crop, stage: int) -> YieldFactor:
    """Yield response factor of a crop in one stage.

    Parameters
    ----------
    crop : Crop
        Crop of the catalogue.
    stage : int
        0 initial, 1 development, 2 mid-season, 3 late.

    Returns
    -------
    YieldFactor
        Factor of the stage where published, of the season otherwise.

    Raises
    ------
    ValueError
        If the stage is not 0 to 3.

    Source
    ------
    Season: FAO56 Table 24 after Doorenbos & Kassam 1979 (FAO33). Stages: CROPWAT_KY, second hand.
    """
    if stage not in range(4):
        raise ValueError(f"stage is 0 to 3; got {stage}")
    row = _OWN_ROW.get(crop.name)
    if row in STAGE_KY:
        ky = STAGE_KY[row][stage]
        rule = f"row {row}, one stage short of water"
        return YieldFactor(ky, True, Origin("yield_factor", ky, rule, (CROPWAT_KY,), "weak"))
    if row is not None:
        ky = SEASONAL_KY[row]
        origin = Origin("yield_factor", ky, f"Table 24, row {row}", (FAO56, FAO33), "read")
        return YieldFactor(ky, False, origin)
    like = _LIKE.get(crop.family)
    if like is not None:
        ky = SEASONAL_KY[like]
        rule = f"Table 24, row {like}: taken as of similar behaviour"
        return YieldFactor(ky, False, Origin("yield_factor", ky, rule, (FAO56, FAO33), "derived"))
    rule = "not published for it; p. 177: near 1 for many crops"
    return YieldFactor(UNKNOWN_KY, False, Origin("yield_factor", UNKNOWN_KY, rule, (FAO56,), "derived"))


def yield_loss_share(ky: float, actual_et_mm: float, full_et_mm: float) -> float:
    """Share of the yield lost to missing water, FAO-56 Eq. 90.

    Parameters
    ----------
    ky : float
        Yield response factor. [1]
    actual_et_mm, full_et_mm : float
        Evapotranspiration of the period the factor holds for, as it was and had nothing been short. [mm]

    Returns
    -------
    float
        Ky (1 - ETa/ETm), from 0 to 1.

    Raises
    ------
    ValueError
        If an amount is negative, or there was more than the full.

    Source
    ------
    FAO56 Eq. 90, after FAO33.

    Limits
    ------
    A straight line through field trials; good for moderate shortage of established crops, not for seedlings,
    which may die.
    """
    if actual_et_mm < 0 or actual_et_mm > full_et_mm * (1 + 1e-9):
        raise ValueError(f"evapotranspiration of {actual_et_mm} mm is not within 0 to {full_et_mm} mm")
    if full_et_mm == 0:
        return 0.0
    return min(1.0, max(0.0, ky * (1 - actual_et_mm / full_et_mm)))
