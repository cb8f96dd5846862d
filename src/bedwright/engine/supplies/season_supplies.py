"""Everything a season takes, from stock and to buy, in one list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date
from typing import Literal, cast

from bedwright.engine.supplies.materials import (
    bulk_densities_kg_l,
    first_preparing,
    material_lines,
    materials_of,
    soil_materials,
)
from bedwright.engine.supplies.packs import orders_of, purchases_of
from bedwright.engine.supplies.stock import StockLeft
from bedwright.engine.supplies.trays import TRAYS, raising_weeks, tray_needs, weeks_over
from bedwright.model.book import Bed, Stock
from bedwright.model.crop import Crop
from bedwright.model.season import OrderLine, Planting
from bedwright.model.soil import BedFeeding, MulchNeed, SideDressing
from bedwright.model.source import Origin
from bedwright.model.supplies import RaisingSpace, SupplierOffer, Supplies, SupplyLine, SupplyUnit, TrayKind


def season_supplies(
    plantings: Sequence[Planting],
    orders: Sequence[OrderLine],
    beds: Sequence[Bed],
    stock: Sequence[Stock],
    *,
    today: date,
    space: RaisingSpace | None = None,
    offers: Sequence[SupplierOffer] = (),
    feedings: Sequence[BedFeeding] = (),
    mulches: Sequence[MulchNeed] = (),
    dressings: Sequence[SideDressing] = (),
    trays: Mapping[int, TrayKind] = TRAYS,
) -> Supplies:
    """Seed, plants and materials of a season: needed, on hand, to buy, by when, from whom.

    Parameters
    ----------
    plantings
        Placed plantings.
    orders
        Order lines of the same plantings, as `order_lines` gives them.
    beds
        Beds, whose lasting supports save canes and netting.
    stock
        Materials on hand; used first, each quantity once.
    today
        No order is due before this day.
    space
        Room for raising plants; None where nothing limits it.
    offers
        What suppliers ask, where the coordinator stated it.
    feedings, mulches, dressings
        What the soil stage worked out; left out, no compost and fertiliser are listed.
    trays
        Trays by number of cells.
    """
    needs = tray_needs(plantings, orders, trays)
    raising = raising_weeks(needs)
    materials = (
        *materials_of(plantings, needs, beds),
        *soil_materials(feedings, mulches, dressings, first_preparing(plantings)),
    )
    units = {material.name.casefold(): material.unit for material in materials}
    densities = {name.casefold(): kg_l for name, kg_l in bulk_densities_kg_l(feedings).items()}
    crops = {planting.crop.name: planting.crop for planting in plantings}
    first_use = _first_use(plantings)
    held = StockLeft([_stock_in(one, units, densities) for one in stock])
    lines = (
        *(_order_line(order, first_use) for order in orders),
        *material_lines(materials, held, today=today),
    )
    offers = [_offer_in(offer, units, densities) for offer in in_counted_units(offers, crops)]
    purchases = purchases_of(lines, offers, today=today)
    return Supplies(
        trays=needs,
        raising=raising,
        over_limit=weeks_over(raising, space) if space is not None else (),
        lines=tuple(sorted(lines, key=lambda line: (line.order_by, line.kind, line.name, line.variety))),
        orders=orders_of(purchases),
        no_offer=tuple(purchase.line for purchase in purchases if purchase.choice is None),
        notes=_notes(feedings, mulches),
    )


def _notes(feedings: Sequence[BedFeeding], mulches: Sequence[MulchNeed]) -> tuple[str, ...]:
    if feedings or mulches:
        return ()
    return ("Compost, fertiliser and mulch are not in this list: nothing was worked out for the soil.",)


def in_counted_units(offers: Sequence[SupplierOffer], crops: Mapping[str, Crop]) -> tuple[SupplierOffer, ...]:
    """Offers of seed by mass turned into seeds, where seeds per gram of the crop are known."""
    by_name = {name.casefold(): crop for name, crop in crops.items()}
    return tuple(_in_seeds(offer, by_name.get(offer.name.casefold())) for offer in offers)


def _in_seeds(offer: SupplierOffer, crop: Crop | None) -> SupplierOffer:
    grams = {"g": 1.0, "kg": 1000.0}.get(offer.unit)
    if crop is None or grams is None or crop.seeds_per_gram is None:
        return offer
    n_seeds = int(offer.pack_quantity * grams * crop.seeds_per_gram + 1e-9)
    return replace(offer, pack_quantity=float(n_seeds), unit="seeds") if n_seeds else offer


def _offer_in(
    offer: SupplierOffer, units: Mapping[str, SupplyUnit], densities_kg_l: Mapping[str, float]
) -> SupplierOffer:
    """An offer by mass or volume in the unit in which its material is needed."""
    quantity, unit = _in_unit(offer.name, offer.pack_quantity, offer.unit, units, densities_kg_l)
    # What was turned from another unit is rounded, or packs of two sizes would have no common measure.
    if round(quantity, 3) != quantity:
        quantity = round(quantity, 1 if quantity >= 1 else 3)
    return replace(offer, pack_quantity=quantity, unit=unit)


def _stock_in(stock: Stock, units: Mapping[str, SupplyUnit], densities_kg_l: Mapping[str, float]) -> Stock:
    """A material on hand in the unit in which it is needed."""
    quantity, unit = _in_unit(stock.material, stock.quantity, stock.unit, units, densities_kg_l)
    return replace(stock, quantity=quantity, unit=cast("Literal['L', 'kg', 'm', 'pieces']", unit))


def _in_unit(
    name: str,
    quantity: float,
    unit: SupplyUnit,
    units: Mapping[str, SupplyUnit],
    densities_kg_l: Mapping[str, float],
) -> tuple[float, SupplyUnit]:
    """Litres as kilograms or the other way, where the need is in the other and the bulk density is known."""
    wanted, kg_l = units.get(name.casefold()), densities_kg_l.get(name.casefold())
    if kg_l and (unit, wanted) == ("kg", "L"):
        return quantity / kg_l, "L"
    if kg_l and (unit, wanted) == ("L", "kg"):
        return quantity * kg_l, "kg"
    return quantity, unit


def _first_use(plantings: Sequence[Planting]) -> dict[str, date]:
    """Day each planting first needs its seed or plants, by the code on its label."""
    return {p.label_code: p.dates.sow_under_cover or p.dates.in_ground for p in plantings}


def _order_line(order: OrderLine, first_use: Mapping[str, date]) -> SupplyLine:
    bought = order.way == "buy"
    from_drawer = sum(use.n_seeds for use in order.from_drawer)
    needed = order.n_plants_to_buy if bought else order.n_seeds_needed
    low, high, doubt = _drawer_range(order)
    return SupplyLine(
        kind="plants" if bought else "seed",
        name=order.crop,
        variety=order.variety,
        unit="plants" if bought else "seeds",
        needed=float(needed),
        needed_low=float(needed) if bought else low,
        needed_high=float(needed) if bought else high,
        from_stock=float(from_drawer),
        to_buy=float(order.n_plants_to_buy if bought else order.n_seeds_to_buy),
        first_needed=min(
            (first_use[c] for c in order.planting_codes if c in first_use), default=order.order_by
        ),
        order_by=order.order_by,
        planting_codes=order.planting_codes,
        origins=(*order.origins, *doubt),
        notes=() if not bought else (f"Bought as {order.bought_as}.",),
    )


def _drawer_range(order: OrderLine) -> tuple[float, float, tuple[Origin, ...]]:
    """Seeds that would be needed if a lot's true germination lay at either end of its range.

    A lot with a true share of nothing cannot be made up by more of it; its low end is then
    taken at 1 %.
    """
    low = high = float(order.n_seeds_to_buy)
    doubt = []
    for use in order.from_drawer:
        low += use.n_seeds * use.germination_pct / max(use.germination_high_pct, 1.0)
        high += use.n_seeds * use.germination_pct / max(use.germination_low_pct, 1.0)
    if order.from_drawer:
        rule = (
            f"if the lots of the drawer came up at the ends of their ranges, {low:.0f} to {high:.0f} seeds "
            "would be needed in place of the number above"
        )
        doubt.append(Origin("n_seeds_needed", f"{low:.0f} to {high:.0f}", rule, ("WILSON_1927",), "memory"))
    return low, high, tuple(doubt)
