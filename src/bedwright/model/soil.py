"""Soil reports, materials for the soil, and what each bed needs of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.model.source import Origin, Standing

Nutrient = Literal["N", "P2O5", "K2O"]
"""Nitrogen as element, phosphorus and potassium as oxides, as on every bag."""
NUTRIENTS: tuple[Nutrient, ...] = ("N", "P2O5", "K2O")

Analyte = Literal["pH", "P", "K", "Mg", "Ca", "Mn", "organic matter", "lead"]
Level = Literal["low", "medium", "optimum", "above"]
"""Low and medium are both below the optimum."""
MaterialKind = Literal["compost", "manure", "fertiliser", "lime", "sulphur", "mulch"]


@dataclass(frozen=True, slots=True)
class LabFigure:
    """One line of a laboratory's report, as printed."""

    name: str
    """As printed, such as "P", "P2O5", "Phosphorus", "pH", "Lead"."""
    value: float
    unit: str
    """As printed, such as "ppm", "lb/acre", "%"; empty for pH."""


@dataclass(frozen=True, slots=True)
class LabReading:
    """One figure in the units used here: mg/kg of the element, percent, or pH."""

    analyte: Analyte
    value: float
    unit: str
    as_printed: str
    rule: str
    """How the printed figure was converted; empty where it was not."""


@dataclass(frozen=True, slots=True)
class Reading:
    """Where one figure stands in a published table."""

    analyte: Analyte
    value: float
    unit: str
    class_word: str
    """The table's own word."""
    level: Level
    table: str
    """Name and date of the table."""
    origin: Origin


@dataclass(frozen=True, slots=True)
class NutrientNeed:
    """What a bed needs of one nutrient this year, and the most it may get."""

    nutrient: Nutrient
    need_g_m2: float
    cap_g_m2: float | None
    """None where nothing but the inch of compost a year limits it."""
    range_g_m2: tuple[float, float]
    """Lowest and highest figure of the sources."""
    why: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class AcidityNeed:
    """Lime or sulphur for one bed; a range where the sources differ."""

    material: Literal["lime", "sulphur", "nothing"]
    ph: float
    target_ph: float
    low_g_m2: float
    high_g_m2: float
    n_applications: int
    """To spread the lower figure over, as many months apart as `months_apart`."""
    months_apart: int
    text: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class MaterialFact:
    """One sourced value of a material."""

    quantity: str
    low: float
    high: float
    unit: str
    source_id: str
    locator: str
    standing: Standing
    used: bool = True


@dataclass(frozen=True, slots=True)
class Material:
    """Something spread on or dug into a bed. Ranges are (low, high), equal for a point."""

    name: str
    kind: MaterialKind
    also_called: tuple[str, ...] = ()
    n_pct: tuple[float, float] = (0.0, 0.0)
    p2o5_pct: tuple[float, float] = (0.0, 0.0)
    k2o_pct: tuple[float, float] = (0.0, 0.0)
    n_first_year_pct: tuple[float, float] = (100.0, 100.0)
    """Share of its nitrogen that plants can have in the first year."""
    bulk_density_kg_l: tuple[float, float] | None = None
    calcium_carbonate_pct: tuple[float, float] | None = None
    """Calcium carbonate equivalent of a liming material."""
    bioassay: bool = False
    """True where persistent herbicide may come with it."""
    facts: tuple[MaterialFact, ...] = ()

    def kg_per_l(self) -> float | None:
        """Middle of the bulk density."""
        return None if self.bulk_density_kg_l is None else sum(self.bulk_density_kg_l) / 2


@dataclass(frozen=True, slots=True)
class MaterialUse:
    """One material for one bed."""

    material: str
    mass_g: float
    """Two significant figures."""
    volume_l: float | None
    """Two significant figures; None where no bulk density is known."""
    cups: float | None
    """US cups, to the nearest quarter, below that by tablespoons (sixteenths of a cup); None for
    bulky materials or where not known."""
    from_stock: bool
    text: str


@dataclass(frozen=True, slots=True)
class Supplied:
    """Of one nutrient, what the materials of a bed give this year."""

    nutrient: Nutrient
    need_g_m2: float
    cap_g_m2: float | None
    low_g_m2: float
    middle_g_m2: float
    high_g_m2: float
    short_g_m2: float
    """What is missing from the need by the middle figure, after rounding; 0 if none."""


@dataclass(frozen=True, slots=True)
class BedFeeding:
    """What to spread on one bed this season."""

    bed_code: str
    area_m2: float
    tested: bool
    needs: tuple[NutrientNeed, ...]
    acidity: AcidityNeed | None
    uses: tuple[MaterialUse, ...]
    supplied: tuple[Supplied, ...]
    cost: float | None
    """What has to be bought, in the currency of the prices; None where no prices are stated."""
    notes: tuple[str, ...]
    origins: tuple[Origin, ...]
    composts: tuple[CompostNeed, ...] = ()
    """Bulky materials among `uses`, in every measure they are fetched in."""
    releases: tuple[Release, ...] = ()
    """Nitrogen of those, let go year by year."""


@dataclass(frozen=True, slots=True)
class CompostNeed:
    """Volume of a layer, in every measure it is fetched in."""

    material: str
    area_m2: float
    depth_mm: float
    """After settling."""
    settling_share: float
    volume_l: float
    """Loose, as fetched, with settling allowed for; two significant figures."""
    n_barrows: int
    barrow_l: float
    n_bags: int
    bag_l: float
    delivery_m3: float
    """Rounded up to the half cubic metre; 0.1 m³ below half a cubic metre."""
    delivery_yd3: float
    """Rounded up to the half cubic yard; 0.1 yd³ below half a cubic yard."""
    mass_kg: tuple[float, float] | None
    text: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class HoleCompost:
    """Compost put into the planting holes of one planting, in place of a layer."""

    planting_code: str
    bed_code: str
    n_holes: int
    hole_l: float
    volume_l: float
    """Two significant figures."""


@dataclass(frozen=True, slots=True)
class Release:
    """Nutrients let go in one year."""

    nutrient: Nutrient
    year: int
    """1 is the year of spreading."""
    low_g: float
    high_g: float
    origin: Origin


@dataclass(frozen=True, slots=True)
class SideDressing:
    """One feed along the row while the crop grows."""

    planting_code: str
    bed_code: str
    crop: str
    ordinal: int
    opens: date
    closes: date
    when: str
    """The sign to wait for, in words."""
    n_g_per_m_row: tuple[float, float]
    """Nitrogen, low and high of the sources."""
    material: str
    material_g_per_m_row: float
    """Two significant figures, for the lower nitrogen rate."""
    row_m: float
    total_g: float
    text: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class MulchNeed:
    """Leaf mulch round one planting, and when it may go on."""

    planting_code: str
    bed_code: str
    area_m2: float
    depth_mm: tuple[float, float]
    volume_l: tuple[float, float]
    """Shredded, low and high depth; two significant figures."""
    n_sacks_whole_leaves: tuple[int, int]
    sack_l: float
    not_before: date
    text: str
    origins: tuple[Origin, ...]
