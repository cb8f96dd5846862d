"""Water used by five crops against the public package aquacrop (3.1.0), a model of another kind.

AquaCrop grows a canopy from day to day and takes transpiration from it; ours follows FAO-56. They share
weather, soil class, root depth, planting and harvest, and nothing else. docs/water.md tells the
differences over the whole record, made by benchmarks/water.py; twelve seasons keep the test short.
"""

from __future__ import annotations

import numpy as np
import pytest

from bedwright.engine.water import site_conditions
from bedwright.model.weather import WeatherRecord
from tests.external.aquacrop_peer import PAIRS, Pair, run_ours, run_peer, weather_table

FIRST_YEAR, LAST_YEAR = 1982, 1993


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.ours)
def test_rain_fed_seasons_rise_and_fall_with_aquacrop(champion_record: WeatherRecord, pair: Pair) -> None:
    site = site_conditions(champion_record, 40.4, 1000.0)
    weather = weather_table(site, champion_record.tmin_c, champion_record.tmax_c)
    peer = run_peer(pair, weather, (FIRST_YEAR, LAST_YEAR), watered=False)
    ours = run_ours(pair, site, peer, watered=False)
    assert len(peer.et_mm) == LAST_YEAR - FIRST_YEAR + 1
    # No tolerance is published. What rain leaves in the soil bounds both models alike, so means lie within
    # 15 % and dry years stand out from wet ones. Bounds set here from the whole record; maize of aquacrop
    # slows down in cool summers such as 1992 and 1993, ours does not.
    assert ours.et_mm.mean() == pytest.approx(peer.et_mm.mean(), rel=0.15)
    assert np.corrcoef(ours.et_mm, peer.et_mm)[0, 1] > 0.7


def test_watered_tomatoes_use_more_than_in_aquacrop_as_documented(champion_record: WeatherRecord) -> None:
    site = site_conditions(champion_record, 40.4, 1000.0)
    weather = weather_table(site, champion_record.tmin_c, champion_record.tmax_c)
    peer = run_peer(PAIRS[0], weather, (FIRST_YEAR, LAST_YEAR), watered=True)
    ours = run_ours(PAIRS[0], site, peer, watered=True)
    # FAO-56 keeps full leaf cover through mid-season and adjusts it for dry air: docs/water.md
    assert 1.0 < ours.et_mm.mean() / peer.et_mm.mean() < 1.35
    assert np.corrcoef(ours.et_mm, peer.et_mm)[0, 1] > 0.7
