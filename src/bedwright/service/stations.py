"""How many plants of one crop a bed of its own holds, and where each stands."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import groupby

import numpy as np

from bedwright.engine.placement import COMMON_RULES
from bedwright.engine.placement.layout import Spacing, area_beyond_m2, count_plants, spacing_of
from bedwright.engine.placement.packing import (
    Stand,
    most_in_rows,
    most_of_all,
    widest_in_rows,
    widest_of_all,
)
from bedwright.engine.placement.shape import BedShape, bed_shape
from bedwright.model.book import Bed, UnitSystem
from bedwright.model.crop import Crop
from bedwright.papers.measures import Measures, count_words

SEED = 1
STRING_LINE_DEG = (0.0, 90.0)
TOLD_FROM_M2 = 0.05
"""Less ground out of reach is not told, as in a plan."""


@dataclass(frozen=True, slots=True)
class Stations:
    """Ways in which one crop may fill a bed."""

    bed: Bed
    crop: Crop
    n_in_rows: int
    """At the crop's own distances in and between rows, as a plan counts them."""
    even_m: float
    """From plant to plant in every direction, for the ways below."""
    asked: bool
    """Whether the distance or the number of plants was asked for."""
    along_string: Stand
    """Rows along or square to the string line."""
    any_angle: Stand
    without_rows: Stand | None
    """None where it was not asked for."""


def stations(
    bed: Bed, crop: Crop, *, apart_m: float | None = None, n_plants: int | None = None, closest: bool = False
) -> Stations:
    """Work out how a bed may be filled.

    Parameters
    ----------
    bed, crop
        The bed, all of it, and the crop.
    apart_m
        From plant to plant; None: the distance at which each plant has as much ground as in
        rows at the crop's own distances. [m]
    n_plants
        Plants to be spread over the bed in place of a distance.
    closest
        Whether to look for places without rows too.

    Raises
    ------
    ValueError
        If the distance is too small for the bed.
    """
    shape, spacing = bed_shape(bed), spacing_of(crop, COMMON_RULES)
    cap_m = COMMON_RULES.edge_cap_m
    corners_m = shape.vertices_m
    even_m = apart_m or even_distance_m(crop)
    edge_m = min(even_m / 2, cap_m)
    loose: Stand | None = None
    if n_plants is None:
        straight = most_in_rows(corners_m, even_m, edge_m, angles_deg=STRING_LINE_DEG)
        turned = most_in_rows(corners_m, even_m, edge_m)
        loose = most_of_all(corners_m, even_m, edge_m, seed=SEED) if closest else None
    else:
        straight = widest_in_rows(corners_m, n_plants, edge_cap_m=cap_m, angles_deg=STRING_LINE_DEG)
        turned = widest_in_rows(corners_m, n_plants, edge_cap_m=cap_m)
        loose = widest_of_all(corners_m, n_plants, edge_cap_m=cap_m, seed=SEED) if closest else None
    asked = apart_m is not None or n_plants is not None
    return Stations(bed, crop, _in_rows(shape, spacing), even_m, asked, straight, turned, loose)


def even_distance_m(crop: Crop) -> float:
    """Distance of equal triangles that leaves each plant the ground it has in rows. [m].

    Source
    ------
    Geometry: a plant in equal triangles of side d has d² √3 / 2 of ground.
    """
    return math.sqrt(crop.in_row_spacing_m * crop.row_spacing_m * 2 / math.sqrt(3))


def _in_rows(shape: BedShape, spacing: Spacing) -> int:
    whole = np.array([0.0]), np.array([shape.length_m])
    across_m = (0.0, shape.width_m)
    along = count_plants(shape, "along", whole, across_m, spacing)
    across = count_plants(shape, "across", whole, across_m, spacing)
    return int(max(along[0], across[0]))


def stations_text(found: Stations, units: UnitSystem, *, listed: bool = False) -> str:
    """The ways side by side, and every place of the last of them where wanted."""
    measures = Measures(units)
    crop, bed = found.crop, found.bed
    in_row, between = measures.spacing(crop.in_row_spacing_m), measures.spacing(crop.row_spacing_m)
    planned = count_words(found.n_in_rows, "plant")
    lines = [
        f"Bed {bed.code}{f' ({bed.name})' if bed.name else ''}, all of it: {crop.name}",
        f"  {'in rows as a plan has them':<36}{planned:>11}   {in_row} in the row, rows {between} apart",
    ]
    if not found.asked:
        lines.append(
            f"Evenly, {measures.spacing(found.even_m)} from plant to plant every way, "
            "which leaves each the ground it has in those rows:"
        )
    else:
        lines.append("Evenly, the same distance from plant to plant every way:")
    ways = [("rows along or square to the string", found.along_string)]
    if found.any_angle.n_plants > found.along_string.n_plants or (
        found.any_angle.apart_m > found.along_string.apart_m * 1.001
    ):
        ways.append(("rows at another angle", found.any_angle))
    if found.without_rows is not None and found.without_rows.angle_deg is None:
        ways.append(("without rows", found.without_rows))
    lines += [f"  {name:<36}{_way_words(stand, measures)}" for name, stand in ways]
    if found.without_rows is not None and found.without_rows.angle_deg is not None:
        lines.append("  No way without rows was found that holds more, or as many farther apart.")
    beyond_m2 = area_beyond_m2(bed_shape(bed, COMMON_RULES.arms_length_m))
    if beyond_m2 >= TOLD_FROM_M2:
        lines.append(
            f"All of the bed is counted; {measures.area(beyond_m2)} of it lie farther than "
            f"{measures.place(COMMON_RULES.arms_length_m)} from where one can stand, and a plan sets nothing "
            "there."
        )
    if listed:
        lines += ["", *_places(ways[-1][1], measures)]
    return "\n".join(lines) + "\n"


def _way_words(stand: Stand, measures: Measures) -> str:
    words = f"{count_words(stand.n_plants, 'plant'):>11}"
    if math.isfinite(stand.apart_m):
        words += f"   at least {measures.spacing(_down_m(stand.apart_m))} apart"
    if stand.angle_deg is not None and stand.row_m is not None and stand.in_row_m is not None:
        words += (
            f"; {measures.spacing(stand.in_row_m)} in the row, rows {measures.spacing(stand.row_m)} apart"
        )
        words += f", {_angle_words(stand.angle_deg)}"
    return words


def _down_m(length_m: float) -> float:
    """To the whole millimetre below, so that no distance is stated that is not kept."""
    return math.floor(length_m * 1000 + 1e-6) / 1000


def _angle_words(angle_deg: float) -> str:
    if angle_deg % 180 < 0.5 or angle_deg % 180 > 179.5:
        return "along the string"
    if abs(angle_deg % 180 - 90) < 0.5:
        return "square to the string"
    return f"{angle_deg % 180:.0f}° clockwise from the string"


def _places(stand: Stand, measures: Measures) -> list[str]:
    """Every plant: along the string line from the peg, and out from it."""
    if stand.angle_deg is None:
        rows = [("", stand.points_m)]
    else:
        angle_rad = math.radians(stand.angle_deg)
        out_m = stand.points_m @ np.array([-math.sin(angle_rad), math.cos(angle_rad)])
        numbered = sorted(range(stand.n_plants), key=lambda n: (round(out_m[n], 4), n))
        rows = [
            (f"row {number}: ", stand.points_m[list(group)])
            for number, (_, group) in enumerate(groupby(numbered, key=lambda n: round(out_m[n], 4)), start=1)
        ]
    lines = ["Each plant, along the string from the peg and out from the string:"]
    for words, points_m in rows:
        each = [f"{measures.place(along)} / {measures.place(across)}" for along, across in points_m.tolist()]
        lines.append(f"  {words}{'; '.join(each)}")
    return lines
