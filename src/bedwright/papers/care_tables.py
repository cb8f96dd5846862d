"""Tables of what the plan asks for: hours, water, supplies."""

from __future__ import annotations

from bedwright.model.book import UnitSystem
from bedwright.model.season import SeasonPlan
from bedwright.model.supplies import Supplies, SupplyLine
from bedwright.model.work import Hours
from bedwright.papers.csv_writing import Cell, Columns, csv_bytes

_SUFFIX = {"L": "l", "kg": "kg", "g": "g", "m": "m"}
_US_WORD = {"L": "US gal", "kg": "lb", "g": "oz", "m": "ft"}


def hours_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """A line with the sum of each week, then one a bed."""
    header = [
        "week", "bed", "low_h", "likely_h", "high_h", "promised_h", "paid_h", "short_h", "sufficiency",
        "quiet",
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    for week in plan.care.hours.weeks if plan.care else ():
        rows.append(
            [
                week.week.isoformat(), "all", *_spread(week.needed), round(week.promised_h, 2),
                round(week.paid_h, 2), round(week.short_h, 2), week.sufficiency, week.quiet,
            ]
        )  # fmt: skip
        for bed_code, hours in week.by_bed:
            rows.append([week.week.isoformat(), bed_code or "no bed", *_spread(hours), *[None] * 5])
    return csv_bytes(header, rows)


def _spread(hours: Hours) -> list[Cell]:
    return [round(value, 2) for value in (hours.low_h, hours.likely_h, hours.high_h)]


def water_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a bed and week."""
    u = Columns(system)
    header = [
        "from", "bed", u.header("half_of_years", "l"), u.header("eight_of_ten_years", "l"),
        u.header("half_of_years", "mm"), u.header("eight_of_ten_years", "mm"), "tap_min",
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    water = plan.care.water if plan.care else None
    for bed in water.beds if water else ():
        for week in bed.weeks:
            told = water is not None and water.tap_flow_l_min is not None
            rows.append(
                [
                    week.start.isoformat(), bed.bed_code, u.number(week.median_l, "l"),
                    u.number(week.safe_l, "l"), u.number(week.median_mm, "mm"), u.number(week.safe_mm, "mm"),
                    round(week.safe_tap_min, 1) if told else None,
                ]
            )  # fmt: skip
    return csv_bytes(header, rows)


def supplies_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line for each thing the season takes, with the packs chosen."""
    header = [
        "order_by", "kind", "name", "variety", "unit", "needed", "needed_low", "needed_high",
        "from_stock", "to_buy", "first_needed", "supplier", "packs", "cost", "currency",
    ]  # fmt: skip
    if plan.care is None:
        return csv_bytes(header, [])
    supplies = plan.care.supplies
    return csv_bytes(header, [_supply_cells(line, supplies, system) for line in supplies.lines])


def _supply_cells(line: SupplyLine, supplies: Supplies, system: UnitSystem) -> list[Cell]:
    unit = _US_WORD.get(line.unit, line.unit) if system == "us" else line.unit
    suffix = _SUFFIX.get(line.unit)

    def number(value: float) -> Cell:
        return round(value, 2) if suffix is None else Columns(system).number(value, suffix)

    amounts = (line.needed, line.needed_low, line.needed_high, line.from_stock, line.to_buy)
    bought = next(
        (p for order in supplies.orders for p in order.purchases if p.line == line and p.choice is not None),
        None,
    )
    choice = None if bought is None else bought.choice
    packs = "" if choice is None else " + ".join(f"{p.count} x {p.pack_quantity:g}" for p in choice.packs)
    packed: list[Cell] = [None] * 4
    if choice is not None:
        packed = [choice.supplier, packs, round(choice.cost, 2), choice.currency]
    return [
        line.order_by.isoformat(), line.kind, line.name, line.variety, unit,
        *(number(value) for value in amounts), line.first_needed.isoformat(), *packed,
    ]  # fmt: skip
