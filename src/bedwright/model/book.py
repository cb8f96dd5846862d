"""The garden book: everything the coordinator states about site, beds, people and wishes."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bedwright.model.ground import BedFrame, Outline, Point, Side, bed_frame

UnitSystem = Literal["metric", "us"]
PaperSize = Literal["a4", "letter"]
Way = Literal["sow", "raise", "buy"]
"""How a crop gets into the bed: sown in place, raised here from seed, bought as young plants."""

Texture = Literal[
    "sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt",
    "silty clay loam", "silty clay", "clay",
]  # fmt: skip
"""Soil types of FAO-56 Table 19, so that each has published water contents."""

SupportKind = Literal["trellis", "netting", "canes", "wall wires"]
WateringReach = Literal["hose", "can", "none"]
FeatureKind = Literal[
    "building", "wall", "fence", "hedge", "tree", "path", "tap", "utility",
    "water butt", "shed", "compost bay",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class StatedFrost:
    """Frost dates stated by hand, used only where there is no weather record.

    (month, day) pairs. The chance behind them is not known and is never invented.
    """

    last_spring: tuple[int, int]
    first_autumn: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Feature:
    """Something on the site that is not a bed: shown on the plan, and may cast shade."""

    code: str
    kind: FeatureKind
    name: str
    vertices_m: tuple[Point, ...]
    """One point (tap, tree), a line (fence, path, pipe) or a closed area (building)."""
    height_m: float = 0.0
    radius_m: float = 0.0
    """Crown radius of a tree, half-width of a hedge or path."""
    crown_base_m: float = 0.0
    leafless_months: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Site:
    """Where the garden is."""

    name: str
    latitude_deg: float
    longitude_deg: float
    elevation_m: float
    time_zone: str
    units: UnitSystem = "metric"
    paper: PaperSize = "a4"
    features: tuple[Feature, ...] = ()
    coordinator: str = ""
    """Name in the title block of drawings; may stay empty."""

    @property
    def southern(self) -> bool:
        """True south of the equator."""
        return self.latitude_deg < 0


@dataclass(frozen=True, slots=True)
class SoilTest:
    """A laboratory's figures for one bed; None where the report is silent."""

    sampled_on: date
    laboratory: str
    ph: float | None = None
    p_mg_kg: float | None = None
    k_mg_kg: float | None = None
    organic_matter_pct: float | None = None
    lead_mg_kg: float | None = None
    extraction: str = ""
    """Extraction method named on the report, such as "Mehlich-3"."""


@dataclass(frozen=True, slots=True)
class Support:
    """A lasting support along one side of a bed."""

    kind: SupportKind
    side: Side
    height_m: float


@dataclass(frozen=True, slots=True)
class Bed:
    """A piece of ground planted as one."""

    code: str
    name: str
    outline: Outline
    texture: Texture
    raised_m: float = 0.0
    """Height of the raised side; 0 for a bed level with the ground."""
    soil_depth_m: float | None = None
    """Depth roots can reach; None where nothing is known to limit it."""
    supports: tuple[Support, ...] = ()
    reach: tuple[Side, ...] = ("north", "east", "south", "west")
    watering_reach: WateringReach = "hose"
    sun_h: float | None = None
    """Hours of direct sun in June (December in the south) as observed; overrides the computed."""
    soil_test: SoilTest | None = None
    use: str = ""
    """Purpose, such as "school bed"; shown on papers, used in `beds` of wishes by code only."""

    @property
    def frame(self) -> BedFrame:
        """The bed's measuring frame."""
        return bed_frame(self.outline)


@dataclass(frozen=True, slots=True)
class History:
    """What stood in a bed in an earlier year."""

    bed_code: str
    year: int
    crops: tuple[str, ...]
    families: tuple[str, ...] = ()
    """Botanical families remembered without the crop, such as "Brassicaceae"."""


@dataclass(frozen=True, slots=True)
class Amount:
    """How much is wanted, in the one unit the coordinator chose."""

    value: float
    unit: Literal["plants", "row_m", "harvest_kg"]


@dataclass(frozen=True, slots=True)
class Variety:
    """A variety, with what its packet says where that differs from the crop's facts."""

    name: str
    days_to_maturity_days: float | None = None
    in_row_spacing_cm: float | None = None
    row_spacing_cm: float | None = None
    sow_depth_mm: float | None = None
    height_cm: float | None = None
    packet_seeds: int | None = None
    """Seeds in one packet as sold; None where it is not stated."""


@dataclass(frozen=True, slots=True)
class Wish:
    """One crop wanted this season."""

    code: str
    crop: str
    amount: Amount
    variety: Variety | None = None
    priority: int = 3
    way: Way | None = None
    """None: the crop's usual way."""
    only_beds: tuple[str, ...] = ()
    not_beds: tuple[str, ...] = ()
    harvest_from: date | None = None
    harvest_to: date | None = None
    successions: int | Literal["keep picking"] = 1
    note: str = ""


@dataclass(frozen=True, slots=True)
class NeighbourWish:
    """Two crops the coordinator wants beside each other, or apart; overrules the evidence."""

    crop_a: str
    crop_b: str
    wanted: bool
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Period:
    """A span of days with a name; both ends included."""

    name: str
    start: date
    end: date


@dataclass(frozen=True, slots=True)
class Goals:
    """What the season is for beyond the wishes."""

    teaching: str = ""
    donation_kg: float = 0.0
    donation_weekdays: tuple[int, ...] = ()
    """ISO weekdays on which food is given away, Monday = 1."""
    quiet_weeks: tuple[Period, ...] = ()


@dataclass(frozen=True, slots=True)
class HelpingHands:
    """Hours promised in a period by one person or group."""

    name: str
    hours_per_week: float
    start: date
    end: date
    paid: bool = False


@dataclass(frozen=True, slots=True)
class SeedLot:
    """One packet or tin in the seed drawer."""

    code: str
    crop: str
    variety: str
    packed_year: int
    mass_g: float | None = None
    count: int | None = None
    tested_sown: int | None = None
    tested_sprouted: int | None = None


@dataclass(frozen=True, slots=True)
class Stock:
    """A material on hand."""

    material: str
    quantity: float
    unit: Literal["L", "kg", "m", "pieces"]


@dataclass(frozen=True, slots=True)
class GardenBook:
    """One garden's book for one season: the whole input but the weather record."""

    site: Site
    season_start: date
    beds: tuple[Bed, ...]
    wishes: tuple[Wish, ...]
    weather_file: str | None = None
    """Path as written in the book, relative to the book's folder; None: no record."""
    stated_frost: StatedFrost | None = None
    frost_risk_pct: float = 10.0
    chance_wanted_pct: float = 80.0
    history: tuple[History, ...] = ()
    neighbours: tuple[NeighbourWish, ...] = ()
    goals: Goals = field(default_factory=Goals)
    people: tuple[HelpingHands, ...] = ()
    seed_drawer: tuple[SeedLot, ...] = ()
    stock: tuple[Stock, ...] = ()
    note: str = ""

    def bed(self, code: str) -> Bed:
        """The bed with a code; KeyError if there is none."""
        for bed in self.beds:
            if bed.code == code:
                return bed
        raise KeyError(code)
