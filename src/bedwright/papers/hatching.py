"""Hatches that tell rotation groups apart without colour."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from shapely import LineString, MultiLineString, Point, Polygon, box
from shapely.geometry.base import BaseGeometry

from bedwright.papers.drawing import HAIR_MM, Drawing, PaperPoint


@dataclass(frozen=True, slots=True)
class Hatch:
    """Families of parallel lines, or dots."""

    angles_deg: tuple[float, ...]
    gap_mm: float
    dashed: bool = False
    paired: bool = False
    """Lines in close pairs."""
    dots: bool = False


HATCHES = (
    Hatch((45,), 1.5),
    Hatch((135,), 1.5),
    Hatch((45, 135), 2.4),
    Hatch((), 1.6, dots=True),
    Hatch((20,), 1.5, dashed=True),
    Hatch((110,), 1.5),
    Hatch((45,), 3.0, paired=True),
    Hatch((135,), 3.0, paired=True),
    Hatch((20,), 1.5),
    Hatch((20, 110), 2.4),
    Hatch((110,), 1.5, dashed=True),
    Hatch((45,), 0.8),
    Hatch((135,), 0.8),
    Hatch((), 3.0, dots=True),
    Hatch((45,), 1.5, dashed=True),
    Hatch((135,), 1.5, dashed=True),
    Hatch((20,), 3.0, paired=True),
    Hatch((110,), 3.0, paired=True),
)
"""No line lies at 0 or 90 degrees, so that hatch is never taken for a row or an edge."""

_GREY = 45
_PAIR_MM = 0.5


def hatch_by_group(groups: Iterable[str]) -> Mapping[str, Hatch]:
    """One hatch for each rotation group, in alphabetical order; the same on a whole set."""
    return {group: HATCHES[k % len(HATCHES)] for k, group in enumerate(sorted(set(groups)))}


def hatch_area(drawing: Drawing, corners: Iterable[PaperPoint], hatch: Hatch) -> None:
    """Fill a closed shape with a hatch; lines are cut at its edge."""
    shape = Polygon(list(corners))
    if not shape.is_valid or shape.area == 0:
        return
    if hatch.dots:
        drawing.circles(_dots(shape, hatch.gap_mm), 0.17, 0.0, fill="black")
        return
    lines = [line for angle in hatch.angles_deg for line in _lines(shape, hatch, angle)]
    drawing.paths(lines, HAIR_MM, dash="dashed" if hatch.dashed else "solid", grey=_GREY)


def _lines(shape: Polygon, hatch: Hatch, angle_deg: float) -> list[list[PaperPoint]]:
    """Parallel lines clipped to a shape, ruled from the sheet's corner so that neighbours line up."""
    angle_rad = math.radians(angle_deg)
    run = (math.cos(angle_rad), -math.sin(angle_rad))
    square = (math.sin(angle_rad), math.cos(angle_rad))
    offsets = [x * square[0] + y * square[1] for x, y in shape.exterior.coords]
    reach = [x * run[0] + y * run[1] for x, y in shape.exterior.coords]
    first, last = math.ceil(min(offsets) / hatch.gap_mm), math.floor(max(offsets) / hatch.gap_mm)
    ruled = []
    for k in range(first, last + 1):
        for shift in (0.0, _PAIR_MM) if hatch.paired else (0.0,):
            offset = k * hatch.gap_mm + shift
            ends = [
                (square[0] * offset + run[0] * far, square[1] * offset + run[1] * far)
                for far in (min(reach) - 1, max(reach) + 1)
            ]
            ruled.append(ends)
    return _pieces(shape.intersection(MultiLineString(ruled))) if ruled else []


def _pieces(cut: BaseGeometry) -> list[list[PaperPoint]]:
    parts = getattr(cut, "geoms", [cut])
    return [
        [(x, y) for x, y in part.coords]
        for part in parts
        if isinstance(part, LineString) and part.length > 0.1
    ]


def _dots(shape: Polygon, gap_mm: float) -> list[PaperPoint]:
    """Staggered points inside a shape."""
    x0, y0, x1, y1 = shape.bounds
    inner = shape.buffer(-0.2)
    whole = box(x0, y0, x1, y1).equals(shape)
    found = []
    for j in range(math.ceil(y0 / gap_mm), math.floor(y1 / gap_mm) + 1):
        shift = gap_mm / 2 if j % 2 else 0.0
        for i in range(math.ceil(x0 / gap_mm) - 1, math.floor(x1 / gap_mm) + 1):
            x, y = i * gap_mm + shift, j * gap_mm
            inside = x0 + 0.2 < x < x1 - 0.2 and y0 + 0.2 < y < y1 - 0.2
            if inside and (whole or inner.contains(Point(x, y))):
                found.append((x, y))
    return found
