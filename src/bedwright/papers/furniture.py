"""North point, scale bar and samples for legends."""

from __future__ import annotations

import math
from typing import Any

from bedwright.model.book import Feature, FeatureKind, UnitSystem
from bedwright.papers.drawing import FINE_MM, HAIR_MM, HEAVY_MM, THIN_MM, Drawing
from bedwright.papers.ground_drawing import draw_feature, site_view
from bedwright.papers.hatching import Hatch, hatch_area
from bedwright.papers.scale import Scale, scale_bar

FEATURE_WORDS: dict[FeatureKind, str] = {
    "building": "building",
    "wall": "wall",
    "fence": "fence",
    "hedge": "hedge, at its width",
    "tree": "tree, at its crown",
    "path": "path",
    "tap": "tap",
    "utility": "buried or overhead utility",
    "water butt": "water butt",
    "shed": "shed",
    "compost bay": "compost bay",
}


def north_point(bearing_up_deg: float = 0.0) -> Drawing:
    """An arrow to north; `bearing_up_deg` is the bearing that points up the sheet."""
    drawing = Drawing(16.0, 16.0)
    angle_rad = math.radians(-bearing_up_deg)
    aim = (math.sin(angle_rad), -math.cos(angle_rad))
    aside = (-aim[1], aim[0])

    def at(forward: float, sideways: float) -> tuple[float, float]:
        return (8 + aim[0] * forward + aside[0] * sideways, 8 + aim[1] * forward + aside[1] * sideways)

    drawing.path([at(-5, 0), at(4, 0)], THIN_MM)
    drawing.path([at(4.6, 0), at(1.2, 1.1), at(1.2, 0)], HAIR_MM, closed=True, fill="black")
    drawing.path([at(4.6, 0), at(1.2, -1.1), at(1.2, 0)], HAIR_MM, closed=True, fill="white")
    drawing.text(*at(6.4, 0), "N", size_pt=9, bold=True, align="centre")
    return drawing


def scale_bar_drawing(scale: Scale, system: UnitSystem) -> Drawing:
    """Four divisions, alternately filled, with their lengths on the ground."""
    step, words = scale_bar(scale, system)
    drawing = Drawing(step * 4 + 12.0, 8.0)
    left, top = 2.0, 4.4
    for k in range(4):
        x = left + k * step
        corners = [(x, top), (x + step, top), (x + step, top + 1.5), (x, top + 1.5)]
        drawing.path(corners, FINE_MM, closed=True, fill="white" if k % 2 else "black")
    for k, word in enumerate(words):
        if k in (0, 2, 4) or step > 9:
            drawing.text(left + k * step, 2.2, word, align="centre" if k < 4 else "left")
    return drawing


def hatch_sample(hatch: Hatch) -> Drawing:
    """A small field of one hatch."""
    drawing = Drawing(11.0, 5.0)
    corners = [(0.3, 0.3), (10.7, 0.3), (10.7, 4.7), (0.3, 4.7)]
    hatch_area(drawing, corners, hatch)
    drawing.path(corners, FINE_MM, closed=True)
    return drawing


def feature_sample(kind: FeatureKind) -> Drawing:
    """A feature as the plan draws it."""
    drawing = Drawing(11.0, 5.0)
    view = site_view(Scale(1000, ""), 0.0, 0.0, 0.0, 0.0)
    point, line = ((5.5, -2.5),), ((0.5, -2.5), (10.5, -2.5))
    area = ((0.5, -0.5), (10.5, -0.5), (10.5, -4.5), (0.5, -4.5))
    shapes = {
        "tap": point,
        "tree": point,
        "building": area,
        "shed": area,
        "compost bay": area,
        "water butt": point,
    }
    radius_m = {"tree": 2.2, "hedge": 1.2, "path": 1.2}.get(kind, 0.0)
    draw_feature(drawing, Feature("", kind, "", shapes.get(kind, line), radius_m=radius_m), view)
    return drawing


def peg_sample() -> Drawing:
    """A peg with its string line."""
    drawing = Drawing(11.0, 5.0)
    drawing.path([(1.2, 1.7), (2.8, 1.7), (2.8, 3.3), (1.2, 3.3)], HAIR_MM, closed=True, fill="black")
    drawing.path([(2.8, 2.5), (10.5, 2.5)], HEAVY_MM)
    drawing.path([(7.5, 2.5), (5.9, 3.1), (5.9, 1.9)], HAIR_MM, closed=True, fill="black")
    return drawing


def plant_sample(*, new: bool) -> Drawing:
    """A plant set out or sown since the last drawing, or one that stands from earlier."""
    drawing = Drawing(11.0, 5.0)
    drawing.circles(((5.5, 2.5),), 1.9, FINE_MM, fill="white")
    if new:
        drawing.paths([[(4.7, 2.5), (6.3, 2.5)], [(5.5, 1.7), (5.5, 3.3)]], HAIR_MM)
    else:
        drawing.circles(((5.5, 2.5),), 0.5, FINE_MM, fill="white")
    return drawing


def drill_sample() -> Drawing:
    """A close row."""
    drawing = Drawing(11.0, 5.0)
    drawing.paths([[(0.7, 2.5), (10.3, 2.5)], [(0.7, 1.9), (0.7, 3.1)], [(10.3, 1.9), (10.3, 3.1)]], THIN_MM)
    return drawing


def support_sample() -> Drawing:
    """A lasting support."""
    drawing = Drawing(11.0, 5.0)
    marks = [[(x, 1.7), (x, 3.3)] for x in (0.7, 4.0, 7.2, 10.3)]
    drawing.paths([[(0.7, 2.5), (10.3, 2.5)], *marks], 0.35)
    return drawing


def key_line(sample: Drawing, words: str) -> dict[str, Any]:
    """One line of a legend."""
    return {"sample": sample.data(), "words": words}
