"""Small gardens for the tests of placement: round numbers that can be checked by hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import numpy as np

from bedwright.engine.placement import Placement, place
from bedwright.model.book import Amount, Bed, GardenBook, Site, SoilTest, Support
from bedwright.model.crop import Crop, NeighbourFinding
from bedwright.model.ground import Outline, Polygon, Rectangle
from bedwright.model.light import BedLight
from bedwright.model.season import DateChoice, PlantingRequest
from tests.builders import tiny_crop

SPRING = date(2027, 4, 12)
L_VERTICES = ((0.0, 0.0), (4.0, 0.0), (4.0, 1.2), (1.2, 1.2), (1.2, 3.0), (0.0, 3.0))
"""Two arms of 1.2 m: 4 m to the east, 3 m to the north."""


def crop(name: str = "carrot", group: str = "umbel", **changes: Any) -> Crop:
    return replace(tiny_crop(name, group), min_sun_h=4.0, **changes)


def outline(length_m: float = 4.0, width_m: float = 1.2, bearing_deg: float = 90.0) -> Rectangle:
    return Rectangle(length_m, width_m, 0.0, 0.0, bearing_deg)


def l_shape(bearing_deg: float = 90.0) -> Polygon:
    return Polygon(L_VERTICES, bearing_deg)


def bed(code: str = "A", ground: Outline | None = None, **changes: Any) -> Bed:
    made = Bed(code=code, name=f"Bed {code}", outline=ground or outline(), texture="loam")
    return replace(made, **changes)


def trellis(side: Any = "north") -> tuple[Support, ...]:
    return (Support("trellis", side, 1.8),)


def lead(mg_kg: float) -> SoilTest:
    return SoilTest(date(2026, 10, 1), "a laboratory", lead_mg_kg=mg_kg)


def choice(in_ground: date = SPRING, days: int = 90, chance: float | None = 0.9) -> DateChoice:
    pick = in_ground + timedelta(days=days - 20)
    clear = in_ground + timedelta(days=days)
    return DateChoice(
        sow_under_cover=None,
        harden_off_from=None,
        in_ground=in_ground,
        emerges=in_ground + timedelta(days=10),
        first_pick=pick,
        first_pick_early=pick,
        first_pick_late=pick,
        last_pick=clear,
        clear_by=clear,
        chance=chance,
        n_years=30,
        failures=(),
    )


def request(
    code: str = "carrot-1",
    of: Crop | None = None,
    n_plants: int = 24,
    choices: Sequence[DateChoice] = (choice(),),
    **changes: Any,
) -> PlantingRequest:
    made = PlantingRequest(
        code=code,
        wish_code=code.split("/", maxsplit=1)[0],
        crop=of or crop(),
        variety="",
        way="sow",
        amount=Amount(n_plants, "plants"),
        n_plants=n_plants,
        priority=3,
        only_beds=(),
        not_beds=(),
        choices=tuple(choices),
        best=0 if choices else None,
    )
    return replace(made, **changes)


def book(*beds: Bed, latitude_deg: float = 52.0, **changes: Any) -> GardenBook:
    made = GardenBook(
        site=Site("Test garden", latitude_deg, 0.0, 10.0, "Europe/London"),
        season_start=date(2027, 1, 1),
        beds=beds or (bed(),),
        wishes=(),
    )
    return replace(made, **changes)


def sun(of: Bed, hours: float, cell_m: float = 0.1) -> BedLight:
    """The same sun on every cell, all year."""
    cells = (12, round(of.frame.length_m / cell_m), round(of.frame.width_m / cell_m))
    return BedLight(of.code, cell_m, np.full(cells, hours))


def planned(
    garden: GardenBook,
    *requests: PlantingRequest,
    light: Sequence[BedLight] = (),
    neighbours: Sequence[NeighbourFinding] = (),
    crops: Mapping[str, Crop] | None = None,
    **options: Any,
) -> Placement:
    known = crops if crops is not None else {one.crop.name: one.crop for one in requests}
    return place(garden, requests, light, neighbours, known, **({"seed": 1, "effort": 4000} | options))
