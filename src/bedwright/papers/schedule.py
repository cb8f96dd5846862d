"""Plant schedule and bed schedule: the tables keyed to the plan."""

from __future__ import annotations

from itertools import pairwise

from bedwright.model.book import Way
from bedwright.model.crop import Crop
from bedwright.model.ground import Circle, Polygon
from bedwright.model.season import Planting, SeasonPlan
from bedwright.papers.measures import Measures, count_words, span_words

_HALF_A_GAP = 0.02
"""Rows count as staggered within this share of a gap."""
_WAY_WORDS = {"sow": "sown in place", "raise": "raised here, set out"}


def way_words(way: Way, bought_as: str) -> str:
    """How a crop gets into the bed: `sown in place`, `bought tubers, set out`."""
    return _WAY_WORDS.get(way, f"bought {bought_as}, set out")


def bought_as(crop: Crop) -> str:
    """What is bought of a crop that is neither sown nor raised here: plants, tubers, cloves."""
    return "plants" if crop.planting_stock in {"seed", "young plant"} else f"{crop.planting_stock}s"


def plants_working(planting: Planting) -> str:
    """The working for plant numbers: `96 (4 rows of 24)`."""
    counts = {row.n_plants for row in planting.rows}
    n_rows = len(planting.rows)
    if n_rows == 1:
        return f"{planting.n_plants} (1 row)"
    if len(counts) == 1:
        return f"{planting.n_plants} ({n_rows} rows of {counts.pop()})"
    return f"{planting.n_plants} ({n_rows} rows of {min(counts)} to {max(counts)})"


def row_distance_m(planting: Planting) -> float | None:
    """Smallest distance between neighbouring rows; None for a single row [m]."""
    across = 1 if planting.direction == "along" else 0
    offsets = sorted({round(row.start_m[across], 4) for row in planting.rows})
    gaps = [high - low for low, high in pairwise(offsets)]
    return min(gaps) if gaps else None


def plant_distance_m(planting: Planting) -> float:
    """Distance from stem to stem within rows; the crop's own for single plants [m]."""
    drawn = [row.spacing_m for row in planting.rows if row.n_plants > 1]
    return drawn[0] if drawn else planting.crop.in_row_spacing_m


def staggered(planting: Planting) -> bool:
    """True where plants of each row stand between those of the row before, as drawn."""
    across, along = (1, 0) if planting.direction == "along" else (0, 1)
    rows = sorted((row for row in planting.rows if row.spacing_m > 0), key=lambda row: row.start_m[across])
    shares = [
        abs(one.start_m[along] - other.start_m[along]) / one.spacing_m % 1 for one, other in pairwise(rows)
    ]
    return bool(shares) and all(abs(share - 0.5) < _HALF_A_GAP for share in shares)


def plant_schedule(plan: SeasonPlan, measures: Measures) -> list[list[str]]:
    """Rows: code, crop, botanical name, variety, quantity, O.C., rows apart, bed, rows, dates."""
    ordered = sorted(plan.plantings, key=lambda p: (p.crop.plan_code, p.dates.in_ground, p.code))
    table = []
    for planting in ordered:
        between = row_distance_m(planting)
        table.append(
            [
                planting.crop.plan_code,
                planting.crop.name,
                planting.crop.latin_name,
                planting.variety or "any",
                plants_working(planting),
                measures.spacing(plant_distance_m(planting)),
                measures.spacing(between) if between is not None else "single row",
                planting.bed_code,
                ", ".join(row.code for row in planting.rows),
                way_words(planting.way, bought_as(planting.crop)),
                span_words(planting.dates.in_ground, planting.dates.clear_by),
            ]
        )
    return table


def bed_schedule(plan: SeasonPlan, measures: Measures) -> list[list[str]]:
    """Rows: code, name, shape and size, raised, peg east and north, bearing of the string line."""
    table = []
    for bed in plan.book.beds:
        frame = bed.frame
        size = f"{measures.extent(frame.length_m)} × {measures.extent(frame.width_m)}"
        if isinstance(bed.outline, Circle):
            size = f"circle, {measures.extent(2 * bed.outline.radius_m)} across"
        elif isinstance(bed.outline, Polygon):
            size = f"{count_words(len(bed.outline.vertices_m), 'corner')}, box {size}"
        table.append(
            [
                bed.code,
                bed.name if not bed.use or bed.use.lower() == bed.name.lower() else f"{bed.name} ({bed.use})",
                size,
                measures.place(bed.raised_m) if bed.raised_m else "level",
                _signed(frame.peg_m[0], "east", "west", measures),
                _signed(frame.peg_m[1], "north", "south", measures),
                f"{frame.bearing_deg:.0f}°",
            ]
        )
    return table


def _signed(length_m: float, ahead: str, behind: str, measures: Measures) -> str:
    return f"{measures.extent(abs(length_m))} {ahead if length_m >= 0 else behind}"
