"""Materials a season takes: trays, potting mix, canes, netting, labels, and what the soil wants."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from bedwright.engine.supplies.seed_order import ORDER_LEAD_DAYS
from bedwright.engine.supplies.sources import SUPPLIES_PRACTICE
from bedwright.engine.supplies.stock import StockLeft
from bedwright.model.book import Bed
from bedwright.model.season import Planting
from bedwright.model.soil import BedFeeding, MulchNeed, SideDressing
from bedwright.model.source import Origin, Standing
from bedwright.model.supplies import SupplyLine, SupplyUnit, TrayNeed
from bedwright.model.units import metres_to_feet

CANE_IN_GROUND_M = 0.30
"""Part of a cane that is pushed into the soil: common practice, no source."""
MIX_SPARE_SHARE = 0.10
"""Potting mix lost in filling: common practice, no source."""
PREPARE_DAYS = 14
"""Days before planting in which beds are fed: as the task of preparing."""
BUYS_WHOLE: frozenset[SupplyUnit] = frozenset({"pieces", "plants", "seeds"})


@dataclass(frozen=True, slots=True)
class Use:
    """One use of a material; a reused one is free again after `last`."""

    quantity: float
    first: date
    last: date
    planting_code: str


@dataclass(frozen=True, slots=True)
class Material:
    """A material with all its uses."""

    name: str
    unit: SupplyUnit
    uses: tuple[Use, ...]
    reused: bool
    rule: str
    source_ids: tuple[str, ...] = (SUPPLIES_PRACTICE,)
    standing: Standing = "practice"
    spread: tuple[float, float] = (1.0, 1.0)
    """Low and high as shares of the quantity."""
    notes: tuple[str, ...] = ()


def most_at_once(uses: Iterable[Use]) -> float:
    """The largest sum of uses on any one day, both ends of each included."""
    uses = tuple(uses)
    return max((sum(u.quantity for u in uses if u.first <= day <= u.last)
                for day in {use.first for use in uses}), default=0.0)  # fmt: skip


def materials_of(
    plantings: Sequence[Planting], trays: Sequence[TrayNeed], beds: Sequence[Bed]
) -> tuple[Material, ...]:
    """Materials of the plantings and their trays; only those that are needed.

    Source
    ------
    One cane a plant, netting and trellis as long as the rows, one label a row and one a tray:
    common practice, no source.
    """
    found = [
        *_tray_materials(trays),
        _mix(trays),
        *_supports(plantings, {bed.code: bed for bed in beds}),
        _labels(plantings, trays),
    ]
    return tuple(material for material in found if material.uses)


def _tray_materials(trays: Sequence[TrayNeed]) -> list[Material]:
    sizes = sorted({need.cells_per_tray for need in trays})
    made = []
    for cells in sizes:
        uses = tuple(
            Use(need.n_trays, need.sown, need.leaves - timedelta(days=1), need.planting_code)
            for need in trays
            if need.cells_per_tray == cells
        )
        rule = "trays in use on the fullest day; washed and used again"
        made.append(Material(f"trays, {cells} cells", "pieces", uses, True, rule))
    return made


def _mix(trays: Sequence[TrayNeed]) -> Material:
    uses = tuple(
        Use(need.mix_l * (1 + MIX_SPARE_SHARE), need.sown, need.sown, need.planting_code) for need in trays
    )
    rule = (
        f"cells sown times what one holds (from memory: a first guess), {MIX_SPARE_SHARE:.0%} lost in filling"
    )
    # What one cell holds is remembered, not measured: a fifth either way.
    return Material("potting mix", "L", uses, False, rule, ("SUPPLIES_MEMORY",), "memory", (0.8, 1.2))


def _supports(plantings: Sequence[Planting], beds: Mapping[str, Bed]) -> list[Material]:
    canes = []
    lengths: dict[str, list[Use]] = {"netting": [], "trellis": []}
    for planting in plantings:
        need, bed = planting.crop.support, beds.get(planting.bed_code)
        dates = planting.dates
        if need == "none" or (bed is not None and _stands_already(need, bed)):
            continue
        if need == "cane":
            canes.append((planting, Use(planting.n_plants, dates.in_ground, dates.clear_by, planting.code)))
        else:
            row_m = row_length_m(planting)
            lengths[need].append(Use(row_m, dates.in_ground, dates.clear_by, planting.code))
    tallest_m = max((planting.crop.height_m for planting, _ in canes), default=0.0) + CANE_IN_GROUND_M
    cane_rule = (
        f"one a plant, the longest {tallest_m:.1f} m ({metres_to_feet(tallest_m):.1f} ft) with "
        f"{CANE_IN_GROUND_M:.1f} m in the soil; used again once a crop is cleared"
    )
    made = [Material("canes", "pieces", tuple(use for _, use in canes), True, cane_rule)]
    for name, uses in lengths.items():
        rule = "rows that stand at one time; used again once a crop is cleared"
        made.append(Material(name, "m", tuple(uses), True, rule))
    return made


def _stands_already(need: str, bed: Bed) -> bool:
    """A lasting support of the bed serves; wall wires carry what netting or a trellis would."""
    kinds = {support.kind for support in bed.supports}
    serves = {"cane": {"canes"}, "netting": {"netting", "trellis", "wall wires"},
              "trellis": {"trellis", "wall wires"}}  # fmt: skip
    return bool(kinds & serves[need])


def row_length_m(planting: Planting) -> float:
    """Length of all rows, half a spacing beyond each end plant. [m]."""
    return sum(row.n_plants * (row.spacing_m or planting.crop.in_row_spacing_m) for row in planting.rows)


def _labels(plantings: Sequence[Planting], trays: Sequence[TrayNeed]) -> Material:
    uses = [Use(len(p.rows), p.dates.in_ground, p.dates.clear_by, p.code) for p in plantings]
    uses += [Use(need.n_trays, need.sown, need.leaves, need.planting_code) for need in trays]
    # A label carries one code, so it is not used twice.
    return Material("peg labels", "pieces", tuple(uses), False, "one a row and one a tray")


def soil_materials(
    feedings: Sequence[BedFeeding],
    mulches: Sequence[MulchNeed],
    dressings: Sequence[SideDressing],
    first_use: Mapping[str, date],
) -> tuple[Material, ...]:
    """Compost, fertiliser and mulch that the soil stage has worked out, what the shed holds included.

    Parameters
    ----------
    feedings, mulches, dressings
        Results of the soil stage; compost and leaf mulch are listed in litres, all else in kilograms.
    first_use
        Day each bed is prepared for its first planting, by bed code; beds without one are
        left out.
    """
    found: dict[str, list[Use]] = {}
    ids: dict[str, set[str]] = {}
    # What is spread by the barrow is bought by volume.
    spread = [use for feeding in feedings for use in feeding.uses]
    bulky = {use.material for use in spread if use.volume_l and use.cups is None}
    for feeding in feedings:
        day = first_use.get(feeding.bed_code)
        for use in feeding.uses:
            if day is not None:
                quantity = (use.volume_l or 0.0) if use.material in bulky else use.mass_g / 1000
                found.setdefault(use.material, []).append(Use(quantity, day, day, ""))
                ids.setdefault(use.material, set()).update(_ids(feeding.origins))
    for dressing in dressings:
        found.setdefault(dressing.material, []).append(
            Use(dressing.total_g / 1000, dressing.opens, dressing.closes, dressing.planting_code)
        )
        ids.setdefault(dressing.material, set()).update(_ids(dressing.origins))
    made = [
        Material(
            name, "L" if name in bulky else "kg", tuple(uses), False,
            "as worked out for each bed",
            tuple(sorted(ids[name])) or (SUPPLIES_PRACTICE,), "derived",
        )
        for name, uses in sorted(found.items())
    ]  # fmt: skip
    made += _mulch(mulches)
    return tuple(made)


def bulk_densities_kg_l(feedings: Sequence[BedFeeding]) -> dict[str, float]:
    """Mass of a litre of what is spread on beds, by material, where it is known [kg/L]."""
    sums: dict[str, tuple[float, float]] = {}
    for feeding in feedings:
        for use in feeding.uses:
            if use.volume_l:
                mass_g, volume_l = sums.get(use.material, (0.0, 0.0))
                sums[use.material] = mass_g + use.mass_g, volume_l + use.volume_l
    return {name: mass_g / 1000 / volume_l for name, (mass_g, volume_l) in sums.items()}


def _mulch(mulches: Sequence[MulchNeed]) -> list[Material]:
    if not mulches:
        return []
    low_l, high_l = (sum(need.volume_l[k] for need in mulches) for k in (0, 1))
    uses = tuple(
        Use(sum(need.volume_l) / 2, need.not_before, need.not_before, need.planting_code) for need in mulches
    )
    middle_l = (low_l + high_l) / 2 or 1.0
    ids = tuple(sorted({each for need in mulches for each in _ids(need.origins)})) or (SUPPLIES_PRACTICE,)
    rule = "shredded leaves, middle of the depths given"
    return [
        Material("leaf mulch", "L", uses, False, rule, ids, "derived", (low_l / middle_l, high_l / middle_l))
    ]


def _ids(origins: Sequence[Origin]) -> set[str]:
    return {source_id for origin in origins for source_id in origin.source_ids}


def material_lines(materials: Iterable[Material], stock: StockLeft, *, today: date) -> tuple[SupplyLine, ...]:
    """Needs against stock; what is left is to buy, whole pieces rounded up."""
    return tuple(_line(material, stock, today) for material in materials)


def _line(material: Material, stock: StockLeft, today: date) -> SupplyLine:
    uses, unit = material.uses, material.unit
    needed = most_at_once(uses) if material.reused else sum(use.quantity for use in uses)
    if unit in BUYS_WHOLE:
        needed = math.ceil(round(needed, 6))
    taken = stock.take(material.name, unit, needed)
    to_buy = max(0.0, needed - taken)
    if unit in BUYS_WHOLE:
        to_buy = math.ceil(round(to_buy, 6))
    first = min(use.first for use in uses)
    low, high = material.spread
    notes = list(material.notes)
    others = stock.in_other_units(material.name, unit)
    if others:
        notes.append(f"Stock stated in {', '.join(others)} is not counted: the need is in {unit}.")
    return SupplyLine(
        kind="material",
        name=material.name,
        variety="",
        unit=unit,
        needed=needed,
        needed_low=needed * low,
        needed_high=needed * high,
        from_stock=taken,
        to_buy=to_buy,
        first_needed=first,
        order_by=max(first - timedelta(days=ORDER_LEAD_DAYS), today),
        planting_codes=tuple(sorted({use.planting_code for use in uses if use.planting_code})),
        origins=(Origin("needed", round(needed, 3), material.rule, material.source_ids, material.standing),),
        notes=tuple(notes),
        reused=material.reused,
    )


def first_preparing(plantings: Sequence[Planting]) -> dict[str, date]:
    """First day each planted bed is prepared on."""
    found: dict[str, date] = {}
    for planting in plantings:
        day = planting.dates.in_ground - timedelta(days=PREPARE_DAYS)
        found[planting.bed_code] = min(day, found.get(planting.bed_code, day))
    return found
