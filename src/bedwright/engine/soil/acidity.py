"""Lime for sour soil, sulphur for limy soil."""

from __future__ import annotations

import math

import numpy as np

from bedwright.engine.soil.rounding import spoken_rate, two_figures
from bedwright.engine.soil.sources import PRACTICE
from bedwright.model.book import Texture
from bedwright.model.bounds import SOIL_PH
from bedwright.model.soil import AcidityNeed
from bedwright.model.source import Origin
from bedwright.model.units import KG_PER_POUND, M2_PER_SQUARE_FOOT

G_M2_PER_LB_100FT2 = 1000 * KG_PER_POUND / (100 * M2_PER_SQUARE_FOOT)
"""Grams a square metre in one pound per 100 square feet: 48.82."""
LIME_TARGET_PH = 6.5
"""Target of the lime tables."""
LIME_BELOW_PH = 6.0
"""Most vegetables want 6.0 to 6.8 or 7.0 (extension usage); above this no lime is advised."""
SULPHUR_ABOVE_PH = 7.5
"""Vegetables grow well up to about pH 7.5 (Montana State University Extension as reported 2015)."""
SULPHUR_TARGET_PH = 7.0
SULPHUR_AT_A_TIME_LB_1000FT2 = 10.0
MONTHS_BETWEEN_LIME = 6
MONTHS_BETWEEN_SULPHUR = 3

_PH_STEPS = (4.0, 4.5, 5.0, 5.5, 6.0, LIME_TARGET_PH)
# Pounds of ground limestone per 100 square feet to reach pH 6.5, at the steps above.
_LIGHT_TABLES = ((11.5, 9.5, 8.0, 6.0, 3.0, 0.0), (10.0, 8.0, 6.5, 4.5, 2.0, 0.0))
_MIDDLE_TABLES = ((16.0, 13.5, 10.5, 8.0, 4.0, 0.0), (17.5, 15.0, 11.0, 7.5, 3.5, 0.0))
_HEAVY_TABLES = ((23.0, 19.5, 15.0, 10.5, 5.5, 0.0), (23.0, 20.0, 15.0, 10.0, 5.0, 0.0))
_LIGHT: frozenset[Texture] = frozenset({"sand", "loamy sand", "sandy loam"})
_HEAVY: frozenset[Texture] = frozenset({"silty clay loam", "silty clay", "clay"})

# Grams of sulphur a square metre for about one unit of pH.
_SULPHUR_PER_UNIT_G_M2 = {"light": 135.0, "middle": 200.0, "heavy": 270.0}


def _weight(texture: Texture) -> str:
    return "light" if texture in _LIGHT else "heavy" if texture in _HEAVY else "middle"


def acidity_need(ph: float, texture: Texture, *, laboratory_lime_g_m2: float | None = None) -> AcidityNeed:
    """Lime or sulphur for a bed, or nothing.

    Parameters
    ----------
    ph : float
        Measured in water. 3 to 10.
    texture : Texture
        Soil type of the bed.
    laboratory_lime_g_m2 : float, optional
        The laboratory's own recommendation, from its buffer pH; it replaces the tables. [g/m²]

    Returns
    -------
    AcidityNeed
        Low and high figure of the sources, two significant figures. Start with the low one
        and test again: too much lime cannot be taken back.

    Raises
    ------
    ValueError
        If the pH is out of range or the laboratory's figure is negative.

    Source
    ------
    Lime: LIME_TABLES, two unsigned tables (weak); straight lines between their steps are chosen
    here. Split of large doses: Penn State (PSU_HOME_GARDEN). Sulphur: RHS_SULPHUR, 135 g/m² on
    sand to 270 g/m² on clay for about one unit of pH in the top 15 cm; the middle figure for
    loams is chosen here. Most at a time: CLEMSON_SULPHUR.

    Limits
    ------
    Blind to organic matter and buffer pH; a laboratory that measured the buffer pH knows better.
    """
    if ph not in SOIL_PH:
        raise ValueError(f"pH is {SOIL_PH}; got {ph}")
    if laboratory_lime_g_m2 is not None and not 0 <= laboratory_lime_g_m2 <= 5000:
        raise ValueError(f"a laboratory's lime figure is 0 to 5000 g/m²; got {laboratory_lime_g_m2}")
    if laboratory_lime_g_m2 is not None:
        return _laboratory_lime(ph, laboratory_lime_g_m2)
    if ph < LIME_BELOW_PH:
        return _lime(ph, texture)
    if ph > SULPHUR_ABOVE_PH:
        return _sulphur(ph, texture)
    text = f"pH {ph:g}: no lime, no sulphur. Most vegetables are at home from pH 6 to 7.5."
    origin = Origin(
        "acidity",
        ph,
        f"lime below pH {LIME_BELOW_PH:g}, sulphur above {SULPHUR_ABOVE_PH:g}",
        (PRACTICE,),
        "practice",
    )
    return AcidityNeed("nothing", ph, ph, 0.0, 0.0, 0, 0, text, (origin,))


def _lime(ph: float, texture: Texture) -> AcidityNeed:
    tables = {"light": _LIGHT_TABLES, "middle": _MIDDLE_TABLES, "heavy": _HEAVY_TABLES}[_weight(texture)]
    doses_lb = [float(np.interp(ph, _PH_STEPS, table)) for table in tables]
    low, high = (two_figures(dose * G_M2_PER_LB_100FT2) for dose in (min(doses_lb), max(doses_lb)))
    n = lime_applications(low / G_M2_PER_LB_100FT2)
    origin = Origin(
        "lime_g_m2",
        low,
        "low of two unsigned tables for the texture, straight line between their steps",
        ("LIME_TABLES",),
        "weak",
    )
    text = (
        f"pH {ph:g}: ground limestone, {spoken_rate(low, high)}, would bring {texture} to pH 6.5 (two "
        "unsigned tables). "
        f"Spread the lower figure in autumn{_in_parts(n, MONTHS_BETWEEN_LIME)}, work it in, and test again "
        "before more. If your laboratory prints a lime figure, use that."
    )
    return AcidityNeed(
        "lime",
        ph,
        LIME_TARGET_PH,
        low,
        high,
        n,
        MONTHS_BETWEEN_LIME if n > 1 else 0,
        text,
        (origin, _split()),
    )


def _laboratory_lime(ph: float, dose_g_m2: float) -> AcidityNeed:
    dose = two_figures(dose_g_m2)
    if dose == 0:
        origin = Origin("lime_g_m2", 0.0, "the laboratory's figure", (), "own")
        return AcidityNeed(
            "nothing", ph, ph, 0.0, 0.0, 0, 0, f"pH {ph:g}: the laboratory advises no lime.", (origin,)
        )
    n = lime_applications(dose / G_M2_PER_LB_100FT2)
    text = (
        f"pH {ph:g}: {spoken_rate(dose)} of lime, the laboratory's figure{_in_parts(n, MONTHS_BETWEEN_LIME)}."
    )
    origin = Origin("lime_g_m2", dose, "the laboratory's figure", (), "own")
    months = MONTHS_BETWEEN_LIME if n > 1 else 0
    return AcidityNeed("lime", ph, LIME_TARGET_PH, dose, dose, n, months, text, (origin, _split()))


def _sulphur(ph: float, texture: Texture) -> AcidityNeed:
    units = ph - SULPHUR_TARGET_PH
    per_unit = _SULPHUR_PER_UNIT_G_M2[_weight(texture)]
    low = two_figures(units * _SULPHUR_PER_UNIT_G_M2["light"])
    high = two_figures(max(low, units * per_unit))
    at_a_time = SULPHUR_AT_A_TIME_LB_1000FT2 / 10 * G_M2_PER_LB_100FT2
    n = math.ceil(low / at_a_time - 1e-9)
    text = (
        f"pH {ph:g}: vegetables still grow; lowering it is slow and often not worth while. First drop "
        "vinegar on "
        "a spoonful of soil: if it fizzes there is free lime and sulphur cannot win. If not, sulphur "
        f"{spoken_rate(low, high)} in all, never more than {spoken_rate(at_a_time)} at a time"
        f"{_in_parts(n, MONTHS_BETWEEN_SULPHUR)}, in cool weather, with gloves, goggles and a dust mask; "
        "test again between."
    )
    origins = (
        Origin(
            "sulphur_g_m2",
            low,
            "135 (sand) to 270 g/m² (clay) for about one unit of pH",
            ("RHS_SULPHUR",),
            "read",
        ),
        Origin(
            "sulphur_at_a_time_g_m2",
            two_figures(at_a_time),
            "10 lb per 1000 sq ft",
            ("CLEMSON_SULPHUR",),
            "derived",
        ),
    )
    return AcidityNeed(
        "sulphur", ph, SULPHUR_TARGET_PH, low, high, n, MONTHS_BETWEEN_SULPHUR if n > 1 else 0, text, origins
    )


def _in_parts(n: int, months: int) -> str:
    return f" in {n} parts {months} months apart" if n > 1 else ""


def _split() -> Origin:
    rule = "11 to 20 lb per 100 sq ft in two parts, 21 or more in three, six months apart"
    return Origin("n_applications", None, rule, ("PSU_HOME_GARDEN",), "read")


def lime_applications(lime_lb_per_100ft2: float) -> int:
    """Parts a lime dose is spread in, six months apart: 1, 2 above 10 lb, 3 from 21 lb per 100 ft².

    Source
    ------
    Penn State (PSU_HOME_GARDEN), note 2. Between 10 and 11 and between 20 and 21, where the
    note has no figure, the larger number of parts is chosen here.
    """
    if lime_lb_per_100ft2 <= 0:
        return 0
    return 1 if lime_lb_per_100ft2 <= 10 else 2 if lime_lb_per_100ft2 <= 20 else 3


def lime_for_product(recommended: float, calcium_carbonate_pct: float) -> float:
    """Mass of a liming product for a recommendation made for pure calcium carbonate, same unit.

    Raises
    ------
    ValueError
        If the calcium carbonate equivalent is not within 20 to 180 percent.

    Source
    ------
    Penn State (PSU_HOME_GARDEN), note 1: recommendation x 100 / calcium carbonate equivalent.
    """
    if not 20 <= calcium_carbonate_pct <= 180:
        raise ValueError(
            f"the calcium carbonate equivalent is 20 to 180 percent; got {calcium_carbonate_pct}"
        )
    return recommended * 100 / calcium_carbonate_pct
