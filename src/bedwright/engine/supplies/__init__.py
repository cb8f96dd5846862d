"""Seed, plants and materials to order."""

from bedwright.engine.supplies.germination import Germination, germination_of_lot, germination_of_new_seed
from bedwright.engine.supplies.packs import cheapest_packs, orders_of, purchases_of
from bedwright.engine.supplies.season_supplies import season_supplies
from bedwright.engine.supplies.seed_order import Grown, order_lines
from bedwright.engine.supplies.sources import SOURCES
from bedwright.engine.supplies.trays import (
    TRAYS,
    most_trays,
    raising_weeks,
    tray_for,
    tray_needs,
    tray_uses,
    weeks_over,
)

__all__ = [
    "SOURCES",
    "TRAYS",
    "Germination",
    "Grown",
    "cheapest_packs",
    "germination_of_lot",
    "germination_of_new_seed",
    "most_trays",
    "order_lines",
    "orders_of",
    "purchases_of",
    "raising_weeks",
    "season_supplies",
    "tray_for",
    "tray_needs",
    "tray_uses",
    "weeks_over",
]
