"""From rows to crop records: the used fact of each quantity becomes a field."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from typing import cast

from bedwright.catalogue.choice import RANKS, Candidate, chosen
from bedwright.catalogue.quantities import NO_GERMINATION, QUANTITIES, TEMPERATURES_C
from bedwright.catalogue.rows import FactRow, NameRow
from bedwright.model.book import Way
from bedwright.model.crop import (
    Crop,
    Fact,
    FrostClass,
    GerminationPoint,
    LifeCycle,
    MaturityBasis,
    PlantingStock,
    Roots,
    StemDepth,
    SupportNeed,
    WaterFacts,
)
from bedwright.model.problem import Problem
from bedwright.model.source import PUBLISHED

_WATER = (
    "kc_ini", "kc_mid", "kc_end", "kcb_ini", "kcb_mid", "kcb_end",
    "depletion_fraction_p", "rooting_depth_m", "stage_days",
)  # fmt: skip
_EITHER = (("sow_depth_mm", "planting_depth_mm"), ("mature_height_cm", "max_height_m"))
"""Pairs of which a crop needs at least one."""


def facts_by_crop(rows: Iterable[FactRow], ranks: Mapping[str, int]) -> dict[str, tuple[Fact, ...]]:
    """Facts of each crop in the order of the vocabulary, at most one of each quantity used."""
    grouped: dict[str, dict[str, list[FactRow]]] = defaultdict(lambda: defaultdict(list))
    for row in rows:
        grouped[row.crop][row.quantity.name].append(row)
    return {
        crop: tuple(
            fact
            for name in QUANTITIES
            if name in quantities
            for fact in _facts_of_quantity(quantities[name], ranks)
        )
        for crop, quantities in grouped.items()
    }


def _facts_of_quantity(rows: list[FactRow], ranks: Mapping[str, int]) -> list[Fact]:
    used = chosen(
        [
            Candidate(r.low, r.high, r.text, r.standing, ranks[r.source_id], r.source_id, r.decision)
            for r in rows
        ]
    )
    return [
        Fact(
            row.quantity.name, row.low, row.high, row.text, row.quantity.unit,
            row.source_id, row.locator, row.standing, used=index == used, reason=row.reason,
        )
        for index, row in enumerate(rows)
    ]  # fmt: skip


def decision_faults(rows: Iterable[FactRow]) -> list[Problem]:
    """Faults of rows marked to be used where another row of the quantity is marked too."""
    marked: dict[tuple[str, str], int] = {}
    faults: list[Problem] = []
    for row in rows:
        if row.decision == "use":
            first = marked.setdefault((row.crop, row.quantity.name), row.line)
            if first != row.line:
                faults.append(
                    Problem(
                        "facts.csv", row.line, 10, "decision", "'use'",
                        f"one row at most to use of {row.crop}, {row.quantity.name}",
                        f"Line {first} is marked too.",
                    )
                )  # fmt: skip
    return faults


def standing_faults(rows: Iterable[FactRow], ranks: Mapping[str, int]) -> list[Problem]:
    """Faults of rows that claim a publication without one, or disown the one they name."""
    unpublished = max(RANKS)
    return [
        Problem(
            "facts.csv", row.line, 9, "standing", repr(row.standing),
            "practice or memory" if ranks[row.source_id] == unpublished else "read, weak or derived",
            f"Source {row.source_id} has rank {ranks[row.source_id]}.",
        )
        for row in rows
        if (row.standing in PUBLISHED) != (ranks[row.source_id] != unpublished)
    ]  # fmt: skip


def missing_faults(name: NameRow, facts: tuple[Fact, ...]) -> list[Problem]:
    """One fault for each required quantity that a crop has no usable row of."""
    present = {fact.quantity for fact in facts if fact.used}
    missing = [q.name for q in QUANTITIES.values() if q.required and q.name not in present]
    missing += [" or ".join(pair) for pair in _EITHER if not present & set(pair)]
    some_water = present & set(_WATER[:6])
    if some_water and not present.issuperset(_WATER):
        missing += [quantity for quantity in _WATER if quantity not in present]
    raised = any(
        fact.used and fact.quantity == "ways" and "raise" in fact.text.split() for fact in facts
    )  # fmt: skip
    if raised and "transplant_age_weeks" not in present:
        missing.append("transplant_age_weeks")
    return [
        Problem(
            "crops.csv", name.line, 1, f"{name.name}.{quantity}", "nothing", "a usable row in facts.csv",
            "A value without a publication is marked memory or practice.",
        )
        for quantity in missing
    ]  # fmt: skip


class _Used:
    """The used facts of one crop, by quantity."""

    def __init__(self, facts: tuple[Fact, ...]) -> None:
        self._facts = {fact.quantity: fact for fact in facts if fact.used}

    def number(self, name: str) -> float | None:
        """The figure the crop record carries: middle, low or high of the range."""
        fact = self._facts.get(name)
        if fact is None or fact.low is None or fact.high is None:
            return None
        take = QUANTITIES[name].take
        if take == "low":
            return fact.low
        middle = (fact.low + fact.high) / 2
        # Rounded so that the middle of 0.4 and 0.8 reads 0.6 on every paper.
        return fact.high if take == "high" else float(f"{middle:.6g}")

    def need(self, name: str) -> float:
        """As `number`, for a quantity every crop has."""
        value = self.number(name)
        if value is None:
            raise KeyError(name)
        return value

    def span(self, name: str) -> tuple[float, float]:
        """Low and high."""
        fact = self._facts[name]
        if fact.low is None or fact.high is None:
            raise KeyError(name)
        return fact.low, fact.high

    def text(self, name: str) -> str:
        """The word; empty where there is no fact."""
        fact = self._facts.get(name)
        return "" if fact is None else fact.text

    def listed(self, name: str) -> tuple[str, ...]:
        """Words between semicolons."""
        return tuple(part.strip() for part in self.text(name).split(";") if part.strip())

    def __contains__(self, name: str) -> bool:
        return name in self._facts


def crop_record(name: NameRow, facts: tuple[Fact, ...]) -> Crop:
    """The crop from its facts.

    Parameters
    ----------
    name : NameRow
        What it is called.
    facts : tuple[Fact, ...]
        Its facts, complete as far as `missing_faults` asks, at most one of each quantity used.

    Returns
    -------
    Crop
        Ranges become the figure named in the vocabulary (`Quantity.take`): mostly the middle.

    Raises
    ------
    KeyError
        If a required quantity has no used fact.
    """
    used = _Used(facts)
    planting_depth_mm = used.number("planting_depth_mm")
    sow_depth_mm = used.number("sow_depth_mm")
    height_cm = used.number("mature_height_cm")
    stock = cast("PlantingStock", used.text("planting_stock"))
    # Tubers, cloves, sets and crowns go in at their own depth, whatever the depth of seed would be.
    depth_mm = sow_depth_mm if stock in {"seed", "young plant"} else planting_depth_mm
    depth_mm = next(value for value in (depth_mm, sow_depth_mm, planting_depth_mm) if value is not None)
    return Crop(
        name=name.name,
        latin_name=name.latin_name,
        plan_code=name.plan_code,
        kind=name.kind,
        family=used.text("botanical_family"),
        rotation_group=used.text("rotation_group"),
        life_cycle=cast("LifeCycle", used.text("life_cycle")),
        ways=cast("tuple[Way, ...]", tuple(used.text("ways").split())),
        in_row_spacing_m=used.need("in_row_spacing_cm") / 100,
        row_spacing_m=used.need("bed_row_spacing_cm") / 100,
        sow_depth_mm=depth_mm,
        seeds_per_station=round(used.need("seeds_per_station")),
        weeks_raised=used.number("transplant_age_weeks"),
        germination=_germination(used),
        soil_temp_min_c=used.need("germination_soil_temp_min_c"),
        soil_temp_max_c=used.number("germination_soil_temp_max_c"),
        days_to_maturity_days=used.span("days_to_maturity"),
        maturity_basis=cast("MaturityBasis", used.text("days_to_maturity")),
        harvest_span_days=used.need("harvest_span_days"),
        degree_day_base_c=used.number("gdd_base_c"),
        degree_days_to_maturity=used.number("gdd_to_maturity_c"),
        frost_class=cast("FrostClass", used.text("frost_tolerance")),
        frost_kill_c=used.need("frost_kill_c"),
        heat_limit_c=used.number("heat_limit_c"),
        height_m=used.need("max_height_m") if height_cm is None else height_cm / 100,
        spread_m=used.need("mature_spread_cm") / 100,
        support=cast("SupportNeed", used.text("support")),
        climbs=used.text("climbs") == "yes",
        roots=cast("Roots", used.text("roots")),
        stem_depth=cast("StemDepth", used.text("stem_depth")),
        soak_cell=used.text("soak_cell") == "yes",
        yield_kg_per_m_row=used.number("yield_kg_per_m_row"),
        yield_kg_per_plant=used.number("yield_kg_per_plant"),
        seeds_per_gram=used.number("seeds_per_gram"),
        seed_life_years=used.number("seed_viability_years"),
        federal_germination_pct=used.number("federal_min_germination_pct"),
        min_sun_h=used.need("min_sun_hours"),
        edible_parts=used.listed("edible_parts"),
        poisonous_parts=used.listed("poisonous_parts"),
        water=_water(used),
        facts=facts,
        planting_stock=stock,
    )


def _germination(used: _Used) -> tuple[GerminationPoint, ...]:
    """Points with a time to emergence, or with the statement that nothing came up, coldest first.

    A share of seedlings alone makes no point: the printed table has zeros that mean not tried.
    """
    points: list[GerminationPoint] = []
    for temp in TEMPERATURES_C:
        days_name = f"days_to_emergence_at_{temp}c"
        if days_name not in used:
            continue
        none = used.text(days_name) == NO_GERMINATION
        share = used.number(f"germination_pct_at_{temp}c")
        points.append(GerminationPoint(float(temp), used.number(days_name), share, germinates=not none))
    return tuple(points)


def _water(used: _Used) -> WaterFacts | None:
    if "kc_ini" not in used:
        return None
    initial, development, middle, late = (float(part) for part in used.text("stage_days").split("/"))
    return WaterFacts(
        kc_ini=used.need("kc_ini"),
        kc_mid=used.need("kc_mid"),
        kc_end=used.need("kc_end"),
        kcb_ini=used.need("kcb_ini"),
        kcb_mid=used.need("kcb_mid"),
        kcb_end=used.need("kcb_end"),
        depletion_fraction=used.need("depletion_fraction_p"),
        rooting_depth_m=used.need("rooting_depth_m"),
        stage_days=(initial, development, middle, late),
    )
