"""Seed, plants and materials to order."""

from bedwright.engine.supplies.germination import Germination, germination_of_lot, germination_of_new_seed
from bedwright.engine.supplies.packs import cheapest_packs, orders_of, purchases_of
from bedwright.engine.supplies.season_supplies import season_supplies
from bedwright.engine.supplies.seed_order import order_lines
from bedwright.engine.supplies.sources import SOURCES
from bedwright.engine.supplies.trays import TRAYS, raising_weeks, tray_for, tray_needs, weeks_over

__all__ = [
    "SOURCES",
    "TRAYS",
    "Germination",
    "cheapest_packs",
    "germination_of_lot",
    "germination_of_new_seed",
    "order_lines",
    "orders_of",
    "purchases_of",
    "raising_weeks",
    "season_supplies",
    "tray_for",
    "tray_needs",
    "weeks_over",
]
