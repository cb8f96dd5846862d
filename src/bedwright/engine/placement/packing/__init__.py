"""Exact places of plants of one crop in a bed: stretched rows of any angle, and closer on request."""

from bedwright.engine.placement.packing.stands import (
    Stand,
    most_in_rows,
    most_of_all,
    widest_in_rows,
    widest_of_all,
)

__all__ = ["Stand", "most_in_rows", "most_of_all", "widest_in_rows", "widest_of_all"]
