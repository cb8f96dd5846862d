"""How much colder it gets at the height of low plants than in the weather shelter."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bedwright.engine.climate.dates import IntArray, month_of
from bedwright.model.weather import FloatArray, WeatherRecord

GROUND_FROST_ALLOWANCE_C = 2.3
"""Shelter minimum less the minimum at 10 cm, mean of the nights at risk (see `measured_allowance_c`)
of De Bilt 1980-2019: 2.27 °C. Observations KNMI, station 260 (KNMI_260); arithmetic ours."""

RISK_MONTHS = (3, 4, 5, 9, 10, 11)
"""Spring and autumn of either hemisphere."""

RISK_TMIN_C = (0.0, 5.0)
"""Nights without frost in the shelter, when frost near the ground decides."""

ENOUGH_NIGHTS = 60


@dataclass(frozen=True, slots=True, eq=False)
class PlantMinimum:
    """Minimum at the height of low plants, and where it comes from."""

    tmin_c: FloatArray
    """(n_days,) [°C]"""
    allowance_c: float
    """Shelter minimum less plant minimum on the nights at risk. [°C]"""
    basis: str
    measured: bool


def measured_allowance_c(tmin_c: FloatArray, ground_tmin_c: FloatArray, months: IntArray) -> float | None:
    """Mean of shelter minimum less ground minimum on nights at risk.

    Parameters
    ----------
    tmin_c, ground_tmin_c : (n_days,)
        Minimum in the shelter and at 10 cm. [°C]; nan where missing.
    months : (n_days,)
        Month of each day, 1 to 12.

    Returns
    -------
    float or None
        Allowance [°C] over nights of March to May and September to November whose shelter
        minimum is 0 to 5 °C; None with fewer than 60 such nights.

    Source
    ------
    Definition chosen here; the figure it gives for De Bilt is in docs/validation/ground_frost.md.
    """
    low, high = RISK_TMIN_C
    at_risk = np.isin(months, RISK_MONTHS) & (tmin_c >= low) & (tmin_c <= high) & np.isfinite(ground_tmin_c)
    if int(at_risk.sum()) < ENOUGH_NIGHTS:
        return None
    return float(np.mean(tmin_c[at_risk] - ground_tmin_c[at_risk]))


def plant_minimum(record: WeatherRecord) -> PlantMinimum:
    """Minimum at the height of low plants for every day of a record.

    Parameters
    ----------
    record : WeatherRecord
        Shelter minimum without gaps; ground minimum where the station has it.

    Returns
    -------
    PlantMinimum
        The measured minimum at 10 cm where there is one; elsewhere the shelter minimum less the
        allowance, which is the record's own where it has enough nights, else that of De Bilt.

    Source
    ------
    KNMI observations at De Bilt, station 260, 1980-2019 (KNMI_260).

    Limits
    ------
    One allowance for all nights: too much under cloud or in wind, too little on a still clear
    night (a tenth of the nights at risk at De Bilt exceeded 3.8 °C), and nothing is known here of
    frost hollows, walls or covers. Measured over short grass on flat, open, sandy land.
    """
    if record.ground_tmin_c is None:
        basis = (
            f"Low plants taken as {GROUND_FROST_ALLOWANCE_C:.1f} °C colder than the shelter: the mean"
            " at De Bilt 1980-2019 (KNMI) on spring and autumn nights of 0 to 5 °C."
        )
        return PlantMinimum(
            record.tmin_c - GROUND_FROST_ALLOWANCE_C, GROUND_FROST_ALLOWANCE_C, basis, measured=False
        )
    own = measured_allowance_c(record.tmin_c, record.ground_tmin_c, month_of(record.dates))
    allowance_c = GROUND_FROST_ALLOWANCE_C if own is None else own
    known = np.isfinite(record.ground_tmin_c)
    tmin_c = np.where(known, record.ground_tmin_c, record.tmin_c - allowance_c)
    basis = "Minimum at 10 cm above the ground as measured at the station"
    if not known.all():
        basis += f"; on {int((~known).sum())} days without it the shelter minimum less {allowance_c:.1f} °C"
    return PlantMinimum(tmin_c, allowance_c, basis + ".", measured=True)
