"""Daily light integral against Faust & Logan (2018).

HortScience 53:1250-1257, abstract: 0.007265 mol of photons (400-700 nm) per Wh of sunlight, from 45 % of
it in that range and 4.48 µmol/J.
"""

from __future__ import annotations

import pytest

from bedwright.engine.sunlight import PLANT_LIGHT_MOL_MJ, clear_light


def test_the_factor_is_that_of_the_abstract() -> None:
    # Its two parts as printed: 0.45 x 4.48 mol/MJ = 2.016; the printed product is rounded.
    assert pytest.approx(0.45 * 4.48, rel=0.002) == PLANT_LIGHT_MOL_MJ


def test_a_clear_summer_day_lies_in_the_range_horticulture_knows() -> None:
    light = clear_light(40.0, 100.0, [1.5] * 12)
    mol_m2 = (light.direct_mj_m2[5] + light.diffuse_mj_m2[5]) * PLANT_LIGHT_MOL_MJ
    # LI-COR, technical note on daily integrals, and Hort Americas, conversion page: 5 to 60 mol/m² a day
    # in the United States, 50 to 60 on sunny summer days; 66 allows for a sky without any haze.
    assert 50 <= mol_m2 <= 66
