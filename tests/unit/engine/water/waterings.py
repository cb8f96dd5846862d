"""A patch and steady weather that can be followed by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from bedwright.engine.water.methods import METHODS
from bedwright.engine.water.soils import soil_water
from bedwright.model.book import Texture
from bedwright.model.crop import WaterFacts
from bedwright.model.water import DailyConditions, WateredPatch, WaterSupply
from tests.builders import tiny_crop

START = date(2027, 3, 1)
PLANTED = date(2027, 5, 1)
SUPPLY = WaterSupply(tap_flow_l_min=15.0, can_l=10.0)
FACTS = WaterFacts(
    kc_ini=0.6, kc_mid=1.15, kc_end=0.8, kcb_ini=0.15, kcb_mid=1.1, kcb_end=0.7,
    depletion_fraction=0.4, rooting_depth_m=0.7, stage_days=(20.0, 30.0, 40.0, 10.0),
)  # fmt: skip


def day(offset: int) -> date:
    """A day counted from planting."""
    return PLANTED + timedelta(days=offset)


def patch(code: str = "P", bed_code: str = "A", texture: Texture = "loam", **changes: object) -> WateredPatch:
    """Four square metres sown on 1 May, up on day 10, picked from day 60 to 99."""
    base = WateredPatch(
        code=code,
        bed_code=bed_code,
        crop=replace(tiny_crop("tomato", "Solanaceae"), water=FACTS, height_m=0.6),
        way="sow",
        area_m2=4.0,
        n_plants=12,
        in_ground=PLANTED,
        emerges=day(10),
        first_pick=day(60),
        last_pick=day(99),
        soil=soil_water(texture),
        soil_depth_m=None,
        method=METHODS["hose"],
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def steady(
    *, et_mm: float = 4.0, rain_mm: float = 0.0, n_days: int = 240, start: date = START, n_years: int = 0
) -> DailyConditions:
    """The same weather every day: sub-humid, light wind, so that no coefficient is adjusted."""
    shape = (n_days, n_years) if n_years else (n_days,)
    return DailyConditions(
        dates=np.datetime64(start) + np.arange(n_days),
        rain_mm=np.full(shape, rain_mm),
        reference_et_mm=np.full(shape, et_mm),
        wind_2m_m_s=np.full(shape, 2.0),
        humidity_min_pct=np.full(shape, 45.0),
        years=tuple(range(1990, 1990 + n_years)),
    )
