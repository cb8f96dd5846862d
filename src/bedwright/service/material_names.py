"""Names under which materials may be bought, and the name each is reckoned with."""

from __future__ import annotations

from bedwright.engine.supplies.stock import ALSO_CALLED
from bedwright.model.crop import Catalogue

LEAF_MULCH = "leaf mulch"
"""Needed by volume under this name, though the catalogue also calls shredded leaves so."""


def material_names(catalogue: Catalogue) -> dict[str, str]:
    """Name used in the calculations by every name and synonym.

    Materials for the soil come from the catalogue, those for raising and supporting plants
    from the list of supplies; where both know a name, the supplies go first.
    """
    names: dict[str, str] = {}
    for material in catalogue.materials:
        names.update(dict.fromkeys((*material.also_called, material.name), material.name))
    for name, synonyms in ALSO_CALLED.items():
        names.update(dict.fromkeys((*synonyms, name), name))
    names[LEAF_MULCH] = LEAF_MULCH
    # A material's own name is never a synonym of another.
    names.update({material.name: material.name for material in catalogue.materials})
    return names
