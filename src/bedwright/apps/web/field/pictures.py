"""What a job looks like: seed or plant in the soil, seed in a tray, a row being thinned."""

from __future__ import annotations

from dataclasses import replace

from django.utils.translation import gettext as _

from bedwright.apps.web.field.vector import svg
from bedwright.model.season import Planting
from bedwright.papers.card_drawing import card_drawing
from bedwright.papers.drawing import FINE_MM, HAIR_MM, MEDIUM_MM, THIN_MM, Drawing
from bedwright.papers.measures import Measures
from bedwright.papers.schedule import plant_distance_m, row_distance_m

_WIDTH_MM, _HEIGHT_MM = 62.0, 34.0
_GROUND_MM = 22.0
_STAY_MM = (10.0, 31.0, 52.0)


def picture_of(kind: str, planting: Planting, measures: Measures) -> str:
    """SVG of how one job is done; empty for jobs that have no picture."""
    crop = planting.crop
    spacing = measures.spacing(plant_distance_m(planting))
    depth = measures.depth(crop.sow_depth_mm)
    if kind == "sow" or (kind == "set out" and crop.set_underground):
        title = _("Depth %(depth)s, %(spacing)s from plant to plant") % {"depth": depth, "spacing": spacing}
        return svg(card_drawing(crop, [replace(planting, way="sow")], measures), title, words=_words)
    if kind == "set out":
        title = _("%(spacing)s from plant to plant; %(set)s") % {
            "spacing": spacing,
            "set": _(crop.stem_depth),
        }
        return svg(card_drawing(crop, [planting], measures), title, words=_words)
    if kind == "sow under cover":
        title = _("Seed %(depth)s deep in the cells of a tray") % {"depth": depth}
        return svg(_tray(depth, crop.seeds_per_station), title, words=_words)
    if kind == "thin":
        title = _("One plant stays every %(spacing)s; the others are pulled") % {"spacing": spacing}
        return svg(_thinning(spacing), title, words=_words)
    return ""


def _words(text: str) -> str:
    return _(text)


def rows_apart(planting: Planting, measures: Measures) -> str:
    """Distance from row to row; empty for a single row."""
    apart = row_distance_m(planting)
    return "" if apart is None else measures.spacing(apart)


def _tray(depth: str, n_seeds: int) -> Drawing:
    """Three cells of a tray, cut through, with the seed at its depth."""
    drawing = Drawing(_WIDTH_MM, _HEIGHT_MM)
    top, bottom, seed = 8.0, 28.0, 15.0
    for x in (10.0, 26.0, 42.0):
        cell = [
            (x - 7.0, top - 1.5),
            (x - 7.0, top),
            (x - 4.5, bottom),
            (x + 4.5, bottom),
            (x + 7.0, top),
            (x + 7.0, top - 1.5),
        ]
        drawing.path(cell, FINE_MM)
        drawing.path([(x - 6.9, top + 0.6), (x + 6.9, top + 0.6)], HAIR_MM)
        shown = min(max(n_seeds, 1), 3)
        drawing.circles(
            [(x + (k - (shown - 1) / 2) * 1.6, seed) for k in range(shown)], 0.6, 0.0, fill="black"
        )
    drawing.paths([[(43.5, seed), (55.0, seed)], [(49.2, top + 0.6), (55.0, top + 0.6)]], HAIR_MM)
    drawing.path([(53.0, top + 0.6), (53.0, seed)], THIN_MM)
    drawing.text(53.0, seed + 3.2, depth, size_pt=9, bold=True, align="centre")
    drawing.text(_WIDTH_MM - 0.5, _HEIGHT_MM - 1.6, "not to scale", italic=True, align="right")
    return drawing


def _thinning(spacing: str) -> Drawing:
    """A row of seedlings: those that stay have roots and a dimension, the others are struck through."""
    drawing = Drawing(_WIDTH_MM, _HEIGHT_MM)
    drawing.path([(0.0, _GROUND_MM), (_WIDTH_MM, _GROUND_MM)], MEDIUM_MM)
    for x in _STAY_MM:
        _seedling(drawing, x, 9.0)
        roots = ((0.0, 6.0, 0.0), (-1.6, 4.0, 2.0), (1.6, 4.6, 2.6))
        drawing.paths([[(x, _GROUND_MM + d), (x + w, _GROUND_MM + h)] for w, h, d in roots], HAIR_MM)
    for x in (17.0, 24.0, 38.0, 45.0):
        _seedling(drawing, x, 6.0)
        strike = [
            [(x - 3.0, _GROUND_MM - 8.5), (x + 3.0, _GROUND_MM - 1.0)],
            [(x + 3.0, _GROUND_MM - 8.5), (x - 3.0, _GROUND_MM - 1.0)],
        ]
        drawing.paths(strike, MEDIUM_MM)
    left, right, y = _STAY_MM[0], _STAY_MM[1], 5.0
    drawing.paths(
        [[(left, y - 1.5), (left, y + 3)], [(right, y - 1.5), (right, y + 3)], [(left, y), (right, y)]],
        HAIR_MM,
    )
    for x, way in ((left, 1), (right, -1)):
        drawing.path(
            [(x, y), (x + way * 1.5, y + 0.45), (x + way * 1.5, y - 0.45)], HAIR_MM, closed=True, fill="black"
        )
    drawing.text((left + right) / 2, y, spacing, size_pt=9, bold=True, align="centre", halo=True)
    drawing.text(_WIDTH_MM - 0.5, _HEIGHT_MM - 1.6, "not to scale", italic=True, align="right")
    return drawing


def _seedling(drawing: Drawing, x: float, height_mm: float) -> None:
    top = _GROUND_MM - height_mm
    drawing.path([(x, _GROUND_MM), (x, top)], THIN_MM)
    for side in (-1, 1):
        leaf = [
            (x, top),
            (x + side * 1.6, top - 1.6),
            (x + side * 3.0, top - 1.0),
            (x + side * 1.8, top + 0.4),
        ]
        drawing.path(leaf, HAIR_MM, closed=True, fill="white")
