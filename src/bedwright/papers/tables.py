"""Tables for a spreadsheet, units in the headers."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from bedwright.model.book import UnitSystem
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.care_tables import hours_csv, supplies_csv, water_csv
from bedwright.papers.csv_writing import Cell, Columns, csv_bytes
from bedwright.papers.ground_drawing import row_points_m
from bedwright.papers.schedule import plant_distance_m


def plantings_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a planting."""
    u = Columns(system)
    header = [
        "planting", "wish", "crop", "latin_name", "plan_code", "variety", "way", "bed", "rows", "n_plants",
        u.header("in_row_spacing", "cm"), u.header("along_from", "m"), u.header("along_to", "m"),
        u.header("across_from", "m"), u.header("across_to", "m"), "sow_under_cover", "harden_off_from",
        "in_ground", "emerges", "first_pick_early", "first_pick", "first_pick_late", "last_pick", "clear_by",
        "chance_pct", "n_years",
    ]  # fmt: skip
    return csv_bytes(header, [_planting_cells(p, u) for p in plan.plantings])


def _planting_cells(p: Planting, u: Columns) -> list[Cell]:
    d = p.dates
    days = (
        d.sow_under_cover, d.harden_off_from, d.in_ground, d.emerges, d.first_pick_early, d.first_pick,
        d.first_pick_late, d.last_pick, d.clear_by,
    )  # fmt: skip
    return [
        p.code, p.wish_code, p.crop.name, p.crop.latin_name, p.crop.plan_code, p.variety, p.way, p.bed_code,
        " ".join(row.code for row in p.rows), p.n_plants, u.number(plant_distance_m(p) * 100, "cm"),
        *(u.number(v, "m") for v in (*p.along_m, *p.across_m)),
        *(day.isoformat() if day else None for day in days),
        round(d.chance * 100) if d.chance is not None else None, d.n_years,
    ]  # fmt: skip


def rows_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a row: where it starts and ends, from the peg and the string."""
    u = Columns(system)
    header = [
        "row", "planting", "crop", "variety", "bed", "direction", "n_plants", u.header("spacing", "cm"),
        u.header("first_along", "m"), u.header("first_across", "m"), u.header("last_along", "m"),
        u.header("last_across", "m"), u.header("sow_depth", "mm"), "in_ground", "clear_by",
    ]  # fmt: skip
    return csv_bytes(
        header,
        [
            [
                row.code, p.code, p.crop.name, p.variety, p.bed_code, p.direction, row.n_plants,
                u.number(row.spacing_m * 100, "cm"), *(u.number(v, "m") for v in (*row.start_m, *row.end_m)),
                u.number(p.crop.sow_depth_mm, "mm") if p.way == "sow" else None,
                p.dates.in_ground.isoformat(), p.dates.clear_by.isoformat(),
            ]
            for p in plan.plantings
            for row in p.rows
        ],
    )  # fmt: skip


def plants_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a plant: in the bed's frame and on the site."""
    u = Columns(system)
    header = [
        "row", "plant", "planting", "crop", "bed", u.header("along", "m"), u.header("across", "m"),
        u.header("east", "m"), u.header("north", "m"),
    ]  # fmt: skip
    rows: list[list[Cell]] = []
    frames = {bed.code: bed.frame for bed in plan.book.beds}
    for p in plan.plantings:
        for row in p.rows:
            for k, point in enumerate(row_points_m(row), start=1):
                spots = (*point, *frames[p.bed_code].to_site(point))
                rows.append(
                    [row.code, k, p.code, p.crop.name, p.bed_code, *(u.number(v, "m") for v in spots)]
                )
    return csv_bytes(header, rows)


def tasks_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a job."""
    header = ["task", "kind", "start", "end", "bed", "planting", "title", "details"]
    return csv_bytes(
        header,
        [
            [
                t.code,
                t.kind,
                t.start.isoformat(),
                t.end.isoformat(),
                t.bed_code,
                t.planting_code,
                t.title,
                t.details,
            ]
            for t in plan.tasks
        ],
    )


def orders_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line an order."""
    u = Columns(system)
    header = [
        "crop", "variety", "way", "plantings", "n_plants", "n_seeds_needed", "spare_pct",
        "n_seeds_from_drawer", "lots", "n_seeds_to_buy", u.header("mass_to_buy", "g"),
        "n_plants_to_buy", "order_by",
    ]  # fmt: skip
    return csv_bytes(
        header,
        [
            [
                line.crop, line.variety, line.way, " ".join(line.planting_codes), line.n_plants,
                line.n_seeds_needed, round(line.spare_share * 100, 1),
                sum(use.n_seeds for use in line.from_drawer),
                " ".join(use.lot_code for use in line.from_drawer), line.n_seeds_to_buy,
                u.number(line.mass_to_buy_g, "g"), line.n_plants_to_buy, line.order_by.isoformat(),
            ]
            for line in plan.orders
        ],
    )  # fmt: skip


def shortfalls_csv(plan: SeasonPlan, system: UnitSystem) -> bytes:
    """One line a wish that fell short."""
    u = Columns(system)
    header = [
        "wish", "planting", "crop", "wanted_plants", "placed_plants", u.header("missing_row", "m"),
        "missing_weeks", "why",
    ]  # fmt: skip
    return csv_bytes(
        header,
        [
            [
                s.wish_code, s.planting_code, s.crop, s.wanted_plants, s.placed_plants,
                u.number(s.missing_row_m, "m"), round(s.missing_weeks, 1), s.why,
            ]
            for s in plan.shortfalls
        ],
    )  # fmt: skip


TABLES: Mapping[str, Callable[[SeasonPlan, UnitSystem], bytes]] = {
    "plantings.csv": plantings_csv,
    "rows.csv": rows_csv,
    "plants.csv": plants_csv,
    "tasks.csv": tasks_csv,
    "orders.csv": orders_csv,
    "shortfalls.csv": shortfalls_csv,
    "hours.csv": hours_csv,
    "water.csv": water_csv,
    "supplies.csv": supplies_csv,
}
_OF_CARE = frozenset({"hours.csv", "water.csv", "supplies.csv"})


def tables_of(plan: SeasonPlan) -> tuple[str, ...]:
    """Tables a plan has something to say in: one that stops at places and dates has no hours."""
    return tuple(name for name in TABLES if plan.care is not None or name not in _OF_CARE)
