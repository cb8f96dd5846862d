"""Direct sun that reaches each bed."""

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
