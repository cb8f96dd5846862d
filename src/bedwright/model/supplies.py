"""What a season uses up, what is on hand, and what is bought from whom."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.model.source import Origin

SupplyUnit = Literal["seeds", "g", "kg", "L", "m", "pieces", "plants"]
SupplyKind = Literal["seed", "plants", "material"]


@dataclass(frozen=True, slots=True)
class TrayKind:
    """A tray with cells for raising plants."""

    cells: int
    cell_ml: float
    """Potting mix one cell holds."""
    length_m: float
    width_m: float
    origins: tuple[Origin, ...]

    @property
    def bench_m2(self) -> float:
        """Bench one tray covers."""
        return self.length_m * self.width_m

    @property
    def mix_l(self) -> float:
        """Potting mix a full tray takes."""
        return self.cells * self.cell_ml / 1000


@dataclass(frozen=True, slots=True)
class TrayNeed:
    """Trays of one planting raised under cover."""

    planting_code: str
    crop: str
    variety: str
    n_plants: int
    """To be set out."""
    n_cells: int
    """One seed each, spare and germination allowed for."""
    cells_per_tray: int
    n_trays: int
    mix_l: float
    bench_m2: float
    sown: date
    leaves: date
    """Day it is set out: the bench is free again."""
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class TrayUse:
    """Trays that plants of one crop and variety take while they are raised here."""

    cells_per_plant: float
    """Spare and germination allowed for."""
    cells_per_tray: int

    def n_trays(self, n_plants: int) -> int:
        """Trays for so many plants to be set out; a tray begun takes the room of a whole one."""
        # What is meant to be whole may come out a hair above it.
        n_cells = math.ceil(n_plants * self.cells_per_plant - 1e-6)
        return math.ceil(n_cells / self.cells_per_tray - 1e-9)


@dataclass(frozen=True, slots=True)
class RaisingSpace:
    """The most there is room for; None where nothing limits it."""

    bench_m2: float | None = None
    """Bench, windowsill or shelf under lamps, whichever is less."""
    trays: int | None = None


@dataclass(frozen=True, slots=True)
class RaisingWeek:
    """Room for raising plants in one week."""

    week: date
    """Monday."""
    trays: int
    """In use on the fullest day."""
    cells: int
    bench_m2: float
    mix_l: float
    """Potting mix for the trays sown in this week."""
    planting_codes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WeekOverLimit:
    """A week in which there is not room for the trays planned."""

    week: date
    trays: int
    bench_m2: float
    over_trays: int
    over_bench_m2: float
    planting_codes: tuple[str, ...]
    """Those under cover in that week, the largest first."""
    text: str


@dataclass(frozen=True, slots=True)
class SupplyLine:
    """One thing the season takes: how much, from stock, to buy."""

    kind: SupplyKind
    name: str
    """Crop or material."""
    variety: str
    unit: SupplyUnit
    needed: float
    needed_low: float
    needed_high: float
    from_stock: float
    to_buy: float
    first_needed: date
    order_by: date
    planting_codes: tuple[str, ...]
    origins: tuple[Origin, ...]
    notes: tuple[str, ...] = ()
    reused: bool = False
    """True where the most in use on one day counts, not the sum of all uses."""


@dataclass(frozen=True, slots=True)
class SupplierOffer:
    """One pack as one supplier sells it; everything as stated by the coordinator."""

    name: str
    """Crop or material."""
    variety: str
    """Empty: any variety, or a material."""
    supplier: str
    pack_quantity: float
    unit: SupplyUnit
    price: float
    """Of one pack."""
    currency: str
    """ISO 4217 code, such as GBP."""
    lead_days: int | None = None
    """From order to delivery; None: the usual allowance."""


@dataclass(frozen=True, slots=True)
class PackCount:
    """Packs of one size."""

    pack_quantity: float
    price: float
    count: int


@dataclass(frozen=True, slots=True)
class PackChoice:
    """Packs of one supplier that cover a need at least cost."""

    supplier: str
    unit: SupplyUnit
    currency: str
    packs: tuple[PackCount, ...]
    """Largest first."""
    cost: float
    quantity: float
    surplus: float
    lead_days: int | None


@dataclass(frozen=True, slots=True)
class Purchase:
    """One line to order, with the packs chosen."""

    line: SupplyLine
    choice: PackChoice | None
    """None: no offer is stated for it."""
    order_by: date
    others: tuple[PackChoice, ...] = ()
    """What the other suppliers would cost, cheapest first."""


@dataclass(frozen=True, slots=True)
class SupplierOrder:
    """Everything bought from one supplier in one currency."""

    supplier: str
    currency: str
    purchases: tuple[Purchase, ...]
    total: float
    order_by: date
    """Earliest of its lines."""


@dataclass(frozen=True, slots=True)
class Supplies:
    """Everything a season takes."""

    trays: tuple[TrayNeed, ...]
    raising: tuple[RaisingWeek, ...]
    over_limit: tuple[WeekOverLimit, ...]
    lines: tuple[SupplyLine, ...]
    """Earliest order first."""
    orders: tuple[SupplierOrder, ...]
    no_offer: tuple[SupplyLine, ...]
    """To buy, and no supplier stated."""
    notes: tuple[str, ...]
