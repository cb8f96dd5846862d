"""The vocabulary of the catalogue: each quantity once, with its unit, meaning and permitted values."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Take = Literal["middle", "low", "high", "both", "word"]
"""Which figure of a range the crop record carries."""

TEMPERATURES_C = (0, 5, 10, 15, 20, 25, 30, 35, 40)
"""Temperatures of the germination trials; published as 32, 41, 50 … 104 °F."""

NO_GERMINATION = "none"
"""Word in place of days to emergence where little or nothing came up."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """One quantity a fact can state."""

    name: str
    unit: str
    meaning: str
    low: float = 0.0
    """Lowest figure that is not a slip of the pen."""
    high: float = 0.0
    words: tuple[str, ...] = ()
    """Permitted words; empty for free text. Used only where `unit` is empty or `worded`."""
    required: bool = False
    """True where every crop must have one."""
    take: Take = "middle"
    worded: bool = False
    """True for a number that carries a word as well (its basis, or its parts)."""

    @property
    def is_word(self) -> bool:
        """True where the value is a word or list of words, not a number."""
        return self.take == "word"


def _word(name: str, meaning: str, *words: str, required: bool = True) -> Quantity:
    return Quantity(name, "", meaning, words=words, required=required, take="word")


def _germination() -> tuple[Quantity, ...]:
    days = [
        Quantity(
            f"days_to_emergence_at_{temp}c", "days", f"days from sowing to emergence in soil at {temp} °C",
            0.5, 250, (NO_GERMINATION,), worded=True,
        )
        for temp in TEMPERATURES_C
    ]  # fmt: skip
    shares = [
        Quantity(f"germination_pct_at_{temp}c", "percent", f"normal seedlings in soil at {temp} °C", 0, 100)
        for temp in TEMPERATURES_C
    ]
    return (*days, *shares)


_REMOVALS = tuple(
    Quantity(
        f"{nutrient}_removal_{per}", unit, f"{label} carried off with the harvest, {of}", 0, high
    )
    for nutrient, label in (("n", "nitrogen (N)"), ("p2o5", "phosphate (P2O5)"), ("k2o", "potash (K2O)"))
    for per, unit, of, high in (
        ("kg_per_ha", "kg/ha", "per area at the yield named in the locator", 600),
        ("kg_per_t", "kg/t fresh", "per tonne fresh", 40),
        ("kg_per_t_grain", "kg/t grain", "per tonne of grain", 60),
    )
)  # fmt: skip

_WATER = (
    Quantity("kc_ini", "-", "crop coefficient, initial stage", 0.1, 1.3),
    Quantity("kc_mid", "-", "crop coefficient, mid-season", 0.3, 1.4),
    Quantity("kc_end", "-", "crop coefficient, end of the late stage", 0.1, 1.3),
    Quantity("kcb_ini", "-", "basal crop coefficient, initial stage", 0.05, 1.2),
    Quantity("kcb_mid", "-", "basal crop coefficient, mid-season", 0.2, 1.3),
    Quantity("kcb_end", "-", "basal crop coefficient, end of the late stage", 0.05, 1.2),
    Quantity(
        "depletion_fraction_p", "-", "share of the available water that can be used before stress", 0.1, 0.8
    ),
    # FAO-56 Table 22 note: the smaller depth for planning irrigation, the larger for rain-fed modelling.
    Quantity("rooting_depth_m", "m", "greatest effective rooting depth", 0.1, 3, take="low"),
    Quantity(
        "stage_days",
        "days",
        "growing season, and its initial/development/mid/late stages",
        20,
        400,
        worded=True,
    ),
    Quantity("max_height_m", "m", "height that belongs with the crop coefficients", 0.05, 4),
)

_GROWTH = (
    Quantity(
        "days_to_maturity", "days", "days to the first picking",
        5, 800, ("sowing", "setting out"), required=True, take="both", worded=True,
    ),
    Quantity("harvest_span_days", "days", "first to last picking of one planting", 1, 250, required=True),
    Quantity("transplant_age_weeks", "weeks", "from sowing under cover to setting out", 1, 60),
    Quantity("plant_out_weeks_from_last_frost", "weeks", "out of doors, from the last spring frost", -10, 8),
    Quantity("gdd_base_c", "degC", "base of the degree days", 0, 20),
    Quantity("gdd_upper_c", "degC", "temperature above which degree days grow no more", 20, 45),
    Quantity("gdd_to_maturity_c", "degC day", "degree days to maturity above that base", 100, 4000),
    Quantity("germination_soil_temp_min_c", "degC", "coldest soil to sow in", -1, 25, required=True),
    Quantity("germination_soil_temp_max_c", "degC", "warmest soil to sow in", 15, 45),
    Quantity("germination_soil_temp_opt_c", "degC", "soil temperature of quickest germination", 5, 40),
    Quantity("germination_soil_temp_opt_range_c", "degC", "range of good germination", 0, 45, take="both"),
    _word("frost_tolerance", "frost class", "hardy", "half-hardy", "tender", "very tender"),
    Quantity("frost_kill_c", "degC", "air at the plant that ends the crop", -45, 5, required=True),
    Quantity("frost_survives_c", "degC", "air at the plant survived for a short time, hardened", -45, 5),
    Quantity("heat_limit_c", "degC", "daily maximum above which fruit set or quality fails", 20, 45),
    Quantity("night_heat_limit_c", "degC", "nightly minimum above which fruit set fails", 15, 35),
    Quantity("night_cold_limit_c", "degC", "nightly minimum below which fruit set fails", 0, 20),
    Quantity("monthly_temp_min_c", "degC", "lowest monthly mean for good growth", -5, 30),
    Quantity("monthly_temp_max_c", "degC", "highest monthly mean for good growth", 10, 40),
    Quantity("monthly_temp_opt_range_c", "degC", "best monthly means for growth", 0, 40, take="both"),
    Quantity("min_sun_hours", "h/day", "direct sun needed", 0, 14, required=True, take="low"),
)  # fmt: skip

_SPACE = (
    Quantity("in_row_spacing_cm", "cm", "between final plants of one row", 0.5, 250, required=True),
    Quantity(
        "bed_row_spacing_cm", "cm", "between rows of a bed worked from its sides", 1, 250, required=True
    ),
    Quantity("row_spacing_cm", "cm", "between rows of a plot walked between the rows", 5, 400),
    Quantity("equidistant_spacing_cm", "cm", "every way, in a bed weeded by hand only", 1, 250),
    Quantity("sow_depth_mm", "mm", "depth of seed", 0, 80),
    Quantity("planting_depth_mm", "mm", "depth of tubers, cloves, sets or crowns", 0, 300),
    Quantity("seeds_per_station", "seeds", "sown where one plant will stay", 1, 10, required=True),
    Quantity("seed_rate_broadcast_g_per_m2", "g/m2", "seed scattered over the whole area", 0.2, 60),
    Quantity("seed_rate_drilled_g_per_m2", "g/m2", "seed sown in drills, over the whole area", 0.2, 60),
    Quantity("mature_height_cm", "cm", "height of the standing crop as grown in gardens", 3, 500),
    Quantity("mature_spread_cm", "cm", "width of one plant as grown in gardens", 2, 400, required=True),
)

_HANDLING = (
    _word("botanical_family", "family"),
    _word("rotation_group", "rotation group"),
    _word("life_cycle", "how it is grown", "annual", "overwintering", "perennial"),
    _word("ways", "ways into the bed, the usual one first"),
    _word(
        "planting_stock", "what is set or sown",
        "seed", "young plant", "tuber", "clove", "set", "slip", "crown", "runner",
    ),
    _word("support", "support needed", "none", "cane", "netting", "trellis"),
    _word("climbs", "whether it climbs", "yes", "no"),
    _word("roots", "roots on planting day", "tease", "leave undisturbed"),
    _word(
        "stem_depth", "depth of the stem on planting day",
        "bury to first leaves", "level with the cell", "crown level with the soil",
    ),
    _word("soak_cell", "whether the cell is soaked before knocking out", "yes", "no"),
    _word("edible_parts", "parts eaten"),
    _word("poisonous_parts", "poisonous or irritating parts", required=False),
)  # fmt: skip

_YIELD_AND_SEED = (
    Quantity("yield_kg_per_m_row", "kg/m", "harvest of one metre of row", 0.02, 12),
    Quantity("yield_kg_per_plant", "kg/plant", "harvest of one plant", 0.005, 30),
    Quantity("seeds_per_gram", "1/g", "seeds in one gram", 0.2, 15000),
    Quantity("seed_viability_years", "years", "life of seed kept cool and dry", 0.5, 12),
    Quantity("federal_min_germination_pct", "percent", "least germination of vegetable seed on sale", 20, 95),
)

QUANTITIES: dict[str, Quantity] = {
    quantity.name: quantity
    for group in (_HANDLING, _SPACE, _GROWTH, _germination(), _YIELD_AND_SEED, _WATER, _REMOVALS)
    for quantity in group
}
"""Every quantity a row of `facts.csv` may state, by name, in the order a crop sheet lists them."""
