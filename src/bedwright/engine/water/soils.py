"""What each soil type holds, and what roots can reach of it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.engine.water.sources import FAO56
from bedwright.model.book import Bed, Texture
from bedwright.model.source import Origin
from bedwright.model.water import SoilWater
from bedwright.model.weather import FloatArray

EVAPORATION_DEPTH_M = 0.10
"""Surface layer dried by evaporation alone; FAO-56 recommends 0.10 to 0.15 m, Table 19 uses 0.10."""

SEEDLING_ROOTS_M = 0.20
"""Rooting depth at planting: `Rootmin` of the spreadsheet in FAO-56 Annex 8."""

Range = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SoilRanges:
    """One row of FAO-56 Table 19 as printed."""

    field_capacity_m3_m3: Range
    wilting_point_m3_m3: Range
    available_m3_m3: Range
    readily_evaporable_mm: Range
    total_evaporable_mm: Range


TABLE_19: dict[Texture, SoilRanges] = {
    "sand": SoilRanges((0.07, 0.17), (0.02, 0.07), (0.05, 0.11), (2, 7), (6, 12)),
    "loamy sand": SoilRanges((0.11, 0.19), (0.03, 0.10), (0.06, 0.12), (4, 8), (9, 14)),
    "sandy loam": SoilRanges((0.18, 0.28), (0.06, 0.16), (0.11, 0.15), (6, 10), (15, 20)),
    "loam": SoilRanges((0.20, 0.30), (0.07, 0.17), (0.13, 0.18), (8, 10), (16, 22)),
    "silt loam": SoilRanges((0.22, 0.36), (0.09, 0.21), (0.13, 0.19), (8, 11), (18, 25)),
    "silt": SoilRanges((0.28, 0.36), (0.12, 0.22), (0.16, 0.20), (8, 11), (22, 26)),
    "silty clay loam": SoilRanges((0.30, 0.37), (0.17, 0.24), (0.13, 0.18), (8, 11), (22, 27)),
    "silty clay": SoilRanges((0.30, 0.42), (0.17, 0.29), (0.13, 0.19), (8, 12), (22, 28)),
    "clay": SoilRanges((0.32, 0.40), (0.20, 0.24), (0.12, 0.20), (8, 12), (22, 29)),
}
"""FAO-56 Table 19, evaporation from the upper 0.10 m. The row printed "Silt clay loam" is silty clay loam."""

_EXAMPLE_36_SILT_WILTING_POINT = 0.15
"""The middle of the wilting points would leave silt 0.15, below its printed 0.16 to 0.20."""


def soil_water(texture: Texture) -> SoilWater:
    """Water contents of a soil type: the middle of each range of FAO-56 Table 19.

    Parameters
    ----------
    texture : Texture
        Soil type of the garden book.

    Returns
    -------
    SoilWater
        Field capacity, wilting point [m³/m³], readily and totally evaporable water [mm].

    Source
    ------
    FAO56 Table 19; total evaporable water by Eq. 73 with a layer of 0.10 m. For silt the wilting
    point is that of FAO-56 Example 36, since the middle of the range would hold less water than the
    table prints.

    Limits
    ------
    Much compost raises what a soil holds; the ranges of one soil type are half as wide as the
    steps between them.
    """
    row = TABLE_19[texture]
    field_capacity = _middle(row.field_capacity_m3_m3)
    wilting_point = _EXAMPLE_36_SILT_WILTING_POINT if texture == "silt" else _middle(row.wilting_point_m3_m3)
    evaporable = total_evaporable_mm(field_capacity, wilting_point)
    readily = _middle(row.readily_evaporable_mm)
    middle = "middle of the range in Table 19"
    return SoilWater(
        texture=texture,
        field_capacity_m3_m3=field_capacity,
        wilting_point_m3_m3=wilting_point,
        readily_evaporable_mm=readily,
        total_evaporable_mm=evaporable,
        origins=(
            Origin("field_capacity_m3_m3", field_capacity, middle, (FAO56,), "derived"),
            Origin(
                "wilting_point_m3_m3",
                wilting_point,
                "Example 36" if texture == "silt" else middle,
                (FAO56,),
                "derived",
            ),
            Origin("readily_evaporable_mm", readily, middle, (FAO56,), "derived"),
            Origin("total_evaporable_mm", evaporable, "Eq. 73, layer of 0.10 m", (FAO56,), "derived"),
        ),
    )


def total_evaporable_mm(
    field_capacity_m3_m3: float, wilting_point_m3_m3: float, depth_m: float = EVAPORATION_DEPTH_M
) -> float:
    """Most water that evaporation alone can take from the surface layer, FAO-56 Eq. 73.

    Parameters
    ----------
    field_capacity_m3_m3, wilting_point_m3_m3 : float
        Water contents. [m³/m³]
    depth_m : float
        Of the layer. [m], 0.10 to 0.15.

    Returns
    -------
    float
        Total evaporable water. [mm]

    Source
    ------
    FAO56 Eq. 73.
    """
    return 1000 * (field_capacity_m3_m3 - 0.5 * wilting_point_m3_m3) * depth_m


def total_available_mm(
    field_capacity_m3_m3: float, wilting_point_m3_m3: float, root_depth_m: FloatArray | float
) -> FloatArray:
    """Water that roots can take from the soil they reach, FAO-56 Eq. 82.

    Parameters
    ----------
    field_capacity_m3_m3, wilting_point_m3_m3 : float
        Water contents. [m³/m³]
    root_depth_m : any shape
        Rooting depth. [m], not negative.

    Returns
    -------
    same shape
        Total available water. [mm]

    Source
    ------
    FAO56 Eq. 82.
    """
    return np.asarray(1000 * (field_capacity_m3_m3 - wilting_point_m3_m3) * np.asarray(root_depth_m))


def readily_available_mm(total_mm: FloatArray | float, fraction: FloatArray | float) -> FloatArray:
    """Water that roots take without suffering, FAO-56 Eq. 83.

    Parameters
    ----------
    total_mm : any shape
        Total available water. [mm]
    fraction : same shape or number
        Depletion fraction of the crop. [1], 0 to 1.

    Returns
    -------
    same shape
        Readily available water. [mm]

    Source
    ------
    FAO56 Eq. 83.
    """
    return np.asarray(np.asarray(total_mm) * fraction)


def rootable_depth_m(crop_depth_m: float, soil_depth_m: float | None) -> float:
    """Depth the roots of a crop reach in a bed.

    Parameters
    ----------
    crop_depth_m : float
        Rooting depth of the crop in open soil. [m]
    soil_depth_m : float or None
        Depth of soil roots can enter; None where nothing is known to limit it. [m]

    Returns
    -------
    float
        The smaller of the two. [m]

    Source
    ------
    Own rule. The raised side of a bed adds no limit of its own: a raised bed open to the ground below
    is as deep as the ground, one on paving is as deep as its `soil_depth_m` says.
    """
    return crop_depth_m if soil_depth_m is None else min(crop_depth_m, soil_depth_m)


def soil_water_of(bed: Bed) -> SoilWater:
    """Water contents of a bed's soil, by its texture."""
    return soil_water(bed.texture)


def _middle(printed: Range) -> float:
    return round((printed[0] + printed[1]) / 2, 4)
