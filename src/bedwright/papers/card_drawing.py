"""Small section through the soil: depth and distance, not to scale."""

from __future__ import annotations

from collections.abc import Sequence

from bedwright.model.crop import Crop
from bedwright.model.season import Planting
from bedwright.papers.drawing import FINE_MM, HAIR_MM, MEDIUM_MM, THIN_MM, Drawing
from bedwright.papers.measures import Measures
from bedwright.papers.schedule import plant_distance_m

_WIDTH_MM, _HEIGHT_MM = 62.0, 34.0
_GROUND_MM = 17.0
_PLACES_MM = (12.0, 31.0, 50.0)


def card_drawing(crop: Crop, plantings: Sequence[Planting], measures: Measures) -> Drawing:
    """Three neighbours of a row as they lie in the soil on planting day."""
    drawing = Drawing(_WIDTH_MM, _HEIGHT_MM)
    sown = plantings[0].way == "sow" or crop.set_underground
    _soil(drawing)
    if sown:
        _seeds(drawing, crop, measures)
    else:
        for x in _PLACES_MM:
            _young_plant(drawing, crop, x)
        _stem_words(drawing, crop)
    y = 4.0 if sown else 2.6
    _distance(drawing, _PLACES_MM[0], _PLACES_MM[1], y, measures.spacing(plant_distance_m(plantings[0])))
    drawing.text(_WIDTH_MM - 0.5, _HEIGHT_MM - 1.6, "not to scale", italic=True, align="right")
    return drawing


def _soil(drawing: Drawing) -> None:
    """Ground line with the short strokes that mean earth in a section."""
    drawing.path([(0.0, _GROUND_MM), (_WIDTH_MM, _GROUND_MM)], MEDIUM_MM)
    strokes = []
    x = 3.0
    while x < _WIDTH_MM - 3:
        strokes += [
            [(x + k * 1.0, _GROUND_MM + 0.2), (x - 1.1 + k * 1.0, _GROUND_MM + 1.3)] for k in range(3)
        ]
        x += 19.0
    drawing.paths(strokes, HAIR_MM)


def _seeds(drawing: Drawing, crop: Crop, measures: Measures) -> None:
    depth = 9.0
    for x in _PLACES_MM:
        drawing.path(
            [(x - 3.4, _GROUND_MM), (x, _GROUND_MM + depth + 1.2), (x + 3.4, _GROUND_MM)],
            HAIR_MM,
            dash="dashed",
        )
        shown = 1 if crop.set_underground else min(crop.seeds_per_station, 3)
        places = [(x + (k - (shown - 1) / 2) * 1.3, _GROUND_MM + depth) for k in range(shown)]
        drawing.circles(places, 1.3 if crop.set_underground else 0.5, 0.0, fill="black")
    x = _PLACES_MM[2] + 5.6
    _arrows(drawing, (x, _GROUND_MM), (x, _GROUND_MM + depth))
    drawing.path([(_PLACES_MM[2] + 1.0, _GROUND_MM + depth), (x + 1.2, _GROUND_MM + depth)], HAIR_MM)
    drawing.text(
        x - 2.2,
        _GROUND_MM + depth + 3.0,
        measures.depth(crop.sow_depth_mm),
        size_pt=8,
        bold=True,
        align="centre",
    )


def _young_plant(drawing: Drawing, crop: Crop, x: float) -> None:
    """Cell of roots, stem and leaves, sunk as the crop wants it."""
    top = _GROUND_MM + {"bury to first leaves": 4.2, "level with the cell": 0.0}.get(crop.stem_depth, 0.0)
    cell = [(x - 2.4, top), (x + 2.4, top), (x + 1.7, top + 6.0), (x - 1.7, top + 6.0)]
    drawing.path(cell, FINE_MM, closed=True, fill="white")
    drawing.paths([[(x + dx, top + 0.8), (x + dx * 1.3, top + 5.2)] for dx in (-1.1, 0.0, 1.1)], HAIR_MM)
    leaf_base = _GROUND_MM - 1.0
    if crop.stem_depth == "crown level with the soil":
        leaf_base = _GROUND_MM
    drawing.path([(x, top), (x, leaf_base - 6.0)], THIN_MM)
    for side in (-1, 1):
        for rise, reach in ((0.0, 4.0), (3.0, 3.2)):
            y = leaf_base - rise
            leaf = [
                (x, y),
                (x + side * reach * 0.5, y - 2.2),
                (x + side * reach, y - 1.8),
                (x + side * reach * 0.6, y - 0.4),
            ]
            drawing.path(leaf, HAIR_MM, closed=True, fill="white")


def _stem_words(drawing: Drawing, crop: Crop) -> None:
    drawing.text(_WIDTH_MM / 2, _HEIGHT_MM - 5.0, crop.stem_depth, size_pt=8, bold=True, align="centre")


def _distance(drawing: Drawing, x0: float, x1: float, y: float, words: str) -> None:
    """Dimension between two neighbours."""
    drawing.paths([[(x0, y - 1.5), (x0, y + 2.0)], [(x1, y - 1.5), (x1, y + 2.0)]], HAIR_MM)
    _arrows(drawing, (x0, y), (x1, y))
    drawing.text((x0 + x1) / 2, y, words, size_pt=8, bold=True, align="centre", halo=True)


def _arrows(drawing: Drawing, one: tuple[float, float], other: tuple[float, float]) -> None:
    """A line with an arrow head at both ends; level or upright."""
    drawing.path([one, other], HAIR_MM)
    upright = one[0] == other[0]
    for (x, y), way in ((one, 1), (other, -1)):
        wings = [(0.45, 1.5), (-0.45, 1.5)] if upright else [(1.5, 0.45), (1.5, -0.45)]
        points = [(x + a, y + way * b) if upright else (x + way * a, y + b) for a, b in wings]
        drawing.path([(x, y), *points], HAIR_MM, closed=True, fill="black")
