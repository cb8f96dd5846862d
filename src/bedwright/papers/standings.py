"""How well a value stands, in the words printed beside it."""

from __future__ import annotations

from collections.abc import Iterable

from bedwright.model.source import Origin, Standing

_WORDS: dict[Standing, str] = {
    "read": "",
    "weak": "weak source",
    "derived": "derived",
    "memory": "first guess",
    "practice": "common practice, no source",
    "own": "stated in the garden book",
    "packet": "from the packet",
}

_MEANINGS: dict[Standing, str] = {
    "read": "seen in the named publication",
    "weak": "seen, but in an unsigned, commercial or second-hand page",
    "derived": "arithmetic on a value that was read",
    "memory": "recalled, no copy seen: a first guess",
    "practice": "common practice, no source",
    "own": "measured, stated or chosen in the garden book",
    "packet": "printed on the seed packet",
}


_UNIT_SIGNS = {
    "m": "m", "cm": "cm", "mm": "mm", "c": "°C", "pct": "%", "h": "h", "days": "days", "weeks": "weeks",
    "kg": "kg", "g": "g", "years": "years", "l": "L", "ml": "mL", "m2": "m²", "min": "min",
}  # fmt: skip


_NAMED = {"n_plants": "plants", "n_seeds_needed": "seeds needed", "n_plants_to_buy": "to buy"}


def quantity_words(quantity: str) -> tuple[str, str]:
    """Name and unit of a quantity that carries its unit last: `sow_depth_mm` is sow depth in mm."""
    if quantity in _NAMED:
        return _NAMED[quantity], ""
    stem, _, last = quantity.rpartition("_")
    if stem and last in _UNIT_SIGNS and "_per_" not in quantity:
        return stem.replace("_", " "), _UNIT_SIGNS[last]
    return quantity.replace("_", " "), ""


def standing_words(standing: Standing) -> str:
    """Mark beside a value; empty for one that was read."""
    return _WORDS[standing]


def standing_meaning(standing: Standing) -> str:
    """What a standing says, in a clause."""
    return _MEANINGS[standing]


_DOUBTS: tuple[tuple[Standing, str], ...] = (
    ("memory", "First guesses, from memory"),
    ("weak", "From weak sources"),
    ("practice", "Common practice, no source"),
)


_SPOKEN = {
    "n first year": "nitrogen let go in the first year", "p2o5": "phosphate", "k2o": "potash",
    "n": "nitrogen", "n cells": "number of cells", "cell": "what one cell holds",
    "tray": "size of a tray", "stage": "lengths of stages of growth", "opens": "day to feed",
    "not before": "day to mulch", "acidity": "limits of pH",
}  # fmt: skip
"""Short names of quantities in words a gardener knows."""


def _spoken(name: str) -> str:
    stem, of, what = name.partition(" of ")
    return f"{_SPOKEN.get(stem, _SPOKEN.get(stem.lower(), stem))}{of}{what}"


def doubt_lines(origins: Iterable[Origin]) -> list[str]:
    """Lines that name the quantities no good publication stands behind; none where all stand well."""
    found: dict[Standing, dict[str, None]] = {}
    for origin in origins:
        name, _ = quantity_words(origin.quantity)
        plain = _spoken(" ".join(word for word in name.split() if word not in _UNIT_SIGNS))
        found.setdefault(origin.standing, {}).setdefault(plain)
    return [f"{words}: {', '.join(found[standing])}." for standing, words in _DOUBTS if standing in found]
