"""Seed, plants and materials to order."""

from bedwright.engine.supplies.germination import Germination, germination_of_lot, germination_of_new_seed
from bedwright.engine.supplies.seed_order import order_lines

__all__ = ["Germination", "germination_of_lot", "germination_of_new_seed", "order_lines"]
