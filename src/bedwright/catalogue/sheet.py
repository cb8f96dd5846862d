"""Everything known of one crop as aligned text, each value with its source."""

from __future__ import annotations

import textwrap
from collections.abc import Callable
from dataclasses import dataclass

from bedwright.catalogue.quantities import QUANTITIES
from bedwright.model.book import UnitSystem
from bedwright.model.crop import Catalogue, Crop, Fact

SHEET_WIDTH = 110
"""Characters; meanings and locators are cut into lines no longer than this."""

_VALUE_WIDTH = 28
_IN_PER_CM = 1 / 2.54
_LB_PER_KG = 1 / 0.45359237
_FT_PER_M = 1 / 0.3048


@dataclass(frozen=True, slots=True)
class _Shown:
    """How a unit of the data files is shown."""

    unit: str
    convert: Callable[[float], float] = float


def _times(factor: float) -> Callable[[float], float]:
    return lambda value: value * factor


_METRIC = {
    "degC": _Shown("°C"),
    "degC day": _Shown("°C days"),
    "-": _Shown(""),
    "percent": _Shown("%"),
    "kg/m": _Shown("kg per m of row"),
    "kg/plant": _Shown("kg a plant"),
    "1/g": _Shown("seeds per g"),
    "h/day": _Shown("h a day"),
    "g/m2": _Shown("g per m²"),
    "kg/t fresh": _Shown("kg per t"),
    "kg/t grain": _Shown("kg per t of grain"),
}
_US = _METRIC | {
    "cm": _Shown("in", _times(_IN_PER_CM)),
    "mm": _Shown("in", _times(_IN_PER_CM / 10)),
    "m": _Shown("ft", _times(_FT_PER_M)),
    "degC": _Shown("°F", lambda value: value * 1.8 + 32),
    "degC day": _Shown("°F days", _times(1.8)),
    "kg/m": _Shown("lb per ft of row", _times(_LB_PER_KG / _FT_PER_M)),
    "kg/plant": _Shown("lb a plant", _times(_LB_PER_KG)),
    "1/g": _Shown("seeds per oz", _times(28.349523125)),
    "g/m2": _Shown("oz per 100 sq ft", _times(100 * 0.09290304 / 28.349523125)),
    "kg/ha": _Shown("lb per acre", _times(_LB_PER_KG * 0.40468564224)),
    "kg/t fresh": _Shown("lb per short ton", _times(2)),
    "kg/t grain": _Shown("lb per short ton of grain", _times(2)),
}
_UNITS: dict[UnitSystem, dict[str, _Shown]] = {"metric": _METRIC, "us": _US}


def _figure(value: float) -> str:
    """Three significant figures, without an exponent or idle zeros."""
    if value == 0:
        return "0"
    text = f"{value:.0f}" if abs(value) >= 100 else f"{value:.3g}"
    return "0" if text == "-0" else text


def fact_value(fact: Fact, units: UnitSystem) -> str:
    """The value of a fact with its unit, in metric or US units, such as `5.1 to 7.6 cm`."""
    if fact.low is None or fact.high is None:
        return fact.text
    shown = _UNITS[units].get(fact.unit, _Shown(fact.unit))
    low, high = _figure(shown.convert(fact.low)), _figure(shown.convert(fact.high))
    span = low if low == high else f"{low} to {high}"
    word = f", {fact.text}" if fact.text and fact.quantity == "stage_days" else ""
    basis = f" from {fact.text}" if fact.text and not word else ""
    return f"{span} {shown.unit}".rstrip() + basis + word


def crop_sheet(crop: Crop, catalogue: Catalogue, units: UnitSystem) -> str:
    """All facts of a crop with their sources, ready to print.

    Parameters
    ----------
    crop : Crop
        Crop of the catalogue, also one with a packet's values.
    catalogue : Catalogue
        Where the citations come from.
    units : UnitSystem
        Units to show; every value is converted from the one stored.

    Returns
    -------
    str
        Lines of at most `SHEET_WIDTH` characters, ending in a newline. An asterisk marks
        the value in use; the others of the same quantity are listed below it.
    """
    lines = [f"{crop.name}  ({crop.latin_name})", f"plan code {crop.plan_code}, {crop.kind}", ""]
    lines += _table(crop, units)
    lines += ["", "* the value in use; the rule for choosing is in docs/sources.md", ""]
    lines += _findings(crop, catalogue)
    lines += ["Sources", ""]
    for source_id in sorted(_source_ids(crop, catalogue)):
        source = catalogue.sources.get(source_id)
        text = (
            f"{source_id}: {source.citation}. Seen: {source.seen}." if source else f"{source_id}: not listed"
        )
        lines += textwrap.wrap(text, SHEET_WIDTH, subsequent_indent="    ")
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _table(crop: Crop, units: UnitSystem) -> list[str]:
    values = {id(fact): fact_value(fact, units) for fact in crop.facts}
    value_wide = min(_VALUE_WIDTH, max(map(len, values.values())))
    standing_wide = max(len(fact.standing) for fact in crop.facts)
    source_wide = max(len(fact.source_id) for fact in crop.facts)
    lines: list[str] = []
    for quantity in QUANTITIES.values():
        facts = crop.facts_of(quantity.name)
        if facts:
            lines.append(quantity.meaning[0].upper() + quantity.meaning[1:])
        for fact in facts:
            origin = f"{fact.standing:<{standing_wide}}  {fact.source_id:<{source_wide}}"
            note = f"{fact.locator}; {_decided(fact)}" if fact.reason else fact.locator
            lines += _beside(values[id(fact)], value_wide, origin, note, used=fact.used)
    return lines


def _decided(fact: Fact) -> str:
    return f"{'used' if fact.used else 'left aside'}: {fact.reason}"


def _beside(value: str, value_wide: int, origin: str, note: str, *, used: bool) -> list[str]:
    """One fact: value, standing and source in columns, the note hung beside them."""
    left = textwrap.wrap(value, value_wide) or [""]
    margin = 4 + value_wide + 2 + len(origin) + 2
    right = textwrap.wrap(note, SHEET_WIDTH - margin) or [""]
    lines: list[str] = []
    for number in range(max(len(left), len(right))):
        mark = "*" if used and number == 0 else " "
        start = left[number] if number < len(left) else ""
        middle = origin if number == 0 else " " * len(origin)
        end = right[number] if number < len(right) else ""
        lines.append(f"  {mark} {start:<{value_wide}}  {middle}  {end}")
    return lines


def _findings(crop: Crop, catalogue: Catalogue) -> list[str]:
    found = [f for f in catalogue.neighbours if crop.name in {f.crop_a, f.crop_b}]
    if not found:
        return []
    lines = ["Beside other crops (grade A: replicated trials, B: one trial or partial, C: belief)", ""]
    for finding in found:
        text = (
            f"{finding.crop_a} beside {finding.crop_b}: {finding.effect}, grade {finding.grade}: "
            f"{finding.mechanism} ({finding.source_id}, {finding.standing})"
        )
        text += f"; {finding.note}" if finding.note else ""
        lines += textwrap.wrap(text, SHEET_WIDTH, subsequent_indent="    ")
    return [*lines, ""]


def _source_ids(crop: Crop, catalogue: Catalogue) -> set[str]:
    found = {f.source_id for f in catalogue.neighbours if crop.name in {f.crop_a, f.crop_b}}
    return found | {fact.source_id for fact in crop.facts}
