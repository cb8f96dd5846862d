"""Amounts as people type and read them."""

from __future__ import annotations

from django.utils.formats import number_format
from django.utils.translation import gettext as _

from bedwright.apps.web.log.models import Unit
from bedwright.model import units as u
from bedwright.model.book import UnitSystem

_TO_SI = {
    "plants": (1.0, "plants"),
    "kg": (1.0, "kg"),
    "lb": (u.KG_PER_POUND, "kg"),
    "L": (1.0, "L"),
    "US gal": (u.L_PER_US_GALLON, "L"),
    "mm": (1.0, "mm"),
    "in": (u.MM_PER_INCH, "mm"),
    "row m": (1.0, "row m"),
    "row ft": (u.M_PER_FOOT, "row m"),
}
_US = {"kg": "lb", "L": "US gal", "mm": "in", "row m": "row ft"}


def to_si(amount: float, unit: str) -> tuple[float, str]:
    """Amount and unit in SI; KeyError for a unit that is not known."""
    factor, si = _TO_SI[unit]
    return amount * factor, si


def shown(quantity: float, unit: str, system: UnitSystem) -> tuple[float, str]:
    """Amount and unit in a system of units."""
    other = _US.get(unit) if system == "us" else None
    return (quantity, unit) if other is None else (quantity / _TO_SI[other][0], other)


def amount_words(quantity: float | None, unit: str, system: UnitSystem) -> str:
    """An amount to read, such as `4.2 kg`; empty for none."""
    if quantity is None:
        return ""
    value, unit = shown(quantity, unit, system)
    digits = 0 if unit == "plants" else 1 if unit in {"L", "US gal", "mm"} else 2
    written = number_format(value, decimal_pos=digits, use_l10n=True)
    return f"{written} {unit_words(unit)}"


def unit_words(unit: str) -> str:
    """A unit as it is printed."""
    words = {"plants": _("plants"), "row m": _("m of row"), "row ft": _("ft of row"), Unit.NONE: ""}
    return words.get(unit, unit)
