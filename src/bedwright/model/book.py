"""The garden book: everything the coordinator states about site, beds, people and wishes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bedwright.model.ground import BedFrame, Outline, Point, Side, bed_frame
from bedwright.model.safety import LeadRule, ManureSpread
from bedwright.model.source import Source
from bedwright.model.supplies import RaisingSpace, SupplierOffer

UnitSystem = Literal["metric", "us"]
PaperSize = Literal["a4", "letter"]
Way = Literal["sow", "raise", "buy"]
"""How a crop gets into the bed: sown in place, raised here from seed, bought as young plants."""

Layout = Literal["rows", "staggered"]
"""How plants of neighbouring rows stand: side by side, or each between two of the next row."""

Texture = Literal[
    "sand", "loamy sand", "sandy loam", "loam", "silt loam", "silt",
    "silty clay loam", "silty clay", "clay",
]  # fmt: skip
"""Soil types of FAO-56 Table 19, so that each has published water contents."""

SupportKind = Literal["trellis", "netting", "canes", "wall wires"]
WateringReach = Literal["hose", "can", "none"]
WateringWay = Literal["can", "hose", "sprinkler", "drip"]
FeatureKind = Literal[
    "building", "wall", "fence", "hedge", "tree", "path", "tap", "utility",
    "water butt", "shed", "compost bay",
]  # fmt: skip
Job = Literal[
    "prepare", "sow under cover", "raise", "harden off", "sow", "set out", "thin", "weed", "water",
    "mulch", "cover", "support with canes", "support along rows", "earth up", "side dress", "pick",
    "pick by ground", "picking visit", "cut down", "clear", "order",
]  # fmt: skip
"""Kinds of work whose minutes may be stated, as the labour table names them."""
JobUnit = Literal["m2", "plant", "row_m", "kg", "tray", "visit", "order"]
JOB_UNITS: Mapping[Job, JobUnit] = {
    "prepare": "m2",
    "sow under cover": "tray",
    "raise": "tray",
    "harden off": "tray",
    "sow": "row_m",
    "set out": "plant",
    "thin": "row_m",
    "weed": "m2",
    "water": "m2",
    "mulch": "m2",
    "cover": "m2",
    "support with canes": "plant",
    "support along rows": "row_m",
    "earth up": "row_m",
    "side dress": "row_m",
    "pick": "kg",
    "pick by ground": "m2",
    "picking visit": "visit",
    "cut down": "m2",
    "clear": "m2",
    "order": "order",
}
"""What the minutes of a job are stated for one of."""
WEEKLY_JOBS: frozenset[Job] = frozenset({"raise", "weed", "water"})
"""Jobs whose minutes are those of one week."""


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
    flow_l_min: float | None = None
    """What a tap gives, measured; None: not known."""
    volume_l: float | None = None
    """What a water butt holds; None: not known."""
    roof_m2: float | None = None
    """Roof that drains into a water butt, seen from above; None: not known."""


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
    slope_deg: float = 0.0
    """Angle of the ground to the level."""
    aspect_deg: float = 0.0
    """Compass bearing in which the ground falls; of no account on level ground."""

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
    lime_g_m2: float | None = None
    """Lime the laboratory itself recommends; 0 where it advises none, None where it is silent."""


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
    irrigation: WateringWay | None = None
    """How water is put on; None: by what reaches it."""
    mulch_planned: bool | None = None
    """Whether the bed is to be mulched this season; None: not stated."""
    children: bool = False
    """True where children work."""
    stepping_boards: bool = False
    """True where one can stand inside it, on boards or stepping stones, so that all of it is in reach."""

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
    layout: Layout = "rows"


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
class PlannedWorkday:
    """A day on which people are asked to come and work."""

    day: date
    name: str
    start_min: int
    """Whole minutes after midnight, local time of the garden."""
    duration_h: float
    n_people: int | None = None
    """People expected; None: not known."""


@dataclass(frozen=True, slots=True)
class StatedRate:
    """What one job takes here, as the coordinator states it; goes before the labour table.

    Minutes of one person for one unit of `JOB_UNITS`, of one week for `WEEKLY_JOBS`.
    """

    job: Job
    likely_min: float
    low_min: float | None = None
    """None together with `high_min`: no range was stated."""
    high_min: float | None = None


@dataclass(frozen=True, slots=True)
class WaterLimit:
    """The most water the garden can have in a week, in a period."""

    name: str
    """What limits it: a permit, a tank that is filled once a week, a meter."""
    week_l: float
    start: date
    end: date


@dataclass(frozen=True, slots=True)
class Propagation:
    """Room for raising plants under cover; None where it is not known."""

    bench_m2: float | None = None
    """Bench, windowsill or greenhouse staging."""
    lamp_m2: float | None = None
    """Shelf under lamps."""
    n_trays: int | None = None

    @property
    def space(self) -> RaisingSpace:
        """The limit that binds: the lesser of bench and lamps, and the number of trays."""
        areas = [area_m2 for area_m2 in (self.bench_m2, self.lamp_m2) if area_m2 is not None]
        return RaisingSpace(min(areas, default=None), self.n_trays)


@dataclass(frozen=True, slots=True)
class PackOffer:
    """One pack in a supplier's list."""

    item: str
    """Name of a crop, or of a material."""
    is_crop: bool
    pack_quantity: float
    unit: Literal["seeds", "plants", "g", "L", "m", "pieces"]
    """Plants stand for tubers, cloves and sets too."""
    price: float
    """Of one pack, in the supplier's currency."""
    variety: str = ""
    """Empty: any variety, or a material."""


@dataclass(frozen=True, slots=True)
class Supplier:
    """Someone who sells seed, plants or materials, and at which prices."""

    name: str
    currency: str
    """ISO 4217 code, such as GBP."""
    packs: tuple[PackOffer, ...]
    lead_days: int | None = None
    """From order to delivery; None: not known."""


BOOK_LEAD_RULE = "BOOK_LEAD_RULE"
"""Source id of a rule on lead entered in the garden book."""


@dataclass(frozen=True, slots=True)
class StatedLeadRule:
    """A rule on lead in soil that the coordinator has entered, newer or local."""

    authority: str
    issued: date
    screening_mg_kg: float
    source_text: str
    """Document and where it was read, as the coordinator states it."""
    several_sources_mg_kg: float | None = None
    removal_mg_kg: float | None = None

    @property
    def rule(self) -> LeadRule:
        """The rule as the safety stage takes it."""
        return LeadRule(
            id=f"{self.authority}, {self.issued.isoformat()}",
            authority=self.authority,
            issued=self.issued,
            screening_mg_kg=self.screening_mg_kg,
            several_sources_mg_kg=self.several_sources_mg_kg,
            removal_mg_kg=self.removal_mg_kg,
            source_id=BOOK_LEAD_RULE,
            entered=True,
        )

    @property
    def source(self) -> Source:
        """The source behind `rule`, for the list of sources."""
        return Source(BOOK_LEAD_RULE, self.source_text, "entered in the garden book")


@dataclass(frozen=True, slots=True)
class Pin:
    """What the coordinator has settled about one planting; None: left to the planner.

    Several pins of one planting name its several places.
    """

    planting_code: str
    """Code of the planting as asked for, or of one of its places (`tomato-1-b`)."""
    bed_code: str | None = None
    along_m: float | None = None
    """Where its ground starts along the baseline, to the nearest 5 cm; needs a bed."""
    in_ground: date | None = None
    """Day to sow in place or set out: one of the dates worked out for it."""
    n_plants: int | None = None


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
    can_l: float | None = None
    """What a watering can holds; None: not known."""
    manure: tuple[ManureSpread, ...] = ()
    workdays: tuple[PlannedWorkday, ...] = ()
    labour_rates: tuple[StatedRate, ...] = ()
    propagation: Propagation | None = None
    """None: nothing is known to limit it."""
    water_limits: tuple[WaterLimit, ...] = ()
    """Where several hold in a week, the least counts."""
    suppliers: tuple[Supplier, ...] = ()
    lead_rule: StatedLeadRule | None = None
    pins: tuple[Pin, ...] = ()
    leave_alone: tuple[str, ...] = ()
    """Codes of beds to which nothing is added and from which nothing is moved."""

    @property
    def offers(self) -> tuple[SupplierOffer, ...]:
        """Every pack of every supplier; materials by mass in kg, as stock and needs are."""
        return tuple(_offer(supplier, pack) for supplier in self.suppliers for pack in supplier.packs)

    @property
    def children_in(self) -> tuple[str, ...]:
        """Codes of beds where children work."""
        return tuple(bed.code for bed in self.beds if bed.children)

    def bed(self, code: str) -> Bed:
        """The bed with a code; KeyError if there is none."""
        for bed in self.beds:
            if bed.code == code:
                return bed
        raise KeyError(code)


def _offer(supplier: Supplier, pack: PackOffer) -> SupplierOffer:
    by_kg = pack.unit == "g" and not pack.is_crop
    return SupplierOffer(
        name=pack.item,
        variety=pack.variety,
        supplier=supplier.name,
        pack_quantity=pack.pack_quantity / 1000 if by_kg else pack.pack_quantity,
        unit="kg" if by_kg else pack.unit,
        price=pack.price,
        currency=supplier.currency,
        lead_days=supplier.lead_days,
    )
