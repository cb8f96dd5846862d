"""Sun and light that reach beds and site."""

from __future__ import annotations

from dataclasses import dataclass

from bedwright.model.weather import FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class BedLight:
    """Hours of direct sun a day on a grid of cells of one bed, month by month.

    Cells are squares of `cell_m` in the bed's frame; cells whose centre is outside the
    bed are nan. Clear sky: shade by obstacles only.
    """

    bed_code: str
    cell_m: float
    sun_h: FloatArray
    """(12, n_along, n_across): mean hours a day; index 0 is January."""
    observed: bool = False
    """True where the coordinator's own observation replaced the computed level."""


@dataclass(frozen=True, slots=True, eq=False)
class BedWeeks:
    """The same by weeks: week k holds days 7k + 1 to 7k + 7 of the year, the last one more."""

    bed_code: str
    cell_m: float
    sun_h: FloatArray
    """(52, n_along, n_across): mean hours a day."""
    observed: bool = False


@dataclass(frozen=True, slots=True, eq=False)
class SiteLight:
    """Sun and light on a grid over the whole site, month by month.

    Cells are squares of `cell_m`, rows from south to north, columns from west to east; the
    middle of the first lies half a cell north and east of the corner. Ground inside
    buildings is dark.
    """

    west_m: float
    south_m: float
    cell_m: float
    months: tuple[int, ...]
    sun_h: FloatArray
    """(n_months, n_north, n_east): mean hours of direct sun a day under a clear sky."""
    sun_share: FloatArray
    """Same shape: share of the direct light of level open ground, low sun counting less than high;
    more than 1 where the ground faces the sun."""
    sky_share: FloatArray
    """Same shape: share of the light of an even sky (sky view factor)."""


@dataclass(frozen=True, slots=True, eq=False)
class DaylightCells:
    """Daily light on a grid of cells of one bed, as in `BedLight`, under one sky or several."""

    bed_code: str
    cell_m: float
    light_mol_m2: FloatArray
    """(n_skies, 12, n_along, n_across): photons of 400 to 700 nm, means of the months. [mol/m²/day]"""


@dataclass(frozen=True, slots=True)
class OpenLight:
    """Light on open level ground, means of the twelve months, January first."""

    direct_mj_m2: tuple[float, ...]
    """Of the sun itself. [MJ/m²/day]"""
    diffuse_mj_m2: tuple[float, ...]
    """Of the sky. [MJ/m²/day]"""
    sunshine_share: tuple[float, ...]
    """Share of the hours of possible sun in which it shines; 1 under a clear sky."""
    basis: str
    """How it was reached, in words."""
