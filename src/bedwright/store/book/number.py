"""Numbers as written, in the unit of their key, with hints for the usual slips."""

from __future__ import annotations

import math
import re

from bedwright.model.bounds import Bounds, plain_number
from bedwright.model.units import Unit, convert, twins_of
from bedwright.store.book.fault import Faults
from bedwright.store.book.kinds import Number, Written, expected, unit_of
from bedwright.store.book.nodes import Scalar, quoted

_DECIMAL = re.compile(r"[-+]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][-+]?[0-9]+)?")
_COMMA = re.compile(r"[-+]?[0-9]+,[0-9]+")
_WITH_UNIT = re.compile(r"[-+]?[0-9.]+\s*(?:[a-zA-Zµ°%'\"]+.*)")
_US_UNITS = frozenset({"ft", "in", "lb", "oz", "gal", "ft2", "acre"})
_LONGEST = 40
"""No measured number needs more characters; longer ones only cost time."""


def read_number(
    node: Scalar, kind: Number, where: str, faults: Faults, written: Written | None
) -> float | int | None:
    """The number in SI; None after adding a fault.

    Parameters
    ----------
    node
        The value as written.
    kind
        Bounds in SI, and whether only whole numbers are allowed.
    where
        Path of the value.
    faults
        Receives the fault.
    written
        The key with the unit it was written in; None for a number without a key.
    """
    unit = written.unit if written else None
    kept = unit_of(written.field) if written else None
    value = _parsed(node)
    if value is None or not math.isfinite(value):
        faults.at(node, where, _shown(node), expected(kind, unit), _slip(node))
        return None
    if kind.whole and not value.is_integer():
        faults.at(node, where, node.text, expected(kind, unit), "Only whole numbers are possible here.")
        return None
    si_value = convert(value, unit, kept) if unit and kept else value
    if si_value not in kind.bounds:
        hint = unit_hint(value, kind.bounds, unit, kept) or (written.field.slip if written else "")
        faults.at(node, where, node.text, expected(kind, unit), hint)
        return None
    return int(si_value) if kind.whole else si_value


def unit_hint(value: float, bounds: Bounds, unit: Unit | None, kept: Unit | None) -> str:
    """A hint where a value out of bounds would fit in another unit. Never a conversion."""
    if unit is None or kept is None:
        return ""
    by_likelihood = sorted(twins_of(unit), key=lambda twin: _is_metric(twin) != _is_metric(unit))
    for twin in by_likelihood:
        meant = convert(value, twin, kept)
        if meant in bounds:
            in_key = convert(value, twin, unit)
            shown = plain_number(value)
            return f"{shown} looks like {twin.symbol}: in {unit.symbol} that is {plain_number(in_key)}."
    return ""


def _is_metric(unit: Unit) -> bool:
    return _US_UNITS.isdisjoint(re.split(r"[ /]", unit.symbol))


def _parsed(node: Scalar) -> float | None:
    if not node.plain or len(node.text) > _LONGEST or not _DECIMAL.fullmatch(node.text):
        return None
    return float(node.text)


def _shown(node: Scalar) -> str:
    return node.text[:_LONGEST] if node.plain and node.text.isprintable() else quoted(node.text)


def _slip(node: Scalar) -> str:
    """A hint on what is wrong with something that should be a number."""
    text = node.text.strip()
    if not node.plain and _DECIMAL.fullmatch(text):
        return "Remove the quotation marks."
    if _COMMA.fullmatch(text):
        return "Write a point in place of the comma."
    if _WITH_UNIT.fullmatch(text):
        return "Write the number alone; the unit is in the key."
    return ""
