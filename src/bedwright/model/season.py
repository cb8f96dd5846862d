"""When each planting can go in, where it goes, and the whole season plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Literal

from bedwright.model.book import Amount, GardenBook, Layout, Way
from bedwright.model.care import Care
from bedwright.model.changes import Alternative, Change
from bedwright.model.crop import Crop
from bedwright.model.source import Origin, Source

FailureCause = Literal["killing frost", "heat", "season too short", "soil too cold", "soil too hot"]
RowDirection = Literal["along", "across"]


@dataclass(frozen=True, slots=True)
class DateChoice:
    """One possible date for one planting, and what the recorded years say of it.

    Dates are medians over the recorded years in which the planting succeeded; the early
    and late picks are the 20th and 80th percentiles.
    """

    sow_under_cover: date | None
    harden_off_from: date | None
    in_ground: date
    """Sowing in place, or setting out."""
    emerges: date | None
    """Seedlings through, for sowings in place."""
    first_pick: date
    first_pick_early: date
    first_pick_late: date
    last_pick: date
    clear_by: date
    """Ground is free from the day after."""
    chance: float | None
    """Share of recorded years in which it would have worked; None: not known."""
    n_years: int
    failures: tuple[tuple[FailureCause, float], ...]
    """Share of all recorded years lost to each cause, largest first."""
    ground_frost_share: float | None = None
    """Share of recorded years in which low plants may still freeze on a clear night after it;
    None where the crop does not mind, or there is no record."""
    cover_until: date | None = None
    """Until when to have covers ready; None where a ground frost is rare by then."""


@dataclass(frozen=True, slots=True)
class PlantingRequest:
    """One planting wanted: a wish, or one succession of it, with its possible dates."""

    code: str
    """Wish code, with `/2`, `/3`… for later successions; stable while the wish stands."""
    wish_code: str
    crop: Crop
    """The crop with the packet's values in place of the catalogue's where stated."""
    variety: str
    way: Way
    amount: Amount
    n_plants: int
    """Final plants wanted, after turning metres or kilograms into plants."""
    priority: int
    only_beds: tuple[str, ...]
    not_beds: tuple[str, ...]
    choices: tuple[DateChoice, ...]
    """Allowed dates, earliest first; empty if there is no window here."""
    best: int | None
    """Index of the date to prefer; None if there is none."""
    no_window_reason: str = ""
    origins: tuple[Origin, ...] = ()
    layout: Layout = "rows"


@dataclass(frozen=True, slots=True)
class Row:
    """One row of plants in a bed's frame."""

    code: str
    """Bed code + row number, such as `C4`: the same on plan, sheet and peg."""
    start_m: tuple[float, float]
    """(along_m, across_m) of the first plant."""
    end_m: tuple[float, float]
    """Of the last plant; equal to `start_m` for a single plant."""
    n_plants: int
    spacing_m: float
    """Between neighbouring plants of this row; 0 for a single plant."""


@dataclass(frozen=True, slots=True)
class Reason:
    """One named term in the choice of a place or date, in plain words."""

    term: str
    text: str
    """Whole sentence with numbers and units."""
    gain: float
    """What it adds to (or takes from) the value of the plan; 0 for a plain statement."""
    source_ids: tuple[str, ...] = ()


def row_stem(bed_code: str) -> str:
    """What comes before the numbers of a bed's rows: `C` for C4, `B12-` for B12-4."""
    return f"{bed_code}-" if bed_code[-1:].isdigit() else bed_code


@dataclass(frozen=True, slots=True)
class Planting:
    """One planting with its place and dates."""

    code: str
    wish_code: str
    crop: Crop
    variety: str
    way: Way
    bed_code: str
    along_m: tuple[float, float]
    """Ground taken along the baseline, from and to."""
    across_m: tuple[float, float]
    """Ground taken across it, from and to."""
    direction: RowDirection
    """Rows run along the baseline, or square to it."""
    rows: tuple[Row, ...]
    dates: DateChoice
    reasons: tuple[Reason, ...]
    origins: tuple[Origin, ...]
    request_code: str = ""
    """Code of the request it meets; differs from `code` for the second and later patches."""
    alternatives: tuple[Alternative, ...] = ()
    """Best place in another bed and best other date, where there is free ground for them."""

    @property
    def n_plants(self) -> int:
        """Plants drawn, all rows."""
        return sum(row.n_plants for row in self.rows)

    @property
    def label_code(self) -> str:
        """Code of the first row, which names the planting on plan and peg."""
        return self.rows[0].code


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A wish that could not be met in full: how much of it, why, and what would have to give."""

    wish_code: str
    planting_code: str
    crop: str
    wanted_plants: int
    placed_plants: int
    missing_row_m: float
    """Metres of row that found no ground."""
    missing_weeks: float
    """Weeks that ground would have been needed for."""
    why: str
    """Plain sentence."""
    would_help: tuple[str, ...] = ()
    """What would have to give, one sentence each, in metres, weeks or hours."""


@dataclass(frozen=True, slots=True)
class Task:
    """One job on one day or within a span of days."""

    code: str
    """Stable across re-plans: planting code + kind + ordinal."""
    kind: str
    """prepare, sow under cover, harden off, sow, set out, thin, mulch, pick, clear, order…"""
    start: date
    end: date
    bed_code: str | None
    planting_code: str | None
    title: str
    details: str
    source_ids: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DrawerUse:
    """Seeds taken from one lot of the drawer."""

    lot_code: str
    n_seeds: int
    germination_pct: float
    germination_low_pct: float
    germination_high_pct: float
    basis: str
    """Own test, federal standard…, in words."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """Seed or plants needed for one crop and variety, and what is left to buy."""

    crop: str
    variety: str
    way: Way
    planting_codes: tuple[str, ...]
    n_plants: int
    n_seeds_needed: int
    spare_share: float
    from_drawer: tuple[DrawerUse, ...]
    n_seeds_to_buy: int
    mass_to_buy_g: float | None
    n_plants_to_buy: int
    order_by: date
    """Latest day to order, so that it is here when first needed."""
    origins: tuple[Origin, ...]
    packet_seeds: int | None = None
    """Seeds in one packet as stated in the book; None where it is not stated."""
    n_packets_to_buy: int | None = None
    bought_as: str = "seeds"
    """What is bought, in the plural: seeds, young plants, tubers, cloves…"""


@dataclass(frozen=True, slots=True)
class FrostQuantile:
    """Day by which (spring) or from which (autumn) frost falls at a stated chance."""

    chance_pct: int
    day: date | None
    """In the planned season's calendar; None if that chance is not reached."""


@dataclass(frozen=True, slots=True)
class FrostTable:
    """Last spring or first autumn day at or below a threshold.

    Spring: the chance that a frost comes later than `day`. Autumn: the chance that one
    has come before or on `day`. Years without such a frost count as years.
    """

    season: Literal["spring", "autumn"]
    threshold_c: float
    at_plant_height: bool
    """False: shelter temperature; True: less the ground-frost allowance."""
    quantiles: tuple[FrostQuantile, ...]
    n_years: int
    n_years_without: int


@dataclass(frozen=True, slots=True)
class MonthClimate:
    """Mean weather of one calendar month."""

    month: int
    tmin_c: float
    tmax_c: float
    rain_mm: float
    soil_temp_c: float
    reference_et_mm: float
    """Sum of the month."""
    degree_days_10c: float


@dataclass(frozen=True, slots=True)
class Climate:
    """The climate of the site as the papers show it."""

    station: str
    provenance: str
    invented: bool
    first_day: date
    last_day: date
    n_years: int
    confidence: str
    """Plain words on what the number of years allows."""
    frost: tuple[FrostTable, ...]
    frost_free_days: Mapping[int, int]
    """Length of the season between 0 °C frosts reached with a chance of 10, 20, 50, 80, 90 %."""
    months: tuple[MonthClimate, ...]
    ground_frost_allowance_c: float
    ground_frost_basis: str
    reference_et_method: str
    """Method in words, with its known bias."""
    n_filled: int
    """Missing values filled by the stated rule."""
    n_flagged_dropped: int
    notes: tuple[str, ...]
    source_ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class BedSun:
    """Mean hours of direct sun a day over a bed, January to December, clear sky."""

    bed_code: str
    month_h: tuple[float, ...]
    observed: bool


@dataclass(frozen=True, slots=True)
class BedDaylight:
    """Daily light on a bed, sun and sky together: photons of 400 to 700 nm, January to December.

    Direct sun is shaded by what stands on the site and the sky seen past it; no crops.
    """

    bed_code: str
    clear_mol_m2: tuple[float, ...]
    """Under a clear sky. [mol/m²/day]"""
    average_mol_m2: tuple[float, ...]
    """Under the sky of the weather record; empty where there is none. [mol/m²/day]"""


@dataclass(frozen=True, slots=True)
class PlantingLight:
    """Light on the ground of one planting over its own weeks, from going in to being cleared."""

    planting_code: str
    sun_h: float
    """Direct sun under a clear sky at its own height, past what stands on the site. [h/day]"""
    crop_shade_h: float
    """What taller crops take of it, at their heights week by week. [h/day]"""
    clear_mol_m2: float
    """Daily light as in `BedDaylight`, on its own ground. [mol/m²/day]"""
    average_mol_m2: float | None
    """None where there is no weather record. [mol/m²/day]"""


@dataclass(frozen=True, slots=True)
class SeasonPlan:
    """The whole answer: what goes where and when, with reasons, orders, tasks and sources."""

    schema_version: int
    revision: str
    """Short digest of book, record, catalogue and seed: the same inputs give the same one."""
    made_on: date
    seed: int
    book: GardenBook
    climate: Climate | None
    sun: tuple[BedSun, ...]
    plantings: tuple[Planting, ...]
    shortfalls: tuple[Shortfall, ...]
    tasks: tuple[Task, ...]
    orders: tuple[OrderLine, ...]
    warnings: tuple[str, ...]
    sources: Mapping[str, Source] = field(default_factory=dict)
    value: float | None = None
    """Points of the plan's places and dates; None where they were not reckoned."""
    bound: float | None = None
    """Points that no plan for the same book can exceed; None where it was not worked out."""
    care: Care | None = None
    """What the planted season asks for; None in a plan that stops at places and dates."""
    happened: tuple[str, ...] = ()
    """What the plan was made again for, one sentence each; empty in a first plan."""
    changes: tuple[Change, ...] = ()
    """What differs from the plan before; empty in a first plan."""
    daylight: tuple[BedDaylight, ...] = ()
    """In the order of the beds."""
    planting_light: tuple[PlantingLight, ...] = ()
    """In the order of the plantings."""

    def is_of(self, book: GardenBook) -> bool:
        """Whether a garden book is of this plan's season: both begin in the same year."""
        return self.book.season_start.year == book.season_start.year

    def in_bed(self, bed_code: str) -> tuple[Planting, ...]:
        """Plantings of a bed in order of going in, then of place."""
        found = [planting for planting in self.plantings if planting.bed_code == bed_code]
        return tuple(sorted(found, key=lambda p: (p.dates.in_ground, p.along_m, p.across_m)))
