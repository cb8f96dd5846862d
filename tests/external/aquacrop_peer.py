"""Seasons of the public package aquacrop (3.1.0), and ours on the same weather, soil and roots."""

from __future__ import annotations

import warnings
from dataclasses import dataclass, replace
from datetime import date, timedelta

import numpy as np
import pandas as pd

from bedwright.catalogue import load_catalogue
from bedwright.engine.water.balance import WateringRule, field_capacity, run_days
from bedwright.engine.water.methods import METHODS
from bedwright.engine.water.patches import ground_of
from bedwright.engine.water.soils import soil_water
from bedwright.engine.water.stages import stand_of
from bedwright.model.water import DailyConditions, WateredPatch
from bedwright.model.weather import FloatArray

with warnings.catch_warnings():
    # strings of the package hold escapes that newer Python warns of
    warnings.simplefilter("ignore")
    from aquacrop import AquaCropModel, Crop, InitialWaterContent, IrrigationManagement, Soil
    from aquacrop.utils import get_filepath

REFILL_BELOW_PCT = 70
"""aquacrop waters when less than this share of the available water is left."""


@dataclass(frozen=True)
class Pair:
    """A crop of aquacrop and the nearest of ours."""

    peer: str
    ours: str
    planted: tuple[int, int]
    """Month and day."""


PAIRS = (
    Pair("Tomato", "tomato", (5, 15)),
    Pair("Potato", "potato", (5, 1)),
    Pair("Maize", "sweet corn", (5, 10)),
    Pair("SugarBeet", "beet", (5, 1)),
    Pair("DryBean", "bush bean", (6, 1)),
)


@dataclass(frozen=True)
class Seasons:
    """What each season used, mm; arrays (n_seasons,)."""

    first_day: tuple[date, ...]
    n_days: tuple[int, ...]
    deepest_root_m: float
    et_mm: FloatArray
    evaporation_mm: FloatArray
    irrigation_mm: FloatArray


def weather_file() -> str:
    """Path of the record of Champion, Nebraska, that comes with aquacrop."""
    return str(get_filepath("champion_climate.txt"))


def weather_table(days: DailyConditions, tmin_c: FloatArray, tmax_c: FloatArray) -> pd.DataFrame:
    """Weather as aquacrop wants it."""
    return pd.DataFrame(
        {
            "MinTemp": tmin_c,
            "MaxTemp": tmax_c,
            "Precipitation": days.rain_mm,
            "ReferenceET": np.maximum(days.reference_et_mm, 0.1),
            "Date": pd.DatetimeIndex(days.dates),
        }
    )


def run_peer(pair: Pair, weather: pd.DataFrame, years: tuple[int, int], *, watered: bool) -> Seasons:
    """Seasons of aquacrop on loam that starts at field capacity."""
    month, day = pair.planted
    management = (
        IrrigationManagement(irrigation_method=1, SMT=[REFILL_BELOW_PCT] * 4)
        if watered
        else IrrigationManagement(irrigation_method=0)
    )
    model = AquaCropModel(
        f"{years[0]}/{month:02}/{day:02}",
        f"{years[1]}/12/30",
        weather,
        Soil("Loam"),
        Crop(pair.peer, planting_date=f"{month:02}/{day:02}"),
        InitialWaterContent(value=["FC"]),
        irrigation_management=management,
    )
    with warnings.catch_warnings():
        # pandas and numpy warn of calls inside the package
        warnings.simplefilter("ignore")
        model.run_model(till_termination=True)
        flux = model.get_water_flux()
    growing = flux[flux["dap"] > 0].groupby("season_counter")
    numbers = [int(number) for number in growing.groups]
    evaporation = growing["Es"].sum().to_numpy()
    return Seasons(
        first_day=tuple(date(years[0] + number, month, day) for number in numbers),
        n_days=tuple(int(count) for count in growing["dap"].max()),
        deepest_root_m=float(model._param_struct.Seasonal_Crop_List[0].Zmax),
        et_mm=evaporation + growing["Tr"].sum().to_numpy(),
        evaporation_mm=evaporation,
        irrigation_mm=growing["IrrDay"].sum().to_numpy(),
    )


def run_ours(pair: Pair, days: DailyConditions, like: Seasons, *, watered: bool) -> Seasons:
    """Our balance over the same days: same loam class, same root depth, no seedbed watering."""
    crop = load_catalogue().crops[pair.ours]
    assert crop.water is not None
    crop = replace(crop, water=replace(crop.water, rooting_depth_m=like.deepest_root_m))
    sums = []
    for first, n_days in zip(like.first_day, like.n_days, strict=True):
        last = first + timedelta(days=n_days - 1)
        at = int((np.datetime64(first) - days.dates[0]).astype(np.int64))
        cut = slice(at, at + n_days)
        season = replace(
            days,
            dates=days.dates[cut],
            rain_mm=days.rain_mm[cut],
            reference_et_mm=days.reference_et_mm[cut],
            wind_2m_m_s=days.wind_2m_m_s[cut],
            humidity_min_pct=days.humidity_min_pct[cut],
        )
        soil, method = soil_water("loam"), METHODS["sprinkler"]
        patch = WateredPatch("P", "A", crop, "sow", 1.0, 1, first, None, last, last, soil, None, method)
        stand = stand_of([patch], season)
        never = np.zeros_like(stand.growing)
        run = run_days(
            ground_of([patch], stand),
            stand.canopy,
            field_capacity((1, 1)),
            rain_mm=season.rain_mm[:, None, None],
            reference_et_mm=season.reference_et_mm[:, None, None],
            rule=WateringRule(stand.growing, never, ~never) if watered else None,
        )
        sums.append((run.actual_et_mm.sum(), run.evaporation_mm.sum(), run.irrigation_mm.sum()))
    et, evaporation, irrigation = np.array(sums).T
    return replace(like, et_mm=et, evaporation_mm=evaporation, irrigation_mm=irrigation)
