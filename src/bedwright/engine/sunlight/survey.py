"""Light on a grid over the whole site, kept so that an edit costs little."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.sunlight.bed_light import CELL_M
from bedwright.engine.sunlight.obstacles import Obstacle, bed_obstacles, obstacles_of
from bedwright.engine.sunlight.open_sky import direct_light_weight
from bedwright.engine.sunlight.places import Places, SiteGrid, Slope, grid_places, site_grid, slope_of
from bedwright.engine.sunlight.remaining import hidden_by, remaining
from bedwright.engine.sunlight.skylines import Skyline, Skylines, skyline
from bedwright.engine.sunlight.sun_position import sun_day
from bedwright.engine.sunlight.sun_table import (
    ALL_MONTHS,
    SunTable,
    day_table,
    month_periods,
    sky_table,
    sun_table,
)
from bedwright.model.book import Bed, Site
from bedwright.model.light import SiteLight
from bedwright.model.weather import FloatArray

DAY_STEP_MIN = 5.0

Box = tuple[float, float, float, float]
"""West, south, east and north side. [m]"""


@dataclass(frozen=True, slots=True, eq=False)
class _Tables:
    """The sun over one place, which no edit of bodies changes."""

    key: tuple[float, float, float, Slope, tuple[int, ...]]
    hours: SunTable
    direct: SunTable
    open_direct: FloatArray
    """(n_months,): direct light of level open ground. [MJ/m²/day]"""
    sky: SunTable


@dataclass(frozen=True, slots=True, eq=False)
class SiteSurvey:
    """Skylines of a whole site. A value: `survey_site(..., before=survey)` makes the next."""

    grid: SiteGrid
    skylines: Skylines
    tables: _Tables

    @property
    def months(self) -> tuple[int, ...]:
        """Months asked for."""
        return self.tables.hours.months

    def sun_h(self) -> FloatArray:
        """Hours of direct sun a day, every day of the month counted: (n_months, n_north, n_east). [h]."""
        return self._gridded(self.tables.hours)

    def light(self) -> SiteLight:
        """Sun, direct light and sky of every cell."""
        return SiteLight(
            self.grid.west_m,
            self.grid.south_m,
            self.grid.cell_m,
            self.months,
            self.sun_h(),
            self._direct_share(),
            # An even sky over level open ground is the whole: on a slope part is missing.
            self._gridded(self.tables.sky),
        )

    def _direct_share(self) -> FloatArray:
        """What is left of the direct light of level open ground; 0 in months without sun."""
        open_amount = self.tables.open_direct[:, None, None]
        left = self._gridded(self.tables.direct)
        return np.divide(left, open_amount, out=np.zeros_like(left), where=open_amount > 0)

    def _gridded(self, table: SunTable) -> FloatArray:
        bodies = tuple(self.skylines.by_obstacle.values())
        hidden = hidden_by(bodies, len(table.lowest), len(self.skylines.places.eye_m))
        left = remaining(hidden, table)
        shape = (len(table.months), self.grid.n_north, self.grid.n_east)
        return np.ascontiguousarray(left.T).reshape(shape)


def survey_site(
    site: Site,
    beds: Sequence[Bed],
    *,
    cell_m: float = CELL_M,
    months: Sequence[int] = ALL_MONTHS,
    box_m: Box | None = None,
    also: Sequence[Obstacle] = (),
    before: SiteSurvey | None = None,
) -> SiteSurvey:
    """What hides the sky from every cell of a site.

    Parameters
    ----------
    site, beds
        The site with the slope of its ground, and its beds; raised beds shade the ground beside them.
    cell_m
        Side of a cell. [m]
    months
        Months wanted, 1 to 12.
    box_m
        Ground to cover; None: the beds and 2 m round them.
    also
        Further bodies, such as crops.
    before
        An earlier survey. Whatever is equal in it is used again, so moving one body costs
        that body only; the result is the same, bit for bit, as without it.

    Raises
    ------
    ValueError
        If there is no ground to cover or it has more than 100,000 cells.
    """
    grid = site_grid(beds, cell_m, box_m)
    slope = slope_of(site)
    places = grid_places(grid, beds, slope)
    known = Skylines(places)
    if before is not None and before.skylines.places.same_as(places):
        known = before.skylines
    bodies = (*obstacles_of(site.features), *bed_obstacles(beds), *also)
    return SiteSurvey(grid, known.with_obstacles(bodies), _tables(site, tuple(months), slope, before))


def site_light(
    site: Site,
    beds: Sequence[Bed],
    *,
    cell_m: float = CELL_M,
    months: Sequence[int] = ALL_MONTHS,
    box_m: Box | None = None,
) -> SiteLight:
    """Sun, direct light and sky of every cell of a site; parameters as in `survey_site`."""
    return survey_site(site, beds, cell_m=cell_m, months=months, box_m=box_m).light()


def day_sun_h(
    bodies: Sequence[Obstacle],
    places: Places,
    day: date,
    latitude_deg: float,
    longitude_deg: float,
    *,
    step_min: float = DAY_STEP_MIN,
) -> FloatArray:
    """Hours of direct sun on one day, looked at in the very directions of that day's sun.

    Parameters
    ----------
    bodies
        What casts shade on that day.
    places
        Where.
    day
        The day; its month settles the leaves.
    latitude_deg, longitude_deg
        Place. [°]
    step_min
        Time between looks at the sun. [min]

    Returns
    -------
    (n_places,)
        [h], a multiple of the step where all bodies stop all sun.
    """
    path = sun_day(day, latitude_deg, longitude_deg, step_min=step_min)
    table, directions_rad = day_table(path, day.month, places.slope)
    skylines: list[Skyline] = [skyline(body, places, directions_rad) for body in bodies]
    return remaining(hidden_by(skylines, len(table.lowest), len(places.eye_m)), table)[:, 0]


def _tables(site: Site, months: tuple[int, ...], slope: Slope, before: SiteSurvey | None) -> _Tables:
    key = (site.latitude_deg, site.longitude_deg, site.elevation_m, slope, months)
    if before is not None and before.tables.key == key:
        return before.tables
    periods = month_periods(months)
    place = (site.latitude_deg, site.longitude_deg)
    direct = sun_table(
        *place, periods, slope=slope, weight=direct_light_weight(site.elevation_m, slope=slope)
    )
    level = direct
    if slope.slope_deg:
        level = sun_table(*place, periods, weight=direct_light_weight(site.elevation_m))
    return _Tables(
        key,
        sun_table(*place, periods, slope=slope),
        direct,
        level.total * level.per_count,
        sky_table(months, slope),
    )
