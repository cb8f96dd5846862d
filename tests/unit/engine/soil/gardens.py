"""Beds, tests and plantings with round numbers, for the soil stage."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from typing import Any

from bedwright.model.book import Bed, SoilTest, Way
from bedwright.model.crop import Crop
from bedwright.model.season import DateChoice, Planting, Row
from bedwright.model.soil import Material
from tests.builders import tiny_bed, tiny_crop

SAMPLED = date(2026, 10, 1)

BONE = Material("bone", "fertiliser", n_pct=(2, 2), p2o5_pct=(20, 20), bulk_density_kg_l=(1.0, 1.0))
POTASH = Material("potash", "fertiliser", k2o_pct=(50, 50), bulk_density_kg_l=(1.0, 1.0))
AMMONIA = Material("ammonia", "fertiliser", n_pct=(20, 20), bulk_density_kg_l=(1.0, 1.0))
COMPOST = Material(
    "compost",
    "compost",
    also_called=("garden compost",),
    n_pct=(1, 1),
    p2o5_pct=(0.5, 0.5),
    k2o_pct=(1, 1),
    n_first_year_pct=(5, 25),
    bulk_density_kg_l=(0.5, 0.5),
    bioassay=True,
)
ROUND = (BONE, POTASH, AMMONIA, COMPOST)
"""Materials that can be reckoned with in the head."""


def soil_test(**figures: Any) -> SoilTest:
    """A Mehlich-3 report; figures not given are not on it."""
    return replace(SoilTest(SAMPLED, "Test laboratory", extraction="Mehlich-3"), **figures)


def bed(code: str = "A", **figures: Any) -> Bed:
    """A bed of 4.8 m²; with a soil test if any figure is given."""
    return replace(tiny_bed(code), soil_test=soil_test(**figures) if figures else None)


def planting(
    crop: Crop | None = None,
    *,
    code: str = "p",
    bed_code: str = "A",
    way: Way = "raise",
    in_ground: date = date(2027, 5, 10),
    first_pick: date = date(2027, 7, 20),
    last_pick: date = date(2027, 9, 20),
    emerges: date | None = None,
) -> Planting:
    """Two rows of ten plants 0.4 m apart, on 4 m by 1 m."""
    dates = DateChoice(
        sow_under_cover=None,
        harden_off_from=None,
        in_ground=in_ground,
        emerges=emerges,
        first_pick=first_pick,
        first_pick_early=first_pick - timedelta(days=7),
        first_pick_late=first_pick + timedelta(days=7),
        last_pick=last_pick,
        clear_by=last_pick + timedelta(days=3),
        chance=0.9,
        n_years=30,
        failures=(),
    )
    rows = tuple(Row(f"{bed_code}{n}", (0.2, 0.3 * n), (3.8, 0.3 * n), 10, 0.4) for n in (1, 2))
    return Planting(
        code,
        code,
        crop or tiny_crop(),
        "",
        way,
        bed_code,
        (0.0, 4.0),
        (0.0, 1.0),
        "along",
        rows,
        dates,
        (),
        (),
    )
