"""In which unit a number is shown and asked for."""

from __future__ import annotations

from bedwright.model.book import UnitSystem
from bedwright.model.bounds import plain_number
from bedwright.model.units import Unit, convert, unit_of_symbol
from bedwright.store.book.kinds import Field, unit_of

_US = {
    "m": "ft",
    "cm": "in",
    "mm": "in",
    "kg": "lb",
    "g": "oz",
    "L": "US gal",
    "m2": "ft2",
    "L/min": "US gal/min",
    "g/m2": "lb/1000 ft2",
}


def shown_unit(field: Field, system: UnitSystem) -> Unit | None:
    """The unit a field is shown in; None where it has none that is converted."""
    kept = unit_of(field)
    if kept is None or system == "metric":
        return kept
    return unit_of_symbol(_US.get(kept.symbol, kept.symbol), kept.quantity) or kept


def shown_key(field: Field, system: UnitSystem) -> str:
    """The key of a field in the unit it is shown in, such as `length_ft`."""
    kept, shown = unit_of(field), shown_unit(field, system)
    if kept is None or shown is None or kept == shown:
        return field.key
    return field.key.removesuffix(kept.suffix) + shown.suffix


def shown_number(value: float, kept: Unit | None, shown: Unit | None) -> str:
    """A number in the unit it is shown in, without idle digits."""
    if kept is None or shown is None or kept == shown:
        return plain_number(value) if not float(value).is_integer() else str(int(value))
    return plain_number(convert(value, kept, shown))
