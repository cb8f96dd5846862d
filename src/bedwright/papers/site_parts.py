"""Splits a site into parts that can be drawn large enough to plant from.

Where all beds fit one sheet at a scale that shows their width, there is one part. Where
they do not, the site is cut at the widest gap between beds, across its longer side, until
every part fits. Beds are never cut.
"""

from __future__ import annotations

import statistics
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from bedwright.model.book import Bed, UnitSystem
from bedwright.model.ground import Point, outline_vertices_m
from bedwright.papers.scale import Scale, fitting_scale, usual_scales

LEGIBLE_WIDTH_MM = 9.0
"""Half of the beds are at least this wide on paper: room for a label or two rows."""

Bounds = tuple[float, float, float, float]
"""West, south, east, north [m]."""


@dataclass(frozen=True, slots=True)
class SitePart:
    """Beds drawn together on one sheet."""

    beds: tuple[Bed, ...]
    scale: Scale


def bounds_m(points: Iterable[Point]) -> Bounds:
    """Box round points."""
    found = list(points)
    east, north = [p[0] for p in found], [p[1] for p in found]
    return min(east), min(north), max(east), max(north)


def beds_bounds_m(beds: Iterable[Bed]) -> Bounds:
    """Box round beds."""
    return bounds_m(p for bed in beds for p in outline_vertices_m(bed.outline))


def site_parts(beds: Sequence[Bed], room_mm: tuple[float, float], units: UnitSystem) -> tuple[SitePart, ...]:
    """Parts of a site, from north to south, then west to east.

    Parameters
    ----------
    beds
        At least one bed.
    room_mm
        Width and height a part may take on paper, without its labels [mm].
    units
        System of units of the scale.
    """
    whole = fitting_scale(_extent(beds), room_mm, units)
    legible = _legible_scale(beds, units)
    if whole.ratio <= legible.ratio:
        return (SitePart(tuple(beds), whole),)
    parts = []
    for group in _split(list(beds), room_mm, legible):
        ordered = tuple(bed for bed in beds if bed in group)
        parts.append(SitePart(ordered, _scale_of(ordered, room_mm, legible, units)))
    return tuple(sorted(parts, key=_reading_order))


def _extent(beds: Iterable[Bed]) -> tuple[float, float]:
    west, south, east, north = beds_bounds_m(beds)
    return east - west, north - south


def _legible_scale(beds: Sequence[Bed], units: UnitSystem) -> Scale:
    """The smallest drawing on which half of the beds are wide enough."""
    width_m = statistics.median_high(min(bed.frame.length_m, bed.frame.width_m) for bed in beds)
    scales = usual_scales(units)
    wide = [scale for scale in scales if scale.paper_mm(width_m) >= LEGIBLE_WIDTH_MM]
    return wide[-1] if wide else scales[0]


def _scale_of(beds: Sequence[Bed], room_mm: tuple[float, float], legible: Scale, units: UnitSystem) -> Scale:
    """The common scale; a single bed too long for it gets a smaller one."""
    fits = fitting_scale(_extent(beds), room_mm, units)
    return fits if fits.ratio > legible.ratio else legible


def _split(beds: list[Bed], room_mm: tuple[float, float], scale: Scale) -> list[list[Bed]]:
    width, height = (scale.paper_mm(length) for length in _extent(beds))
    excess = (width / room_mm[0], height / room_mm[1])
    if len(beds) == 1 or max(excess) <= 1:
        return [beds]
    axis = 0 if excess[0] >= excess[1] else 1
    ordered = sorted(beds, key=lambda bed: (sum(_interval(bed, axis)), bed.code))
    cut = max(range(1, len(ordered)), key=lambda k: (_gap(ordered, k, axis), -abs(2 * k - len(ordered))))
    return _split(ordered[:cut], room_mm, scale) + _split(ordered[cut:], room_mm, scale)


def _interval(bed: Bed, axis: int) -> tuple[float, float]:
    bounds = beds_bounds_m((bed,))
    return bounds[axis], bounds[axis + 2]


def _gap(ordered: Sequence[Bed], k: int, axis: int) -> float:
    """Free ground between the first k beds and the rest; negative where they overlap [m]."""
    before = max(_interval(bed, axis)[1] for bed in ordered[:k])
    after = min(_interval(bed, axis)[0] for bed in ordered[k:])
    return round(after - before, 6)


def _reading_order(part: SitePart) -> tuple[float, float]:
    west, _, _, north = beds_bounds_m(part.beds)
    return -round(north, 3), round(west, 3)
