"""Small plain records for tests: a tiny garden that can be checked by hand."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

from bedwright.model.book import (
    Amount,
    Bed,
    GardenBook,
    History,
    Site,
    StatedFrost,
    Support,
    Variety,
    Wish,
)
from bedwright.model.crop import Catalogue, Crop
from bedwright.model.ground import Rectangle

TINY_FAMILIES: Mapping[str, str] = {
    "bush bean": "Fabaceae",
    "cabbage": "Brassicaceae",
    "carrot": "Apiaceae",
    "lettuce": "Asteraceae",
    "onion": "Amaryllidaceae",
    "pea": "Fabaceae",
    "potato": "Solanaceae",
    "tomato": "Solanaceae",
}

TINY_TEXT = """\
site:
  name: Tiny garden
  latitude_deg: 52.3
  longitude_deg: -0.4
  elevation_m: 40
  time_zone: Europe/London
season:
  start: 2027-01-01
weather:
  stated_frost: {last_spring: 05-10, first_autumn: 10-05}
beds:
  - code: A
    name: First bed
    rectangle: {length_m: 4, width_m: 1.2, east_m: 0, north_m: 0, bearing_deg: 90}
    texture: loam
  - code: B
    name: Second bed
    rectangle: {length_m: 3, width_m: 0.75, east_m: 0, north_m: 3, bearing_deg: 90}
    texture: sandy loam
    supports: [{kind: trellis, side: north, height_m: 1.8}]
    reach: [south]
history:
  - {bed: A, year: 2026, crops: [onion]}
  - {bed: B, year: 2026, crops: [cabbage], families: [Asteraceae]}
wishes:
  - crop: carrot
    row_m: 6
    priority: 5
  - crop: tomato
    plants: 4
    variety: {name: Wall Garland, height_cm: 170}
    way: buy
    beds: {only: [B]}
  - crop: lettuce
    plants: 12
    successions: 3
"""
"""The same garden as `tiny_book()`, as a coordinator writes it."""


def tiny_crop(name: str = "carrot", family: str = "Apiaceae") -> Crop:
    """A crop with round invented numbers: 10 cm in rows 30 cm apart, 70 days, hardy."""
    return Crop(
        name=name,
        latin_name=f"{name} sp.",
        plan_code=name[:3].upper(),
        kind="vegetable",
        family=family,
        rotation_group=family,
        life_cycle="annual",
        ways=("sow", "raise", "buy"),
        in_row_spacing_m=0.10,
        row_spacing_m=0.30,
        sow_depth_mm=10.0,
        seeds_per_station=2,
        weeks_raised=5.0,
        germination=(),
        soil_temp_min_c=5.0,
        soil_temp_max_c=30.0,
        days_to_maturity_days=(60.0, 70.0),
        maturity_basis="sowing",
        harvest_span_days=21.0,
        degree_day_base_c=None,
        degree_days_to_maturity=None,
        frost_class="hardy",
        frost_kill_c=-5.0,
        heat_limit_c=None,
        height_m=0.40,
        spread_m=0.15,
        support="none",
        climbs=False,
        roots="tease",
        stem_depth="level with the cell",
        soak_cell=False,
        yield_kg_per_m_row=1.5,
        yield_kg_per_plant=None,
        seeds_per_gram=800.0,
        seed_life_years=3.0,
        federal_germination_pct=55.0,
        min_sun_h=4.0,
        edible_parts=("root",),
        poisonous_parts=(),
        water=None,
        facts=(),
    )


def tiny_catalogue(families: Mapping[str, str] = TINY_FAMILIES) -> Catalogue:
    """A catalogue of crops that differ in name and family alone."""
    crops = {name: tiny_crop(name, family) for name, family in sorted(families.items())}
    return Catalogue(version="tiny", crops=crops, neighbours=(), sources={})


def tiny_bed(code: str = "A", east_m: float = 0.0, north_m: float = 0.0) -> Bed:
    """A level bed of 4 m by 1.2 m whose baseline runs east from its peg."""
    return Bed(
        code=code,
        name="First bed",
        outline=Rectangle(length_m=4.0, width_m=1.2, east_m=east_m, north_m=north_m, bearing_deg=90.0),
        texture="loam",
    )


def tiny_book() -> GardenBook:
    """Two beds, three wishes, one year of history, frost dates by hand."""
    wall_bed = replace(
        tiny_bed("B"),
        name="Second bed",
        outline=Rectangle(length_m=3.0, width_m=0.75, east_m=0.0, north_m=3.0, bearing_deg=90.0),
        texture="sandy loam",
        supports=(Support("trellis", "north", 1.8),),
        reach=("south",),
    )
    return GardenBook(
        site=Site(
            name="Tiny garden",
            latitude_deg=52.3,
            longitude_deg=-0.4,
            elevation_m=40.0,
            time_zone="Europe/London",
        ),
        season_start=date(2027, 1, 1),
        beds=(tiny_bed("A"), wall_bed),
        wishes=(
            Wish("carrot-1", "carrot", Amount(6.0, "row_m"), priority=5),
            Wish(
                "tomato-1",
                "tomato",
                Amount(4.0, "plants"),
                variety=Variety("Wall Garland", height_cm=170.0),
                way="buy",
                only_beds=("B",),
            ),
            Wish("lettuce-1", "lettuce", Amount(12.0, "plants"), successions=3),
        ),
        stated_frost=StatedFrost(last_spring=(5, 10), first_autumn=(10, 5)),
        history=(
            History("A", 2026, ("onion",)),
            History("B", 2026, ("cabbage",), families=("Asteraceae",)),
        ),
    )
