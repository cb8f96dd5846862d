"""Ground of a bed."""

from __future__ import annotations

import math

from bedwright.model.ground import Circle, Outline, Rectangle, outline_vertices_m


def outline_area_m2(outline: Outline) -> float:
    """Area of a bed's outline [m²]."""
    if isinstance(outline, Rectangle):
        return outline.length_m * outline.width_m
    if isinstance(outline, Circle):
        return math.pi * outline.radius_m**2
    corners = outline_vertices_m(outline)
    following = (*corners[1:], corners[0])
    return abs(sum(e1 * n2 - e2 * n1 for (e1, n1), (e2, n2) in zip(corners, following, strict=True))) / 2
