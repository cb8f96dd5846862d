"""Clear nights after planting on which low plants may still freeze."""

from __future__ import annotations

import math

import numpy as np

from bedwright.engine.timing.outcomes import dies_of_frost, warming
from bedwright.model.crop import Crop
from bedwright.model.weather import BoolArray, SeasonYears

COVER_RISK = 0.1
"""Covers may be put away once a ground frost comes in at most one year in ten after it."""


def freezing_nights(crop: Crop, years: SeasonYears) -> BoolArray:
    """Nights of spring on which a low plant of this crop may freeze.

    Parameters
    ----------
    crop
        Crop with its killing temperature.
    years
        Recorded seasons, with the minimum at plant height.

    Returns
    -------
    (n_years, n_days)
        True where the minimum at plant height is at or below the crop's `frost_kill_c` while
        the site still warms from day to day.

    Source
    ------
    Minimum at plant height: the shelter's less the stated ground-frost allowance, derived
    from KNMI's De Bilt record (docs/validation/ground_frost.md).

    Limits
    ------
    The allowance is a mean over clear and cloudy nights; a hollow is colder, a wall warmer.
    """
    if not dies_of_frost(crop):
        return np.zeros_like(years.plant_tmin_c, dtype=np.bool_)
    spring = warming(years) > 0
    return np.asarray((years.plant_tmin_c <= crop.frost_kill_c) & spring)


def cover_from(nights: BoolArray, index: int) -> tuple[float, int | None]:
    """How often a ground frost still comes after a day, and until when to have covers ready.

    Parameters
    ----------
    nights : (n_years, n_days)
        As of `freezing_nights`.
    index
        Day of going in or of coming up, from the season's start.

    Returns
    -------
    share, last_day
        Share of recorded years with such a night in the same spring, 0 to 1; and the day after which
        it comes in at most one year in ten, None where it is that rare already.
    """
    spring = _same_spring(nights, index)
    struck = spring.any(axis=1)
    share = float(struck.mean())
    if share <= COVER_RISK:
        return share, None
    last = index + spring.shape[1] - 1 - np.argmax(spring[:, ::-1], axis=1)
    ordered = np.sort(np.where(struck, last, index - 1))
    n_accepted = math.floor(COVER_RISK * len(ordered) + 1e-9)
    return share, int(ordered[len(ordered) - 1 - n_accepted])


def _same_spring(nights: BoolArray, index: int) -> BoolArray:
    """Nights from a day on, up to half a year later."""
    return nights[:, index : index + 183]
