"""Materials on hand, used before anything is bought."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from bedwright.model.book import Stock
from bedwright.model.supplies import SupplyUnit

ALSO_CALLED: Mapping[str, tuple[str, ...]] = {
    "potting mix": ("potting compost", "seed compost", "multi-purpose compost", "multipurpose compost",
                    "seed-starting mix", "potting soil", "growing medium"),
    "canes": ("cane", "bamboo canes", "stakes", "stake"),
    "netting": ("net", "pea netting", "pea net", "bean netting"),
    "trellis": ("trellises",),
    "peg labels": ("labels", "label", "plant labels", "pegs"),
    "trays, 50 cells": ("50-cell trays", "trays of 50"),
    "trays, 72 cells": ("72-cell trays", "trays of 72"),
    "trays, 128 cells": ("128-cell trays", "trays of 128"),
}  # fmt: skip
"""Other names under which a coordinator may have written a material."""


class StockLeft:
    """What is left of the stock while lines are worked out one after another."""

    def __init__(self, stock: Sequence[Stock]) -> None:
        self._left = [(_plain(entry.material), entry.unit, entry.quantity) for entry in stock]

    def take(self, material: str, unit: SupplyUnit, wanted: float) -> float:
        """Take up to the quantity wanted; the quantity taken."""
        names = {_plain(material), *(_plain(name) for name in ALSO_CALLED.get(material, ()))}
        taken = 0.0
        for k, (name, kept_unit, quantity) in enumerate(self._left):
            if name in names and kept_unit == unit and taken < wanted:
                part = min(quantity, wanted - taken)
                taken += part
                self._left[k] = (name, kept_unit, quantity - part)
        return taken

    def in_other_units(self, material: str, unit: SupplyUnit) -> tuple[str, ...]:
        """Units in which the material is on hand but not counted here, for a note."""
        names = {_plain(material), *(_plain(name) for name in ALSO_CALLED.get(material, ()))}
        return tuple(
            kept for name, kept, quantity in self._left if name in names and kept != unit and quantity
        )


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()
