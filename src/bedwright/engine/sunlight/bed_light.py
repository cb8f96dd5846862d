"""Hours of sun on the cells of each bed, month by month."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import numpy as np
import shapely

from bedwright.engine.sunlight.obstacles import obstacles_of
from bedwright.engine.sunlight.shade import Skyline, skyline, sun_hours
from bedwright.engine.sunlight.sun_position import SunDay, sun_day
from bedwright.model.book import Bed, Site
from bedwright.model.ground import local_vertices_m
from bedwright.model.light import BedLight
from bedwright.model.weather import BoolArray, FloatArray

CELL_M = 0.25
DAYS_OF_MONTH = (4, 12, 20, 28)
"""Days that stand for a month; the mean differs from that of all days by under 0.02 h."""
REFERENCE_YEAR = 2026
"""Any common year: the sun's path repeats within minutes."""


def bed_light(site: Site, beds: Sequence[Bed], *, cell_m: float = CELL_M) -> tuple[BedLight, ...]:
    """Hours of direct sun a day on each bed, under a clear sky.

    Parameters
    ----------
    site
        Place and the features that cast shade.
    beds
        Beds; each is its own grid of cells. A bed with `sun_h` observed keeps the computed
        pattern, scaled so that its mean in the midsummer month equals the observation.
    cell_m
        Side of a cell. [m]

    Returns
    -------
    tuple of BedLight
        In the order of the beds.

    Limits
    ------
    Shade by stated obstacles only; far hills, other beds' crops and diffuse light are
    left out. The ground is taken as level; a raised bed stands higher by its side.
    """
    obstacles = obstacles_of(site.features)
    paths = {
        (month, day): sun_day(date(REFERENCE_YEAR, month, day), site.latitude_deg, site.longitude_deg)
        for month in range(1, 13)
        for day in DAYS_OF_MONTH
    }
    midsummer = 12 if site.southern else 6
    lights = []
    for bed in beds:
        inside, places_m = _cells(bed, cell_m)
        eye_m = np.full(len(places_m), bed.raised_m)
        skylines = [skyline(obstacle, places_m, eye_m) for obstacle in obstacles]
        sun_h = np.full((12, *inside.shape), np.nan)
        for month in range(1, 13):
            sun_h[month - 1][inside] = _month_mean_h(month, paths, skylines, len(places_m))
        if bed.sun_h is not None:
            sun_h = _scaled(sun_h, bed.sun_h, midsummer)
        lights.append(BedLight(bed.code, cell_m, sun_h, bed.sun_h is not None))
    return tuple(lights)


def _month_mean_h(
    month: int, paths: dict[tuple[int, int], SunDay], skylines: Sequence[Skyline], n_places: int
) -> FloatArray:
    days = [sun_hours(paths[month, day], month, skylines, n_places) for day in DAYS_OF_MONTH]
    mean: FloatArray = np.mean(days, axis=0)
    return mean


def _cells(bed: Bed, cell_m: float) -> tuple[BoolArray, FloatArray]:
    """Which cells of the bed's box lie in the bed, and the site coordinates of those."""
    frame = bed.frame
    n_along = max(1, int(np.ceil(frame.length_m / cell_m - 1e-9)))
    n_across = max(1, int(np.ceil(frame.width_m / cell_m - 1e-9)))
    along_m, across_m = np.meshgrid(
        (np.arange(n_along) + 0.5) * cell_m, (np.arange(n_across) + 0.5) * cell_m, indexing="ij"
    )
    # The last cell of a side may reach past the bed; its sample stays within it.
    along_m = np.minimum(along_m, frame.length_m - 1e-6)
    across_m = np.minimum(across_m, frame.width_m - 1e-6)
    outline = shapely.Polygon(local_vertices_m(bed.outline))
    inside: BoolArray = np.asarray(shapely.contains_xy(outline, along_m, across_m))
    if not inside.any():
        # A bed smaller than a cell: its middle stands for it.
        inside[n_along // 2, n_across // 2] = True
    chosen = zip(along_m[inside], across_m[inside], strict=True)
    places_m = np.array([frame.to_site((float(u), float(v))) for u, v in chosen])
    return inside, places_m


def _scaled(sun_h: FloatArray, observed_h: float, midsummer: int) -> FloatArray:
    computed_h = float(np.nanmean(sun_h[midsummer - 1]))
    if computed_h <= 0:
        return np.where(np.isnan(sun_h), np.nan, observed_h)
    scaled: FloatArray = sun_h * (observed_h / computed_h)
    return scaled
