"""Checks of the ground: outlines that close, beds that do not lie on each other."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

import shapely

from bedwright.model.bounds import BED_LENGTH_M, BED_WIDTH_M, SITE_SPREAD_M, plain_number
from bedwright.model.ground import Polygon, bed_frame, outline_vertices_m
from bedwright.store.book.build import outline
from bedwright.store.book.fault import Faults
from bedwright.store.book.read import Row

TOLERANCE_M = 0.01
"""Beds measured with a tape may overlap by this much on paper; touching edges are usual."""


def check_outlines(rows: Sequence[Row], faults: Faults) -> None:
    """Add a fault for every outline that cannot be a bed, and for every overlap.

    Parameters
    ----------
    rows
        Bed rows whose outline was read without fault.
    faults
        Receives the faults.
    """
    good: list[tuple[Row, shapely.Polygon]] = []
    for row in rows:
        shape = _shape(row, faults)
        if shape is not None:
            good.append((row, shape))
    _spread(good, faults)
    _overlaps(good, faults)


def _place(row: Row) -> tuple[Row, str]:
    for key in ("rectangle", "polygon", "circle"):
        if key in row:
            shape = row.one(key, Row)
            return shape, shape.where
    return row, row.where


def _shape(row: Row, faults: Faults) -> shapely.Polygon | None:
    stated = outline(row)
    place, where = _place(row)
    shape = shapely.Polygon(outline_vertices_m(stated))
    if isinstance(stated, Polygon):
        if len(set(stated.vertices_m)) < len(stated.vertices_m):
            faults.at(place, where, "a corner named twice", "each corner once, in order round the bed")
            return None
        if not shape.is_valid:
            hint = "Name the corners in order round the bed."
            faults.at(place, where, _crossing(shape), "an outline that does not cross itself", hint)
            return None
        frame = bed_frame(stated)
        size = f"{frame.length_m:.2f} m along its bearing and {frame.width_m:.2f} m across"
        if frame.length_m not in BED_LENGTH_M or frame.width_m not in BED_WIDTH_M:
            wanted = f"{BED_LENGTH_M} along and {BED_WIDTH_M} across"
            faults.at(place, where, size, wanted, "Turn the bearing along the bed's longer side.")
            return None
    return shape


def _crossing(shape: shapely.Polygon) -> str:
    reason = shapely.is_valid_reason(shape)
    _, _, at = reason.partition("[")
    try:
        east_m, north_m = (float(part) for part in at.rstrip("]").split())
    except ValueError:
        return "an outline that crosses itself"
    return f"an outline that crosses itself near [{plain_number(east_m)}, {plain_number(north_m)}]"


def _spread(beds: Sequence[tuple[Row, shapely.Polygon]], faults: Faults) -> None:
    if not beds:
        return
    centres = [shape.centroid for _, shape in beds]
    middle = shapely.Point(median(c.x for c in centres), median(c.y for c in centres))
    for (row, _), centre in zip(beds, centres, strict=True):
        away_m = centre.distance(middle)
        if away_m not in SITE_SPREAD_M:
            place, where = _place(row)
            hint = "Positions are metres from the site datum; check for centimetres or feet."
            faults.at(place, where, f"{away_m:.0f} m from the middle of the beds", str(SITE_SPREAD_M), hint)


def _overlaps(beds: Sequence[tuple[Row, shapely.Polygon]], faults: Faults) -> None:
    if not beds:
        return
    shrunk = [shape.buffer(-TOLERANCE_M / 2) for _, shape in beds]
    tree = shapely.STRtree(shrunk)
    first, second = tree.query(shrunk, predicate="intersects")
    for one, other in sorted(zip(first.tolist(), second.tolist(), strict=True)):
        if one >= other:
            continue
        area_m2 = beds[one][1].intersection(beds[other][1]).area
        place, where = _place(beds[other][0])
        got = f"{area_m2:.2f} m2 on bed {_code(beds[one][0])} (line {beds[one][0].line})"
        faults.at(place, where, got, "beds beside each other; edges may touch", "Check position and bearing.")


def _code(row: Row) -> str:
    return str(row.maybe("code", str, row.where))
