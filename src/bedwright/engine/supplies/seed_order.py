"""Seeds counted from the drawn rows, the drawer used first, the rest to buy."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Protocol

from bedwright.engine.supplies.germination import Germination, germination_of_lot, germination_of_new_seed
from bedwright.model.book import SeedLot, Way
from bedwright.model.crop import Crop
from bedwright.model.season import DrawerUse, OrderLine, Planting
from bedwright.model.source import Origin

SPARE_SHARE = 0.15
"""Extra seeds or seedlings: middle of 10 to 20 %; common practice, no source."""
FIELD_FACTOR = 0.7
"""Share of viable seed that makes a seedling outdoors: common practice, no source."""
ORDER_LEAD_DAYS = 28
"""Days between ordering and need: common practice, no source."""


class Grown(Protocol):
    """Anything that says which crop is grown, how, and how many plants of it."""

    @property
    def crop(self) -> Crop:
        """The crop."""

    @property
    def variety(self) -> str:
        """The variety; empty for any."""

    @property
    def way(self) -> Way:
        """How it gets into the bed."""

    @property
    def n_plants(self) -> int:
        """Plants wanted in the bed."""


@dataclass(frozen=True, slots=True)
class _Need:
    """Seeds one crop and variety takes, told as the counts they come from."""

    n_plants: int
    n_stations_direct: int
    n_plants_direct: int
    n_plants_raised: int


def order_lines(
    plantings: Sequence[Planting],
    drawer: Sequence[SeedLot],
    packets: Mapping[tuple[str, str], int],
    *,
    season_year: int,
    today: date,
) -> tuple[OrderLine, ...]:
    """What to order for a season, one line a crop and variety and way of growing.

    Seeds are counted from the plants drawn. For one seed a station at a share g that
    comes up, plants / (g x field factor); never fewer than the seeds a station is sown
    with; raised plants need plants x (1 + spare) / g. Lots of the drawer are used oldest
    first, each at its own germination; what is left is bought.

    Parameters
    ----------
    plantings
        Placed plantings.
    drawer
        Lots on hand; a lot serves the crop and variety written on it, and a lot without
        a variety serves any variety of its crop.
    packets
        Seeds in one packet by (crop, variety), where the book states them.
    season_year
        Year in which the seed is sown, to age the lots.
    today
        No order is due before this day.

    Source
    ------
    Counting rules and the spare share: common practice, no source. Confidence range of an
    own test: Wilson 1927.
    """
    groups: dict[tuple[str, str, bool], list[Planting]] = {}
    for planting in plantings:
        key = (planting.crop.name, planting.variety, planting.way == "buy")
        groups.setdefault(key, []).append(planting)
    left = {lot.code: lot for lot in drawer}
    lines = []
    for (crop_name, variety, bought), group in sorted(groups.items()):
        if bought:
            lines.append(_plants_line(group, variety, today))
        else:
            packet_seeds = packets.get((crop_name, variety))
            lines.append(_seed_line(group, variety, left, packet_seeds, season_year, today))
    return tuple(lines)


def _first_need(group: Sequence[Planting]) -> date:
    return min(planting.dates.sow_under_cover or planting.dates.in_ground for planting in group)


def _order_by(group: Sequence[Planting], today: date) -> date:
    return max(_first_need(group) - timedelta(days=ORDER_LEAD_DAYS), today)


def _codes(group: Sequence[Planting]) -> tuple[str, ...]:
    return tuple(sorted(planting.label_code for planting in group))


def _plants_line(group: Sequence[Planting], variety: str, today: date) -> OrderLine:
    n_plants = sum(planting.n_plants for planting in group)
    stock = group[0].crop.planting_stock
    to_buy = math.ceil(round(n_plants * (1 + SPARE_SHARE), 6))
    origin = Origin(
        "n_plants_to_buy",
        to_buy,
        f"{n_plants} plants drawn, plus {SPARE_SHARE:.0%} spare (common practice, no source)",
        (),
        "practice",
    )
    return OrderLine(
        crop=group[0].crop.name,
        variety=variety,
        way="buy",
        planting_codes=_codes(group),
        n_plants=n_plants,
        n_seeds_needed=0,
        spare_share=SPARE_SHARE,
        from_drawer=(),
        n_seeds_to_buy=0,
        mass_to_buy_g=None,
        n_plants_to_buy=to_buy,
        order_by=_order_by(group, today),
        origins=(origin,),
        bought_as="young plants" if stock == "seed" else f"{stock}s",
    )


def _need_of(group: Sequence[Grown]) -> _Need:
    direct = [planting for planting in group if planting.way == "sow"]
    raised = [planting for planting in group if planting.way == "raise"]
    return _Need(
        n_plants=sum(planting.n_plants for planting in group),
        n_stations_direct=sum(p.n_plants * p.crop.seeds_per_station for p in direct),
        n_plants_direct=sum(planting.n_plants for planting in direct),
        n_plants_raised=sum(planting.n_plants for planting in raised),
    )


def seeds_for(need_direct: int, n_seeds_at_stations: int, need_raised: int, germination_pct: float) -> int:
    """Seeds [number] that give the plants wanted, at a share that comes up.

    Parameters
    ----------
    need_direct
        Plants to stand after sowing in place. [plants]
    n_seeds_at_stations
        Seeds that the stations of those rows are sown with. [seeds]
    need_raised
        Plants to set out after raising under cover. [plants]
    germination_pct
        Share that comes up. [percent], above 0

    Raises
    ------
    ValueError
        If nothing comes up.
    """
    if germination_pct <= 0:
        raise ValueError("no number of seeds is enough when none comes up")
    share = germination_pct / 100
    thinned = math.ceil(round(need_direct * (1 + SPARE_SHARE) / (share * FIELD_FACTOR), 6))
    direct = max(thinned, n_seeds_at_stations) if need_direct else 0
    raised = math.ceil(round(need_raised * (1 + SPARE_SHARE) / share, 6))
    return direct + raised


def germination_wanted_pct(
    grown: Sequence[Grown], drawer: Sequence[SeedLot], season_year: int
) -> Mapping[tuple[str, str], float]:
    """Share of seed that comes up by crop and variety, were everything grown: drawer and new seed mixed.

    As `order_lines` takes lots from the drawer, before it is known what finds a place.

    Parameters
    ----------
    grown
        What is to be grown, bought plants left out.
    drawer
        Lots on hand.
    season_year
        Year in which the seed is sown, to age the lots.
    """
    groups: dict[tuple[str, str], list[Grown]] = {}
    for one in grown:
        if one.way != "buy":
            groups.setdefault((one.crop.name, one.variety), []).append(one)
    left = {lot.code: lot for lot in drawer}
    found = {}
    for key, group in sorted(groups.items()):
        need = _need_of(group)
        uses, open_share, _ = _take_from_drawer(group, key[1], left, season_year)
        new_pct = germination_of_new_seed(group[0].crop).pct
        whole = seeds_for(need.n_plants_direct, need.n_stations_direct, need.n_plants_raised, new_pct)
        parts = [(use.n_seeds, use.germination_pct) for use in uses]
        parts.append((math.ceil(round(whole * open_share, 6)), new_pct))
        n_seeds = sum(number for number, _ in parts)
        found[key] = sum(number * pct for number, pct in parts) / n_seeds if n_seeds else new_pct
    return found


def _seeds_in(lot: SeedLot, crop: Crop) -> int | None:
    if lot.count is not None:
        return lot.count
    if lot.mass_g is not None and crop.seeds_per_gram is not None:
        return math.floor(lot.mass_g * crop.seeds_per_gram)
    return None


def _serves(lot: SeedLot, crop: Crop, variety: str) -> bool:
    return lot.crop == crop.name and (not lot.variety or not variety or lot.variety == variety)


def _take_from_drawer(
    group: Sequence[Grown], variety: str, left: dict[str, SeedLot], season_year: int
) -> tuple[tuple[DrawerUse, ...], float, tuple[str, ...]]:
    """Lots used, the share of the need still open, and lots set aside with the reason."""
    crop = group[0].crop
    need = _need_of(group)
    open_share = 1.0
    uses: list[DrawerUse] = []
    set_aside: list[str] = []
    lots = sorted((lot for lot in left.values() if _serves(lot, crop, variety)), key=_oldest_first)
    for lot in lots:
        n_seeds = _seeds_in(lot, crop)
        germination = germination_of_lot(lot, crop, season_year)
        if germination is None or germination.pct <= 0:
            set_aside.append(
                f"lot {lot.code} of {lot.packed_year} is past its life or failed: test before use"
            )
            continue
        if n_seeds is None:
            set_aside.append(f"lot {lot.code} has no count, and seeds per gram of {crop.name} are not known")
            continue
        if n_seeds == 0 or open_share <= 0:
            continue
        whole = seeds_for(need.n_plants_direct, need.n_stations_direct, need.n_plants_raised, germination.pct)
        wanted = math.ceil(whole * open_share)
        taken = min(wanted, n_seeds)
        open_share = 0.0 if taken == wanted else open_share - taken / whole
        left[lot.code] = _with_count(lot, n_seeds - taken)
        uses.append(_use(lot, taken, germination))
    return tuple(uses), open_share, tuple(set_aside)


def _oldest_first(lot: SeedLot) -> tuple[int, str]:
    return lot.packed_year, lot.code


def _with_count(lot: SeedLot, count: int) -> SeedLot:
    return SeedLot(
        lot.code, lot.crop, lot.variety, lot.packed_year, None, count, lot.tested_sown, lot.tested_sprouted
    )


def _use(lot: SeedLot, n_seeds: int, germination: Germination) -> DrawerUse:
    return DrawerUse(
        lot_code=lot.code,
        n_seeds=n_seeds,
        germination_pct=germination.pct,
        germination_low_pct=germination.low_pct,
        germination_high_pct=germination.high_pct,
        basis=germination.basis,
    )


def _seed_line(
    group: Sequence[Planting],
    variety: str,
    left: dict[str, SeedLot],
    packet_seeds: int | None,
    season_year: int,
    today: date,
) -> OrderLine:
    crop = group[0].crop
    need = _need_of(group)
    uses, open_share, set_aside = _take_from_drawer(group, variety, left, season_year)
    new = germination_of_new_seed(crop)
    whole = seeds_for(need.n_plants_direct, need.n_stations_direct, need.n_plants_raised, new.pct)
    to_buy = math.ceil(round(whole * open_share, 6))
    mass_g = None
    if to_buy and crop.seeds_per_gram:
        # Up to the next tenth of a gram: seed is not weighed finer in a shed.
        mass_g = math.ceil(round(10 * to_buy / crop.seeds_per_gram, 6)) / 10
    return OrderLine(
        crop=crop.name,
        variety=variety,
        way="sow" if need.n_plants_direct else "raise",
        planting_codes=_codes(group),
        n_plants=need.n_plants,
        n_seeds_needed=sum(use.n_seeds for use in uses) + to_buy,
        spare_share=SPARE_SHARE,
        from_drawer=uses,
        n_seeds_to_buy=to_buy,
        mass_to_buy_g=mass_g,
        n_plants_to_buy=0,
        order_by=_order_by(group, today),
        origins=_seed_origins(need, crop, new, uses, set_aside),
        packet_seeds=packet_seeds,
        n_packets_to_buy=math.ceil(to_buy / packet_seeds) if packet_seeds else None,
    )


def _seed_origins(
    need: _Need, crop: Crop, new: Germination, uses: Sequence[DrawerUse], set_aside: Sequence[str]
) -> tuple[Origin, ...]:
    parts = []
    if need.n_plants_direct:
        seeds = "1 seed" if crop.seeds_per_station == 1 else f"{crop.seeds_per_station} seeds"
        parts.append(
            f"{need.n_plants_direct} plants sown in place ({seeds} a station at least; "
            f"field factor {FIELD_FACTOR:g})"
        )
    if need.n_plants_raised:
        parts.append(f"{need.n_plants_raised} plants raised under cover")
    counted = f"{' and '.join(parts)}, counted from the drawn rows; {SPARE_SHARE:.0%} spare"
    origins = [
        Origin("n_seeds_needed", None, counted, (), "practice"),
        Origin(
            "germination_pct", new.pct, new.basis, new.source_ids, "read" if new.source_ids else "practice"
        ),
    ]
    origins += [_drawer_origin(use) for use in uses]
    origins += [Origin("drawer", None, text, (), "own") for text in set_aside]
    return tuple(origins)


def _drawer_origin(use: DrawerUse) -> Origin:
    few = round(use.n_seeds * use.germination_low_pct / 100)
    many = round(use.n_seeds * use.germination_high_pct / 100)
    rule = (
        f"lot {use.lot_code}: {use.basis}; true share between {use.germination_low_pct:.0f} and "
        f"{use.germination_high_pct:.0f} %, so {use.n_seeds} seeds could give {few} to {many} seedlings"
    )
    return Origin("germination_pct", round(use.germination_pct, 1), rule, (), "own")
