"""When each crop can go in at a site: a table for reading, not for planning."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from bedwright.engine.timing.choices import (
    DateTable,
    allowed_days,
    best_choice,
    choice_on,
    date_table,
    last_useful_sowing,
)
from bedwright.engine.timing.reasons import no_window_reason
from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice
from bedwright.model.weather import SeasonYears


@dataclass(frozen=True, slots=True)
class PlantingWindow:
    """An unbroken run of days on which a crop may go in."""

    opens: date
    closes: date
    best: DateChoice
    """The date to prefer within the window."""


@dataclass(frozen=True, slots=True)
class CropCalendar:
    """When one crop can go in at a site."""

    crop: str
    way: Way
    windows: tuple[PlantingWindow, ...]
    """In order of the season; spring and autumn windows stand apart."""
    no_window_reason: str
    """Empty where there is a window."""
    last_useful: date | None = None
    """Last day on which it can go in and still be picked with the chance wanted; None where no
    day of the season has that chance."""


def calendar_for_site(
    crops: Mapping[str, Crop],
    years: SeasonYears,
    *,
    latitude_deg: float,
    frost_risk_pct: float = 10.0,
    chance_wanted_pct: float = 80.0,
) -> tuple[CropCalendar, ...]:
    """Windows of every crop, in the order of the crops, by its usual way or the next that has one.

    Parameters
    ----------
    crops
        By name.
    years
        Recorded seasons of the site.
    latitude_deg
        Of the site. [°], -90 to 90.
    frost_risk_pct, chance_wanted_pct
        As for `allowed_days`.

    Raises
    ------
    ValueError
        If a crop has no way to get into a bed.
    """
    bounds = (frost_risk_pct, chance_wanted_pct)
    return tuple(_row(crop, years, latitude_deg, *bounds) for crop in crops.values())


def _row(
    crop: Crop, years: SeasonYears, latitude_deg: float, risk_pct: float, wanted_pct: float
) -> CropCalendar:
    """The crop's first way that has a window; the reason against its usual one if none has."""
    usual: DateTable | None = None
    for way in crop.ways:
        table = date_table(crop, years, way, latitude_deg=latitude_deg)
        usual = usual or table
        allowed = allowed_days(table, frost_risk_pct=risk_pct, chance_wanted_pct=wanted_pct)
        windows = tuple(_window(table, run) for run in _runs(np.flatnonzero(allowed)))
        if windows:
            last = last_useful_sowing(table, chance_wanted_pct=wanted_pct, frost_risk_pct=risk_pct)
            return CropCalendar(crop.name, way, windows, "", last)
    if usual is None:
        raise ValueError(f"{crop.name} has no way to get into a bed")
    reason = no_window_reason(usual, frost_risk_pct=risk_pct, chance_wanted_pct=wanted_pct)
    return CropCalendar(crop.name, usual.way, (), reason)


GAP_DAYS = 7
"""Windows closer than this are one: a single bad day does not close a week."""


def _runs(days: np.ndarray[tuple[int, ...], np.dtype[np.int64]]) -> list[list[int]]:
    if not days.size:
        return []
    breaks = np.flatnonzero(np.diff(days) > GAP_DAYS) + 1
    return [[int(day) for day in run] for run in np.split(days, breaks)]


def _window(table: DateTable, days: list[int]) -> PlantingWindow:
    choices = tuple(choice_on(table, day) for day in days)
    best = best_choice(choices, go_in_early=table.crop.life_cycle != "annual") or 0
    return PlantingWindow(table.day(days[0]), table.day(days[-1]), choices[best])
