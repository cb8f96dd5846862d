"""What is known of a crop, each value with its source."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Literal

from bedwright.model.book import Variety, Way
from bedwright.model.soil import Material
from bedwright.model.source import Source, Standing

CropKind = Literal["vegetable", "herb", "flower", "cover crop"]
FrostClass = Literal["hardy", "half-hardy", "tender", "very tender"]
LifeCycle = Literal["annual", "overwintering", "perennial"]
MaturityBasis = Literal["sowing", "setting out"]
Roots = Literal["tease", "leave undisturbed"]
StemDepth = Literal["bury to first leaves", "level with the cell", "crown level with the soil"]
SupportNeed = Literal["none", "cane", "netting", "trellis"]
PlantingStock = Literal["seed", "young plant", "tuber", "clove", "set", "slip", "crown", "runner"]
"""What goes into the ground; `buy` of garlic means cloves, not young plants."""
UNDERGROUND_STOCK: frozenset[PlantingStock] = frozenset({"tuber", "clove", "set"})
"""Stock that is set at a depth and comes up later, as seed does."""
Effect = Literal["beneficial", "harmful", "none-found"]
Grade = Literal["A", "B", "C"]


@dataclass(frozen=True, slots=True)
class Fact:
    """One sourced value of one crop; `low` equals `high` for a point."""

    quantity: str
    low: float | None
    high: float | None
    text: str
    """The value where it is a word; empty for a number."""
    unit: str
    source_id: str
    locator: str
    """Table, row or note that finds it in the source."""
    standing: Standing
    used: bool
    """True for the fact the engine uses; others of the same quantity stay listed."""
    reason: str = ""
    """Why it is used, or left, against the rule; empty where the rule decided."""


@dataclass(frozen=True, slots=True)
class GerminationPoint:
    """Response of seed to one constant soil temperature; None where not tabulated."""

    soil_temp_c: float
    days_to_emergence: float | None
    """None together with `germinates` False: little or no germination."""
    normal_seedlings_pct: float | None
    germinates: bool


@dataclass(frozen=True, slots=True)
class WaterFacts:
    """Coefficients for the soil-water balance, FAO-56 Tables 11, 12, 17, 22."""

    kc_ini: float
    kc_mid: float
    kc_end: float
    kcb_ini: float
    kcb_mid: float
    kcb_end: float
    depletion_fraction: float
    rooting_depth_m: float
    stage_days: tuple[float, float, float, float]
    """Initial, development, mid and late; one published regime of Table 11."""


@dataclass(frozen=True, slots=True)
class Crop:
    """A crop as the engine uses it; `facts` holds every value behind it with its source."""

    name: str
    latin_name: str
    plan_code: str
    """Three capitals for drawings, unique in the catalogue."""
    kind: CropKind
    family: str
    rotation_group: str
    life_cycle: LifeCycle
    ways: tuple[Way, ...]
    """First is the usual one."""
    in_row_spacing_m: float
    row_spacing_m: float
    """Between rows of a bed that is worked from its sides."""
    sow_depth_mm: float
    seeds_per_station: int
    """Seeds sown where one plant will stay (1 when sown singly)."""
    weeks_raised: float | None
    """Weeks from sowing under cover to setting out."""
    germination: tuple[GerminationPoint, ...]
    soil_temp_min_c: float
    soil_temp_max_c: float | None
    days_to_maturity_days: tuple[float, float]
    """Low and high."""
    maturity_basis: MaturityBasis
    harvest_span_days: float
    """From first to last pick of one planting, in good weather."""
    degree_day_base_c: float | None
    degree_days_to_maturity: float | None
    frost_class: FrostClass
    frost_kill_c: float
    """Air temperature at the plant that ends the crop, in plain leaf."""
    heat_limit_c: float | None
    """Daily maximum above which fruit set or quality fails; None where none is known."""
    height_m: float
    spread_m: float
    support: SupportNeed
    climbs: bool
    roots: Roots
    stem_depth: StemDepth
    soak_cell: bool
    yield_kg_per_m_row: float | None
    yield_kg_per_plant: float | None
    seeds_per_gram: float | None
    seed_life_years: float | None
    federal_germination_pct: float | None
    min_sun_h: float
    edible_parts: tuple[str, ...]
    poisonous_parts: tuple[str, ...]
    """Words for the card; empty where none is known, never a promise that there is none."""
    water: WaterFacts | None
    facts: tuple[Fact, ...]
    planting_stock: PlantingStock = "seed"

    @property
    def set_underground(self) -> bool:
        """True for tubers, cloves and sets: `sow_depth_mm` is then the depth they are set at."""
        return self.planting_stock in UNDERGROUND_STOCK

    def facts_of(self, quantity: str) -> tuple[Fact, ...]:
        """Every fact of a quantity, the used one first."""
        found = [fact for fact in self.facts if fact.quantity == quantity]
        return tuple(sorted(found, key=lambda fact: not fact.used))


@dataclass(frozen=True, slots=True)
class NeighbourFinding:
    """What is known of one crop beside another."""

    crop_a: str
    """The crop that gains or loses."""
    crop_b: str
    effect: Effect
    grade: Grade
    """A: replicated trials; B: one trial or partial; C: belief, or no trial found."""
    mechanism: str
    source_id: str
    note: str
    standing: Standing


@dataclass(frozen=True, slots=True)
class Catalogue:
    """All crops, findings about neighbours, and the sources they name."""

    version: str
    crops: Mapping[str, Crop]
    """By name, in alphabetical order."""
    neighbours: tuple[NeighbourFinding, ...]
    sources: Mapping[str, Source]
    materials: tuple[Material, ...] = ()
    """Composts, fertilisers, lime, sulphur and mulches, in alphabetical order."""


PACKET = "PACKET"
"""Source id of values printed on the seed packet."""


def with_packet(crop: Crop, variety: Variety) -> Crop:
    """The crop with what the packet states in place of the catalogue's values.

    Parameters
    ----------
    crop : Crop
        Crop of the catalogue.
    variety : Variety
        Variety with the packet's figures; None where it states nothing.

    Returns
    -------
    Crop
        Same crop; each stated figure is the used fact of its quantity, with standing
        `packet`, and the catalogue's facts stay listed unused. A packet's days to maturity
        are one figure, so low equals high; it counts them from the same day as the
        catalogue does, since packets seldom say.

    Source
    ------
    The packet, entered in the garden book (source id `PACKET`).
    """
    days = variety.days_to_maturity_days
    printed = (
        ("days_to_maturity", days, "days", crop.maturity_basis),
        ("in_row_spacing_cm", variety.in_row_spacing_cm, "cm", ""),
        ("bed_row_spacing_cm", variety.row_spacing_cm, "cm", ""),
        ("sow_depth_mm", variety.sow_depth_mm, "mm", ""),
        ("mature_height_cm", variety.height_cm, "cm", ""),
    )
    locator = f"packet of {variety.name}"
    stated = tuple(
        Fact(quantity, value, value, text, unit, PACKET, locator, "packet", used=True)
        for quantity, value, unit, text in printed
        if value is not None
    )
    overridden = {fact.quantity for fact in stated}
    kept = (replace(fact, used=False) if fact.quantity in overridden else fact for fact in crop.facts)
    depth_mm = variety.sow_depth_mm
    return replace(
        crop,
        days_to_maturity_days=crop.days_to_maturity_days if days is None else (days, days),
        in_row_spacing_m=_metres(variety.in_row_spacing_cm, crop.in_row_spacing_m),
        row_spacing_m=_metres(variety.row_spacing_cm, crop.row_spacing_m),
        sow_depth_mm=crop.sow_depth_mm if depth_mm is None else depth_mm,
        height_m=_metres(variety.height_cm, crop.height_m),
        facts=(*stated, *kept),
    )


def _metres(stated_cm: float | None, otherwise_m: float) -> float:
    return otherwise_m if stated_cm is None else stated_cm / 100
