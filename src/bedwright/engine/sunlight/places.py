"""Where the light is asked for: cells of beds and of the whole site, on level or sloping ground."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from bedwright.model.book import Bed, Site
from bedwright.model.ground import Point, local_vertices_m, outline_vertices_m
from bedwright.model.weather import BoolArray, FloatArray

MARGIN_M = 2.0
"""Ground shown round the beds where no box is given."""
MOST_CELLS = 100_000
"""A skyline of a body takes about a kilobyte a cell."""


@dataclass(frozen=True, slots=True)
class Slope:
    """Evenly sloping ground through the site datum."""

    slope_deg: float = 0.0
    """Angle to the level, 0 to 45."""
    bearing_deg: float = 0.0
    """Compass bearing in which the ground falls."""

    def __post_init__(self) -> None:
        """Refuse what is no garden ground.

        Raises
        ------
        ValueError
            If the slope is not within 0 to 45°.
        """
        if not 0 <= self.slope_deg <= 45:
            raise ValueError(f"slope_deg: got {self.slope_deg}; expected 0 to 45 degrees")

    def ground_m(self, places_m: FloatArray) -> FloatArray:
        """Height of the ground above that at the datum, (n_places,). [m]."""
        bearing_rad = math.radians(self.bearing_deg)
        downhill_m = places_m[:, 0] * math.sin(bearing_rad) + places_m[:, 1] * math.cos(bearing_rad)
        return -math.tan(math.radians(self.slope_deg)) * downhill_m

    def rise(self, directions_rad: FloatArray) -> FloatArray:
        """Tangent of the angle at which the ground rises in some directions; negative downhill."""
        bearing_rad = math.radians(self.bearing_deg)
        return -math.tan(math.radians(self.slope_deg)) * np.cos(directions_rad - bearing_rad)


LEVEL = Slope()


def slope_of(site: Site) -> Slope:
    """Slope of a site's ground, as its book states it."""
    return Slope(site.slope_deg, site.aspect_deg)


@dataclass(frozen=True, slots=True, eq=False)
class Places:
    """Points for which the light is worked out."""

    places_m: FloatArray
    """(n_places, 2): east and north."""
    eye_m: FloatArray
    """(n_places,): height above the datum's level, soil of raised beds included."""
    slope: Slope = LEVEL

    def same_as(self, other: Places) -> bool:
        """True if all points, heights and the slope are equal."""
        return (
            self.slope == other.slope
            and np.array_equal(self.places_m, other.places_m)
            and np.array_equal(self.eye_m, other.eye_m)
        )


@dataclass(frozen=True, slots=True, eq=False)
class BedCells:
    """The cells of one bed in its own frame."""

    bed: Bed
    inside: BoolArray
    """(n_along, n_across): cells whose middle lies in the bed."""
    places: Places


@dataclass(frozen=True, slots=True)
class SiteGrid:
    """Square cells over a box of the site, rows from south to north."""

    west_m: float
    south_m: float
    n_north: int
    n_east: int
    cell_m: float


def bed_cells(bed: Bed, cell_m: float, slope: Slope = LEVEL) -> BedCells:
    """Which cells of the bed's box lie in the bed, and where those are.

    A bed smaller than a cell keeps one, which stands for the whole.
    """
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
        inside[n_along // 2, n_across // 2] = True
    chosen = zip(along_m[inside], across_m[inside], strict=True)
    places_m = np.array([frame.to_site((float(u), float(v))) for u, v in chosen])
    return BedCells(bed, inside, Places(places_m, _bed_eye_m(bed, places_m, slope), slope))


def _bed_eye_m(bed: Bed, places_m: FloatArray, slope: Slope) -> FloatArray:
    if bed.raised_m > 0:
        # Soil in a raised bed lies level, at the height of its sides over the middle of the bed.
        middle = shapely.Polygon(outline_vertices_m(bed.outline)).centroid
        ground_m = slope.ground_m(np.array([[middle.x, middle.y]]))[0]
        return np.full(len(places_m), ground_m + bed.raised_m)
    return slope.ground_m(places_m)


def joined(all_cells: Sequence[BedCells], slope: Slope = LEVEL) -> Places:
    """The places of one bed or more in one, in the order given."""
    return Places(
        np.concatenate([cells.places.places_m for cells in all_cells]),
        np.concatenate([cells.places.eye_m for cells in all_cells]),
        slope,
    )


def site_grid(
    beds: Sequence[Bed], cell_m: float, box_m: tuple[float, float, float, float] | None
) -> SiteGrid:
    """Cells over a box, or over the beds and `MARGIN_M` round them.

    Parameters
    ----------
    beds
        Beds of the site.
    cell_m
        Side of a cell. [m]
    box_m
        West, south, east and north side; None: drawn round the beds. [m]

    Raises
    ------
    ValueError
        If there is neither a box nor a bed, if the box is empty, or if it has more than
        100,000 cells.
    """
    west_m, south_m, east_m, north_m = _box_round(beds) if box_m is None else box_m
    if not (east_m > west_m and north_m > south_m and cell_m > 0):
        raise ValueError(
            f"a box from {west_m}, {south_m} to {east_m}, {north_m} m has no cells of {cell_m} m"
        )
    n_east = max(1, math.ceil((east_m - west_m) / cell_m - 1e-9))
    n_north = max(1, math.ceil((north_m - south_m) / cell_m - 1e-9))
    if n_east * n_north > MOST_CELLS:
        raise ValueError(f"{n_east} x {n_north} cells of {cell_m} m; at most {MOST_CELLS} are worked out")
    return SiteGrid(west_m, south_m, n_north, n_east, cell_m)


def _box_round(beds: Sequence[Bed]) -> tuple[float, float, float, float]:
    corners: list[Point] = [corner for bed in beds for corner in outline_vertices_m(bed.outline)]
    if not corners:
        raise ValueError("no box and no beds: the site has no extent")
    points_m = np.array(corners)
    west_m, south_m = points_m.min(axis=0) - MARGIN_M
    east_m, north_m = points_m.max(axis=0) + MARGIN_M
    return float(west_m), float(south_m), float(east_m), float(north_m)


def grid_places(grid: SiteGrid, beds: Sequence[Bed], slope: Slope = LEVEL) -> Places:
    """The middles of a grid's cells, row by row; those in a raised bed lie on its soil."""
    east_m = grid.west_m + (np.arange(grid.n_east) + 0.5) * grid.cell_m
    north_m = grid.south_m + (np.arange(grid.n_north) + 0.5) * grid.cell_m
    easts_m, norths_m = np.meshgrid(east_m, north_m)
    places_m = np.column_stack((easts_m.ravel(), norths_m.ravel()))
    eye_m = slope.ground_m(places_m)
    for bed in beds:
        if bed.raised_m > 0:
            outline = shapely.Polygon(outline_vertices_m(bed.outline))
            inside = np.asarray(shapely.contains_xy(outline, places_m[:, 0], places_m[:, 1]))
            eye_m[inside] = _bed_eye_m(bed, places_m[inside], slope)
    return Places(places_m, eye_m, slope)
