"""Compost and composted manure: volumes to fetch, and the nutrients they let go."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import replace

from bedwright.engine.soil.rounding import ceil_tenth_or_half, spoken_depth, two_figures
from bedwright.engine.soil.sources import PRACTICE
from bedwright.model.season import Planting
from bedwright.model.soil import CompostNeed, HoleCompost, Material, Nutrient, Release
from bedwright.model.source import Origin
from bedwright.model.units import M3_PER_CUBIC_YARD

CAUTIOUS_COMPOST_MM = 12.7
"""Half an inch a year: plenty in most regions (ORGANIC_GARDENING_COMPOST), half of what the
University of Minnesota names as the most in a year (UMN_COMPOST_2023)."""
MOST_COMPOST_MM = 25.4
SETTLING_SHARE = 0.10
"""Loose compost loses about a tenth of its depth as it settles: common practice, no source."""
BARROW_L = 85.0
"""Three cubic feet (BARROWS, unsigned)."""
BAG_L = 28.3
"""One cubic foot; print what stands on the bag instead."""
HOLES_FROM_M = 0.40
"""Plants this far apart are given compost hole by hole: common practice, no source."""
HOLE_L = 0.5
"""A double handful for a planting hole: common practice, no source."""

N_RELEASE_PCT: dict[str, tuple[tuple[float, float], ...]] = {
    "compost": ((5, 25), (3, 12), (1, 6)),
    "manure": ((30, 50), (15, 25), (7, 12), (3, 6)),
}
"""Share of the nitrogen let go in the first and following years, low and high (CSU_RELEASE)."""


def layer_volume_m3(area_m2: float, depth_mm: float) -> float:
    """Volume of a layer [m³]; geometry.

    Raises
    ------
    ValueError
        If area or depth is negative or not finite.
    """
    if not (0 <= area_m2 < math.inf and 0 <= depth_mm < math.inf):
        raise ValueError(f"area and depth are 0 or more; got {area_m2} m² and {depth_mm} mm")
    return area_m2 * depth_mm / 1000


def compost_need(
    area_m2: float,
    depth_mm: float,
    material: Material,
    *,
    settling_share: float = SETTLING_SHARE,
    barrow_l: float = BARROW_L,
    bag_l: float = BAG_L,
) -> CompostNeed:
    """Volume of a layer in litres, barrows, bags, cubic metres and cubic yards.

    Parameters
    ----------
    area_m2 : float
        [m²], 0 or more.
    depth_mm : float
        Depth wanted after settling. [mm], 0 to 100; more than 25 mm is said to be too much.
    material : Material
        Compost or composted manure.
    settling_share : float
        Part of the loose depth lost on settling. 0 to 0.5.
    barrow_l, bag_l : float
        Size of a barrow and of a bag. [L]

    Raises
    ------
    ValueError
        If a figure is out of range.

    Source
    ------
    Geometry. Depths: UMN_COMPOST_2023 and ORGANIC_GARDENING_COMPOST; manure-based compost at most
    an inch a season without a salt test, CSU_RELEASE.
    """
    if not 0 <= depth_mm <= 100:
        raise ValueError(f"a layer of compost is 0 to 100 mm deep; got {depth_mm}")
    if not 0 <= settling_share <= 0.5:
        raise ValueError(f"the settling share is 0 to 0.5; got {settling_share}")
    if barrow_l <= 0 or bag_l <= 0:
        raise ValueError("a barrow and a bag hold more than 0 L")
    loose_m3 = layer_volume_m3(area_m2, depth_mm) / (1 - settling_share)
    loose_l = 1000 * loose_m3
    density = material.bulk_density_kg_l
    mass_kg = (
        None if density is None else (two_figures(loose_l * density[0]), two_figures(loose_l * density[1]))
    )
    allowed = f"{round(100 * settling_share)} % allowed for"
    text = f"a layer of {spoken_depth(depth_mm)} after settling ({allowed}), raked in."
    if depth_mm > MOST_COMPOST_MM:
        text += " That is more than an inch a year: phosphorus and salts build up."
    origins = (
        Origin(
            "depth_mm",
            depth_mm,
            "half an inch a year is plenty; an inch is the most",
            ("ORGANIC_GARDENING_COMPOST", "UMN_COMPOST_2023"),
            "weak",
        ),
        Origin("settling_share", settling_share, "common practice, no source", (PRACTICE,), "practice"),
        Origin("barrow_l", barrow_l, "three cubic feet a load", ("BARROWS",), "weak"),
    )
    return CompostNeed(
        material=material.name,
        area_m2=area_m2,
        depth_mm=depth_mm,
        settling_share=settling_share,
        volume_l=two_figures(loose_l),
        n_barrows=math.ceil(loose_l / barrow_l - 1e-9),
        barrow_l=barrow_l,
        n_bags=math.ceil(loose_l / bag_l - 1e-9),
        bag_l=bag_l,
        delivery_m3=ceil_tenth_or_half(loose_m3),
        delivery_yd3=ceil_tenth_or_half(loose_m3 / M3_PER_CUBIC_YARD),
        mass_kg=mass_kg,
        text=text,
        origins=origins,
    )


def compost_of_mass(area_m2: float, material: Material, mass_kg: float) -> CompostNeed:
    """The same for compost that was weighed out: the layer it makes, and what it fills.

    Parameters
    ----------
    area_m2 : float
        [m²], above 0.
    material : Material
        Compost or composted manure with a bulk density.
    mass_kg : float
        As fetched. [kg], 0 or more.

    Raises
    ------
    ValueError
        If the material has no bulk density, or the layer is out of range.
    """
    density = material.kg_per_l()
    if density is None:
        raise ValueError(f"the bulk density of {material.name} is not known")
    depth_mm = mass_kg / density / area_m2 * (1 - SETTLING_SHARE)
    # The depth is rounded last, so that the volume is the one the mass makes.
    return replace(compost_need(area_m2, depth_mm, material), depth_mm=two_figures(depth_mm))


def planting_holes(
    plantings: Sequence[Planting], no_compost_in: Collection[str] = ()
) -> tuple[HoleCompost, ...]:
    """Compost for the holes of plants set far apart, in place of a layer on the whole bed.

    Parameters
    ----------
    plantings : Sequence of Planting
        Plantings of the season.
    no_compost_in : Collection of str
        Codes of beds that may get none, such as those above the optimum in phosphorus.

    Source
    ------
    Plants 0.40 m apart or more, `HOLE_L` each: common practice, no source.
    """
    return tuple(
        HoleCompost(
            planting_code=planting.code,
            bed_code=planting.bed_code,
            n_holes=planting.n_plants,
            hole_l=HOLE_L,
            volume_l=compost_for_holes_l(planting.n_plants),
        )
        for planting in plantings
        if planting.way != "sow"
        and planting.crop.in_row_spacing_m >= HOLES_FROM_M
        and planting.bed_code not in no_compost_in
    )


def compost_for_holes_l(n_holes: int, litres_per_hole: float = HOLE_L) -> float:
    """Compost for planting holes [L], two significant figures.

    Raises
    ------
    ValueError
        If there are fewer than no holes, or more than 10 L go into one.

    Source
    ------
    Half a litre, a double handful: common practice, no source.
    """
    if n_holes < 0 or not 0 <= litres_per_hole <= 10:
        raise ValueError(f"expected 0 or more holes of 0 to 10 L; got {n_holes} of {litres_per_hole}")
    return two_figures(n_holes * litres_per_hole)


def nitrogen_released_pct(material: Material, year: int) -> tuple[float, float]:
    """Low and high share of a material's nitrogen let go in a year after spreading [%].

    Parameters
    ----------
    material : Material
        Kind "compost" (compost and composted manure) or "manure" (fresh).
    year : int
        1 is the year of spreading. Past the published years nothing is claimed: (0, 0).

    Source
    ------
    Colorado State University Extension in a republication (CSU_RELEASE).
    """
    if year < 1:
        raise ValueError(f"years are counted from 1; got {year}")
    if material.kind not in N_RELEASE_PCT:
        return material.n_first_year_pct if year == 1 else (0.0, 0.0)
    years = N_RELEASE_PCT[material.kind]
    return years[year - 1] if year <= len(years) else (0.0, 0.0)


def released(material: Material, mass_kg: float, year: int = 1) -> tuple[Release, ...]:
    """Nitrogen let go in a year, and in the first year the phosphate and potash spread [g].

    Raises
    ------
    ValueError
        If the mass is negative or the year below 1.

    Limits
    ------
    Phosphate and potash are counted whole in the first year: a caution, not a measurement.
    """
    if not 0 <= mass_kg < math.inf:
        raise ValueError(f"a mass is 0 kg or more; got {mass_kg}")
    share = nitrogen_released_pct(material, year)
    grams = 1000 * mass_kg
    found = [
        _release(
            "N",
            year,
            grams * material.n_pct[0] * share[0] / 1e4,
            grams * material.n_pct[1] * share[1] / 1e4,
            Origin(
                "n_released_pct", f"{share[0]:g} to {share[1]:g}", f"year {year}", ("CSU_RELEASE",), "weak"
            ),
        ),
    ]
    if year == 1:
        whole = Origin("released", None, "counted whole in the first year", (PRACTICE,), "practice")
        for nutrient, span in (("P2O5", material.p2o5_pct), ("K2O", material.k2o_pct)):
            oxide: Nutrient = "P2O5" if nutrient == "P2O5" else "K2O"
            found.append(_release(oxide, year, grams * span[0] / 100, grams * span[1] / 100, whole))
    return tuple(found)


def released_over_years(material: Material, mass_kg: float) -> tuple[Release, ...]:
    """Nitrogen let go in each of the years for which a share is published [g]."""
    years = range(1, len(N_RELEASE_PCT.get(material.kind, ())) + 1)
    return tuple(
        release for year in years for release in released(material, mass_kg, year) if release.nutrient == "N"
    )


def _release(nutrient: Nutrient, year: int, low_g: float, high_g: float, origin: Origin) -> Release:
    return Release(nutrient, year, two_figures(low_g), two_figures(high_g), origin)
