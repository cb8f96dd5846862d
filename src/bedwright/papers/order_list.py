"""What to buy: seed counted from the drawn rows, materials, by supplier and day; trays and bench."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.care import Care
from bedwright.model.season import DrawerUse, OrderLine, SeasonPlan
from bedwright.model.source import Origin
from bedwright.model.supplies import PackChoice, Purchase, SupplierOrder, Supplies, SupplyLine
from bedwright.papers import parts
from bedwright.papers.measures import Measures, day_words, number_words
from bedwright.papers.parts import Part
from bedwright.papers.raising import raising_parts
from bedwright.papers.schedule import way_words
from bedwright.papers.sheet import frame, room_mm
from bedwright.papers.standings import quantity_words, standing_words

_SEED_HEAD = (
    "Order by", "Crop", "Variety", "How", "Plants drawn", "Seeds needed", "Spare", "From the drawer",
    "To buy",
)  # fmt: skip
_SEED_COLUMNS = (0, 0, 0, 0, 0, 0, 0, 1.2, 1.0)


def order_list_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """The order list for `parts.typ`, earliest order first."""
    measures = Measures(units)
    lines = sorted(plan.orders, key=lambda line: (line.order_by, line.crop, line.variety))
    buying = [line for line in lines if line.n_seeds_to_buy or line.n_plants_to_buy]
    covered = [line for line in lines if line not in buying]
    body = [parts.heading("Seed and plants to order", 1)]
    body.append(_seed_table(buying, measures) if buying else parts.text("Nothing is to be bought."))
    if covered:
        body += [parts.heading("Covered by the seed drawer"), _seed_table(covered, measures)]
    if plan.care is not None:
        body += _supplies(plan.care.supplies, measures)
        body += raising_parts(plan, plan.care.supplies, measures, room_mm(paper, wide=True)[0])
    body.append(parts.heading("How the numbers were reached"))
    body += [parts.small(measures.alone(words)) for words in _basis(buying + covered, plan.care, measures)]
    return parts.paper(parts.page(frame(plan, paper, "Order list", "O", wide=True), body))


def _seed_table(lines: Sequence[OrderLine], measures: Measures) -> Part:
    rows = [_seed_cells(line, measures) for line in lines]
    return parts.ruled_table(_SEED_HEAD, rows, _SEED_COLUMNS, bold=(1, 8))


def _seed_cells(line: OrderLine, measures: Measures) -> list[str]:
    return [
        day_words(line.order_by),
        line.crop,
        line.variety or "any",
        way_words(line.way, line.bought_as.removeprefix("young ")),
        str(line.n_plants),
        str(line.n_seeds_needed) if line.n_seeds_needed else "",
        f"{number_words(line.spare_share * 100, 0)} %",
        _drawer_words(line.from_drawer),
        to_buy_words(line, measures),
    ]


def to_buy_words(line: OrderLine, measures: Measures) -> str:
    """Quantity to buy in words; `nothing` where the drawer covers it."""
    bought = []
    if line.n_seeds_to_buy:
        bought.append(f"{line.n_seeds_to_buy} seeds")
        if line.mass_to_buy_g:
            bought[-1] += f" (about {measures.seed_mass(line.mass_to_buy_g)})"
        if line.n_packets_to_buy and line.packet_seeds:
            packets = "packet" if line.n_packets_to_buy == 1 else "packets"
            bought[-1] += f": {line.n_packets_to_buy} {packets} of {line.packet_seeds}"
    if line.n_plants_to_buy:
        bought.append(f"{line.n_plants_to_buy} {line.bought_as}")
    return ", ".join(bought) or "nothing"


def _drawer_words(uses: tuple[DrawerUse, ...]) -> str:
    return "; ".join(
        f"{use.n_seeds} from {use.lot_code}: {use.germination_pct:.0f} % "
        f"({use.germination_low_pct:.0f} to {use.germination_high_pct:.0f} %), {use.basis}"
        for use in uses
    )


def origin_words(origin: Origin) -> str:
    """One number, how it was reached and how well it stands."""
    name, unit = quantity_words(origin.quantity)
    value = number_words(origin.value, 3) if isinstance(origin.value, float | int) else origin.value
    told = " ".join(part for part in (name, value, unit if value else "") if part)
    marks = [standing_words(origin.standing), *origin.source_ids]
    return f"{told}: {origin.rule} [{', '.join(dict.fromkeys(mark for mark in marks if mark))}]"


def quantity_in_words(value: float, unit: str, measures: Measures) -> str:
    """A quantity to buy: `60 plants`, `50 L`, `11 kg`, `1.0 m`."""
    match unit:
        case "L":
            return measures.bulk(value)
        case "kg":
            return measures.dose(value * 1000)
        case "g":
            return measures.dose(value)
        case "m":
            return measures.row(value)
        case _:
            return f"{number_words(value, 0)} {unit.removesuffix('s') if value == 1 else unit}"


def _supplies(supplies: Supplies, measures: Measures) -> list[Part]:
    made = []
    for order in supplies.orders:
        made += _supplier(order, measures)
    if supplies.orders:
        totals: dict[str, float] = {}
        for order in supplies.orders:
            totals[order.currency] = totals.get(order.currency, 0.0) + order.total
        told = "; ".join(f"{currency} {total:.2f}" for currency, total in sorted(totals.items()))
        made.append(
            parts.text(
                f"All suppliers together: {told}. Prices as stated in the garden book; carriage is not in "
                "them."
            )
        )
    unpriced = [line for line in supplies.no_offer if line.kind == "material"]
    if unpriced:
        rows = [_material_cells(line, measures) for line in unpriced]
        head = ["Order by", "Material", "Needed", "In the shed", "To buy", "First wanted"]
        made += [
            parts.heading("Materials, no supplier stated"),
            parts.ruled_table(head, rows, [0, 1.0, 1.0, 1.0, 1.0, 0], bold=(1, 4)),
        ]
    held = [line for line in supplies.lines if line.kind == "material" and line.to_buy <= 0]
    if held:
        told = "; ".join(
            f"{line.name} {quantity_in_words(line.needed, line.unit, measures)}" for line in held
        )
        made += [parts.text(f"In the shed and enough: {told}.")]
    return [*made, *(parts.small(note) for note in supplies.notes)]


def _supplier(order: SupplierOrder, measures: Measures) -> list[Part]:
    rows = [_purchase_cells(purchase, measures) for purchase in order.purchases]
    head = ["Order by", "What", "Wanted", "Packs", "Cost", "Left over", "Elsewhere"]
    return [
        parts.together(
            parts.heading(
                f"From {order.supplier}: {order.currency} {order.total:.2f}, first order by "
                f"{day_words(order.order_by)}"
            ),
            parts.ruled_table(head, rows, [0, 1.2, 1.0, 1.2, 0, 0.8, 1.2], bold=(1, 3), right=(4,)),
        )
    ]  # fmt: skip


def _purchase_cells(purchase: Purchase, measures: Measures) -> list[str]:
    line, choice = purchase.line, purchase.choice
    if choice is None:
        return [
            day_words(purchase.order_by),
            line.name,
            quantity_in_words(line.to_buy, line.unit, measures),
            *[""] * 4,
        ]
    return [
        day_words(purchase.order_by),
        f"{line.name} {line.variety}".strip(),
        quantity_in_words(line.to_buy, line.unit, measures),
        " + ".join(
            f"{pack.count} × {size} at {pack.price:.2f}"
            for pack in choice.packs
            for size in (quantity_in_words(pack.pack_quantity, choice.unit, measures),)
        ),
        f"{choice.cost:.2f}",
        quantity_in_words(choice.surplus, choice.unit, measures) if choice.surplus > 0 else "",
        "; ".join(_elsewhere(other) for other in purchase.others),
    ]


def _elsewhere(other: PackChoice) -> str:
    return f"{other.supplier} {other.currency} {other.cost:.2f}"


def _material_cells(line: SupplyLine, measures: Measures) -> list[str]:
    needed = quantity_in_words(line.needed, line.unit, measures)
    if line.needed_high > line.needed_low:
        low, high = (
            quantity_in_words(value, line.unit, measures) for value in (line.needed_low, line.needed_high)
        )
        needed += f" ({low.split()[0]} to {high})"
    return [
        day_words(line.order_by),
        line.name,
        needed + (", used again" if line.reused else ""),
        quantity_in_words(line.from_stock, line.unit, measures) if line.from_stock > 0 else "",
        quantity_in_words(line.to_buy, line.unit, measures),
        day_words(line.first_needed),
    ]


def _basis(lines: Sequence[OrderLine], care: Care | None, measures: Measures) -> Iterable[str]:
    for line in lines:
        if line.origins:
            name = f"{line.crop} {line.variety}".strip()
            yield f"{name}: {'; '.join(origin_words(origin) for origin in line.origins)}."
    if care is None:
        return
    for material in care.supplies.lines:
        if material.kind == "material":
            told = "; ".join(_need_words(material, origin, measures) for origin in material.origins)
            yield f"{material.name}: {told}."


def _need_words(line: SupplyLine, origin: Origin, measures: Measures) -> str:
    """How a need was reached, its amount in the reader's units."""
    if origin.quantity == "needed" and isinstance(origin.value, float | int):
        spoken = quantity_in_words(origin.value, line.unit, measures)
        return origin_words(replace(origin, value=spoken))
    return origin_words(origin)
