"""Hours of sun over a whole site for one month, kept so that moving a tree costs little."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from bedwright.engine.sunlight import SiteSurvey, bed_obstacles, obstacles_of, survey_site
from bedwright.model.book import Bed, Site
from bedwright.model.ground import outline_vertices_m
from bedwright.model.weather import FloatArray

MARGIN_M = 1.0
"""Ground shown round all that stands on the site."""
BOX_STEP_M = 2.0
"""The box grows by whole steps, so that a thing moved within the site leaves the cells where they are."""
CELL_SIDES_M = (0.5, 0.6, 0.75, 1.0, 1.5, 2.0, 3.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0)
MOST_CELLS = 3_000
"""Half-metre cells up to 750 m²; larger sites get larger cells, so that an answer stays quick."""
MOST_VIEWS = 120_000
"""Cells times bodies, each about a kilobyte while it is kept."""


@dataclass(frozen=True, slots=True, eq=False)
class SiteSun:
    """Mean hours of direct sun a day in one month under a clear sky."""

    month: int
    west_m: float
    south_m: float
    cell_m: float
    sun_h: FloatArray
    """(n_north, n_east): rows from south to north, columns from west to east."""
    bed_sun_h: Mapping[str, float]
    """Mean over each bed, by its code."""
    survey: SiteSurvey
    """What was worked out on the way, for the next time."""

    @property
    def n_views(self) -> int:
        """Cells times bodies kept: a measure of the memory it takes."""
        return self.sun_h.size * max(1, len(self.survey.skylines.by_obstacle))


def site_sun(site: Site, beds: Sequence[Bed], month: int, *, before: SiteSun | None = None) -> SiteSun:
    """Hours of sun of every place of a site in one month.

    Parameters
    ----------
    site, beds
        The site and its beds as they are, or as they are drawn just now.
    month
        1 to 12.
    before
        An earlier answer, of any month. Bodies that are equal in it are not looked at again;
        the result is the same as without it.

    Raises
    ------
    ValueError
        If the month is none, or if there is nothing on the site.

    Limits
    ------
    Shade of walls, hedges, buildings, trees, raised beds and of the ground's own slope; not of
    crops and supports. Clear sky. Sites over 750 m², or with very many bodies, are looked at in cells
    larger than half a metre.
    """
    if not 1 <= month <= 12:
        raise ValueError(f"month: got {month}; expected 1 to 12")
    box_m = site_box_m(site, beds)
    in_leaf = _in_leaf(site, month)
    n_bodies = len(obstacles_of(in_leaf.features)) + len(bed_obstacles(beds))
    survey = survey_site(
        in_leaf,
        beds,
        cell_m=_cell_m(box_m, n_bodies),
        months=(month,),
        box_m=box_m,
        before=before.survey if before is not None else None,
    )
    sun_h = survey.sun_h()[0]
    grid = survey.grid
    by_bed = _bed_sun_h(beds, survey.skylines.places.places_m, sun_h.ravel())
    return SiteSun(month, grid.west_m, grid.south_m, grid.cell_m, sun_h, by_bed, survey)


def _in_leaf(site: Site, month: int) -> Site:
    """The site with everything that has leaves this month taken as ever green.

    For one month it comes to the same, and a hedge that stops all sun is far less work than
    one that stops part of it in other months.
    """
    features = tuple(
        feature
        if month in feature.leafless_months or not feature.leafless_months
        else replace(feature, leafless_months=())
        for feature in site.features
    )
    return replace(site, features=features)


def site_box_m(site: Site, beds: Sequence[Bed]) -> tuple[float, float, float, float]:
    """West, south, east and north side of the ground round beds and features [m].

    Raises
    ------
    ValueError
        If there is nothing on the site.
    """
    points_m = [point for bed in beds for point in outline_vertices_m(bed.outline)]
    points_m += [point for feature in site.features for point in feature.vertices_m]
    if not points_m:
        raise ValueError("nothing stands on the site")
    easts_m, norths_m = zip(*points_m, strict=True)
    return (
        _step_down(min(easts_m)),
        _step_down(min(norths_m)),
        -_step_down(-max(easts_m)),
        -_step_down(-max(norths_m)),
    )


def _step_down(value_m: float) -> float:
    return math.floor((value_m - MARGIN_M) / BOX_STEP_M) * BOX_STEP_M


def _cell_m(box_m: tuple[float, float, float, float], n_bodies: int) -> float:
    """The smallest usual side of a cell that keeps cells and views within bounds."""
    width_m, height_m = box_m[2] - box_m[0], box_m[3] - box_m[1]
    for cell_m in CELL_SIDES_M:
        n_cells = math.ceil(width_m / cell_m) * math.ceil(height_m / cell_m)
        if n_cells <= MOST_CELLS and n_cells * n_bodies <= MOST_VIEWS:
            return cell_m
    return CELL_SIDES_M[-1]


def _bed_sun_h(beds: Sequence[Bed], places_m: FloatArray, sun_h: FloatArray) -> dict[str, float]:
    """Mean over the cells whose middle lies in a bed; the nearest one for a bed between middles."""
    means: dict[str, float] = {}
    for bed in beds:
        outline = shapely.Polygon(outline_vertices_m(bed.outline))
        inside = np.asarray(shapely.contains_xy(outline, places_m[:, 0], places_m[:, 1]))
        if not inside.any():
            middle = outline.centroid
            away_m = np.hypot(places_m[:, 0] - middle.x, places_m[:, 1] - middle.y)
            inside = away_m == away_m.min()
        means[bed.code] = float(sun_h[inside].mean())
    return means
