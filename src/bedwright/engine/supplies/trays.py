"""Trays for plants raised under cover, and the room they take week by week."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from bedwright.engine.supplies.germination import Germination, germination_of_new_seed
from bedwright.engine.supplies.seed_order import SPARE_SHARE, Grown, germination_wanted_pct, seeds_for
from bedwright.engine.supplies.sources import SUPPLIES_MEMORY, SUPPLIES_PRACTICE
from bedwright.model.book import SeedLot
from bedwright.model.crop import Crop
from bedwright.model.season import OrderLine, Planting
from bedwright.model.source import Origin
from bedwright.model.supplies import RaisingSpace, RaisingWeek, TrayKind, TrayNeed, TrayUse, WeekOverLimit
from bedwright.model.units import m2_to_square_feet

TRAY_LENGTH_M = 0.54
TRAY_WIDTH_M = 0.28
WIDE_SPACING_M = 0.40
"""Crops set this far apart or farther get the largest cells: common practice, no source."""
CLOSE_SPACING_M = 0.15
"""Crops set this close or closer get the smallest cells: common practice, no source."""


def _tray(cells: int, cell_ml: float) -> TrayKind:
    size = "outside measures of the usual plug tray, 11 by 21.2 in"
    return TrayKind(
        cells,
        cell_ml,
        TRAY_LENGTH_M,
        TRAY_WIDTH_M,
        (
            Origin("cell_ml", cell_ml, "from memory: a first guess", (SUPPLIES_MEMORY,), "memory"),
            Origin("tray_m", f"{TRAY_LENGTH_M} by {TRAY_WIDTH_M}", size, ("TRAY_1020",), "weak"),
        ),
    )


TRAYS: Mapping[int, TrayKind] = {
    tray.cells: tray for tray in (_tray(50, 64.0), _tray(72, 40.0), _tray(128, 22.0))
}
"""Trays by number of cells."""


def tray_for(crop: Crop, trays: Mapping[int, TrayKind] = TRAYS) -> TrayKind:
    """The tray a crop is raised in: 50 cells for wide crops, 128 for close ones, 72 for others.

    Source
    ------
    50 to 72 cells for tomato, pepper and eggplant: Utah State University Extension
    (USU_TRANSPLANTS). The limits of spacing and the 128 cells: common practice, no source.
    """
    if crop.in_row_spacing_m >= WIDE_SPACING_M - 1e-9:
        return trays[50]
    if crop.in_row_spacing_m <= CLOSE_SPACING_M + 1e-9:
        return trays[128]
    return trays[72]


def tray_uses(
    grown: Sequence[Grown],
    drawer: Sequence[SeedLot],
    *,
    season_year: int,
    trays: Mapping[int, TrayKind] = TRAYS,
) -> Mapping[tuple[str, str], TrayUse]:
    """Trays that plants take while they are raised, by crop and variety, before places are sought.

    The same count as `tray_needs` makes afterwards, with the seed used if everything found a place.

    Parameters
    ----------
    grown
        All that is to be grown.
    drawer
        Lots of seed on hand.
    season_year
        Year in which the seed is sown, to age the lots.
    trays
        Trays by number of cells, with 50, 72 and 128 among them.
    """
    crops = {(one.crop.name, one.variety): one.crop for one in grown if one.way == "raise"}
    share_pct = germination_wanted_pct(grown, drawer, season_year)
    return {
        key: TrayUse((1 + SPARE_SHARE) / (share_pct[key] / 100), tray_for(crop, trays).cells)
        for key, crop in crops.items()
    }


def most_trays(space: RaisingSpace, trays: Mapping[int, TrayKind] = TRAYS) -> int | None:
    """Trays there is room for on the bench at one time; None where nothing limits them."""
    limits = [] if space.trays is None else [space.trays]
    if space.bench_m2 is not None:
        limits.append(math.floor(space.bench_m2 / max(tray.bench_m2 for tray in trays.values()) + 1e-9))
    return min(limits, default=None)


def tray_needs(
    plantings: Iterable[Planting],
    orders: Sequence[OrderLine] = (),
    trays: Mapping[int, TrayKind] = TRAYS,
) -> tuple[TrayNeed, ...]:
    """Trays, cells and potting mix of every planting raised here, earliest sowing first.

    Parameters
    ----------
    plantings
        Placed plantings; those that are sown in place or bought need no tray.
    orders
        Order lines of the same plantings; where one names lots of the drawer, cells are
        counted with the germination of those lots, mixed as they are used.
    trays
        Trays by number of cells, with 50, 72 and 128 among them.

    Limits
    ------
    One seed a cell, and no potting on into a larger pot.
    """
    raised = [p for p in plantings if p.way == "raise" and p.dates.sow_under_cover is not None]
    needs = [_need(planting, orders, trays) for planting in raised]
    return tuple(sorted(needs, key=lambda need: (need.sown, need.planting_code)))


def _need(planting: Planting, orders: Sequence[OrderLine], trays: Mapping[int, TrayKind]) -> TrayNeed:
    crop = planting.crop
    tray = tray_for(crop, trays)
    germination = _germination_of(planting, orders)
    n_cells = seeds_for(0, 0, planting.n_plants, germination.pct)
    n_trays = math.ceil(n_cells / tray.cells)
    # Part-filled trays are filled only as far as they are sown.
    mix_l = n_cells * tray.cell_ml / 1000
    sown = planting.dates.sow_under_cover
    assert sown is not None  # noqa: S101 - the caller has looked
    return TrayNeed(
        planting_code=planting.code,
        crop=crop.name,
        variety=planting.variety,
        n_plants=planting.n_plants,
        n_cells=n_cells,
        cells_per_tray=tray.cells,
        n_trays=n_trays,
        mix_l=mix_l,
        bench_m2=n_trays * tray.bench_m2,
        sown=sown,
        leaves=planting.dates.in_ground,
        origins=(*_origins(planting, tray, n_cells, germination), *tray.origins),
    )


def _origins(
    planting: Planting, tray: TrayKind, n_cells: int, germination: Germination
) -> tuple[Origin, ...]:
    counted = (
        f"{planting.n_plants} plants to set out, 15 % spare, {germination.pct:.0f} % come up "
        f"({germination.basis}), one seed a cell; with {germination.low_pct:.0f} to "
        f"{germination.high_pct:.0f} % coming up these cells give "
        f"{math.floor(n_cells * germination.low_pct / 100)} to "
        f"{math.floor(n_cells * germination.high_pct / 100)} plants"
    )
    spaced = f"{planting.crop.in_row_spacing_m:g} m from plant to plant"
    return (
        Origin("n_cells", n_cells, counted, (SUPPLIES_PRACTICE, *germination.source_ids), "practice"),
        Origin("cells_per_tray", tray.cells, spaced, ("USU_TRANSPLANTS", SUPPLIES_PRACTICE), "practice"),
    )


def _germination_of(planting: Planting, orders: Sequence[OrderLine]) -> Germination:
    """Germination of the seed a planting is raised from: lots of the drawer and new seed, mixed."""
    new = germination_of_new_seed(planting.crop)
    line = next((o for o in orders if _is_for(o, planting)), None)
    if line is None or not line.from_drawer:
        return new
    parts = [(u.n_seeds, u.germination_pct, u.germination_low_pct, u.germination_high_pct)
             for u in line.from_drawer]  # fmt: skip
    if line.n_seeds_to_buy:
        parts.append((line.n_seeds_to_buy, new.pct, new.low_pct, new.high_pct))
    total = sum(part[0] for part in parts)
    pct, low_pct, high_pct = (sum(part[0] * part[k] for part in parts) / total for k in (1, 2, 3))
    basis = "; ".join(f"lot {use.lot_code}: {use.basis}" for use in line.from_drawer)
    return Germination(pct, low_pct, high_pct, basis, new.source_ids if line.n_seeds_to_buy else ())


def _is_for(order: OrderLine, planting: Planting) -> bool:
    return (
        order.way != "buy"
        and (order.crop, order.variety) == (planting.crop.name, planting.variety)
        and planting.label_code in order.planting_codes
    )


def monday_of(day: date) -> date:
    """Monday of a day's week."""
    return day - timedelta(days=day.weekday())


def raising_weeks(needs: Sequence[TrayNeed]) -> tuple[RaisingWeek, ...]:
    """Trays and bench in use week by week, on the fullest day of each week.

    Bench, windowsill or shelf under lamps is one room here: a tray takes its place from
    the day it is sown to the day before its plants are set out.
    """
    if not needs:
        return ()
    week, last = monday_of(min(n.sown for n in needs)), max(n.leaves for n in needs)
    weeks = []
    while week < last:
        days = [week + timedelta(days=k) for k in range(7)]
        in_use = [need for need in needs if need.sown <= days[-1] and need.leaves > days[0]]
        if in_use:
            weeks.append(_raising_week(week, days, in_use))
        week += timedelta(days=7)
    return tuple(weeks)


def _raising_week(week: date, days: Sequence[date], in_use: Sequence[TrayNeed]) -> RaisingWeek:
    fullest = max(days, key=lambda day: sum(n.bench_m2 for n in _on(day, in_use)))
    there = _on(fullest, in_use)
    return RaisingWeek(
        week=week,
        trays=sum(need.n_trays for need in there),
        cells=sum(need.n_cells for need in there),
        bench_m2=sum(need.bench_m2 for need in there),
        mix_l=sum(need.mix_l for need in in_use if days[0] <= need.sown <= days[-1]),
        planting_codes=tuple(n.planting_code for n in sorted(there, key=_largest_first)),
    )


def _on(day: date, needs: Sequence[TrayNeed]) -> list[TrayNeed]:
    return [need for need in needs if need.sown <= day < need.leaves]


def _largest_first(need: TrayNeed) -> tuple[float, str]:
    return -need.bench_m2, need.planting_code


def weeks_over(weeks: Sequence[RaisingWeek], space: RaisingSpace) -> tuple[WeekOverLimit, ...]:
    """Weeks whose trays do not fit the room there is, in order; empty if all fit."""
    over = []
    for week in weeks:
        over_trays = max(0, week.trays - space.trays) if space.trays is not None else 0
        over_m2 = max(0.0, week.bench_m2 - space.bench_m2) if space.bench_m2 is not None else 0.0
        if over_trays or over_m2 > 1e-9:
            text = _over_text(week, over_trays, over_m2)
            over.append(
                WeekOverLimit(
                    week.week, week.trays, week.bench_m2, over_trays, over_m2, week.planting_codes, text
                )
            )
    return tuple(over)


def _over_text(week: RaisingWeek, over_trays: int, over_m2: float) -> str:
    parts = []
    if over_trays:
        parts.append(f"{over_trays} {'tray' if over_trays == 1 else 'trays'} too many")
    if over_m2 > 1e-9:
        shown_m2 = math.ceil(100 * over_m2) / 100
        parts.append(f"{shown_m2:.2f} m² ({m2_to_square_feet(shown_m2):.1f} ft²) of bench missing")
    return (
        f"Week of {week.week.isoformat()}: {week.trays} trays under cover, {' and '.join(parts)}. "
        "Sow some later, buy some as young plants, or find more room."
    )
