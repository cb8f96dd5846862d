"""Ways of putting water on, and litres turned into minutes and cans."""

from __future__ import annotations

import math

from bedwright.engine.water.sources import FAO56, OG_HOSE
from bedwright.model.book import WateringReach, WateringWay
from bedwright.model.bounds import CAN_L, TAP_FLOW_L_MIN
from bedwright.model.source import Origin, Standing
from bedwright.model.water import WateringMethod, WaterSupply

SMALL_CUT_L = 0.05
"""What is below this in a last can is not worth a walk; chosen here."""


def _method(
    way: WateringWay,
    wetted: tuple[float, str, tuple[str, ...], Standing],
    efficiency: tuple[float, str, tuple[str, ...], Standing],
    *,
    under_leaves: bool = False,
) -> WateringMethod:
    return WateringMethod(
        way,
        wetted[0],
        efficiency[0],
        under_leaves,
        (Origin("wetted_share", *wetted), Origin("efficiency", *efficiency)),
    )


_BY_HAND = (0.85, "taken as for drip, since the water is led to the soil by hand", (), "practice")

METHODS: dict[WateringWay, WateringMethod] = {
    "can": _method(
        "can",
        (0.5, "poured along the rows: taken as the middle of furrows in a wide bed", (FAO56,), "derived"),
        _BY_HAND,  # type: ignore[arg-type]
    ),
    "hose": _method(
        "hose",
        (1.0, "rose wets the whole bed: as a sprinkler, Table 20", (FAO56,), "derived"),
        _BY_HAND,  # type: ignore[arg-type]
    ),
    "sprinkler": _method(
        "sprinkler",
        (1.0, "Table 20", (FAO56,), "read"),
        (0.70, "sprinkler", (OG_HOSE,), "weak"),
    ),
    "drip": _method(
        "drip",
        (0.35, "middle of 0.3 to 0.4, Table 20", (FAO56,), "derived"),
        (0.85, "drip", (OG_HOSE,), "weak"),
        under_leaves=True,
    ),
}
"""Wetted shares of FAO-56 Table 20; efficiencies as far as published."""


def method_within_reach(reach: WateringReach) -> WateringMethod:
    """The method of a bed by what reaches it: hose, or can where no hose does."""
    return METHODS["hose" if reach == "hose" else "can"]


def check_supply(supply: WaterSupply) -> None:
    """Refuse a tap that gives no water, or a can that holds none.

    Raises
    ------
    ValueError
        If flow or can size is outside its permitted range.
    """
    for name, value, bounds in (
        ("tap_flow_l_min", supply.tap_flow_l_min, TAP_FLOW_L_MIN),
        ("can_l", supply.can_l, CAN_L),
    ):
        if value not in bounds:
            raise ValueError(f"{name}: got {value:g}; expected {bounds}")


def litres(depth_mm: float, area_m2: float) -> float:
    """Volume of a depth of water over an area: 1 mm on 1 m² is 1 L."""
    return depth_mm * area_m2


def tap_minutes(water_l: float, supply: WaterSupply) -> float:
    """Minutes of tap for an amount of water.

    Parameters
    ----------
    water_l : float
        Amount. [L], not negative
    supply : WaterSupply
        Flow measured by timing a bucket. [L/min]

    Returns
    -------
    float
        Time. [min]

    Raises
    ------
    ValueError
        If the tap gives no water.
    """
    check_supply(supply)
    return water_l / supply.tap_flow_l_min


def cans(water_l: float, supply: WaterSupply) -> int:
    """Whole cans for an amount of water, rounded up but for a splash.

    Raises
    ------
    ValueError
        If the can holds no water.
    """
    check_supply(supply)
    return max(0, math.ceil((water_l - SMALL_CUT_L) / supply.can_l))
