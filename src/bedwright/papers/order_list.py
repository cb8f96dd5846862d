"""What to buy: seeds counted from the drawn rows, the drawer used first."""

from __future__ import annotations

from typing import Any

from bedwright.model.book import PaperSize, UnitSystem
from bedwright.model.season import DrawerUse, OrderLine, SeasonPlan
from bedwright.model.source import Origin
from bedwright.papers.measures import Measures, day_words, number_words
from bedwright.papers.schedule import WAY_WORDS
from bedwright.papers.sheet import frame
from bedwright.papers.standings import quantity_words, standing_words


def order_list_data(plan: SeasonPlan, paper: PaperSize, units: UnitSystem) -> dict[str, Any]:
    """Everything the template `order-list.typ` sets, earliest order first."""
    measures = Measures(units)
    lines = sorted(plan.orders, key=lambda line: (line.order_by, line.crop, line.variety))
    buying = [line for line in lines if line.n_seeds_to_buy or line.n_plants_to_buy]
    covered = [line for line in lines if line not in buying]
    return {
        "frame": frame(plan, paper, "Order list", "O", wide=True),
        "buying": [_line(line, measures) for line in buying],
        "covered": [_line(line, measures) for line in covered],
    }


def _line(line: OrderLine, measures: Measures) -> dict[str, Any]:
    return {
        "cells": [
            day_words(line.order_by),
            line.crop,
            line.variety or "any",
            WAY_WORDS[line.way],
            str(line.n_plants),
            str(line.n_seeds_needed) if line.n_seeds_needed else "",
            f"{number_words(line.spare_share * 100, 0)} %",
            _drawer_words(line.from_drawer),
            to_buy_words(line, measures),
        ],
        "basis": [origin_words(origin) for origin in line.origins],
    }


def to_buy_words(line: OrderLine, measures: Measures) -> str:
    """Quantity to buy in words; `nothing` where the drawer covers it."""
    parts = []
    if line.n_seeds_to_buy:
        parts.append(f"{line.n_seeds_to_buy} seeds")
        if line.mass_to_buy_g:
            parts[-1] += f" (about {measures.seed_mass(line.mass_to_buy_g)})"
        if line.n_packets_to_buy and line.packet_seeds:
            packets = "packet" if line.n_packets_to_buy == 1 else "packets"
            parts[-1] += f": {line.n_packets_to_buy} {packets} of {line.packet_seeds}"
    if line.n_plants_to_buy:
        parts.append(f"{line.n_plants_to_buy} {line.bought_as}")
    return ", ".join(parts) or "nothing"


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
    return f"{told}: {origin.rule} [{', '.join(mark for mark in marks if mark)}]"
