"""Water: what the soil holds, what the season needs, what to do today."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Literal

from bedwright.model.book import Texture, WateringWay, Way
from bedwright.model.crop import Crop
from bedwright.model.source import Origin
from bedwright.model.weather import DateArray, FloatArray

WaterStage = Literal["seedbed", "settling in", "growing", "flowering and filling", "ripening"]
"""Seedbed: sown, not yet established. Settling in: set out, not yet established."""


@dataclass(frozen=True, slots=True)
class SoilWater:
    """What one soil type holds, FAO-56 Table 19."""

    texture: Texture
    field_capacity_m3_m3: float
    wilting_point_m3_m3: float
    readily_evaporable_mm: float
    """Lost from the wet surface before it looks dry."""
    total_evaporable_mm: float
    """Most that evaporation alone can take from the surface layer."""
    origins: tuple[Origin, ...]

    @property
    def available_mm_m(self) -> float:
        """Water between field capacity and wilting point per metre of soil."""
        return 1000 * (self.field_capacity_m3_m3 - self.wilting_point_m3_m3)


@dataclass(frozen=True, slots=True)
class WateringMethod:
    """How water is put on."""

    way: WateringWay
    wetted_share: float
    """Share of the ground that is wetted."""
    efficiency: float
    """Share of the water put on that reaches the roots."""
    under_leaves: bool
    """True where the wetted ground lies in the shade of the plants."""
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class WateredPatch:
    """Ground of one planting, as the water balance sees it."""

    code: str
    bed_code: str
    crop: Crop
    way: Way
    area_m2: float
    n_plants: int
    in_ground: date
    emerges: date | None
    first_pick: date
    last_pick: date
    soil: SoilWater
    soil_depth_m: float | None
    method: WateringMethod
    sun_share: float = 1.0
    """Hours of sun on the patch, as a share of those in the open."""
    mulch_cover_share: float = 0.0
    """Share of the ground under an organic mulch."""


@dataclass(frozen=True, slots=True)
class WaterSupply:
    """What the water comes out of."""

    tap_flow_l_min: float
    can_l: float = 10.0


@dataclass(frozen=True, slots=True, eq=False)
class DailyConditions:
    """Weather that drives the water balance, one entry for every day in a row.

    Arrays have shape (n_days,), or (n_days, n_years) for recorded seasons side by side.
    """

    dates: DateArray
    """datetime64[D], (n_days,); the planned season's calendar for recorded seasons."""
    rain_mm: FloatArray
    reference_et_mm: FloatArray
    wind_2m_m_s: FloatArray
    humidity_min_pct: FloatArray
    years: tuple[int, ...] = ()
    """Calendar year in which each recorded season starts; empty for a single run of days."""
    origins: tuple[Origin, ...] = ()

    @property
    def n_days(self) -> int:
        """Days from first to last."""
        return int(self.dates.size)


@dataclass(frozen=True, slots=True)
class WaterWeek:
    """Water one bed needs in one week, beyond rain."""

    start: date
    """Monday."""
    median_mm: float
    """Enough in 50 % of the recorded years, as a depth over the bed, after losses."""
    safe_mm: float
    """Enough in 80 % of them."""
    median_l: float
    safe_l: float
    safe_tap_min: float
    """Minutes of tap for `safe_l`."""


@dataclass(frozen=True, slots=True)
class BedWater:
    """Water one bed needs through the season."""

    bed_code: str
    planted_area_m2: float
    """Largest area under crop at one time."""
    weeks: tuple[WaterWeek, ...]
    season_median_l: float
    """Whole season, enough in 50 % of the recorded years; not the sum of the weeks."""
    season_safe_l: float
    n_years: int
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True, eq=False)
class SeasonWater:
    """Water the whole garden needs, bed by bed and day by day of the recorded seasons."""

    beds: tuple[BedWater, ...]
    """In the order of their codes."""
    weeks: tuple[WaterWeek, ...]
    """Of the whole garden; depths are over all ground under crop at its fullest."""
    conditions: DailyConditions
    daily_l: FloatArray
    """(n_days, n_years): water put on, losses included."""

    @property
    def busiest_week(self) -> WaterWeek:
        """The week with the most water needed, at 80 % of the years."""
        return max(self.weeks, key=lambda week: week.safe_l)


@dataclass(frozen=True, slots=True)
class TankSizing:
    """What a rain tank of one size would have covered."""

    tank_l: float
    roof_area_m2: float
    covered_share: float
    """Share of all water needed in the recorded seasons that the tank would have given."""
    covered_share_dry_year: float
    """The same in the year that is beaten by 80 % of years."""
    days_empty_per_season: float
    mean_tap_l: float
    """Still needed from the tap in a mean season."""
    mean_overflow_l: float
    n_years: int
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class RainReading:
    """One reading of the rain gauge: rain since the reading before, booked on a day."""

    day: date
    rain_mm: float
    line: int | None = None
    """Line of the log it was read from."""


@dataclass(frozen=True, slots=True)
class ForecastDay:
    """What a forecast says of one day."""

    day: date
    rain_mm: float
    reference_et_mm: float | None = None
    """None: the usual value of that day of the year."""


@dataclass(frozen=True, slots=True)
class Watering:
    """Water given to one patch."""

    day: date
    patch_code: str
    water_l: float


@dataclass(frozen=True, slots=True)
class PatchDue:
    """State of one patch on one morning, and what it wants."""

    patch_code: str
    bed_code: str
    crop: str
    stage: WaterStage
    due: bool
    water_l: float
    """To put on if it is watered today, losses included."""
    water_mm: float
    """The same as a depth over the patch."""
    depletion_mm: float
    """Water missing from the root zone."""
    readily_available_mm: float
    """Missing water at which growth begins to suffer."""
    next_due: date | None
    """First day it wants water if no rain comes; None within the days looked ahead."""
    next_due_if_rain: date | None
    """The same if the stated rain comes."""
    loss_pct: float
    """Yield lost if it gets nothing for the week to come and no rain falls."""
    priority: int
    """1 before all others."""
    why: str
    origins: tuple[Origin, ...]


@dataclass(frozen=True, slots=True)
class WateringDue:
    """What one bed wants today."""

    bed_code: str
    due: bool
    water_l: float
    tap_min: float
    n_cans: int
    next_due: date | None
    next_due_if_rain: date | None
    patches: tuple[PatchDue, ...]

    @property
    def priority(self) -> int:
        """Of its most urgent patch."""
        return min((patch.priority for patch in self.patches), default=99)


@dataclass(frozen=True, slots=True)
class WaterToday:
    """The morning's answer for the whole garden."""

    today: date
    beds: tuple[WateringDue, ...]
    """Due beds first, most urgent first."""
    total_l: float
    rain_if_mm: float
    """Rain assumed for `next_due_if_rain`."""
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShortShare:
    """What one bed gets when there is not enough for all."""

    patch_code: str
    bed_code: str
    wanted_l: float
    given_l: float
    loss_pct: float
    """Yield lost in the week to come by what it does not get."""
    why: str


@dataclass(frozen=True, slots=True)
class DutyVisit:
    """One watering of one bed on one day of a span when someone has to come."""

    day: date
    bed_code: str
    water_l: float
    tap_min: float
    n_cans: int
    why: str
