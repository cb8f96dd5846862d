"""How much of a seed lot comes up, and how sure that is."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bedwright.model.book import SeedLot
from bedwright.model.crop import Crop

Z_95 = 1.959963984540054
"""Two-sided 95 % point of the normal distribution."""

ASSUMED_PCT = 70.0
"""Where neither an own test nor a federal standard exists: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Germination:
    """Share of seeds expected to come up, with its range and what it rests on."""

    pct: float
    low_pct: float
    high_pct: float
    basis: str
    source_ids: tuple[str, ...]


def wilson_interval_pct(n_sprouted: int, n_sown: int) -> tuple[float, float]:
    """Range in which the true share lies with 95 % confidence, low and high [percent].

    Parameters
    ----------
    n_sprouted, n_sown : int
        Counts of the test; 0 <= n_sprouted <= n_sown, n_sown > 0.

    Source
    ------
    Wilson, E.B. (1927) Probable inference, the law of succession, and statistical
    inference. J. American Statistical Association 22:209-212 (from memory).

    Raises
    ------
    ValueError
        If the counts are impossible.
    """
    if n_sown <= 0 or not 0 <= n_sprouted <= n_sown:
        raise ValueError(f"a test of {n_sown} seeds cannot have {n_sprouted} sprouted")
    share = n_sprouted / n_sown
    spread = Z_95**2 / n_sown
    centre = (share + spread / 2) / (1 + spread)
    half = math.sqrt(share * (1 - share) * spread + spread**2 / 4) / (1 + spread)
    return 100 * max(centre - half, 0.0), 100 * min(centre + half, 1.0)


def germination_of_lot(lot: SeedLot, crop: Crop, season_year: int) -> Germination | None:
    """What one lot of the drawer promises, or None if it must be tested first.

    An own test goes before anything else. Without one, a lot within its crop's seed life
    counts with the standard for new seed; a lot past it, or of a crop whose seed life is
    not known, promises nothing.
    """
    if lot.tested_sown:
        sprouted = lot.tested_sprouted or 0
        low_pct, high_pct = wilson_interval_pct(sprouted, lot.tested_sown)
        pct = 100 * sprouted / lot.tested_sown
        basis = f"own test: {sprouted} of {lot.tested_sown} came up"
        return Germination(pct, low_pct, high_pct, basis, ())
    age_years = season_year - lot.packed_year
    if crop.seed_life_years is None or age_years > crop.seed_life_years:
        return None
    new = germination_of_new_seed(crop)
    basis = f"{new.basis}; {age_years} of about {crop.seed_life_years:g} years old, not tested"
    return Germination(new.pct, new.low_pct, new.high_pct, basis, new.source_ids)


def germination_of_new_seed(crop: Crop) -> Germination:
    """What seed bought this season promises.

    The federal standard is the least a seller may sell unmarked, so bought seed lies
    between it and all seeds.
    """
    if crop.federal_germination_pct is not None:
        used = [fact for fact in crop.facts_of("federal_min_germination_pct") if fact.used]
        sources = tuple(fact.source_id for fact in used)
        pct = crop.federal_germination_pct
        return Germination(pct, pct, 100.0, f"legal minimum {pct:g} %", sources)
    return Germination(ASSUMED_PCT, 40.0, 95.0, f"assumed {ASSUMED_PCT:g} %, no standard: first guess", ())
