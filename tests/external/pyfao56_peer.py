"""One patch run through the public package pyfao56 and through ours with the same conventions."""

from __future__ import annotations

import importlib
import warnings
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import pandas as pd

from bedwright.engine.water.balance import Canopy, Ground, WaterRun, WaterState, run_days
from bedwright.engine.water.coefficients import (
    coefficient_on_day,
    covered_share,
    highest_coefficient,
)
from bedwright.engine.water.soils import total_evaporable_mm
from bedwright.model.weather import DateArray, FloatArray

pyfao56: Any = importlib.import_module("pyfao56")


@dataclass(frozen=True)
class Case:
    """A crop on a soil as pyfao56 names its parameters, in our words."""

    kcb: tuple[float, float, float]
    stage_days: tuple[int, int, int, int]
    height_m: tuple[float, float]
    root_depth_m: tuple[float, float]
    depletion_fraction: float
    field_capacity: float = 0.25
    wilting_point: float = 0.12
    start_content: float = 0.25
    evaporation_depth_m: float = 0.10
    readily_evaporable_mm: float = 8.0


@dataclass(frozen=True)
class Weather:
    dates: DateArray
    rain_mm: FloatArray
    reference_et_mm: FloatArray
    wind_m_s: FloatArray
    humidity_min_pct: FloatArray
    wind_height_m: float = 2.0

    def between(self, first: str, last: str) -> Weather:
        chosen = (self.dates >= np.datetime64(first)) & (self.dates <= np.datetime64(last))
        return replace(
            self,
            dates=self.dates[chosen],
            rain_mm=self.rain_mm[chosen],
            reference_et_mm=self.reference_et_mm[chosen],
            wind_m_s=self.wind_m_s[chosen],
            humidity_min_pct=self.humidity_min_pct[chosen],
        )


def day_keys(dates: DateArray) -> list[str]:
    return [str(key) for key in pd.DatetimeIndex(dates).strftime("%Y-%j")]


def peer_parts(case: Case, weather: Weather, irrigation: dict[str, tuple[float, float]] | None = None) -> Any:
    """A pyfao56 model ready to run; irrigation by day key: depth [mm] and wetted share."""
    parameters = pyfao56.Parameters(
        Kcbini=case.kcb[0], Kcbmid=case.kcb[1], Kcbend=case.kcb[2],
        Lini=case.stage_days[0], Ldev=case.stage_days[1], Lmid=case.stage_days[2], Lend=case.stage_days[3],
        hini=case.height_m[0], hmax=case.height_m[1], Zrini=case.root_depth_m[0], Zrmax=case.root_depth_m[1],
        thetaFC=case.field_capacity, thetaWP=case.wilting_point, theta0=case.start_content,
        pbase=case.depletion_fraction, Ze=case.evaporation_depth_m, REW=case.readily_evaporable_mm,
    )  # fmt: skip
    keys = day_keys(weather.dates)
    table = pyfao56.Weather()
    table.wndht = weather.wind_height_m
    table.wdata = pd.DataFrame(np.nan, index=keys, columns=table.cnames)
    table.wdata["Rain"], table.wdata["ETref"] = weather.rain_mm, weather.reference_et_mm
    table.wdata["Wndsp"], table.wdata["RHmin"] = weather.wind_m_s, weather.humidity_min_pct
    given = None
    if irrigation:
        given = pyfao56.Irrigation()
        given.idata = pd.DataFrame(
            [(depth, share, 100.0) for depth, share in irrigation.values()],
            index=list(irrigation),
            columns=["Depth", "fw", "ieff"],
        )
    return pyfao56.Model(keys[0], keys[-1], parameters, table, irr=given)


def run_peer(model: Any) -> dict[str, float]:
    """Season sums of pyfao56, mm."""
    with warnings.catch_warnings():
        # pandas warns of the way pyfao56 fills its table row by row
        warnings.simplefilter("ignore")
        model.run()
    return {name: float(value) for name, value in model.swbdata.items()}


def our_canopy(case: Case, weather: Weather) -> Canopy:
    """Canopy by the rules of pyfao56: day 0 is the first, height and roots follow Kcb."""
    day = np.arange(weather.dates.size, dtype=np.float64)[:, None]
    ends = tuple(float(end) for end in np.cumsum(case.stage_days))
    kcb = coefficient_on_day(day, (ends[0], ends[1], ends[2], ends[3]), *case.kcb)
    grown = np.maximum.accumulate((kcb - case.kcb[0]) / (case.kcb[1] - case.kcb[0]))
    height = case.height_m[0] + (case.height_m[1] - case.height_m[0]) * grown
    wind = weather.wind_m_s * 4.87 / np.log(67.8 * weather.wind_height_m - 5.42)
    kc_max = highest_coefficient(kcb, wind[:, None], weather.humidity_min_pct[:, None], height)
    return Canopy(
        kcb=kcb,
        kc_max=kc_max,
        covered_share=covered_share(kcb, kc_max, height, case.kcb[0]),
        root_depth_m=case.root_depth_m[0] + (case.root_depth_m[1] - case.root_depth_m[0]) * grown,
    )


def dry_start(case: Case) -> WaterState:
    """State in which pyfao56 starts: surface dried out, root zone at the stated content."""
    total_mm = total_evaporable_mm(case.field_capacity, case.wilting_point, case.evaporation_depth_m)
    missing_mm = 1000 * (case.field_capacity - case.start_content) * case.root_depth_m[0]
    return WaterState(np.full(1, total_mm), np.full(1, missing_mm), np.zeros(1), np.ones(1))


def run_ours(
    case: Case,
    weather: Weather,
    irrigation: dict[str, tuple[float, float]] | None = None,
    *,
    days: slice = slice(None),
    start: WaterState | None = None,
) -> WaterRun:
    """Ours with the order of terms of pyfao56: water after the day's evaporation.

    All irrigation within `days` wets the same share of the ground.
    """
    given = irrigation or {}
    keys = day_keys(weather.dates)
    shares = {given[key][1] for key in keys[days] if key in given}
    assert len(shares) <= 1
    canopy = our_canopy(case, weather)
    ground = Ground(
        available_mm_m=1000 * (case.field_capacity - case.wilting_point),
        readily_evaporable_mm=case.readily_evaporable_mm,
        total_evaporable_mm=total_evaporable_mm(
            case.field_capacity, case.wilting_point, case.evaporation_depth_m
        ),
        depletion_fraction=case.depletion_fraction,
        wetted_share=max(shares, default=1.0),
    )
    return run_days(
        ground,
        Canopy(canopy.kcb[days], canopy.kc_max[days], canopy.covered_share[days], canopy.root_depth_m[days]),
        dry_start(case) if start is None else start,
        rain_mm=weather.rain_mm[days, None],
        reference_et_mm=weather.reference_et_mm[days, None],
        irrigation_mm=np.array([given.get(key, (0.0, 1.0))[0] for key in keys])[days, None],
        early=False,
    )
