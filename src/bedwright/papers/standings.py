"""How well a value stands, in the words printed beside it."""

from __future__ import annotations

from bedwright.model.source import Standing

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
    "kg": "kg", "g": "g", "years": "years",
}  # fmt: skip


def quantity_words(quantity: str) -> tuple[str, str]:
    """Name and unit of a quantity that carries its unit last: `sow_depth_mm` is sow depth in mm."""
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
