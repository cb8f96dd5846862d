"""Shapes on the ground and the frame each bed is measured in.

Site coordinates are metres east and north of the site datum. Each bed has its own frame:
a string line (the baseline) starts at the bed's peg and runs along the bed's bearing;
`along_m` is measured on it from the peg, `across_m` square to it, to the right of a
person who stands at the peg and looks along the line. No point of a bed has a negative
offset: for odd outlines the peg stands at the corner of the box round the bed.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Point = tuple[float, float]
"""(east_m, north_m) on the site, or (along_m, across_m) in a bed."""

Side = Literal["north", "east", "south", "west"]
LocalSide = Literal["start", "end", "left", "right"]
"""Sides in the bed's frame: start and end of the baseline, left (at the line) and right."""

SIDE_BEARING_DEG: dict[Side, float] = {"north": 0.0, "east": 90.0, "south": 180.0, "west": 270.0}
N_CIRCLE_VERTICES = 72


@dataclass(frozen=True, slots=True)
class Rectangle:
    """Corner at the peg, length along the bearing, width to the right of it."""

    length_m: float
    width_m: float
    east_m: float
    north_m: float
    bearing_deg: float


@dataclass(frozen=True, slots=True)
class Polygon:
    """Any simple polygon, vertices in order; rows follow `bearing_deg`."""

    vertices_m: tuple[Point, ...]
    bearing_deg: float


@dataclass(frozen=True, slots=True)
class Circle:
    """Centre and radius; rows follow `bearing_deg`."""

    radius_m: float
    east_m: float
    north_m: float
    bearing_deg: float = 0.0


Outline = Rectangle | Polygon | Circle


@dataclass(frozen=True, slots=True)
class BedFrame:
    """The measuring frame of one bed: peg on the site and bearing of the baseline."""

    peg_m: Point
    bearing_deg: float
    length_m: float
    """Extent of the bed along the baseline."""
    width_m: float
    """Extent of the bed across it."""

    def to_site(self, point_m: Point) -> Point:
        """Site coordinates of a point given as (along_m, across_m)."""
        along_m, across_m = point_m
        angle_rad = math.radians(self.bearing_deg)
        sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
        return (
            self.peg_m[0] + along_m * sine + across_m * cosine,
            self.peg_m[1] + along_m * cosine - across_m * sine,
        )

    def to_bed(self, point_m: Point) -> Point:
        """(along_m, across_m) of a point given in site coordinates."""
        east_m, north_m = point_m[0] - self.peg_m[0], point_m[1] - self.peg_m[1]
        angle_rad = math.radians(self.bearing_deg)
        sine, cosine = math.sin(angle_rad), math.cos(angle_rad)
        return (east_m * sine + north_m * cosine, east_m * cosine - north_m * sine)

    def local_side(self, side: Side) -> LocalSide:
        """The side of the bed whose outward direction is nearest to a compass direction."""
        turn_deg = (SIDE_BEARING_DEG[side] - self.bearing_deg) % 360
        sides: tuple[LocalSide, ...] = ("end", "right", "start", "left")
        return sides[round(turn_deg / 90) % 4]


def outline_vertices_m(outline: Outline) -> tuple[Point, ...]:
    """Vertices of an outline in site coordinates, not closed; a circle gets 72."""
    if isinstance(outline, Polygon):
        return outline.vertices_m
    if isinstance(outline, Rectangle):
        frame = BedFrame(
            (outline.east_m, outline.north_m),
            outline.bearing_deg,
            outline.length_m,
            outline.width_m,
        )
        corners = ((0.0, 0.0), (frame.length_m, 0.0), (frame.length_m, frame.width_m), (0.0, frame.width_m))
        return tuple(frame.to_site(corner) for corner in corners)
    step_rad = 2 * math.pi / N_CIRCLE_VERTICES
    return tuple(
        (
            outline.east_m + outline.radius_m * math.sin(k * step_rad),
            outline.north_m + outline.radius_m * math.cos(k * step_rad),
        )
        for k in range(N_CIRCLE_VERTICES)
    )


def bed_frame(outline: Outline) -> BedFrame:
    """The measuring frame of an outline: the box round it, turned to its bearing."""
    if isinstance(outline, Rectangle):
        return BedFrame(
            (outline.east_m, outline.north_m),
            outline.bearing_deg,
            outline.length_m,
            outline.width_m,
        )
    plain = BedFrame((0.0, 0.0), outline.bearing_deg, 0.0, 0.0)
    if isinstance(outline, Circle):
        centre = plain.to_bed((outline.east_m, outline.north_m))
        low = (centre[0] - outline.radius_m, centre[1] - outline.radius_m)
        high = (centre[0] + outline.radius_m, centre[1] + outline.radius_m)
    else:
        local = [plain.to_bed(vertex) for vertex in outline.vertices_m]
        low = (min(p[0] for p in local), min(p[1] for p in local))
        high = (max(p[0] for p in local), max(p[1] for p in local))
    return BedFrame(plain.to_site(low), outline.bearing_deg, high[0] - low[0], high[1] - low[1])


def local_vertices_m(outline: Outline) -> tuple[Point, ...]:
    """Vertices of an outline in its own bed frame, (along_m, across_m)."""
    frame = bed_frame(outline)
    return tuple(frame.to_bed(vertex) for vertex in outline_vertices_m(outline))
