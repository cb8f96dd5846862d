"""Degree days of growth from the day's minimum and maximum."""

from __future__ import annotations

from typing import Literal

import numpy as np

from bedwright.model.weather import FloatArray

DegreeDayMethod = Literal["mean", "each limit", "four cases"]
"""Published definitions; they differ by up to a third in a cool spring, so a crop's degree
days only mean something together with the definition they were measured by.

mean        McMaster & Wilhelm 1997, method 1: the mean of the day is limited
each limit  McMaster & Wilhelm 1997, method 2: minimum and maximum are each limited
four cases  Met Éireann: four cases by where the base lies between minimum and maximum
"""


def degree_days(
    tmin_c: FloatArray,
    tmax_c: FloatArray,
    *,
    base_c: float,
    upper_c: float | None = None,
    method: DegreeDayMethod = "mean",
) -> FloatArray:
    """Degree days of each day above a base, with a horizontal cut-off above an upper limit.

    Parameters
    ----------
    tmin_c, tmax_c : any equal shape
        Minimum and maximum of each day. [°C], tmin_c not above tmax_c.
    base_c : float
        Temperature below which there is no growth. [°C]
    upper_c : float or None
        Temperature above which growth is no faster. [°C], above base_c. None: no limit.
    method : DegreeDayMethod
        Which published definition.

    Returns
    -------
    same shape
        Degree days of each day, never negative. [°C d]

    Raises
    ------
    ValueError
        If the upper limit is not above the base, or is given for the four cases, which the
        source defines without one.

    Source
    ------
    McMaster & Wilhelm 1997, Agric. For. Meteorol. 87:291-300 (MW97), methods 1 and 2. With a base
    of 50 °F and an upper limit of 86 °F method 2 is the truncated degree day of NOAA's
    normals. Met Éireann, degree days, cases I to IV (MET_EIREANN).

    Limits
    ------
    Daily extremes stand for the course of the day; methods 1 and 2 agree only on days that
    stay within both limits.
    """
    if upper_c is not None and upper_c <= base_c:
        raise ValueError(f"upper limit {upper_c} °C is not above the base {base_c} °C")
    top = np.inf if upper_c is None else upper_c
    if method == "mean":
        limited: FloatArray = np.clip((tmin_c + tmax_c) / 2, base_c, top)
        return limited - base_c
    if method == "each limit":
        low, high = np.clip(tmin_c, base_c, top), np.clip(tmax_c, base_c, top)
        return (low + high) / 2 - base_c
    if upper_c is not None:
        raise ValueError("the four-case rule is defined without an upper limit")
    return _four_cases(tmin_c, tmax_c, base_c)


def _four_cases(tmin_c: FloatArray, tmax_c: FloatArray, base_c: float) -> FloatArray:
    above = np.maximum(tmax_c - base_c, 0)
    below = np.maximum(base_c - tmin_c, 0)
    mean = (tmin_c + tmax_c) / 2
    return np.select(
        [below == 0, mean >= base_c],
        [mean - base_c, above / 2 - below / 4],
        default=above / 4,
    )
