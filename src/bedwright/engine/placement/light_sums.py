"""Direct sun of a bed as running sums over its cells."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from bedwright.model.light import BedLight
from bedwright.model.weather import BoolArray, FloatArray


@dataclass(frozen=True, slots=True, eq=False)
class LightSums:
    """Direct sun of a bed as running sums over its cells, so that a block is read off at once."""

    cell_m: float
    hours: FloatArray
    """(12, n_along, n_across): hours a day; 0 outside the bed."""
    inside: BoolArray
    """(n_along, n_across)"""
    sun_h: FloatArray
    """(12, n_along + 1, n_across + 1): sum of hours over the cells before; unlit cells add 0."""
    n_cells: FloatArray
    """(n_along + 1, n_across + 1): cells inside the bed before."""
    measured: dict[tuple[bytes, float], FloatArray | None] = field(default_factory=dict)
    """Sums of hours short worked out before; holds nothing that could not be worked out again."""

    def least_h(self, month_shares: FloatArray) -> FloatArray:
        """Sun on the cell of the bed that has least of it [h a day], for each of (n, 12) shares of months."""
        # Most dates of a garden share out their days like some other one.
        unlike, which = np.unique(month_shares, axis=0, return_inverse=True)
        found: FloatArray = (unlike @ self.hours[:, self.inside]).min(axis=1)[which.reshape(-1)]
        return found

    def short_sums(self, month_share: FloatArray, need_h: float) -> FloatArray | None:
        """Running sums over cells of the hours a day short of a need; None if no cell is short.

        Parameters
        ----------
        month_share
            (12,): share of the crop's days in each month.
        need_h
            Direct sun the crop needs [h a day].
        """
        key = (month_share.tobytes(), need_h)
        if key not in self.measured:
            got = np.tensordot(month_share, self.hours, axes=1)
            short = np.where(self.inside, np.maximum(0.0, need_h - got), 0.0)
            sums: FloatArray | None = None
            if short.any():
                # Asked thousands of times for a garden: filled in place, which is much faster than padding.
                sums = np.zeros((short.shape[0] + 1, short.shape[1] + 1))
                sums[1:, 1:] = short.cumsum(axis=0).cumsum(axis=1)
            self.measured[key] = sums
        return self.measured[key]


def light_sums(light: BedLight | None) -> LightSums | None:
    """Sums of what is known of the sun on a bed; None where nothing is."""
    if light is None or not np.isfinite(light.sun_h).any():
        return None
    inside: BoolArray = np.asarray(np.isfinite(light.sun_h).all(axis=0))
    hours = np.where(inside, light.sun_h, 0.0)
    before = ((1, 0), (1, 0))
    return LightSums(
        light.cell_m,
        hours,
        inside,
        np.pad(hours.cumsum(axis=1).cumsum(axis=2), ((0, 0), *before)),
        np.pad(inside.astype(np.float64).cumsum(axis=0).cumsum(axis=1), before),
    )
